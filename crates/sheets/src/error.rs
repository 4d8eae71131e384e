//! What can go wrong when sheets are made or read back.

use sayings::{Said, refusing, say};

/// Why no sheets could be made, or a text could not be read back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetError {
    /// The item is not in the plan.
    NoItem(u32),
    /// The item has no cells to read.
    NotAField(String),
    /// Nothing was asked for.
    NothingChosen,
    /// The field's cells do not fit its grid, or a cell names a colour that the stock does not have.
    BadField {
        /// Which field.
        place: String,
        /// What is wrong.
        what: String,
    },
    /// The caller asked to stop.
    Stopped,
    /// The PDF writer refused.
    Pdf(String),
    /// The text is not that of a lane sheet, or a count does not add up.
    Text {
        /// Page, from 1.
        page: usize,
        /// What was found where.
        what: String,
    },
}

impl SheetError {
    /// Whole sentences with the next step.
    pub fn said(&self) -> Said {
        match self {
            Self::NoItem(id) => say!(refusing::SHEETS_ITEM, id = id.to_string()),
            Self::NotAField(name) => say!(refusing::SHEETS_FIELD, name = name),
            Self::NothingChosen => say!(refusing::SHEETS_NONE),
            Self::BadField { place, what } => say!(refusing::SHEETS_BAD, place = place, what = what),
            Self::Stopped => say!(refusing::SHEETS_STOPPED),
            Self::Pdf(why) => say!(refusing::SHEETS_PDF, why = why),
            Self::Text { page, what } => say!(refusing::SHEETS_TEXT, n = *page, what = what),
        }
    }
}

impl std::fmt::Display for SheetError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for SheetError {}
