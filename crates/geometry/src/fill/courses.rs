//! Fills of parallel courses, to and fro, with round turns at the ends.

use super::stroke::{Courses, Stroke, longest};
use super::{FillError, check};
use crate::{Curve, CurveBuilder, Point, Vector};
use units::{Angle, maths};

/// Where the courses begin across the area: so many positions are tried, and the longest line is taken.
const PHASES: u32 = 4;

/// Fills an area with straight courses in direction `course`, `ring` mm apart, with half circles of radius `ring` / 2
/// at their ends.
///
/// No two places of the line that are further apart along it than a half circle come closer than `ring`, and all of it
/// stays `ring` / 2 inside the outline (both less 1e-6 mm). It is one stroke: where the outline parts the courses, it
/// stays in the parts that make it longest and leaves out the others; `length * ring / area` says how much is filled.
/// A turn wider than `ring` / 2 cannot keep the distance to its neighbours; for wider turns take a larger `ring`.
///
/// # Errors
/// See [`FillError`]; at most about 20 000 courses.
pub fn waves(outline: &[Point], course: Angle, ring: f64) -> Result<Curve, FillError> {
    check(outline, ring)?;
    let shape = Shape { ring, spacing: ring, swing: 0.0, radius: 0.0, bend: 0.0, half_wave: 0.0 };
    lay(outline, course, &shape)
}

/// Fills an area like [`waves`], with courses that swing `swing` mm to either side, in arcs.
///
/// The arcs turn no further than 45 degrees off the course and are no tighter than `ring`. The courses are further
/// apart than `ring` by the slope of the swing, so that they keep `ring` everywhere.
///
/// # Errors
/// See [`FillError`].
pub fn curls(outline: &[Point], course: Angle, ring: f64, swing: f64) -> Result<Curve, FillError> {
    if swing == 0.0 {
        return waves(outline, course, ring);
    }
    check(outline, ring)?;
    if !(swing > 0.0 && swing <= 1e6) {
        return Err(FillError::BadLength { what: "The swing", value: swing });
    }
    // From one extreme to the next are two arcs of `bend`, one to each side: 2 swing = 2 radius (1 - cos bend).
    // The slope is at most tan bend, so a course shifted by d keeps a distance of d cos bend.
    // The radius is at least half the spacing, so that a turn falls away from the course faster than the swing can.
    let radius = (swing / (1.0 - std::f64::consts::FRAC_1_SQRT_2)).max(ring);
    let cos = 1.0 - swing / radius;
    let sin = (1.0 - cos * cos).sqrt();
    let half_wave = 2.0 * radius * sin;
    let shape = Shape { ring, spacing: ring / cos, swing, radius, bend: maths::atan2(sin, cos), half_wave };
    lay(outline, course, &shape)
}

/// What a course looks like; straight when `swing` is 0.
struct Shape {
    ring: f64,
    /// From one course to the next.
    spacing: f64,
    swing: f64,
    /// Of the arcs.
    radius: f64,
    /// How far each arc turns off the course, in radians.
    bend: f64,
    /// From one extreme to the next, along the course; turns stand only at extremes.
    half_wave: f64,
}

fn lay(outline: &[Point], course: Angle, shape: &Shape) -> Result<Curve, FillError> {
    let along = Vector::towards(course);
    let base = outline[0];
    let turned: Vec<Point> = outline
        .iter()
        .map(|p| {
            let v = p.minus(base);
            Point::new(v.dot(along), along.cross(v))
        })
        .collect();
    let mut best: Option<Stroke> = None;
    for phase in 0..PHASES {
        let stroke = longest(
            &turned,
            &Courses {
                spacing: shape.spacing,
                shift: shape.spacing * f64::from(phase) / f64::from(PHASES),
                clear: 0.5 * shape.ring + shape.swing,
                clear_turn: 0.5 * (shape.ring + shape.spacing) + shape.swing,
                least: shape.ring.max(shape.half_wave),
                lattice: shape.half_wave,
            },
        )
        .ok_or(FillError::TooFine { ring: shape.ring })?;
        if best.as_ref().is_none_or(|best| stroke.length > best.length * (1.0 + 1e-9)) {
            best = Some(stroke);
        }
    }
    let stroke = best.filter(|stroke| stroke.length > 0.0).ok_or(FillError::NoRoom { ring: shape.ring })?;
    Ok(draw(&stroke, base, along, shape))
}

/// The line of a stroke: courses from one turn to the next.
fn draw(stroke: &Stroke, base: Point, along: Vector, shape: &Shape) -> Curve {
    let first = stroke.ends[0];
    let height = if shape.at_top(first) { shape.swing } else { -shape.swing };
    let start = base.plus(along.times(first)).plus(along.left().times(stroke.lowest + height));
    let mut right = stroke.rightwards;
    let mut curve = CurveBuilder::facing(start, if right { along } else { along.times(-1.0) });
    for (i, pair) in stroke.ends.windows(2).enumerate() {
        if i > 0 {
            curve = curve.arc(0.5 * shape.spacing, Angle::deg(if right { 180.0 } else { -180.0 }));
            right = !right;
        }
        curve = shape.course(curve, (pair[0], pair[1]), right);
    }
    curve.build()
}

impl Shape {
    /// True where a swinging course is at its upper extreme; `u` is a whole number of half waves.
    fn at_top(&self, u: f64) -> bool {
        self.swing > 0.0 && ((u / self.half_wave).round() as i64) % 2 == 0
    }

    /// Lays one course from one end to the other.
    fn course(&self, mut curve: CurveBuilder, (from, to): (f64, f64), right: bool) -> CurveBuilder {
        let length = (to - from).abs();
        if self.swing == 0.0 {
            return curve.straight(length);
        }
        let waves = (length / self.half_wave).round() as u32;
        // Down from the top: to the right of a course that leads right, to the left of one that leads left.
        let mut bend = if self.at_top(from) == right { -self.bend } else { self.bend };
        for _ in 0..waves {
            curve = curve.arc(self.radius, Angle::rad(bend)).arc(self.radius, Angle::rad(-bend));
            bend = -bend;
        }
        curve
    }
}
