//! The scene: surfaces, sections and source pictures.

use geometry::Point;
use serde::{Deserialize, Serialize};
use units::Length;

use crate::ids::{PictureId, SectionId, SurfaceId};

/// What a surface is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SurfaceKind {
    /// A raised board.
    Plank,
    /// A table or stage.
    Table,
    /// The top of a wall of pieces.
    WallTop,
}

/// Something above the floor that items stand on. Others may pass beneath it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Surface {
    /// Its id; 0 is the floor and is never stored.
    pub id: SurfaceId,
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub is: SurfaceKind,
    /// Height of its upper side above the floor.
    pub height: Length,
    /// Its outline on the floor plan, counter-clockwise, at least three corners.
    pub outline: Vec<Point>,
}

/// What one crew builds, signs and locks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Section {
    /// Its id.
    pub id: SectionId,
    /// What the crew calls it: A, B, …
    pub name: String,
    /// Who leads it, may be empty.
    #[serde(default)]
    pub lead: String,
}

/// A source picture. Its bytes are kept beside the plan under their hash.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Picture {
    /// Its id.
    pub id: PictureId,
    /// Its file name, without folders.
    pub name: String,
    /// SHA-256 of the file's bytes, 64 lower-case hex digits.
    pub sha256: String,
    /// Width in pixels, upright.
    pub width: u32,
    /// Height in pixels, upright.
    pub height: u32,
}
