//! Outlines on the floor: area, inside and outside, distances, crossings.
//!
//! An outline is a list of corners without the first one repeated; the last side leads back to the first corner.

use crate::{Point, Vector};

/// A point nearer to a side than this counts as on it, in mm.
const ON_SIDE_MM: f64 = 1e-9;

/// The area enclosed, in square millimetres; positive when the corners run counter-clockwise.
pub fn signed_area(outline: &[Point]) -> f64 {
    let Some(&base) = outline.first() else { return 0.0 };
    // Relative to a corner, so that a small area far from the datum keeps its digits.
    sides(outline).map(|(a, b)| 0.5 * a.minus(base).cross(b.minus(base))).sum()
}

/// The area enclosed, in square millimetres, whichever way the corners run.
pub fn area(outline: &[Point]) -> f64 {
    signed_area(outline).abs()
}

/// True when `p` is inside the outline or on it. Where an outline crosses itself, what is enclosed an odd number of
/// times is inside.
pub fn contains(outline: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (a, b) in sides(outline) {
        if distance_to_segment(a, b, p) <= ON_SIDE_MM {
            return true;
        }
        // Each corner belongs to the side above it, so that a ray through a corner counts once or not at all.
        if (a.y > p.y) != (b.y > p.y) {
            let turn = b.minus(a).cross(p.minus(a));
            inside ^= (turn > 0.0) == (b.y > a.y);
        }
    }
    inside
}

/// The distance from `p` to the nearest point of the outline itself, in mm, from inside as from outside;
/// infinite for an outline without corners.
pub fn distance_to(outline: &[Point], p: Point) -> f64 {
    sides(outline).map(|(a, b)| distance_to_segment(a, b, p)).fold(f64::INFINITY, f64::min)
}

/// The distance from `p` to the straight piece from `a` to `b`, in mm.
pub fn distance_to_segment(a: Point, b: Point, p: Point) -> f64 {
    let (side, to) = (b.minus(a), p.minus(a));
    let square = side.dot(side);
    let part = if square > 0.0 { (to.dot(side) / square).clamp(0.0, 1.0) } else { 0.0 };
    let off = to.plus(side.times(-part));
    // Plainly the root of the sum of squares: no distance in a hall overflows, and this runs millions of times.
    off.dot(off).sqrt()
}

/// Where the straight pieces `a` to `b` and `c` to `d` cross or touch: one such point; `None` when they do not or
/// when they are parallel.
pub fn crossing(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (one, two, apart) = (b.minus(a), d.minus(c), c.minus(a));
    let sine = one.cross(two);
    if sine == 0.0 {
        return None;
    }
    let (s, t) = (apart.cross(two) / sine, apart.cross(one) / sine);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then(|| a.plus(one.times(s)))
}

/// South-west and north-east corner of the smallest upright rectangle around the points; `None` without points.
pub fn bounding_box(points: &[Point]) -> Option<(Point, Point)> {
    let &first = points.first()?;
    Some(points.iter().fold((first, first), |(low, high), p| {
        (Point::new(low.x.min(p.x), low.y.min(p.y)), Point::new(high.x.max(p.x), high.y.max(p.y)))
    }))
}

/// True when the outline has at least three corners, encloses something, and no side touches another but at the
/// corner they share. Corners that repeat the one before are passed over.
///
/// Sides are sorted into a grid of about as many cells as there are sides: n sides of usual outlines take time n,
/// 10 000 sides that all cross the whole outline about n times the root of n.
pub fn is_simple(outline: &[Point]) -> bool {
    let mut corners = outline.to_vec();
    corners.dedup();
    while corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    if corners.len() < 3 || corners.iter().any(|p| !p.x.is_finite() || !p.y.is_finite()) {
        return false;
    }
    let cells = cells_of_sides(&corners);
    let shares = cells.chunk_by(|a, b| a.0 == b.0);
    let n = corners.len();
    for cell in shares {
        for (i, &(_, one)) in cell.iter().enumerate() {
            if cell[i + 1..].iter().any(|&(_, two)| clash(&corners, one as usize % n, two as usize % n)) {
                return false;
            }
        }
    }
    signed_area(&corners) != 0.0
}

/// How deep two rectangles reach into one another, in mm; 0 or less when they do not: then the gap between them along
/// the best of their sides' directions, with a minus.
///
/// Separating axes: two convex shapes are apart exactly when they are apart along the normal of one of their sides.
pub fn overlap_depth(a: &[Point; 4], b: &[Point; 4]) -> f64 {
    let sides = [a[1].minus(a[0]), a[3].minus(a[0]), b[1].minus(b[0]), b[3].minus(b[0])];
    let along = |side: Vector| {
        let unit = side.times(1.0 / side.length().max(f64::MIN_POSITIVE));
        let reach = |corners: &[Point; 4]| {
            let spots = corners.iter().map(|p| p.x * unit.x + p.y * unit.y);
            spots.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
        };
        let (a, b) = (reach(a), reach(b));
        (a.1 - b.0).min(b.1 - a.0)
    };
    sides.into_iter().map(along).fold(f64::INFINITY, f64::min)
}

/// True when two outlines share a point: a corner of one is in the other or on it, or two of their sides cross.
pub fn meet(a: &[Point], b: &[Point]) -> bool {
    a.iter().any(|p| contains(b, *p))
        || b.iter().any(|p| contains(a, *p))
        || sides(a).any(|(p, q)| sides(b).any(|(r, s)| crossing(p, q, r, s).is_some()))
}

/// The sides of an outline, each from one corner to the next.
pub(crate) fn sides(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(&a, &b)| (a, b))
}

/// (cell, side) for each cell that a side may pass through, sorted.
fn cells_of_sides(corners: &[Point]) -> Vec<(u64, u32)> {
    let Some((low, high)) = bounding_box(corners) else { return Vec::new() };
    let across = (corners.len() as f64).sqrt().ceil().max(1.0);
    let (width, height) = ((high.x - low.x) / across, (high.y - low.y) / across);
    let number = |v: f64, side: f64| if side > 0.0 { (v / side).clamp(0.0, across - 1.0) as u64 } else { 0 };
    let mut cells = Vec::with_capacity(corners.len() * 3);
    for (i, (a, b)) in sides(corners).enumerate() {
        let (west, east) = if a.x <= b.x { (a, b) } else { (b, a) };
        for column in number(west.x - low.x, width)..=number(east.x - low.x, width) {
            // The part of the side within the column, with a little more at each end for rounding.
            let at = |x: f64| {
                let part = if east.x > west.x { (x - west.x) / (east.x - west.x) } else { 0.0 };
                west.y + (east.y - west.y) * part.clamp(0.0, 1.0)
            };
            let more = 1e-9 * (1.0 + width.max(height));
            let left = low.x + width * column as f64 - more;
            let (y0, y1) =
                if east.x > west.x { (at(left), at(left + width + 2.0 * more)) } else { (west.y, east.y) };
            let rows = number(y0.min(y1) - more - low.y, height)..=number(y0.max(y1) + more - low.y, height);
            cells.extend(rows.map(|row| (column << 32 | row, i as u32)));
        }
    }
    cells.sort_unstable();
    cells
}

/// True when sides `i` and `j` touch where they must not.
fn clash(corners: &[Point], i: usize, j: usize) -> bool {
    let n = corners.len();
    let (a, b) = (corners[i], corners[(i + 1) % n]);
    let (c, d) = (corners[j], corners[(j + 1) % n]);
    if (i + 1) % n == j {
        // One after the other: they must not fold back.
        return b.minus(a).cross(d.minus(c)) == 0.0 && b.minus(a).dot(d.minus(c)) < 0.0;
    }
    if (j + 1) % n == i {
        return d.minus(c).cross(b.minus(a)) == 0.0 && d.minus(c).dot(b.minus(a)) < 0.0;
    }
    let turn = |p: Point, q: Point, r: Point| q.minus(p).cross(r.minus(p));
    let (abc, abd, cda, cdb) = (turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b));
    if abc * abd < 0.0 && cda * cdb < 0.0 {
        return true;
    }
    let on = |p: Point, q: Point, r: Point, turn: f64| {
        turn == 0.0
            && r.x >= p.x.min(q.x)
            && r.x <= p.x.max(q.x)
            && r.y >= p.y.min(q.y)
            && r.y <= p.y.max(q.y)
    };
    on(a, b, c, abc) || on(a, b, d, abd) || on(c, d, a, cda) || on(c, d, b, cdb)
}
