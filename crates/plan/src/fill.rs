//! Areas filled with lines that never touch.

use geometry::Point;
use serde::{Deserialize, Serialize};
use units::{Angle, Length};

use crate::ids::KindId;
use crate::line::{Pattern, Placing, Spacing};

/// An area filled by one line that never touches itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fill {
    /// Which kind of piece.
    pub kind: KindId,
    /// The area, in the item's own frame, counter-clockwise, at least three corners.
    pub outline: Vec<Point>,
    /// How it is filled.
    pub with: Filling,
    /// From one course of the line to the next; it sets the density.
    pub ring: Length,
    /// How far the pieces stand apart.
    pub spacing: Spacing,
    /// How they are placed.
    #[serde(default)]
    pub placed: Placing,
    /// The colours, in the order of the fall.
    pub colours: Pattern,
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum Filling {
    /// To and fro, with round turns at the ends.
    Waves {
        /// The direction of the courses, against the item's heading.
        course: Angle,
    },
    /// A double spiral about the middle: in one way and out again.
    Spiral,
    /// To and fro in courses that are themselves waved.
    Curls {
        /// The direction of the courses, against the item's heading.
        course: Angle,
        /// How far each curl swings out to each side.
        swing: Length,
    },
}
