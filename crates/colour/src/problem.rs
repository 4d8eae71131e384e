//! What is to be matched: wanted pictures, palettes and stock, with the errors and the progress of a match.

use sayings::{Arg, Given, Said, Unit, refusing, say};

use crate::spaces::Linear;

/// The mark of a cell without a piece in an answer.
pub const EMPTY: u16 = u16::MAX;

/// The most colours one problem may have.
pub const MAX_COLOURS: usize = 1024;

/// The widest blur in cells that [`match_seen`](crate::match_seen) takes.
pub const MAX_SIGMA: f64 = 8.0;

/// An axis of a picture: which way a lane runs through it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// A lane runs along a picture row: neighbours in the lane are in neighbouring columns.
    Cols,
    /// A lane runs along a picture column: neighbours in the lane are in neighbouring rows.
    Rows,
}

/// What may become of one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellRule {
    /// No piece stands here.
    Empty,
    /// The match chooses the colour.
    Free,
    /// The colour with this index was set by hand; it uses stock and stays.
    Fixed(u16),
}

/// One field's wanted picture. Cells are in picture orientation: row after row from the top left.
#[derive(Clone, Debug)]
pub struct FieldWanted {
    /// Picture columns.
    pub cols: u32,
    /// Picture rows.
    pub rows: u32,
    /// Wanted colour per cell in linear light; length cols x rows.
    ///
    /// The exact match takes it rounded to 8-bit sRGB, the seen match as it is.
    pub wanted: Vec<Linear>,
    /// What may become of each cell; length cols x rows.
    pub cells: Vec<CellRule>,
    /// Per colour, how a piece of it looks in this field in the chosen view, in linear light; length K.
    pub palette: Vec<Linear>,
    /// Per colour, whether the match may use it in this field; length K. Cells set by hand may use any colour.
    pub allowed: Vec<bool>,
    /// Importance, 1..=100; differences in this field count so many times.
    pub weight: u32,
    /// Which way the lanes run.
    pub runs_along: Axis,
    /// Blur of the eye in cells along the columns' direction (x) and the rows' direction (y), each 0..=8, for the seen match.
    pub sigma: [f64; 2],
}

/// Fields that share one stock.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The fields, in any order; answers keep it.
    pub fields: Vec<FieldWanted>,
    /// Pieces available per colour, for all fields and cells set by hand together; length K.
    pub stock: Vec<u64>,
}

impl Problem {
    /// Number of colours, K.
    pub fn colours(&self) -> usize {
        self.stock.len()
    }

    /// Reports the first part of the problem that does not fit the others.
    ///
    /// # Errors
    /// Everything of [`MatchError`] that concerns the shape of the problem, not the stock.
    pub fn check(&self) -> Result<(), MatchError> {
        let k = self.colours();
        if k == 0 || k > MAX_COLOURS {
            return Err(MatchError::Colours { found: k });
        }
        let total: u64 = self.fields.iter().map(|f| u64::from(f.cols) * u64::from(f.rows)).sum();
        if total >= u64::from(u32::MAX) {
            return Err(MatchError::TooManyCells { cells: total });
        }
        self.fields.iter().enumerate().try_for_each(|(number, field)| field.check(number, k))
    }
}

impl FieldWanted {
    /// Cells of the picture, empty ones included.
    pub fn len(&self) -> usize {
        self.wanted.len()
    }

    /// Whether the picture has no cells at all.
    pub fn is_empty(&self) -> bool {
        self.wanted.is_empty()
    }

    fn check(&self, field: usize, k: usize) -> Result<(), MatchError> {
        let cells = self.cols as usize * self.rows as usize;
        let lengths = [
            ("wanted colours", self.wanted.len(), cells),
            ("cell rules", self.cells.len(), cells),
            ("palette colours", self.palette.len(), k),
            ("allowed colours", self.allowed.len(), k),
        ];
        for (what, found, expected) in lengths {
            if found != expected {
                return Err(MatchError::Length { field, what, found, expected });
            }
        }
        if !(1..=100).contains(&self.weight) {
            return Err(MatchError::Weight { field, found: self.weight });
        }
        if let Some(&found) = self.sigma.iter().find(|s| !(0.0..=MAX_SIGMA).contains(*s)) {
            return Err(MatchError::Sigma { field, found });
        }
        let light = |colour: &Linear| colour.0.iter().all(|v| v.is_finite() && v.abs() < 1e6);
        if let Some(cell) = self.wanted.iter().position(|c| !light(c)) {
            return Err(MatchError::Light { field, what: "wanted colour", index: cell });
        }
        if let Some(colour) = self.palette.iter().position(|c| !light(c)) {
            return Err(MatchError::Light { field, what: "palette colour", index: colour });
        }
        for (cell, rule) in self.cells.iter().enumerate() {
            if let CellRule::Fixed(colour) = *rule
                && usize::from(colour) >= k
            {
                return Err(MatchError::FixedColour { field, cell, colour, colours: k });
            }
        }
        Ok(())
    }
}

/// Whether to go on after a report of progress.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// Go on.
    Go,
    /// Stop as soon as possible.
    Stop,
}

/// What is being worked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Laying a picture onto the cells.
    Picture,
    /// Collecting cells of the same colour.
    Classes,
    /// Computing colour differences.
    Differences,
    /// Sharing out the stock.
    Stock,
    /// Improving the picture as seen from afar.
    Search,
}

/// A report of progress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// What is being done.
    pub stage: Stage,
    /// Share of this stage that is done, 0.0..=1.0; a guess for [`Stage::Stock`].
    pub done: f64,
}

/// A caller's ear for progress; its answer says whether to go on.
pub type Report<'a> = &'a mut dyn FnMut(Progress) -> Flow;

/// Tells the caller and turns its wish to stop into an error.
pub(crate) fn tell(
    report: &mut dyn FnMut(Progress) -> Flow,
    stage: Stage,
    done: f64,
) -> Result<(), MatchError> {
    match report(Progress { stage, done }) {
        Flow::Go => Ok(()),
        Flow::Stop => Err(MatchError::Stopped),
    }
}

/// Why a match was not made. Fields and colours are counted from 0 here and from 1 in the messages.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum MatchError {
    // The problem does not hold together.
    /// The number of colours is 0 or above [`MAX_COLOURS`].
    Colours {
        /// Colours given.
        found: usize,
    },
    /// More cells than can be counted in 32 bits.
    TooManyCells {
        /// Cells given.
        cells: u64,
    },
    /// A list does not have the length that it must have.
    Length {
        /// The field, counted from 0.
        field: usize,
        /// Which list.
        what: &'static str,
        /// Its length.
        found: usize,
        /// The length it must have.
        expected: usize,
    },
    /// A weight outside 1..=100.
    Weight {
        /// The field, counted from 0.
        field: usize,
        /// The weight given.
        found: u32,
    },
    /// A blur outside 0..=8 cells.
    Sigma {
        /// The field, counted from 0.
        field: usize,
        /// The blur given, in cells.
        found: f64,
    },
    /// A colour that is not a light: not a number, or beyond all measure.
    Light {
        /// The field, counted from 0.
        field: usize,
        /// Whether it is a wanted or a palette colour.
        what: &'static str,
        /// Its cell or colour, counted from 0.
        index: usize,
    },
    /// A cell set by hand names a colour that the stock does not have.
    FixedColour {
        /// The field, counted from 0.
        field: usize,
        /// The cell, counted from 0.
        cell: usize,
        /// The colour it names, counted from 0.
        colour: u16,
        /// How many colours there are.
        colours: usize,
    },
    /// The start given to the seen match is not an assignment within the rules and the stock.
    Start {
        /// The field where it was noticed, counted from 0.
        field: usize,
    },

    // The stock does not suffice.
    /// The cells set by hand use up more of a colour than there is.
    FixedShort {
        /// The colour, counted from 0.
        colour: usize,
        /// Cells set to it.
        cells: u64,
        /// Pieces in stock.
        pieces: u64,
        /// Pieces missing.
        short: u64,
    },
    /// All allowed pieces together do not fill the cells.
    StockTooSmall {
        /// Cells to be filled, those set by hand left out.
        cells: u64,
        /// Pieces left for them after the cells set by hand.
        pieces: u64,
        /// Pieces missing.
        short: u64,
    },
    /// Some fields allow too few colours: all that they allow together does not fill them, though the stock as a whole might.
    FieldsShort {
        /// The fields concerned, counted from 0, ascending.
        fields: Vec<usize>,
        /// The colours that these fields allow, counted from 0, ascending.
        colours: Vec<usize>,
        /// Cells to be filled in these fields.
        cells: u64,
        /// Pieces of these colours left after the cells set by hand.
        pieces: u64,
        /// Pieces missing.
        short: u64,
    },

    // The match did not come to an end.
    /// The table of differences would be too large for the memory.
    TooLarge {
        /// Different wanted colours.
        classes: usize,
        /// Stock colours.
        colours: usize,
    },
    /// The caller asked to stop before there was an answer.
    Stopped,
}

/// What the fields and colours of a problem, counted from 0, are called.
pub struct Called<'a> {
    /// A field: its name, or its number from 1.
    pub field: &'a dyn Fn(usize) -> Arg,
    /// A colour: its name, or words with its number from 1.
    pub colour: &'a dyn Fn(usize) -> Arg,
}

impl MatchError {
    /// Whole sentences with the next step, in which fields and colours have their names.
    pub fn said(&self, called: &Called<'_>) -> Said {
        let of = called.field;
        match self {
            Self::Colours { found } => say!(refusing::MATCH_COLOURS, n = *found, most = MAX_COLOURS),
            Self::TooManyCells { cells } => say!(refusing::MATCH_CELLS, cells = *cells),
            Self::Length { field, what, found, expected } => say!(
                refusing::MATCH_LENGTH,
                field = of(*field),
                found = *found,
                what = *what,
                expected = *expected
            ),
            Self::Weight { field, found } => say!(refusing::MATCH_WEIGHT, field = of(*field), found = *found),
            Self::Sigma { field, found } => {
                let figure = |value| Given::new(value, Unit::None);
                say!(
                    refusing::MATCH_SIGMA,
                    field = of(*field),
                    found = figure(*found),
                    most = figure(MAX_SIGMA)
                )
            }
            Self::Light { field, what, index } => {
                say!(refusing::MATCH_LIGHT, field = of(*field), what = *what, n = index + 1)
            }
            Self::FixedColour { field, cell, colour, colours } => say!(
                refusing::MATCH_FIXED_COLOUR,
                field = of(*field),
                cell = cell + 1,
                colour = u32::from(*colour) + 1,
                colours = *colours
            ),
            Self::Start { field } => say!(refusing::MATCH_START, field = of(*field)),
            Self::FixedShort { colour, cells, pieces, short } => say!(
                refusing::MATCH_FIXED_SHORT,
                colour = (called.colour)(*colour),
                cells = *cells,
                pieces = *pieces,
                short = *short
            ),
            Self::StockTooSmall { cells, pieces, short } => {
                say!(refusing::MATCH_TOO_SMALL, cells = *cells, pieces = *pieces, short = *short)
            }
            Self::FieldsShort { fields, cells, pieces, short, .. } => match fields.as_slice() {
                [one] => say!(
                    refusing::MATCH_FIELD_SHORT,
                    field = of(*one),
                    cells = *cells,
                    pieces = *pieces,
                    short = *short
                ),
                _ => say!(
                    refusing::MATCH_FIELDS_SHORT,
                    fields = Arg::List(fields.iter().map(|&f| of(f)).collect()),
                    cells = *cells,
                    pieces = *pieces,
                    short = *short
                ),
            },
            Self::TooLarge { classes, colours } => {
                say!(refusing::MATCH_LARGE, classes = *classes, colours = *colours)
            }
            Self::Stopped => say!(refusing::MATCH_STOPPED),
        }
    }

    /// The same where nobody knows the names: fields and colours have their numbers.
    pub fn said_by_number(&self) -> Said {
        let field = |i: usize| Arg::from(i + 1);
        let colour = |i: usize| say!(refusing::MATCH_COLOUR, n = i + 1).into();
        self.said(&Called { field: &field, colour: &colour })
    }
}

impl std::fmt::Display for MatchError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said_by_number().fmt(f)
    }
}

impl std::error::Error for MatchError {}
