//! Sheets and reading pages.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::said::SaidRow;

/// `GET /api/sheets?…`: what would be printed.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct SheetsInfo {
    /// Title of each page, in order; the number of pages is its length.
    pub pages: Vec<String>,
    /// Pieces of the chosen items in the plan.
    pub in_plan: u32,
    /// Pieces on the sheets, counted from what is printed.
    pub on_sheets: u32,
    /// Pieces that stand in the whole plan: lines, fills and feeds, which have no sheets, among them.
    pub placed: u32,
    /// Width of a page, mm.
    pub width: f64,
    /// Height of a page, mm.
    pub height: f64,
}

/// `GET /api/read/{item}?side=…&from=…&unit=…`: how a field is read.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ReadPlan {
    /// The field.
    pub item: u32,
    /// Its name.
    pub name: String,
    /// Number of lanes (or ranks) to call.
    pub units: u32,
    /// `lane` or `rank`.
    pub unit: ReadUnit,
    /// Where the builder sits and starts, in words.
    pub side: String,
    /// The same as a saying.
    pub side_said: SaidRow,
    /// Number of the lane (or rank) that is called first; the far ones come first, so it is often the last number.
    pub first: u32,
    /// The change that this was made from.
    pub change: u32,
}

/// What is called at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum ReadUnit {
    /// Lane by lane.
    Lane,
    /// Rank by rank.
    Rank,
}

/// `GET /api/read/{item}/{n}?…`: one lane (or rank), n from 1.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ReadLane {
    /// Number as printed, from 1.
    pub number: u32,
    /// Calls in order; a run longer than a comb load is cut.
    pub calls: Vec<Call>,
    /// Pieces and skips in all: places.
    pub places: u32,
    /// Pieces in all: the checksum.
    pub total: u32,
    /// Number of the lane (or rank) that is called after this one, if there is one.
    pub next: Option<u32>,
    /// Number of the one that is called before it.
    pub before: Option<u32>,
}

/// One call.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Call {
    /// Colour id, or 0 for places that stay empty.
    pub colour: u16,
    /// How many.
    pub count: u32,
    /// Pieces laid after this call.
    pub laid: u32,
    /// Place of its first piece, from 1.
    pub from: u32,
}
