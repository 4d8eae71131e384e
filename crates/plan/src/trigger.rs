//! What begins a fall and what ends it while the crew builds: start pieces, stoppers, safety gaps.

use serde::{Deserialize, Serialize};
use units::{Duration, Length};

/// Where somebody or something pushes the first piece. It pushes along its heading what stands within reach before
/// it, as a falling piece of its width would.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Start {
    /// Width across the push: of a finger, or of a bar that pushes a whole rank.
    pub width: Length,
    /// When it pushes, after the first start of all.
    #[serde(default)]
    pub after: Duration,
}

/// A block that a fallen lane runs against. It stands upright across its heading, centred on the item's origin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stopper {
    /// Along the heading.
    pub thickness: Length,
    /// Across the heading.
    pub width: Length,
    /// Upwards.
    pub height: Length,
    /// True when it is fixed to the floor; a loose one is pushed along.
    pub fixed: bool,
}

/// Pieces of an item that are left out while building, in all its lanes, and put in at the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SafetyGap {
    /// Rank of the first piece that is left out, from 0.
    pub first: u32,
    /// How many are left out, one after another.
    pub count: u32,
    /// True when a stopper, fixed to the floor, stands in the middle of it.
    #[serde(default)]
    pub stopper: bool,
}

impl SafetyGap {
    /// Whether the pieces of a rank are left out by it.
    pub fn leaves_out(&self, rank: u32) -> bool {
        rank >= self.first && rank - self.first < self.count
    }

    /// First and last rank that are left out, counted from 1 as people do.
    pub fn for_people(&self) -> (u64, u64) {
        (u64::from(self.first) + 1, u64::from(self.first) + u64::from(self.count))
    }
}
