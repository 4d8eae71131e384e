//! What can go wrong when pictures are laid onto cells, or cells drawn as pictures.

/// Why a picture could not be laid onto cells, or cells not be drawn.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GridError {
    /// No cells, or more than [`MAX_CELLS`].
    #[error("A field of {cols} x {rows} cells cannot be made: choose 1 to {MAX_CELLS} cells in all.")]
    CellCount {
        /// Cells across the picture.
        cols: u32,
        /// Cells down the picture.
        rows: u32,
    },
    /// A length that is not a positive number of millimetres.
    #[error("A {what} of {mm} mm cannot be used: give a length above 0 mm.")]
    Length {
        /// Which length, for example "cell width".
        what: &'static str,
        /// The length given.
        mm: f64,
    },
    /// The cut-out is empty or lies outside the picture.
    #[error(
        "The cut-out from {left:.3} to {right:.3} across and {top:.3} to {bottom:.3} down holds nothing of the \
         picture: give fractions between 0 and 1, left before right and top before bottom."
    )]
    Crop {
        /// Left edge as a fraction of the width.
        left: f64,
        /// Right edge as a fraction of the width.
        right: f64,
        /// Top edge as a fraction of the height.
        top: f64,
        /// Bottom edge as a fraction of the height.
        bottom: f64,
    },
    /// Fewer or more cell values than the grid has cells.
    #[error("A drawing of {cols} x {rows} cells got {got} values: give one for each cell.")]
    Values {
        /// Cells across the picture.
        cols: u32,
        /// Cells down the picture.
        rows: u32,
        /// Number of values given.
        got: usize,
    },
    /// A cell names a colour that is not in the list.
    #[error("A cell uses colour number {colour}, but there are only {count}: choose a colour of the list.")]
    Colour {
        /// The number in the cell, counted from 0.
        colour: u16,
        /// Number of colours given.
        count: usize,
    },
    /// The drawing would be empty or larger than [`MAX_RASTER_PIXELS`].
    #[error("A drawing of {width} x {height} pixels cannot be made: choose another scale.")]
    RasterSize {
        /// Width in pixels.
        width: f64,
        /// Height in pixels.
        height: f64,
    },
    /// The caller asked to stop.
    #[error("The work was stopped before it was complete: start it again when it is wanted.")]
    Stopped,
}

/// Most cells of one field: ten times the largest field on record.
pub const MAX_CELLS: u64 = 10_000_000;

/// Most pixels of one drawing.
pub const MAX_RASTER_PIXELS: u64 = 25_000_000;

/// Refuses grids without cells or with too many.
pub(crate) fn check_cells(cols: u32, rows: u32) -> Result<(), GridError> {
    let cells = u64::from(cols) * u64::from(rows);
    if cells == 0 || cells > MAX_CELLS { Err(GridError::CellCount { cols, rows }) } else { Ok(()) }
}

/// Refuses lengths that are not positive and finite.
pub(crate) fn check_length(what: &'static str, mm: f64) -> Result<(), GridError> {
    if mm.is_finite() && mm > 0.0 { Ok(()) } else { Err(GridError::Length { what, mm }) }
}
