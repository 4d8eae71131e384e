//! Paths on the floor as chains of legs, measured by the length along them.

mod build;
mod cubic;
mod lead;
mod leg;
mod spiral;

pub use build::CurveBuilder;

use crate::{Point, Vector};
use leg::Leg;

/// A path: legs end to end, each known by the length along it.
///
/// All lengths are millimetres. Before its start and beyond its end a curve carries on straight, so that the place
/// of the piece before the first and after the last can be asked for.
/// Straights, arcs and spirals are exact to rounding; the length of a smooth leg is good to 1e-6 mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    start: (Point, Vector),
    end: (Point, Vector),
    legs: Vec<Leg>,
    /// Where each leg ends, in mm from the start.
    ends: Vec<f64>,
}

impl Curve {
    /// The length of the whole path.
    pub fn length(&self) -> f64 {
        self.ends.last().copied().unwrap_or(0.0)
    }

    /// Where the path begins, and in which direction.
    pub fn start(&self) -> (Point, Vector) {
        self.start
    }

    /// Where the path ends, and in which direction it leads on.
    pub fn end(&self) -> (Point, Vector) {
        self.end
    }

    /// The place `s` mm from the start and the direction there as a vector of length 1.
    /// Takes time in the logarithm of the number of legs.
    pub fn at(&self, s: f64) -> (Point, Vector) {
        self.in_leg(self.ends.partition_point(|&end| end < s), s)
    }

    /// The curvature `s` mm from the start, in 1/mm; positive where the path turns to the left, 0 off its ends.
    /// At a join it is that of the leg before.
    pub fn curvature(&self, s: f64) -> f64 {
        let leg = self.ends.partition_point(|&end| end < s);
        match self.legs.get(leg) {
            Some(found) if s >= 0.0 => found.curvature(s - self.begin(leg)),
            _ => 0.0,
        }
    }

    /// The `count` places at `first`, `first + pitch`, `first + 2 pitch`, ... from the start, each with its direction.
    /// Takes time in the count, not in the count times the legs.
    pub fn positions(
        &self,
        count: usize,
        first: f64,
        pitch: f64,
    ) -> impl Iterator<Item = (Point, Vector)> + '_ {
        let mut leg = self.ends.partition_point(|&end| end < first);
        (0..count).map(move |i| {
            let s = first + i as f64 * pitch;
            while self.ends.get(leg).is_some_and(|&end| end < s) {
                leg += 1;
            }
            while leg > 0 && self.ends[leg - 1] >= s {
                leg -= 1;
            }
            self.in_leg(leg, s)
        })
    }

    /// Places no more than `step` mm apart, evenly spread from the start to the end, both with them.
    /// A step that is not above 0, or so small that more than 10 000 000 places would result, is made larger.
    pub fn sample(&self, step: f64) -> impl Iterator<Item = (Point, Vector)> + '_ {
        let length = self.length();
        let parts = if step > 0.0 { (length / step).ceil().clamp(1.0, 1e7) } else { 1.0 };
        let (count, pitch) = if length > 0.0 { (parts as usize + 1, length / parts) } else { (1, 0.0) };
        self.positions(count, 0.0, pitch)
    }

    /// Where the path turns most tightly, sampled every `step` mm and at the joins:
    /// (mm from the start, curvature in 1/mm). A path without bends gives (0, 0).
    pub fn tightest(&self, step: f64) -> (f64, f64) {
        let mut found: (f64, f64) = (0.0, 0.0);
        for (leg, &end) in self.legs.iter().zip(&self.ends) {
            let parts = if leg.bends_evenly() || step.is_nan() || step <= 0.0 {
                1.0
            } else {
                (leg.length() / step).ceil().clamp(1.0, 1e5)
            };
            for i in 0..=parts as u32 {
                let s = leg.length() * f64::from(i) / parts;
                let bend = leg.curvature(s);
                if bend.abs() > found.1.abs() {
                    found = (end - leg.length() + s, bend);
                }
            }
        }
        found
    }

    fn begin(&self, leg: usize) -> f64 {
        if leg == 0 { 0.0 } else { self.ends[leg - 1] }
    }

    fn in_leg(&self, leg: usize, s: f64) -> (Point, Vector) {
        if s.is_nan() || s < 0.0 {
            return (self.start.0.plus(self.start.1.times(s.min(0.0))), self.start.1);
        }
        match self.legs.get(leg) {
            Some(found) => found.at(s - self.begin(leg)),
            None => (self.end.0.plus(self.end.1.times(s - self.length())), self.end.1),
        }
    }
}
