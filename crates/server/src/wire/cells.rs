//! Cells of a field as they are drawn by hand, in runs, so that a large stroke is a short text.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What cells were drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum DrawnWith {
    /// A brush.
    Brush,
    /// A straight line.
    Line,
    /// A rectangle.
    Rectangle,
    /// The fill of a region of one colour.
    Fill,
    /// Another colour in place of one.
    Replace,
    /// A patch that was copied elsewhere.
    Stamp,
    /// The choice of cells: all of them at once.
    Selection,
}

/// Cells that get one colour, or are released.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct StrokeDraft {
    /// Colour id, 0 for no piece; null releases the cells for the next match and leaves their colour.
    pub colour: Option<u16>,
    /// Runs of cells in lane order, rank 0 first: how many are left out, how many are taken, how many are left out, and so on.
    pub runs: Vec<u32>,
}
