//! A double spiral within the largest circle of an area.

use super::{FillError, check};
use crate::polygon::{bounding_box, contains, distance_to};
use crate::{Curve, CurveBuilder, Point, Vector};
use units::Angle;

/// More half turns than this are not laid.
const MOST_HALF_TURNS: f64 = 40_000.0;
/// Squares that are looked at when the largest circle is sought.
const MOST_SQUARES: usize = 40_000;

/// Fills the largest circle within the outline with a double spiral: in one way, a turn in the middle, out again
/// between the rings.
///
/// It is made of half circles about two centres `ring` apart, so that neighbours are exactly `ring` apart everywhere;
/// the spiral of Archimedes, whose rings are `ring` apart along the radius, comes a little closer than that near its
/// middle. The tightest bend, in the middle, has the radius `ring` / 2. No two places further apart along the line
/// than a half circle of that radius come closer than `ring`, and all of it stays `ring` / 2 inside the outline.
///
/// # Errors
/// See [`FillError`].
pub fn double_spiral(outline: &[Point], ring: f64) -> Result<Curve, FillError> {
    check(outline, ring)?;
    let (centre, radius) = inscribed_circle(outline);
    // With k half turns on each side of the middle one the line reaches (k + 1) rings from the centre.
    let half_turns = (radius / ring - 1.5 + 1e-9).floor();
    if half_turns < 0.0 {
        return Err(FillError::NoRoom { ring });
    }
    if half_turns > MOST_HALF_TURNS {
        return Err(FillError::TooFine { ring });
    }
    let half_turns = half_turns as u32;
    // The line is the same when turned by half a turn about its centre: from the outer end on, radii of half circles
    // fall to half a ring, then, turning the other way, they grow again.
    let outer = f64::from(half_turns) + 1.0;
    let upwards = half_turns.is_multiple_of(2);
    // The outer end lies left of the centre when the number of half turns that follow it is odd.
    let side = if upwards { 1.0 } else { -1.0 };
    let start = centre.plus(Vector { x: side * outer * ring, y: 0.0 });
    let mut curve = CurveBuilder::facing(start, Vector { x: 0.0, y: side });
    for k in (0..=half_turns).rev() {
        curve = curve.arc((f64::from(k) + 0.5) * ring, Angle::deg(180.0));
    }
    for k in 0..=half_turns {
        curve = curve.arc((f64::from(k) + 0.5) * ring, Angle::deg(-180.0));
    }
    Ok(curve.build())
}

/// The largest circle within a simple outline, to about a millionth of the outline's size: (centre, radius in mm).
/// Radius 0 when the outline encloses nothing.
///
/// Squares that could hold a better centre than the best so far are quartered again and again; a square's promise is
/// the distance of its middle from the outline and half its diagonal.
pub fn inscribed_circle(outline: &[Point]) -> (Point, f64) {
    let Some((low, high)) = bounding_box(outline) else { return (Point::default(), 0.0) };
    let size = (high.x - low.x).max(high.y - low.y);
    let depth = |p: Point| {
        let distance = distance_to(outline, p);
        if contains(outline, p) { distance } else { -distance }
    };
    let mut best = (Point::new(0.5 * (low.x + high.x), 0.5 * (low.y + high.y)), 0.0);
    best.1 = depth(best.0).max(0.0);
    let mut half = size / 32.0;
    let mut squares: Vec<(Point, f64)> = (0..256)
        .map(|i| {
            let (x, y) = (f64::from(i % 16), f64::from(i / 16));
            Point::new(low.x + half * (2.0 * x + 1.0), low.y + half * (2.0 * y + 1.0))
        })
        .map(|p| (p, depth(p)))
        .collect();
    let mut looked = squares.len();
    while half > 1e-7 * size && !squares.is_empty() {
        for &(p, d) in &squares {
            // Only what is clearly better, so that an outline with two equal places gives the first one.
            if d > best.1 + 1e-9 * size {
                best = (p, d);
            }
        }
        let promise = half * std::f64::consts::SQRT_2;
        squares.retain(|(_, d)| d + promise > best.1 + 1e-6 * size);
        squares.sort_by(|a, b| b.1.total_cmp(&a.1));
        squares.truncate(MOST_SQUARES.saturating_sub(looked) / 4);
        half *= 0.5;
        let quarters = [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)];
        let split = |(p, _): &(Point, f64)| {
            quarters.map(|(x, y)| {
                let p = Point::new(p.x + x * half, p.y + y * half);
                (p, depth(p))
            })
        };
        squares = squares.iter().flat_map(split).collect();
        looked += squares.len();
    }
    (best.0, best.1.max(0.0))
}
