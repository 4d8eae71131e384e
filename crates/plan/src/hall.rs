//! The hall: its outline, what stands in it, its floor, and what was measured on the spot.

use geometry::Point;
use serde::{Deserialize, Serialize};
use units::{Duration, Length};

use crate::stock::Rgb;

/// The hall, as drawn and as measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hall {
    /// What the crew calls it.
    pub name: String,
    /// The colour of the floor, which is seen between standing pieces.
    pub floor: Rgb,
    /// The walls as drawn, counter-clockwise; empty while nobody knows them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub outline: Vec<Point>,
    /// Pillars, doors, exits, aisles, tables and overhead points.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<HallPart>,
    /// How the floor and the pieces rub.
    #[serde(default, skip_serializing_if = "Grip::is_usual")]
    pub grip: Grip,
    /// Lines that were timed on this floor.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub timed: Vec<TimedLine>,
    /// Places on the drawing between which distances were taped; the first one is the datum.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
    /// Taped distances.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tapes: Vec<Tape>,
}

/// What a part of the hall is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HallPartKind {
    /// Carries the roof; nothing can stand there.
    Pillar,
    /// A way in for people and crates.
    Door,
    /// A way out that must stay free.
    Exit,
    /// A way to walk that must stay free while the crew builds.
    Aisle,
    /// A table that is not a surface of the plan: for trays, crates or cameras.
    Table,
    /// A lamp, a line or a truss above; `height` is how high it hangs.
    Overhead,
}

/// A part of the hall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HallPart {
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub is: HallPartKind,
    /// Where it is on the floor plan, counter-clockwise, at least three corners. For a door or an exit: the floor
    /// before it that must stay free; drawn less deep than wide, as deep as it is wide stays free all the same.
    pub outline: Vec<Point>,
    /// How high it is, or for what hangs overhead how high it hangs; zero when nobody knows.
    #[serde(default)]
    pub height: Length,
}

/// Ranges of friction. Figures without a unit, least to most.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Grip {
    /// A piece on the floor. It decides how far a fallen lane slides.
    pub floor: (f64, f64),
    /// A piece on a piece. It sets the speed of the fall.
    pub piece: (f64, f64),
}

impl Default for Grip {
    /// The floor from slick to normal; pieces as in lines that were filmed at 0.95 to 1.25 m/s at a gap of 7.5 mm.
    fn default() -> Self {
        Self { floor: (0.15, 0.3), piece: (0.06, 0.2) }
    }
}

impl Grip {
    /// True for the range that is taken when nobody measured anything.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// A line that the crew set up on this floor, filmed and timed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TimedLine {
    /// Pieces that fell between the two looks at the clock, at least 20.
    pub pieces: u32,
    /// Face to face.
    pub gap: Length,
    /// How long they took.
    pub took: Duration,
}

/// A named place on the drawing that can be found in the hall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// What the crew calls it; no two marks have the same name.
    pub name: String,
    /// Where the drawing has it.
    pub at: Point,
}

/// A distance that was taped between two marks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Tape {
    /// From this mark.
    pub from: String,
    /// To this mark.
    pub to: String,
    /// What the tape said.
    pub length: Length,
}

impl Default for Hall {
    fn default() -> Self {
        Self {
            name: String::new(),
            floor: Rgb { r: 0x8a, g: 0x7a, b: 0x62 },
            outline: Vec::new(),
            parts: Vec::new(),
            grip: Grip::default(),
            timed: Vec::new(),
            marks: Vec::new(),
            tapes: Vec::new(),
        }
    }
}
