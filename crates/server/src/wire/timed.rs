//! Lines of the crew's own that were filmed and timed, and what they tell.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A line that the crew set up on this floor, filmed and timed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct TimedRow {
    /// Pieces that fell between the two looks at the clock.
    pub pieces: u32,
    /// Face to face, mm.
    pub gap: f64,
    /// How long they took, s.
    pub took: f64,
}

/// `GET /api/hall/timed`: the lines that were timed, and the friction that the times of the fall are taken from.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct TimedHall {
    /// The change of the plan that it is of.
    pub change: u32,
    /// The lines, in the order in which they were put in.
    pub lines: Vec<TimedFit>,
    /// Friction of piece on piece, least and most, as the fall takes it.
    pub piece: [f64; 2],
    /// The same as the hall states it, for want of timed lines.
    pub stated: [f64; 2],
}

/// A timed line and what it tells.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct TimedFit {
    /// The line.
    pub line: TimedRow,
    /// Its speed, m/s.
    pub speed: f64,
    /// The friction of piece on piece that makes a line as fast, 0 to 1.
    pub friction: f64,
    /// Whether it counts.
    pub is: TimedIs,
}

/// Whether a timed line counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum TimedIs {
    /// It counts.
    Fine,
    /// It is faster than without friction.
    TooFast,
    /// It is slower than such pieces can run.
    TooSlow,
    /// Its pieces stand too far apart to touch.
    TooWide,
}
