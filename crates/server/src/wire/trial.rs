//! Drafts that are tried, and what is said of them.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::draft::{ItemDraft, NeedDraft};
use super::hall::PortRow;
use super::said::SaidRow;
use super::state::FindingRow;

/// `POST /api/try` and `POST /api/try/pieces`: drafts to be looked at. Nothing is changed.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct Try {
    /// The drafts.
    pub items: Vec<ItemDraft>,
}

/// Answer to `POST /api/try`.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Tried {
    /// What each draft would be, in order; empty when something was refused.
    pub items: Vec<TriedRow>,
    /// What is wrong with them, worst first.
    pub findings: Vec<FindingRow>,
    /// Why the plan would not take them, if it would not.
    pub refused: Option<RefusedRow>,
}

/// What a draft would be.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct TriedRow {
    /// The id under which the findings name it: its own, or for a new item one that is not given by this.
    pub item: u32,
    /// Its pieces.
    pub pieces: u32,
    /// Person-hours, low and high.
    pub hours: [f64; 2],
    /// Length of its path, or of a dimension, mm; 0 for others.
    pub length: f64,
    /// From piece to piece along the fall and across it, mm.
    pub pitch: [f64; 2],
    /// Where the fall enters and leaves; the single lanes of fields are left out.
    pub ports: Vec<PortRow>,
    /// Four corners around all of it, mm; empty when it takes no floor.
    pub outline: Vec<[f64; 2]>,
    /// What it takes from the stock.
    pub needs: Vec<NeedDraft>,
}

/// Why something would not be taken.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct RefusedRow {
    /// Where, what was offered, what is wrong with it, and what to do next.
    pub message: String,
    /// The same without what was offered, for those who see that anyway.
    pub brief: String,
    /// Both as sayings.
    pub said: RefusedSaid,
}

/// What is said of something that would not be taken.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct RefusedSaid {
    /// Where, what was offered, what is wrong with it, and what to do next.
    pub message: SaidRow,
    /// The same without what was offered.
    pub brief: SaidRow,
}
