//! One leg of a curve: straight, round, spiral or smooth.

use super::cubic::Cubic;
use super::spiral::Spiral;
use crate::{Point, Vector};
use units::maths;

/// A leg; `s` is the length along it, from 0 to its own length.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Leg {
    Straight { from: Point, along: Vector, length: f64 },
    Arc { from: Point, along: Vector, radius: f64, left: bool, length: f64 },
    Spiral(Spiral),
    Cubic(Cubic),
}

impl Leg {
    pub(super) fn length(&self) -> f64 {
        match self {
            Self::Straight { length, .. } | Self::Arc { length, .. } => *length,
            Self::Spiral(spiral) => spiral.length(),
            Self::Cubic(cubic) => cubic.length(),
        }
    }

    /// True when one look at the curvature tells it everywhere.
    pub(super) fn bends_evenly(&self) -> bool {
        matches!(self, Self::Straight { .. } | Self::Arc { .. })
    }

    /// Place and direction at `s`.
    pub(super) fn at(&self, s: f64) -> (Point, Vector) {
        match self {
            Self::Straight { from, along, .. } => (from.plus(along.times(s)), *along),
            Self::Arc { from, along, radius, left, .. } => {
                let side = if *left { along.left() } else { along.left().times(-1.0) };
                let (sin, cos) = maths::sin_cos(s / radius);
                // 1 - cos of a small angle loses its digits; twice the square of the half angle's sine does not.
                let half = maths::sin(0.5 * s / radius);
                let shift = along.times(radius * sin).plus(side.times(2.0 * radius * half * half));
                (from.plus(shift), along.times(cos).plus(side.times(sin)))
            }
            Self::Spiral(spiral) => spiral.at(s),
            Self::Cubic(cubic) => cubic.at(s),
        }
    }

    /// A straight or an arc laid elsewhere.
    pub(super) fn moved_to(self, (from, along): (Point, Vector)) -> Self {
        match self {
            Self::Straight { length, .. } => Self::Straight { from, along, length },
            Self::Arc { radius, left, length, .. } => Self::Arc { from, along, radius, left, length },
            other => other,
        }
    }

    /// Curvature at `s`, in 1/mm, positive to the left.
    pub(super) fn curvature(&self, s: f64) -> f64 {
        match self {
            Self::Straight { .. } => 0.0,
            Self::Arc { radius, left, .. } => {
                if *left {
                    1.0 / radius
                } else {
                    -1.0 / radius
                }
            }
            Self::Spiral(spiral) => spiral.curvature(s),
            Self::Cubic(cubic) => cubic.curvature(s),
        }
    }
}
