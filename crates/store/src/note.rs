//! What the user is told when a project file opens but not everything is as it should be.

use std::fmt;
use std::path::PathBuf;

/// One remark on opening. Each prints as whole sentences with the next step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OpenNote {
    /// Changes that were acknowledged are not in the file any more.
    Lost {
        /// The last change that is there.
        ends_at: u64,
        /// When that one was made; empty for a plan without changes.
        ends_when: String,
        /// The last change that was acknowledged.
        promised: u64,
    },
    /// The number kept beside the file belongs to another course of this project, as after putting back a backup.
    OtherHistory {
        /// The change that differs.
        at: u64,
    },
    /// Bytes of the file have changed. It is open for reading only.
    Damaged {
        /// What is damaged.
        what: String,
        /// The last change that the open plan contains.
        ends_at: u64,
        /// True when the plan is whole as far as known, and only its history or its stored states are damaged.
        plan_whole: bool,
    },
    /// The file was in use when it was copied, and what was not yet in it stayed behind.
    WithoutWal {
        /// The last change that is there.
        ends_at: u64,
    },
    /// The program or the machine stopped without closing the file; everything acknowledged is there.
    NotClosed {
        /// The last change that is there.
        ends_at: u64,
    },
    /// The number beside the file cannot be read, so that a loss of the last changes could not be noticed.
    PromiseUnreadable {
        /// The small file.
        path: PathBuf,
    },
    /// The file, its folder or its disk cannot be written.
    ReadOnly {
        /// Why, as the rest of a sentence.
        why: String,
    },
    /// The file was brought to the current format.
    Migrated {
        /// Its format before.
        from: u32,
        /// Its format now.
        to: u32,
        /// The copy of how it was.
        backup: PathBuf,
    },
}

impl OpenNote {
    /// True for remarks that the user must see before going on: something is missing or may be.
    pub fn is_serious(&self) -> bool {
        match self {
            Self::Lost { .. }
            | Self::OtherHistory { .. }
            | Self::Damaged { .. }
            | Self::WithoutWal { .. } => true,
            Self::NotClosed { .. } | Self::PromiseUnreadable { .. } => false,
            Self::ReadOnly { .. } | Self::Migrated { .. } => false,
        }
    }
}

impl fmt::Display for OpenNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Lost { ends_at, ends_when, promised } => {
                write!(f, "The file ends at change {ends_at}")?;
                if !ends_when.is_empty() {
                    write!(f, " of {ends_when}")?;
                }
                let n = promised - ends_at;
                write!(
                    f,
                    ", but change {promised} was saved: the disk has lost {n} change{}. \
                     Look for a later copy of the file before you go on; what is here is whole up to change {ends_at}.",
                    if n == 1 { "" } else { "s" }
                )
            }
            Self::OtherHistory { at } => write!(
                f,
                "Change {at} of this file is not the change {at} that was last saved here: \
                 an older copy was put in its place and changed. Compare the two copies before you go on."
            ),
            Self::Damaged { what, ends_at, plan_whole } => {
                write!(f, "The file is damaged: {what}. ")?;
                if *plan_whole {
                    write!(f, "The plan itself is whole up to change {ends_at}. ")?;
                } else {
                    write!(
                        f,
                        "The plan is shown as it was after change {ends_at}; later changes are lost. "
                    )?;
                }
                f.write_str("It is open for reading only; save a copy and go on there.")
            }
            Self::WithoutWal { ends_at } => write!(
                f,
                "This file was copied while it was in use, and the last changes may have stayed behind; \
                 it ends at change {ends_at}. Compare it with the original, or save a copy there and bring that one."
            ),
            Self::NotClosed { ends_at } => write!(
                f,
                "The project was not closed last time. Every saved change is here, up to change {ends_at}."
            ),
            Self::PromiseUnreadable { path } => write!(
                f,
                "The number of the last saved change cannot be read, so a loss of the last changes would not be \
                 noticed this time. It is written anew with the next change: {}",
                path.display()
            ),
            Self::ReadOnly { why } => {
                write!(f, "The project is open for reading only, since {why}. Save a copy and go on there.")
            }
            Self::Migrated { from, to, backup } => write!(
                f,
                "The project was brought from format {from} to format {to}. The file as it was is kept: {}",
                backup.display()
            ),
        }
    }
}
