//! Matches: asked for, running, and as variants to look at.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Goal, Trouble};

/// `POST /api/match`: match fields to the stock that is left beside all other items.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct MatchAsk {
    /// Fields to match together.
    pub items: Vec<u32>,
    /// Instead of each field's own wish for `goal` and `fewer_changes`; nothing is stored until the variant is used.
    pub goal: Option<Goal>,
    /// 0 to 5.
    pub fewer_changes: Option<f64>,
    /// Lay the result at once; otherwise it is kept as a variant to look at.
    pub lay: bool,
}

/// A running or ended job: `GET /api/job/{id}`, also pushed over the socket.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Job {
    /// Its id.
    pub id: u32,
    /// What it does, in words: "Matching Town".
    pub what: String,
    /// Stage, in words.
    pub stage: String,
    /// 0 to 1.
    pub share: f64,
    /// True once it is over.
    pub over: bool,
    /// True when it was stopped; a variant may still hold the best so far.
    pub stopped: bool,
    /// Why it could not be done.
    pub trouble: Option<Trouble>,
    /// The result, once it is over.
    pub variant: Option<Variant>,
}

/// A match that can be looked at and laid.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Variant {
    /// Its id.
    pub id: u32,
    /// The goal.
    pub goal: Goal,
    /// Weight for fewer changes.
    pub fewer_changes: f64,
    /// Sum of CIEDE2000 x 1000 over all cells (times importance), for `exact`.
    pub objective: Option<f64>,
    /// The proven bound; equal to the objective when optimal.
    pub bound: Option<f64>,
    /// Mean CIEDE2000 cell by cell.
    pub difference: f64,
    /// Mean CIEDE2000 as seen.
    pub difference_seen: f64,
    /// Runs of one colour, mean over the lanes.
    pub runs_per_lane: f64,
    /// Person-hours, low and high.
    pub hours: [f64; 2],
    /// Pieces by colour id.
    pub used: Vec<[u32; 2]>,
    /// Seconds a stage.
    pub seconds: Vec<(String, f64)>,
    /// True once it is laid.
    pub laid: bool,
    /// Fields: item id.
    pub items: Vec<u32>,
}
