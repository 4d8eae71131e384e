//! Matches: asked for, running, and as variants to look at.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{FreshPicture, Goal, PieceName, SaidRow, Trouble};

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
    /// Match only these cells of the one field, in runs like those of a stroke, and leave all others as they are; all
    /// cells when absent.
    #[serde(default)]
    #[ts(optional)]
    pub only: Option<Vec<u32>>,
    /// A picture that is not in the plan yet: the one field is matched to it, and shows it in the step that lays the match.
    #[serde(default)]
    #[ts(optional)]
    pub shows: Option<FreshPicture>,
}

/// `POST /api/odds`: let the plan fall many times with chance.
#[derive(Debug, Clone, Copy, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct OddsAsk {
    /// How many times, 1 to 10000.
    pub runs: u32,
    /// Seed of the chance; the same one gives the same answer.
    pub seed: u32,
}

/// `POST /api/gaps`: look for safety gaps to leave; what is worth its work when neither figure is given.
#[derive(Debug, Clone, Copy, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct GapsAsk {
    /// At most so many gaps, 1 to 1000.
    pub gaps: Option<u32>,
    /// As few gaps as keep what hangs together to so many pieces, at least 1; not beside `gaps`.
    pub pieces: Option<u32>,
}

/// Safety gaps that are proposed for a plan.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ProposedGaps {
    /// The change of the plan that they are for.
    pub change: u32,
    /// The gaps, by item and rank.
    pub gaps: Vec<ProposedGap>,
    /// Pieces that a touch takes with the gaps that the plan has, on the average and at the most.
    pub before: [f64; 2],
    /// With the proposed ones as well.
    pub after: [f64; 2],
    /// Both are counts; otherwise estimates, right to about 13 %, and the most is exact.
    pub exact: bool,
    /// The order in which the plan's gaps and all proposed ones are closed at the end.
    pub closing: Vec<ClosingRow>,
    /// No order puts fewer pieces at risk.
    pub closing_exact: bool,
    /// Some gap has a stopper in it.
    pub stoppers: bool,
    /// The hall has exits, doors or aisles.
    pub ways: bool,
}

/// A safety gap that is proposed.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ProposedGap {
    /// The item.
    pub item: u32,
    /// Rank of the first piece that is left out, from 0.
    pub first: u32,
    /// How many ranks are left out.
    pub count: u32,
    /// True when a stopper is to stand in the middle of it.
    pub stopper: bool,
    /// Pieces that are left out, of all lanes.
    pub pieces: u32,
    /// Clear opening, mm.
    pub open: f64,
    /// The opening that would surely hold without a stopper, mm; absent where none was measured to.
    pub needed: Option<f64>,
    /// The most pieces that a touch right before or behind it takes, with all proposed gaps open.
    pub beside: u32,
    /// Where it is, mm.
    pub at: [f64; 2],
}

/// A gap that is closed at the end.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ClosingRow {
    /// The item.
    pub item: u32,
    /// The first and the last piece of each lane that is left out, from 1.
    pub ranks: [u32; 2],
    /// It is proposed and not in the plan yet.
    pub proposed: bool,
    /// Pieces that hang together once it is closed.
    pub joined: u32,
}

/// What many falls showed.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FallOdds {
    /// The change of the plan that fell.
    pub change: u32,
    /// How many falls.
    pub runs: u32,
    /// The seed of the chance.
    pub seed: u32,
    /// Pieces that fall without chance.
    pub can_fall: u32,
    /// Share of the falls in which all of these fall, 0 to 1.
    pub all_fall: f64,
    /// Pieces that fall: in all but a twentieth of the falls at least the first, in the middle one the second, in all but
    /// a twentieth at most the third.
    pub fallen: [u32; 3],
    /// When the last piece is hit, s, likewise.
    pub seconds: [f64; 3],
    /// Where the falls stopped, most often first; at most 20 places.
    pub stops: Vec<StopRow>,
}

/// A place where falls stopped.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StopRow {
    /// The piece at which they did.
    pub piece: PieceName,
    /// Where it stands, mm.
    pub at: [f64; 2],
    /// In how many of the falls.
    pub runs: u32,
}

/// What a job is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum JobKind {
    /// Matching fields to the stock.
    Match,
    /// Trying the fall many times.
    Odds,
    /// Looking for safety gaps to leave.
    Gaps,
}

/// A running or ended job: `GET /api/job/{id}`, also pushed over the socket.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Job {
    /// Its id.
    pub id: u32,
    /// What it is for.
    pub kind: JobKind,
    /// What it does, in words: "Matching Town".
    pub what: String,
    /// The same as a saying.
    pub what_said: SaidRow,
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
    /// The result of a match, once it is over.
    pub variant: Option<Variant>,
    /// What the falls showed, once it is over.
    pub odds: Option<FallOdds>,
    /// The gaps that it proposes, once it is over.
    pub gaps: Option<ProposedGaps>,
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
