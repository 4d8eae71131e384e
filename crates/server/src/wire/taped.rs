//! The hall as measured: marks, taped distances, and what comes of fitting the ones to the others.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A named place on the drawing that can be found in the hall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct MarkRow {
    /// Its name; no two marks have the same.
    pub name: String,
    /// Where the drawing has it, mm.
    pub at: [f64; 2],
}

/// A distance that was taped between two marks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct TapeRow {
    /// From this mark.
    pub from: String,
    /// To this mark.
    pub to: String,
    /// What the tape said, mm.
    pub length: f64,
}

/// `GET /api/hall/taped`: the hall as measured.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct TapedHall {
    /// The change of the plan that it is of.
    pub change: u32,
    /// The marks; the first one is the datum and stays, the second one stays in its direction from it.
    pub marks: Vec<MarkFit>,
    /// The taped distances, in the order in which they were put in.
    pub tapes: Vec<TapeFit>,
    /// Distances more than the unknowns that they fix: with none to spare nothing checks the tapes.
    pub spare: u32,
    /// The standard deviation of one tape, mm; 0 when none is to spare.
    pub sigma: f64,
    /// The walls as they would be drawn, mm; empty when they are drawn as measured, and while the tapes contradict each
    /// other.
    pub walls: Vec<[f64; 2]>,
    /// True when `draw-as-measured` would change something.
    pub draws: bool,
}

/// A mark and where it was found.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct MarkFit {
    /// Its name.
    pub name: String,
    /// Where the drawing has it, mm.
    pub at: [f64; 2],
    /// Where the tapes have it, mm; absent while nothing can be fitted.
    pub fitted: Option<[f64; 2]>,
    /// True when the tapes do not fix it.
    pub loose: bool,
}

/// A taped distance and how it fits.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct TapeFit {
    /// From this mark.
    pub from: String,
    /// To this mark.
    pub to: String,
    /// What the tape said, mm.
    pub length: f64,
    /// That less how far the fitted marks are apart, mm; absent while nothing can be fitted.
    pub misfit: Option<f64>,
    /// What is to be thought of it.
    pub is: TapeIs,
    /// By how much it is longer than the way round over two others, mm; absent when it is not.
    pub too_long: Option<f64>,
}

/// What is to be thought of a tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum TapeIs {
    /// It fits, as far as the others tell.
    Fine,
    /// One of several that cannot all be true.
    Doubted,
    /// It cannot be true, by what all the others say.
    Untrue,
}
