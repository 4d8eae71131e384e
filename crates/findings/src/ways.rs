//! The floor that must stay free before an exit or a door.

use geometry::{Point, Vector, distance_to_segment, signed_area};
use plan::{HallPart, HallPartKind};

use crate::shape::Bounds;

/// Sides of a part that lie as near to a wall as the nearest one, give or take this much, may be the one along it, mm.
const ALIKE_MM: f64 = 50.0;

/// What must stay free because of a part: the part itself, and before an exit or a door at least as deep as it is wide,
/// into the hall from the drawn part (common practice, no source; local codes decide).
///
/// It is as wide as it was drawn along the wall. What was drawn counts towards the depth: who draws the whole floor that
/// is to stay free gets no more. Where no wall is near, nobody knows on which side the hall is, and both stay free.
/// `within` is where something stands that may be in it: `None` when it cannot be.
pub(crate) fn free(walls: &[Point], part: &HallPart, within: &Bounds) -> Option<Vec<Point>> {
    let drawn = Bounds::around(part.outline.iter().copied())?;
    if !matches!(part.is, HallPartKind::Exit | HallPartKind::Door) {
        return within.meets(&drawn).then(|| part.outline.clone());
    }
    // No way is deeper than the part is long from corner to corner.
    let reach = units::maths::hypot(drawn.east - drawn.west, drawn.north - drawn.south);
    if !within.meets(&drawn.wider(reach)) {
        return None;
    }
    Some(before(walls, &part.outline, reach).unwrap_or_else(|| part.outline.clone()))
}

/// A side of a part, and the wall that it lies along.
#[derive(Clone, Copy)]
struct Side {
    from: Point,
    to: Point,
    /// The farther of its ends from the wall, and the wall.
    wall: Option<(f64, (Point, Point))>,
}

impl Side {
    fn length(&self) -> f64 {
        self.to.minus(self.from).length()
    }

    fn away(&self) -> f64 {
        self.wall.map_or(0.0, |w| w.0)
    }
}

/// The rectangle before a way out; `None` for an outline without a side.
fn before(walls: &[Point], outline: &[Point], reach: f64) -> Option<Vec<Point>> {
    let walls = if walls.len() >= 3 { walls } else { &[] };
    let sides: Vec<Side> = pairs(outline)
        .filter(|(a, b)| a != b)
        .map(|(from, to)| Side { from, to, wall: nearest(walls, from, to) })
        .collect();
    let longest = |sides: &mut dyn Iterator<Item = &Side>| {
        sides.max_by(|a, b| a.length().total_cmp(&b.length())).copied()
    };
    let least = sides.iter().map(Side::away).fold(f64::INFINITY, f64::min);
    let side = if least <= reach {
        longest(&mut sides.iter().filter(|s| s.away() <= least + ALIKE_MM))?
    } else {
        longest(&mut sides.iter())?
    };
    let along = side.to.minus(side.from).times(1.0 / side.length());
    let left = Vector { x: -along.y, y: along.x };
    let wall = side.wall.filter(|w| w.0 <= reach).map(|(_, (a, b))| {
        // The hall is to the left of its walls when they run counter-clockwise.
        let inward = signed_area(walls).signum();
        let wall = b.minus(a);
        (a, Vector { x: -wall.y * inward, y: wall.x * inward })
    });
    let into = match wall {
        Some((_, hall)) if hall.dot(left) < 0.0 => left.times(-1.0),
        _ => left,
    };
    let span = |axis: Vector| {
        let each = outline.iter().map(|p| p.minus(side.from).dot(axis));
        each.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    };
    let (right, wide) = span(along);
    let (near, deep) = span(into);
    let width = wide - right;
    let (near, deep) = match wall {
        Some((at, _)) => {
            // What was drawn into the wall or beyond it is not floor of the hall.
            let from = near.max(at.minus(side.from).dot(into)).min(deep.max(0.0));
            (near, deep.max(from + width))
        }
        None => (near.min(deep - width), deep.max(near + width)),
    };
    let corner = |u: f64, v: f64| side.from.plus(along.times(u)).plus(into.times(v));
    Some(vec![corner(right, near), corner(wide, near), corner(wide, deep), corner(right, deep)])
}

/// The wall from which the farther end of a side is least far.
fn nearest(walls: &[Point], from: Point, to: Point) -> Option<(f64, (Point, Point))> {
    let away = |a: Point, b: Point| distance_to_segment(a, b, from).max(distance_to_segment(a, b, to));
    let each = pairs(walls).filter(|(a, b)| a != b).map(|(a, b)| (away(a, b), (a, b)));
    each.min_by(|one, two| one.0.total_cmp(&two.0))
}

fn pairs(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    outline.iter().zip(outline.iter().cycle().skip(1)).map(|(&a, &b)| (a, b))
}
