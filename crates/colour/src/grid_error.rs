//! What can go wrong when pictures are laid onto cells, or cells drawn as pictures.

use sayings::{Given, Said, Unit, refusing, say};

/// Why a picture could not be laid onto cells, or cells not be drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum GridError {
    /// No cells, or more than [`MAX_CELLS`].
    CellCount {
        /// Cells across the picture.
        cols: u32,
        /// Cells down the picture.
        rows: u32,
    },
    /// A length that is not a positive number of millimetres.
    Length {
        /// Which length, for example "cell width".
        what: &'static str,
        /// The length given.
        mm: f64,
    },
    /// The cut-out is empty or lies outside the picture.
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
    Values {
        /// Cells across the picture.
        cols: u32,
        /// Cells down the picture.
        rows: u32,
        /// Number of values given.
        got: usize,
    },
    /// A cell names a colour that is not in the list.
    Colour {
        /// The number in the cell, counted from 0.
        colour: u16,
        /// Number of colours given.
        count: usize,
    },
    /// The drawing would be empty or larger than [`MAX_RASTER_PIXELS`].
    RasterSize {
        /// Width in pixels.
        width: f64,
        /// Height in pixels.
        height: f64,
    },
    /// The caller asked to stop.
    Stopped,
}

impl GridError {
    /// A whole sentence with the next step.
    pub fn said(&self) -> Said {
        let share = |value: f64| format!("{value:.3}");
        let figure = |value: f64| Given::new(value, Unit::None);
        match *self {
            Self::CellCount { cols, rows } => {
                say!(refusing::GRID_CELLS, cols = cols, rows = rows, most = MAX_CELLS)
            }
            Self::Length { what, mm } => {
                say!(refusing::GRID_LENGTH, what = what, mm = Given::new(mm, Unit::Mm))
            }
            Self::Crop { left, right, top, bottom } => say!(
                refusing::GRID_CROP,
                left = share(left),
                right = share(right),
                top = share(top),
                bottom = share(bottom)
            ),
            Self::Values { cols, rows, got } => {
                say!(refusing::GRID_VALUES, cols = cols, rows = rows, got = got)
            }
            Self::Colour { colour, count } => {
                say!(refusing::GRID_COLOUR, colour = u32::from(colour), count = count)
            }
            Self::RasterSize { width, height } => {
                say!(refusing::GRID_RASTER, width = figure(width), height = figure(height))
            }
            Self::Stopped => say!(refusing::GRID_STOPPED),
        }
    }
}

impl std::fmt::Display for GridError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for GridError {}

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
