//! Sections that stand elsewhere than they were drawn.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::state::FindingRow;
use super::trial::RefusedRow;

/// `GET /api/section/{id}`: where a section stands.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct SectionStands {
    /// The change of the plan that it is of.
    pub change: u32,
    /// Its items.
    pub items: Vec<u32>,
    /// The middle of the box around all of it, mm; absent without items.
    pub middle: Option<[f64; 2]>,
    /// How far the mark nearest to its middle lies off, where the tapes say so.
    pub measured: Option<MarkOff>,
}

/// A mark that lies elsewhere than it was drawn.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct MarkOff {
    /// Its name.
    pub mark: String,
    /// How far to the east and to the north, mm.
    pub off: [f64; 2],
}

/// `POST /api/section/{id}/try`: a move to be looked at. Nothing is changed.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct SectionMove {
    /// So far to the east, mm.
    pub east: f64,
    /// So far to the north, mm.
    pub north: f64,
    /// So far to the left, degrees.
    pub turn: f64,
    /// About this place, mm, before the move.
    pub about: [f64; 2],
}

/// Answer to it.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct SectionTried {
    /// Where the items would come to lie.
    pub items: Vec<MovedRow>,
    /// Items that would be laid again because they follow.
    pub again: Vec<u32>,
    /// How many findings of severity must and should there are about all of these, now and then; absent where there are
    /// too many pieces to look at meanwhile.
    pub counts: Option<[[u32; 2]; 2]>,
    /// What would be wrong then, the worst first; at most 20.
    pub findings: Vec<FindingRow>,
    /// Why the plan would not take it, if it would not.
    pub refused: Option<RefusedRow>,
}

/// An item as it would lie.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct MovedRow {
    /// Which.
    pub item: u32,
    /// Its place, mm.
    pub at: [f64; 2],
    /// Four corners around all of it, mm; empty when it takes no floor.
    pub outline: Vec<[f64; 2]>,
}
