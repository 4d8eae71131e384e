//! What the person at the printer may choose.

use units::Length;

/// Which set of pieces is called as one: a lane or a rank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Unit {
    /// Pieces that fall one after another.
    #[default]
    Lane,
    /// Pieces with the same index across the lanes.
    Rank,
}

/// From which side of the field the crew reads and builds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum ReadFrom {
    /// From the north, facing south.
    North,
    /// From the east, facing west.
    East,
    /// From the south, facing north.
    #[default]
    South,
    /// From the west, facing east.
    West,
}

/// Whether this set of sheets is for the side that the crew reads from or for the side across.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Side {
    /// For a builder on the side that [`ReadFrom`] names.
    #[default]
    AsDrawn,
    /// For a builder who sits across from it: everything is called the other way round.
    Mirrored,
}

/// In which corner, as the builder sees it, the first piece is called.
///
/// Far before near is usual, since nobody reaches over what stands already (common practice).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Start {
    /// Farthest away, at the left hand.
    #[default]
    FarLeft,
    /// Farthest away, at the right hand.
    FarRight,
    /// Nearest, at the left hand.
    NearLeft,
    /// Nearest, at the right hand.
    NearRight,
}

/// How a field is to be read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadOptions {
    /// Lanes or ranks.
    pub unit: Unit,
    /// The side that the crew reads from.
    pub read_from: ReadFrom,
    /// For that side or for the one across.
    pub side: Side,
    /// The first corner.
    pub start: Start,
    /// How far a kneeling builder reaches with precision: 600 mm unless said otherwise.
    ///
    /// 50 to 60 cm are comfortable and 70 cm is the limit (common practice). More gives fewer, deeper strips.
    pub reach: Length,
}

impl Default for ReadOptions {
    fn default() -> Self {
        Self {
            unit: Unit::default(),
            read_from: ReadFrom::default(),
            side: Side::default(),
            start: Start::default(),
            reach: Length::mm(600.0),
        }
    }
}

/// The paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    #[default]
    A4,
    /// 297 x 420 mm (ISO 216).
    A3,
    /// 8.5 x 11 inches.
    Letter,
}

impl Paper {
    /// Width and height in mm, upright.
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A3 => (297.0, 420.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// The language of the sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}

/// The units in which sizes are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Measure {
    /// Millimetres and metres.
    #[default]
    Metric,
    /// Inches and feet.
    Imperial,
}

/// What the printer can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Ink {
    /// Colours.
    #[default]
    Colour,
    /// Black only: swatches carry textures, pictures are grey.
    Grey,
}

/// Everything that may be chosen for a set of sheets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SheetOptions {
    /// How the fields are read.
    pub read: ReadOptions,
    /// The paper.
    pub paper: Paper,
    /// The language.
    pub language: Language,
    /// The units.
    pub measure: Measure,
    /// Colour or grey.
    pub ink: Ink,
    /// The revision as it is to be printed: "change 812". May be empty.
    pub revision: String,
    /// The date as it is to be printed; the sheets read no clock. May be empty.
    pub date: String,
    /// Where the tablets find the reading pages, such as `http://192.0.2.7:8080`; a strip's code then leads to
    /// `<base>/read/<item>/<first lane or rank>`. No code is printed without it.
    pub base_url: Option<String>,
    /// How many pieces stand in the whole plan, so that the front says how many of them have sheets; `None` says nothing of it.
    pub placed: Option<u64>,
}
