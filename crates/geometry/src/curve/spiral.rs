//! The Archimedean spiral: rings a fixed distance apart.

use crate::{Point, Vector};
use std::f64::consts::TAU;
use units::maths;

/// r(phi) = radius + growth * phi, for phi from 0 to `sweep`, laid so that it begins at `from` along `along`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spiral {
    centre: Point,
    /// Unit vector from the centre to the start.
    out: Vector,
    /// Unit vector a quarter turn from `out` to the side to which the spiral turns.
    side: Vector,
    radius: f64,
    /// Change of the radius per radian.
    growth: f64,
    sweep: f64,
    left: bool,
    length: f64,
}

impl Spiral {
    /// `ring` is the change of the radius per turn; `None` when the spiral has no length.
    pub(super) fn new(
        (from, along): (Point, Vector),
        radius: f64,
        ring: f64,
        turns: f64,
        left: bool,
    ) -> Option<Self> {
        let growth = ring / TAU;
        let sweep = turns * TAU;
        let width = maths::hypot(radius, growth);
        // Below this the directions have no meaning, nor has such a spiral in a hall.
        if width < 1e-9 || sweep <= 0.0 {
            return None;
        }
        let normal = if left { along.left() } else { along.left().times(-1.0) };
        // The velocity is growth * out + radius * side, so the path is not square to the radius;
        // solved here for out and side, with the velocity along the path.
        let out = along.times(growth / width).plus(normal.times(-radius / width));
        let side = along.times(radius / width).plus(normal.times(growth / width));
        let length = arc_length(radius, growth, sweep);
        let centre = from.plus(out.times(-radius));
        (length > 0.0).then_some(Self { centre, out, side, radius, growth, sweep, left, length })
    }

    pub(super) fn length(&self) -> f64 {
        self.length
    }

    pub(super) fn at(&self, s: f64) -> (Point, Vector) {
        let phi = self.phi(s);
        let (sin, cos) = maths::sin_cos(phi);
        let r = self.radius + self.growth * phi;
        let out = self.out.times(cos).plus(self.side.times(sin));
        let side = self.side.times(cos).plus(self.out.times(-sin));
        let width = maths::hypot(r, self.growth).max(f64::MIN_POSITIVE);
        let along = out.times(self.growth / width).plus(side.times(r / width));
        (self.centre.plus(out.times(r)), along)
    }

    /// (r^2 + 2 g^2) / (r^2 + g^2)^(3/2): the curvature of a polar curve whose second derivative is 0.
    pub(super) fn curvature(&self, s: f64) -> f64 {
        let r = self.radius + self.growth * self.phi(s);
        let width = maths::hypot(r, self.growth).max(1e-150);
        let bend = (1.0 + (self.growth / width) * (self.growth / width)) / width;
        if self.left { bend } else { -bend }
    }

    /// The angle at which the length is `s`: Newton's method between bounds, so that it always ends.
    fn phi(&self, s: f64) -> f64 {
        let (mut low, mut high) = (0.0, self.sweep);
        let s = s.clamp(0.0, self.length);
        let mut phi = self.sweep * (s / self.length);
        for _ in 0..64 {
            let miss = arc_length(self.radius, self.growth, phi) - s;
            if miss > 0.0 {
                high = phi
            } else {
                low = phi
            }
            let speed = maths::hypot(self.radius + self.growth * phi, self.growth);
            let newton = phi - miss / speed;
            let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
            if (next - phi).abs() * speed <= 1e-12 * (1.0 + self.length) || next == phi {
                return next;
            }
            phi = next;
        }
        phi
    }
}

/// The length of r = r0 + g * phi from angle 0 to `phi`, in mm.
///
/// The integral of sqrt(r^2 + g^2), with r / g = u: (g/2) [u sqrt(1 + u^2) + ln(u + sqrt(1 + u^2))] between both ends
/// (the textbook closed form of the Archimedean spiral's arc length; from memory). The difference is taken before
/// the subtraction, so that nothing cancels when the rings are close and it turns into r0 * phi for a circle.
fn arc_length(r0: f64, g: f64, phi: f64) -> f64 {
    let r1 = r0 + g * phi;
    if r0 >= 0.0 && r1 >= 0.0 {
        between(r0, r1, g, phi)
    } else if r0 <= 0.0 && r1 <= 0.0 {
        between(-r0, -r1, -g, phi)
    } else {
        // Through the middle: one part on each side of it, g is not 0.
        between(0.0, r0.abs(), g.abs(), (r0 / g).abs()) + between(0.0, r1.abs(), g.abs(), (r1 / g).abs())
    }
}

/// The same for radii that are both not negative.
fn between(r0: f64, r1: f64, g: f64, phi: f64) -> f64 {
    let (w0, w1) = (maths::hypot(r0, g), maths::hypot(r1, g));
    let weight = r0 * w0 + r1 * w1;
    let main = if weight > 0.0 { 0.5 * phi * (r0 + r1) * (g * g + r0 * r0 + r1 * r1) / weight } else { 0.0 };
    let (a, b) = (r0 + w0, r1 + w1);
    let log = if a > 0.0 && b > 0.0 { 0.5 * g * maths::ln(b / a) } else { 0.0 };
    main + log
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The closed form as textbooks print it, for a spiral that starts in the middle (from memory).
    #[test]
    fn length_is_that_of_the_closed_form() {
        for (ring, turns) in [(40.0, 0.3), (40.0, 5.0), (35.0, 60.0)] {
            let (g, phi) = (ring / TAU, turns * TAU);
            let root = (1.0_f64 + phi * phi).sqrt();
            let book = 0.5 * g * (phi * root + maths::ln(phi + root));
            assert!((arc_length(0.0, g, phi) - book).abs() < 1e-9 * book);
            // From r0 on it is the difference of two of them; inwards it is the same length as outwards.
            let from = arc_length(0.0, g, phi / 3.0);
            let part = arc_length(g * phi / 3.0, g, phi * 2.0 / 3.0);
            assert!((from + part - book).abs() < 1e-9 * book);
            let inwards = arc_length(g * phi, -g, phi * 2.0 / 3.0);
            assert!((inwards - part).abs() < 1e-9 * book);
            let through = arc_length(g * phi, -g, 2.0 * phi);
            assert!((through - 2.0 * book).abs() < 1e-9 * book);
        }
    }

    #[test]
    fn without_growth_it_is_a_circle() {
        assert!((arc_length(100.0, 0.0, TAU) - 100.0 * TAU).abs() < 1e-10);
        assert!((arc_length(100.0, 1e-12, TAU) - 100.0 * TAU).abs() < 1e-9);
        assert!((arc_length(1e7, 1e-3, 1e-3) - 1e4).abs() < 1e-6);
    }
}
