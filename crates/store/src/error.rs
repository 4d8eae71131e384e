//! What can go wrong with a project file, each in a whole sentence with the next step; the path comes last.

use std::io;
use std::path::{Path, PathBuf};

/// Why a project file could not be opened, written or copied.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// There is no such file.
    #[error("There is no project file here; check the name, or make one with \"standfast new\": {}", .path.display())]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// The file is not a project file. It was not touched.
    #[error("This is not a Standfast project, it {what}; nothing in it was changed. Choose another file: {}", .path.display())]
    NotOurs {
        /// The file.
        path: PathBuf,
        /// What it is instead, as the rest of a sentence.
        what: String,
    },
    /// The file was written by a newer program. It was not touched.
    #[error(
        "This project has format {found}, and this program knows formats up to {known}; nothing in it was changed. \
         Open it with the newer program that wrote it: {}", .path.display()
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: u32,
        /// The newest format that this program knows.
        known: u32,
    },
    /// Somebody has the file open already.
    #[error("This project is open already {by}; close it there first, or use a copy: {}", .path.display())]
    InUse {
        /// The file.
        path: PathBuf,
        /// By whom: "in this program" or "in another program".
        by: &'static str,
    },
    /// A file of this name is there already.
    #[error("A file of this name is there already and {what}; choose another name: {}", .path.display())]
    Exists {
        /// The file.
        path: PathBuf,
        /// Why it is not overwritten, as the rest of a sentence.
        what: String,
    },
    /// The file is so damaged that no plan can be read from it.
    #[error(
        "This project is damaged: {what}. It was left as it is; open the latest backup instead, \
         and keep this file in case parts of it are missed: {}", .path.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is damaged, without a full stop.
        what: String,
    },
    /// The disk has no room. Nothing was acknowledged; the same call may be tried again.
    #[error(
        "The disk is full, so {doing} did not work and nothing of it counts. \
         Make room and try again, or save a copy on another disk: {}", .path.display()
    )]
    DiskFull {
        /// The file.
        path: PathBuf,
        /// What was being done.
        doing: String,
    },
    /// The disk refused to read or write. Nothing was acknowledged; the same call may be tried again.
    #[error(
        "The disk reports an error ({what}), so {doing} did not work and nothing of it counts. \
         Try again, or save a copy on another disk: {}", .path.display()
    )]
    Disk {
        /// The file.
        path: PathBuf,
        /// What was being done.
        doing: String,
        /// What the disk or the library said.
        what: String,
    },
    /// The project is open for reading only.
    #[error("This project is open for reading only, since {why}; save a copy and go on there: {}", .path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
        /// Why, as the rest of a sentence.
        why: String,
    },
    /// The plan that a new project was to begin with would not pass the gate.
    #[error("The plan cannot be kept: {what}. Correct it and try again: {}", .path.display())]
    BadPlan {
        /// The file that was not made.
        path: PathBuf,
        /// What the gate says, without a full stop.
        what: String,
    },
    /// Something is larger than the file may hold.
    #[error("{what} has {size} bytes, and at most {limit} are taken; use a smaller one: {}", .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// What is too large.
        what: String,
        /// Its size in bytes.
        size: u64,
        /// The limit in bytes.
        limit: u64,
    },
    /// The file has no picture of this hash.
    #[error("The project holds no picture with the hash {sha}; add the picture again: {}", .path.display())]
    NoPicture {
        /// The file.
        path: PathBuf,
        /// The hash, 64 hex digits.
        sha: String,
    },
    /// The file has no journal entry of this number.
    #[error("The project holds no change {seq}; its last one is {last}: {}", .path.display())]
    NoEntry {
        /// The file.
        path: PathBuf,
        /// The number asked for.
        seq: u64,
        /// The last number.
        last: u64,
    },
}

impl StoreError {
    /// An error of SQLite while `doing` something ("saving change 12").
    pub(crate) fn from_sqlite(path: &Path, doing: impl Into<String>, error: &rusqlite::Error) -> Self {
        use rusqlite::ErrorCode as Code;
        let path = path.to_path_buf();
        let doing = doing.into();
        let what = error.to_string();
        match error.sqlite_error_code() {
            Some(Code::DiskFull) => Self::DiskFull { path, doing },
            Some(Code::DatabaseBusy | Code::DatabaseLocked | Code::FileLockingProtocolFailed) => {
                Self::InUse { path, by: "in another program" }
            }
            Some(Code::DatabaseCorrupt | Code::NotADatabase) => {
                Self::Damaged { path, what: format!("{doing} did not work ({what})") }
            }
            _ if crate::load::is_damage(error) => {
                Self::Damaged { path, what: format!("{doing} did not work ({what})") }
            }
            Some(Code::ReadOnly | Code::CannotOpen | Code::PermissionDenied) => {
                Self::ReadOnly { path, why: "the file or its folder may not be written".into() }
            }
            _ => Self::Disk { path, doing, what },
        }
    }

    /// An error of an ordinary file call while `doing` something.
    pub(crate) fn from_io(path: &Path, doing: impl Into<String>, error: &io::Error) -> Self {
        let path = path.to_path_buf();
        match error.kind() {
            io::ErrorKind::NotFound => Self::Missing { path },
            io::ErrorKind::StorageFull => Self::DiskFull { path, doing: doing.into() },
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                Self::ReadOnly { path, why: format!("{} was not allowed ({error})", doing.into()) }
            }
            _ => Self::Disk { path, doing: doing.into(), what: error.to_string() },
        }
    }

    /// True when nothing is wrong with the file itself, so that the same call may work later.
    pub fn may_be_tried_again(&self) -> bool {
        matches!(self, Self::DiskFull { .. } | Self::Disk { .. } | Self::InUse { .. })
    }
}
