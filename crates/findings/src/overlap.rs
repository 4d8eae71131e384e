//! Items that would stand in one another.

use geometry::{Point, Vector};
use plan::{Item, Plan, SurfaceId};

use crate::finding::{Finding, Place, Severity, mm};

/// Outlines may reach into one another by so much, in mm: rounding, not a design.
const SLACK_MM: f64 = 0.01;
/// More than so many overlaps are one mistake made many times; the rest is left out.
const MOST: usize = 1_000;

/// One finding for each two items on the same surface whose outlines overlap.
pub(crate) fn check(plan: &Plan, found: &mut Vec<Finding>) {
    let mut boxes: Vec<Boxed<'_>> = plan.items.iter().filter_map(Boxed::new).collect();
    // Sorted by surface, then from west to east: only those that begin before an item ends can meet it.
    boxes.sort_by(|a, b| {
        a.surface.cmp(&b.surface).then(a.west.total_cmp(&b.west)).then(a.item.id.cmp(&b.item.id))
    });
    let mut count = 0;
    for (i, a) in boxes.iter().enumerate() {
        let near = boxes[i + 1..].iter().take_while(|b| b.surface == a.surface && b.west < a.east);
        for b in near {
            let depth = depth(&a.outline, &b.outline);
            if depth > SLACK_MM {
                let (a, b) = if a.item.id < b.item.id { (a, b) } else { (b, a) };
                found.push(finding(a.item, b.item, depth));
                count += 1;
            }
            if count == MOST {
                return;
            }
        }
    }
}

struct Boxed<'a> {
    item: &'a Item,
    surface: SurfaceId,
    outline: [Point; 4],
    west: f64,
    east: f64,
}

impl<'a> Boxed<'a> {
    fn new(item: &'a Item) -> Option<Self> {
        let outline = item.outline()?;
        let west = outline.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let east = outline.iter().map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
        Some(Self { item, surface: item.surface, outline, west, east })
    }
}

/// How deep two rectangles reach into one another, in mm; 0 or less when they do not.
///
/// Separating axes: two convex shapes are apart exactly when they are apart along the normal of one of their sides.
fn depth(a: &[Point; 4], b: &[Point; 4]) -> f64 {
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

fn finding(a: &Item, b: &Item, depth: f64) -> Finding {
    Finding {
        code: "items-overlap",
        severity: Severity::Must,
        place: Place::item(a),
        message: format!("{} and {} overlap by {}.", a.name, b.name, mm(depth)),
        hint: "Move one of them, or put one on another surface.".into(),
        mend: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Frame;
    use units::Angle;

    fn rectangle(x: f64, y: f64, w: f64, h: f64, turn: f64) -> [Point; 4] {
        let f = Frame::new(Point::new(x, y), Angle::deg(turn));
        [f.at(0.0, 0.0), f.at(w, 0.0), f.at(w, h), f.at(0.0, h)]
    }

    /// Against closed forms: shifted squares, and a square on its corner whose corner reaches in.
    #[test]
    fn depth_is_that_of_the_closed_form() {
        let square = rectangle(0.0, 0.0, 10.0, 10.0, 0.0);
        assert_eq!(depth(&square, &rectangle(7.0, 2.0, 10.0, 10.0, 0.0)), 3.0);
        assert_eq!(depth(&square, &rectangle(10.0, 0.0, 10.0, 10.0, 0.0)), 0.0);
        assert_eq!(depth(&square, &rectangle(14.0, 0.0, 10.0, 10.0, 0.0)), -4.0);
        let diamond = rectangle(5.0, 9.0, 10.0, 10.0, 45.0);
        assert!((depth(&square, &diamond) - 1.0).abs() < 1e-12);
        // Their boxes overlap, they do not: only the axes of the diamond tell.
        let beside = rectangle(17.05, 3.0, 10.0, 10.0, 45.0);
        assert!(depth(&square, &beside) < 0.0 && depth(&beside, &square) < 0.0);
    }
}
