//! The ways to feed a field, and what is known of each.

use serde::Serialize;
use ts_rs::TS;

use super::draft::{Course, WayDraft};
use super::said::SaidRow;

/// `GET /api/field/{id}/feeds?side=right|left`: the ways to feed a field, best first, for a line that comes from that
/// side, seen along the fall.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FeedWays {
    /// Pitch at which a feed of this field is laid, mm.
    pub pitch: f64,
    /// The ways.
    pub ways: Vec<FeedWayRow>,
}

/// What is known of one way of feeding a field.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FeedWayRow {
    /// The way, with the measures that suit this field best.
    pub means: FeedMeans,
    /// How surely it feeds every lane on the floors that the hall may have.
    pub works: FeedWorks,
    /// Lanes that fell and lanes run in the nearest measured cases on a slick floor (friction 0.15), if any was run.
    pub slick: Option<[u32; 2]>,
    /// The same on a normal floor (0.3).
    pub normal: Option<[u32; 2]>,
    /// Time along the edge over that of a straight line, least and most.
    pub slow: Option<[f64; 2]>,
    /// Pieces that it takes.
    pub pieces: u32,
    /// Why, in whole sentences.
    pub why: String,
    /// The same sentences for any language.
    pub said: Vec<SaidRow>,
}

/// What one does to feed a field.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum FeedMeans {
    /// A feed.
    Feed {
        /// Its way.
        way: WayDraft,
    },
    /// Another course of the field's lanes.
    Course {
        /// Which.
        course: Course,
    },
}

/// How surely a way of feeding works.
#[derive(Debug, Clone, Copy, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum FeedWorks {
    /// The fall reaches every lane surely.
    Sure,
    /// Some lanes hang on hits that may fail.
    Unsure,
    /// It cannot be laid here, or the fall leaves lanes standing.
    No,
}
