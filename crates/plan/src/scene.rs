//! The scene: surfaces, sections and source pictures.

use geometry::{Point, Vector};
use serde::{Deserialize, Serialize};
use units::{Angle, Length, maths};

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
    /// Height of its upper side above the floor; of its lowest corner when it slopes.
    pub height: Length,
    /// How it rises; level unless it is said.
    #[serde(default, skip_serializing_if = "Slope::is_usual")]
    pub slope: Slope,
    /// Its outline on the floor plan, counter-clockwise, at least three corners.
    pub outline: Vec<Point>,
}

/// How a surface rises. Places on it are those of the floor plan, straight below; lengths along it are those on the
/// surface itself.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Slope {
    /// Against the level, from 0 to 45°.
    pub rise: Angle,
    /// The direction on the floor plan in which it rises.
    #[serde(default)]
    pub uphill: Angle,
}

impl Slope {
    /// Whether nothing was said of it.
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }

    /// Whether it does not rise at all.
    pub fn is_level(&self) -> bool {
        self.rise == Angle::ZERO
    }
}

impl Surface {
    /// By how much it rises for each millimetre to the east and to the north; nothing when it is level.
    pub fn grade(&self) -> Vector {
        if self.slope.is_level() {
            return Vector { x: 0.0, y: 0.0 };
        }
        let steep = maths::tan(self.slope.rise.to_rad());
        let (sin, cos) = self.slope.uphill.sin_cos();
        Vector { x: steep * cos, y: steep * sin }
    }

    /// Height of its upper side above the floor at a place of the floor plan, in mm; beyond its outline it goes on.
    pub fn height_at(&self, at: Point) -> f64 {
        let height = self.height.to_mm();
        if self.slope.is_level() {
            return height;
        }
        let grade = self.grade();
        let along = |p: Point| p.x * grade.x + p.y * grade.y;
        let lowest = self.outline.iter().map(|p| along(*p)).fold(f64::INFINITY, f64::min);
        if lowest.is_finite() { height + along(at) - lowest } else { height }
    }

    /// Height of its highest corner above the floor, in mm.
    pub fn highest(&self) -> f64 {
        self.outline.iter().map(|p| self.height_at(*p)).fold(self.height.to_mm(), f64::max)
    }
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
