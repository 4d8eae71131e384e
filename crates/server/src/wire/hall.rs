//! The hall and what happens in it: parts, kinds, gaps, the report of the fall, one piece in words.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::taped::MarkRow;

/// The hall as drawn. Points are millimetres east and north of the datum.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct HallRow {
    /// The walls, counter-clockwise; empty while nobody knows them.
    pub outline: Vec<[f64; 2]>,
    /// Pillars, doors, exits, aisles, tables, overhead points, and the plan's planks and tables to stand on.
    pub parts: Vec<HallPartRow>,
    /// How floor and pieces rub.
    pub grip: GripRow,
    /// Places between which distances were taped, the datum first.
    pub marks: Vec<MarkRow>,
}

/// Ranges of friction, least to most.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct GripRow {
    /// A piece on the floor.
    pub floor: [f64; 2],
    /// A piece on a piece.
    pub piece: [f64; 2],
}

/// A part of the hall.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct HallPartRow {
    /// What the crew calls it.
    pub name: String,
    /// `pillar`, `door`, `exit`, `aisle`, `table`, `overhead` or `surface`.
    pub is: String,
    /// Its corners, mm.
    pub outline: Vec<[f64; 2]>,
    /// How high it is or hangs, mm; 0 when nobody knows.
    pub height: f64,
}

/// A kind of piece. Lengths in mm.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct KindRow {
    /// Its id.
    pub id: u16,
    /// Its name.
    pub name: String,
    /// Along the fall, when it stands on end.
    pub thickness: f64,
    /// Across the fall.
    pub width: f64,
    /// Upwards.
    pub height: f64,
}

/// A port in the hall.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PortRow {
    /// Its name within the item.
    pub name: String,
    /// True where the fall enters.
    pub enters: bool,
    /// Where, mm.
    pub at: [f64; 2],
    /// In which direction the fall runs there, degrees counter-clockwise from east.
    pub heading: f64,
    /// How wide it is across the fall, mm.
    pub width: f64,
}

/// A safety gap.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct GapRow {
    /// Rank of the first piece that is left out, from 0.
    pub first: u32,
    /// How many ranks are left out.
    pub count: u32,
    /// True when a stopper stands in the middle of it.
    pub stopper: bool,
    /// The two strokes across the lanes, before the first piece left out and after the last: each from end to end, mm.
    pub strokes: Vec<[[f64; 2]; 2]>,
}

/// Whether a safety gap stops a fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// It does.
    Surely,
    /// Nobody can say.
    Unsure,
    /// It does not.
    Not,
}

/// What stands in the opening of a safety gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Block {
    /// Nothing.
    None,
    /// A stopper that is fixed to the floor.
    Fixed,
    /// A loose stopper.
    Loose,
}

/// What a safety gap does while all gaps are open.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct GapState {
    /// The item.
    pub item: u32,
    /// Which gap of the item, from 0.
    pub gap: u32,
    /// First and last rank that are left out, from 1.
    pub ranks: [u32; 2],
    /// Pieces that are left out.
    pub pieces: u32,
    /// Whether it stops the fall.
    pub holds: Holds,
    /// How many mm are open from face to face; absent when the other side is farther than fallen pieces were seen to slide.
    pub open: Option<f64>,
    /// What stands in it.
    pub block: Block,
    /// How many mm would surely hold without a stopper on this floor; absent where none was measured.
    pub needed: Option<f64>,
}

/// `GET /api/gaps`: the safety gaps of the plan, by item and in the order of their lists.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct GapStates {
    /// The change of the plan that they were judged from.
    pub change: u32,
    /// The gaps.
    pub gaps: Vec<GapState>,
}

/// Why pieces stay standing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// There is no start that pushes anything.
    NoStart,
    /// Nothing falls towards them.
    NotFed,
    /// What falls towards them stands too far away.
    TooFar,
    /// They are turned too far out of the fall.
    Turned,
    /// Something fixed stands in between.
    Blocked,
    /// They are too large for what hits them.
    TooBig,
    /// They stand too much higher or lower.
    StepTooHigh,
    /// Only because something before them stands.
    AfterStall,
}

/// Pieces that stay standing for one reason.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StandsRow {
    /// The item.
    pub item: u32,
    /// First and last lane of each range of lanes, from 1.
    pub lanes: Vec<[u32; 2]>,
    /// How many pieces.
    pub pieces: u32,
    /// Why.
    pub why: Why,
    /// The clear gap in mm, where that is the reason.
    pub gap: Option<f64>,
    /// The first of them.
    pub piece: PieceName,
    /// Where that one stands, mm.
    pub at: [f64; 2],
}

/// Why a hit may fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Doubt {
    /// By itself: measured runs with such a gap, turn or step passed and failed.
    Hit,
    /// What lies above leaves too little room to fall.
    Low,
    /// What flies out of a curve may have knocked its target before.
    Knocked,
    /// Another line crosses here without a bridge.
    Crossed,
    /// The push of a start uphill may die out.
    Dies,
}

/// A hit that may fail and without which pieces stay standing.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct UnsureRow {
    /// What is hit.
    pub piece: PieceName,
    /// Where that one stands, mm.
    pub at: [f64; 2],
    /// Why it may fail.
    pub why: Doubt,
    /// What may have knocked it or lies across, where that is the reason.
    pub by: Option<PieceName>,
}

/// When the fall runs through a placeholder.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PassRow {
    /// The placeholder.
    pub item: u32,
    /// When it comes in, at the least and at the most, s.
    pub from: [f64; 2],
    /// When it has run through, likewise.
    pub to: [f64; 2],
}

/// When the fall reaches an item.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ArrivalRow {
    /// The item.
    pub item: u32,
    /// At the least, s.
    pub least: f64,
    /// At the most, s.
    pub most: f64,
}

/// `GET /api/fall/report`: what falls, in what time, and what does not.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FallReport {
    /// The change of the plan that it was made from.
    pub change: u32,
    /// Pieces of the plan.
    pub pieces: u32,
    /// Pieces that placeholders ask for; they are not among the others.
    pub assumed: u32,
    /// Pieces that fall, hits that may fail counted as passing.
    pub fallen: u32,
    /// Pieces that fall without any such hit.
    pub surely: u32,
    /// Starts that push at least one piece.
    pub starts: u32,
    /// Total time at the least, s.
    pub least: f64,
    /// Total time at the most, s.
    pub most: f64,
    /// What stays standing.
    pub stands: Vec<StandsRow>,
    /// Pieces that fall in each second at the usual pace: second, pieces.
    pub per_second: Vec<[u32; 2]>,
    /// When the fall reaches each item.
    pub arrivals: Vec<ArrivalRow>,
    /// Placeholders through which it runs.
    pub passes: Vec<PassRow>,
    /// Hits that may fail, the first ones.
    pub unsure: Vec<UnsureRow>,
}

/// A piece by name.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PieceName {
    /// Its number over all items.
    pub piece: u32,
    /// Its item.
    pub item: u32,
    /// Its lane, from 1.
    pub lane: u32,
    /// Its rank, from 1.
    pub rank: u32,
}

/// `GET /api/piece/{n}`: one piece in words.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PieceInfo {
    /// Its name.
    pub name: PieceName,
    /// Its colour.
    pub colour: u16,
    /// Its kind.
    pub kind: u16,
    /// When it is hit at the usual pace, s; absent when it stands.
    pub at: Option<f64>,
    /// When at the least and at the most, s.
    pub between: Option<[f64; 2]>,
    /// What hits it; absent when it is pushed or stands.
    pub from: Option<PieceName>,
    /// True when it falls back.
    pub back: bool,
    /// Direction in which it falls, degrees counter-clockwise from east.
    pub heading: f64,
    /// Pieces that fall when it is touched now, forward.
    pub touched_forward: u32,
    /// Back.
    pub touched_back: u32,
    /// At the most.
    pub touched_most: u32,
}
