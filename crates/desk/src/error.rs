//! What can go wrong at the desk, each as a whole sentence with the next step.

use thiserror::Error;

/// Why something could not be done. The plan is as it was before.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum DeskError {
    /// The gate refused a change.
    #[error(transparent)]
    Refused(#[from] plan::Refusal),
    /// The project file could not be read or written.
    #[error(transparent)]
    Store(#[from] store::StoreError),
    /// A picture could not be read.
    #[error("{name}: {error}")]
    Picture {
        /// The picture's file name.
        name: String,
        /// Why.
        error: colour::PictureError,
    },
    /// A match could not be made.
    #[error("{0}")]
    Match(String),
    /// A job could not run.
    #[error("{0}")]
    Busy(String),
    /// The stock cannot fill the cells.
    #[error("{0}")]
    StockTooSmall(String),
    /// A stock list could not be read.
    #[error("{0}")]
    StockList(String),
    /// A text plan could not be read.
    #[error("{0}")]
    TextPlan(String),
    /// Sheets could not be made.
    #[error("{0}")]
    Sheets(String),
    /// Something that was named is not there.
    #[error("{what} is not in this plan. {next}")]
    Missing {
        /// What was named: "item 7".
        what: String,
        /// What to do.
        next: String,
    },
    /// There is nothing to undo or redo.
    #[error("There is nothing to {0}.")]
    NothingTo(&'static str),
    /// The disk refused a change, so it was taken back.
    #[error("{0} Nothing was changed.")]
    NotSaved(String),
    /// A finding that is not there, or that nobody knows a mend for.
    #[error("{0}")]
    NoMend(String),
    /// The plan is not the one any more that the work was for.
    #[error("The plan has changed meanwhile, so nothing was done. Look again, then repeat it.")]
    Changed,
    /// The work was stopped before there was a result.
    #[error("Stopped. Nothing was changed.")]
    Stopped,
}

impl DeskError {
    /// What was named by its id is not there: "Item 7".
    pub fn gone(what: &str, id: impl std::fmt::Display) -> Self {
        Self::Missing {
            what: format!("{what} {id}"),
            next: "It may have been removed; load the page again.".into(),
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
            Self::Sheets(_) => "sheets",
            Self::Missing { .. } => "missing",
            Self::NothingTo(_) => "nothing",
            Self::NotSaved(_) => "not-saved",
            Self::NoMend(_) => "no-mend",
            Self::Changed => "changed",
            Self::Stopped => "stopped",
        }
    }
}
