//! What can go wrong at the desk, each as a whole sentence with the next step.

use std::fmt;

use sayings::{Said, refusing, say};

/// Why something could not be done. The plan is as it was before. It displays as English.
#[derive(Debug)]
#[non_exhaustive]
pub enum DeskError {
    /// The gate refused a change.
    Refused(plan::Refusal),
    /// The project file could not be read or written.
    Store(store::StoreError),
    /// A picture could not be read.
    Picture {
        /// The picture's file name.
        name: String,
        /// Why.
        error: colour::PictureError,
    },
    /// A match could not be made.
    Match(Box<Said>),
    /// A job could not run.
    Busy(Box<Said>),
    /// The stock cannot fill the cells.
    StockTooSmall(Box<Said>),
    /// A stock list could not be read.
    StockList(Box<Said>),
    /// A text plan could not be read.
    TextPlan(String),
    /// Something that was named is not there.
    Missing {
        /// What was named: "Item 7".
        what: Box<Said>,
        /// What to do.
        next: Box<Said>,
    },
    /// There is nothing to undo or redo.
    NothingTo(Back),
    /// The disk refused a change, so it was taken back.
    NotSaved(Box<Said>),
    /// A finding that is not there, or that nobody knows a mend for.
    NoMend(Box<Said>),
    /// The plan is not the one any more that the work was for.
    Changed,
    /// The work was stopped before there was a result.
    Stopped,
}

/// A way through the history.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// Taking back.
    Undo,
    /// Making again.
    Redo,
}

impl DeskError {
    /// What was named is not there.
    pub fn missing(what: Said, next: Said) -> Self {
        Self::Missing { what: Box::new(what), next: Box::new(next) }
    }

    /// What was named by its id, "Item 7", is not there.
    pub fn gone(what: Said) -> Self {
        Self::missing(what, say!(refusing::MISSING_RELOAD))
    }

    /// Why no match could be made.
    pub(crate) fn no_match(why: Said) -> Self {
        Self::Match(Box::new(why))
    }

    /// What is said of it: whole sentences with the next step.
    pub fn said(&self) -> Said {
        match self {
            Self::Refused(refusal) => refusal.said(),
            Self::Store(error) => say!(refusing::FILE, why = error.to_string()),
            Self::Picture { name, error } => say!(refusing::PICTURE, name = name, why = error.said()),
            Self::Match(why)
            | Self::Busy(why)
            | Self::StockTooSmall(why)
            | Self::StockList(why)
            | Self::NoMend(why) => (**why).clone(),
            Self::TextPlan(why) => say!(refusing::AS_TOLD, why = why),
            Self::Missing { what, next } => {
                say!(refusing::MISSING, what = (**what).clone(), next = (**next).clone())
            }
            Self::NothingTo(Back::Undo) => say!(refusing::NOTHING_UNDO),
            Self::NothingTo(Back::Redo) => say!(refusing::NOTHING_REDO),
            Self::NotSaved(why) => say!(refusing::NOT_SAVED, why = (**why).clone()),
            Self::Changed => say!(refusing::CHANGED),
            Self::Stopped => say!(refusing::STOPPED),
        }
    }

    /// A stable word for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Refused(_) => "refused",
            Self::Store(_) => "file",
            Self::Picture { .. } => "picture",
            Self::Match(_) => "match",
            Self::Busy(_) => "busy",
            Self::StockTooSmall(_) => "stock-too-small",
            Self::StockList(_) => "stock-list",
            Self::TextPlan(_) => "text-plan",
            Self::Missing { .. } => "missing",
            Self::NothingTo(_) => "nothing",
            Self::NotSaved(_) => "not-saved",
            Self::NoMend(_) => "no-mend",
            Self::Changed => "changed",
            Self::Stopped => "stopped",
        }
    }
}

impl fmt::Display for DeskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for DeskError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Store(error) => error.source(),
            Self::Picture { error, .. } => Some(error),
            _ => None,
        }
    }
}

impl From<plan::Refusal> for DeskError {
    fn from(refusal: plan::Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<store::StoreError> for DeskError {
    fn from(error: store::StoreError) -> Self {
        Self::Store(error)
    }
}
