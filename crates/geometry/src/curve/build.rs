//! Laying a curve leg by leg.

use super::Curve;
use super::lead::lead;
use super::leg::Leg;
use super::spiral::Spiral;
use crate::{Point, Vector};
use units::Angle;

/// Longer than any hall, in mm: lengths and places beyond are brought back to it, so that nothing overflows.
const FARTHEST_MM: f64 = 1e9;
/// More turns than this in one leg are brought back to it.
const MOST_TURNS: f64 = 1e5;
/// Points of a smooth curve nearer than this are one point, in mm.
const SAME_MM: f64 = 1e-6;

/// Lays a [`Curve`] from a place and a direction, one leg after another, each in the direction of the one before.
///
/// Nothing is refused: what has no length adds no leg, a number that is not finite counts as 0, lengths are held to
/// 1e9 mm. Whether a path makes sense is for a check to say.
#[derive(Debug, Clone)]
pub struct CurveBuilder {
    start: (Point, Vector),
    at: (Point, Vector),
    legs: Vec<Leg>,
}

impl CurveBuilder {
    /// Begins at `point`, looking along `heading`.
    pub fn start(point: Point, heading: Angle) -> Self {
        let heading = Angle::deg(finite(heading.to_deg()));
        Self::facing(point, Vector::towards(heading))
    }

    /// Begins at `point`, looking along `direction`; east when it has no length.
    pub fn facing(point: Point, direction: Vector) -> Self {
        let at = (place(point), direction.unit().unwrap_or(Vector { x: 1.0, y: 0.0 }));
        Self { start: at, at, legs: Vec::new() }
    }

    /// Where the path has got to, and its direction there.
    pub fn end(&self) -> (Point, Vector) {
        self.at
    }

    /// Straight on for `length` mm.
    pub fn straight(mut self, length: f64) -> Self {
        let length = reach(length).max(0.0);
        self.push(Leg::Straight { from: self.at.0, along: self.at.1, length });
        self
    }

    /// Along a circle of `radius` mm (without its sign), `turn` to the left or, when negative, to the right.
    /// A radius of 0 turns on the spot.
    pub fn arc(mut self, radius: f64, turn: Angle) -> Self {
        let radius = reach(radius).abs();
        let turn = finite(turn.to_deg()).clamp(-360.0 * MOST_TURNS, 360.0 * MOST_TURNS);
        let length = radius * Angle::deg(turn).to_rad().abs();
        let (sin, cos) = Angle::deg(turn).sin_cos();
        // Exact for quarter turns, and independent of the radius.
        let along = self.at.1.times(cos).plus(self.at.1.left().times(sin));
        self.push(Leg::Arc { from: self.at.0, along: self.at.1, radius, left: turn > 0.0, length });
        self.at.1 = along.unit().unwrap_or(along);
        self
    }

    /// Along a spiral that begins with `radius` mm, gains `ring` mm each turn (inwards when negative), for so many
    /// `turns`, to the left or to the right. It begins in the direction of the path.
    /// An inward spiral that reaches its middle carries on out on the other side.
    pub fn spiral(mut self, radius: f64, ring: f64, turns: f64, left: bool) -> Self {
        let turns = finite(turns).clamp(0.0, MOST_TURNS);
        let spiral = Spiral::new(self.at, reach(radius).abs(), reach(ring), turns, left);
        self.legs_extend(spiral.map(Leg::Spiral));
        self
    }

    /// Smoothly through the points in their order, starting in the direction of the path.
    ///
    /// The directions at the points are those of the centripetal Catmull-Rom spline (Barry and Goldman 1988; Yuksel,
    /// Schaefer and Keyser 2011, which show that it has no cusps or loops within a piece; from memory). At the last
    /// point the path bends as it did when it set out from the one before, like a circle.
    pub fn through(self, points: &[Point]) -> Self {
        self.through_towards(points, None)
    }

    /// The same and then a smooth last leg, as [`lead_to`](Self::lead_to) lays it. The last of the points takes part in the
    /// spline: the path turns there half for what is before and half for where it goes, instead of setting out for the
    /// target only once it is past.
    pub fn through_to(self, points: &[Point], target: Point, heading: Angle) -> Self {
        let target = place(target);
        self.through_towards(points, Some(target)).lead_to(target, heading)
    }

    fn through_towards(mut self, points: &[Point], target: Option<Point>) -> Self {
        let mut knots = vec![self.at.0];
        for &point in points {
            let point = place(point);
            if point.minus(knots[knots.len() - 1]).length() > SAME_MM {
                knots.push(point);
            }
        }
        for i in 1..knots.len() {
            let next = knots.get(i + 1).copied().or(target.filter(|t| t.minus(knots[i]).length() > SAME_MM));
            let along = match next {
                Some(next) => centripetal(knots[i - 1], knots[i], next),
                None => mirrored(self.at.1, knots[i].minus(knots[i - 1])),
            };
            self = self.lead((knots[i], along));
        }
        self
    }

    /// A smooth last leg to `point`, arriving in direction `heading`.
    ///
    /// A smooth curve where the target lies ahead and looks away; arcs and a straight of a wide radius where it lies
    /// behind or looks back. A target that is the present end adds nothing when it looks along the path, else a loop.
    pub fn lead_to(self, point: Point, heading: Angle) -> Self {
        let heading = Angle::deg(finite(heading.to_deg()));
        self.lead((place(point), Vector::towards(heading)))
    }

    /// The curve.
    pub fn build(self) -> Curve {
        let mut s = 0.0;
        let ends = self.legs.iter().map(|leg| {
            s += leg.length();
            s
        });
        let ends = ends.collect();
        Curve { start: self.start, end: self.at, legs: self.legs, ends }
    }

    fn lead(mut self, to: (Point, Vector)) -> Self {
        self.legs_extend(lead(self.at, to));
        self.at = to;
        self
    }

    fn legs_extend(&mut self, legs: impl IntoIterator<Item = Leg>) {
        for leg in legs {
            self.push(leg);
        }
    }

    fn push(&mut self, leg: Leg) {
        if leg.length() > 0.0 {
            let (point, along) = leg.at(leg.length());
            self.at = (point, along.unit().unwrap_or(self.at.1));
            self.legs.push(leg);
        }
    }
}

/// The direction of the centripetal Catmull-Rom spline in the middle one of three different points.
fn centripetal(before: Point, at: Point, after: Point) -> Vector {
    let (one, two) = (at.minus(before), after.minus(at));
    let (t1, t2) = (one.length().sqrt(), two.length().sqrt());
    let along = one.times(t2 / t1).plus(two.times(t1 / t2));
    // Straight back: neither side is better, so turn as a right-hander would not, to the left.
    along.unit().filter(|_| along.length() > 1e-9 * (t1 * t2)).unwrap_or_else(|| {
        let back = one.left();
        back.unit().unwrap_or(Vector { x: 1.0, y: 0.0 })
    })
}

/// The direction in which a circle that starts along `along` reaches the end of `chord`; at most across the chord.
fn mirrored(along: Vector, chord: Vector) -> Vector {
    let unit = chord.unit().unwrap_or(along);
    let forward = along.dot(unit);
    if forward <= 0.0 {
        return unit;
    }
    let mirrored = unit.times(2.0 * forward).plus(along.times(-1.0));
    mirrored.unit().unwrap_or(unit)
}

fn finite(value: f64) -> f64 {
    if value.is_finite() { value } else { 0.0 }
}

fn reach(length: f64) -> f64 {
    finite(length).clamp(-FARTHEST_MM, FARTHEST_MM)
}

fn place(point: Point) -> Point {
    Point::new(reach(point.x), reach(point.y))
}
