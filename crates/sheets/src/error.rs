//! What can go wrong when sheets are made or read back.

/// Why no sheets could be made, or a text could not be read back.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// The item is not in the plan.
    #[error("Item {0} is not in this plan. Name an item of the plan.")]
    NoItem(u32),
    /// The item has no cells to read.
    #[error("{0} is not a field. Lane sheets are made for fields only; choose one.")]
    NotAField(String),
    /// Nothing was asked for.
    #[error("No field was chosen. Choose at least one field of the plan.")]
    NothingChosen,
    /// The field's cells do not fit its grid, or a cell names a colour that the stock does not have.
    #[error("{place}: {what}. Check the plan, then print again.")]
    BadField {
        /// Which field.
        place: String,
        /// What is wrong.
        what: String,
    },
    /// The caller asked to stop.
    #[error("Printing was stopped. No file was written.")]
    Stopped,
    /// The PDF writer refused.
    #[error("The PDF could not be written: {0}. Report this with the plan.")]
    Pdf(String),
    /// The text is not that of a lane sheet, or a count does not add up.
    #[error("Sheet text, page {page}: {what}. Compare the sheet with the plan.")]
    Text {
        /// Page, from 1.
        page: usize,
        /// What was found where.
        what: String,
    },
}
