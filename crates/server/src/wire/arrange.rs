//! What is done with several items at once, and the parts of the scene that a change may carry.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What is done with several items.
#[derive(Debug, Clone, PartialEq, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum ArrangeHow {
    /// Displaces them.
    Move {
        /// mm to the east and to the north.
        by: [f64; 2],
    },
    /// Turns all of them about one place.
    Turn {
        /// The place, mm.
        about: [f64; 2],
        /// Degrees, to the left when positive.
        by: f64,
    },
    /// Puts their mirror images in their place.
    Mirror {
        /// A point of the line in which they are mirrored, mm.
        through: [f64; 2],
        /// Its direction, degrees.
        along: f64,
    },
    /// Adds copies: each is the one before, displaced and turned about its own middle.
    Copy {
        /// mm to the east and to the north, from one copy to the next.
        by: [f64; 2],
        /// How many.
        times: u32,
        /// Degrees from one copy to the next.
        turn: f64,
    },
    /// Adds copies so that there are columns and rows of them, these ones in the first column of the first row.
    Grid {
        /// Columns, from 1.
        columns: u32,
        /// Rows, from 1.
        rows: u32,
        /// mm to the east and to the north, from one column to the next.
        column: [f64; 2],
        /// mm to the east and to the north, from one row to the next.
        row: [f64; 2],
    },
    /// Moves them so that their edges lie on one line.
    Align {
        /// Which edge.
        edge: EdgeOf,
    },
    /// Moves all but the outermost ones so that they lie equally far apart.
    Distribute {
        /// In which direction.
        along: AxisOf,
    },
    /// Makes them one group.
    Group {},
    /// Takes them out of their groups.
    Ungroup {},
    /// Locks them.
    Lock {},
    /// Unlocks them.
    Unlock {},
    /// Puts them into a section, or into none.
    Section {
        /// Its id.
        section: Option<u32>,
    },
}

/// An edge or a middle of the box around items.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeOf {
    /// The western edge.
    West,
    /// The eastern edge.
    East,
    /// The southern edge.
    South,
    /// The northern edge.
    North,
    /// Half way between west and east.
    MiddleX,
    /// Half way between south and north.
    MiddleY,
}

/// A direction of the hall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum AxisOf {
    /// From west to east.
    X,
    /// From south to north.
    Y,
}

/// What a part of the hall is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum PartIs {
    /// Carries the roof.
    Pillar,
    /// A way in.
    Door,
    /// A way out that must stay free.
    Exit,
    /// A way to walk that must stay free.
    Aisle,
    /// A table that nothing of the plan stands on.
    Table,
    /// Something that hangs above.
    Overhead,
}

/// A part of the hall, as it is drawn.
#[derive(Debug, Clone, PartialEq, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct PartDraft {
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub is: PartIs,
    /// Its corners, mm.
    pub outline: Vec<[f64; 2]>,
    /// How high it is or hangs, mm; 0 when nobody knows.
    pub height: f64,
}

/// What a surface is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum SurfaceIs {
    /// A raised board.
    Plank,
    /// A table or stage.
    Table,
    /// The top of a wall of pieces.
    WallTop,
}
