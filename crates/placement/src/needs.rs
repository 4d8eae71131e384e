//! What items take from the stock and from the floor.

use std::collections::BTreeMap;

use geometry::Point;
use plan::{Body, ColourId, Item, ItemId, KindId, LaneCourse, Need, Plan};

use crate::links::{Courses, courses_for, has_course};
use crate::pieces::Pieces;
use crate::place::pieces_of;

/// Pieces that an item takes from the stock, by kind and colour, in that order; what a placeholder states counts.
///
/// A line's follow from all that it is linked to. Who asks for many items asks [`needs_of_all`], who has a placement
/// asks [`crate::Placed::needs`].
pub fn needs(plan: &Plan, item: &Item) -> Vec<Need> {
    let courses = if has_course(item) { courses_for(plan, &[item.id]) } else { Courses::new() };
    needs_with(plan, item, &courses)
}

/// What each item of a plan takes from the stock, in order of id.
pub fn needs_of_all(plan: &Plan) -> Vec<(ItemId, Vec<Need>)> {
    let lines: Vec<ItemId> = plan.items.iter().filter(|i| has_course(i)).map(|i| i.id).collect();
    let courses = courses_for(plan, &lines);
    plan.items.iter().map(|item| (item.id, needs_with(plan, item, &courses))).collect()
}

/// How many pieces a plan takes from the stock.
pub fn pieces_of_all(plan: &Plan) -> u64 {
    needs_of_all(plan).iter().flat_map(|(_, needs)| needs).map(|n| u64::from(n.count)).sum()
}

fn needs_with(plan: &Plan, item: &Item, courses: &Courses) -> Vec<Need> {
    let course = courses.get(&item.id).cloned().flatten();
    let along = |pattern: &plan::Pattern, kind| {
        let (ranks, lanes) = course.as_ref().map_or((0, 0), |c| (c.ranks(), c.lanes()));
        let colours = pattern.colours(ranks);
        count(colours.into_iter().map(|c| (kind, c)), lanes as u32)
    };
    match &item.body {
        Body::Line(line) => along(&line.colours, line.kind.0),
        Body::Fill(fill) => along(&fill.colours, fill.kind.0),
        Body::Field(f) if f.frame.course == LaneCourse::InTurn => counted(&pieces_of(plan, item, None)),
        Body::Feed(_) => counted(&pieces_of(plan, item, None)),
        _ => item.stated_needs(),
    }
}

/// Changes of colour along the lanes of pieces that stand in order of lane, then rank.
pub(crate) fn changes(pieces: &Pieces) -> u64 {
    changes_along(&pieces.lane, &pieces.colour)
}

fn changes_along(lanes: &[u32], colours: &[u16]) -> u64 {
    lanes.windows(2).zip(colours.windows(2)).filter(|(l, c)| l[0] == l[1] && c[0] != c[1]).count() as u64
}

/// Placed pieces by kind and colour, in that order.
pub(crate) fn counted(pieces: &Pieces) -> Vec<Need> {
    count(pieces.kind.iter().copied().zip(pieces.colour.iter().copied()), 1)
}

fn count(pieces: impl Iterator<Item = (u16, u16)>, times: u32) -> Vec<Need> {
    let mut counts = BTreeMap::<(u16, u16), u32>::new();
    // Colours come in runs; one look-up a run is enough.
    let mut run: Option<((u16, u16), u32)> = None;
    for piece in pieces {
        match &mut run {
            Some((same, n)) if *same == piece => *n += 1,
            _ => {
                if let Some((was, n)) = run.replace((piece, 1)) {
                    *counts.entry(was).or_default() += n;
                }
            }
        }
    }
    if let Some((was, n)) = run {
        *counts.entry(was).or_default() += n;
    }
    let need = |((kind, colour), n): ((u16, u16), u32)| Need {
        kind: KindId(kind),
        colour: ColourId(colour),
        count: n.saturating_mul(times),
    };
    counts.into_iter().map(need).filter(|n| n.count > 0).collect()
}

/// Four corners around all of an item on the floor plan, counter-clockwise; `None` when it takes no floor.
///
/// For lines, fills and feeds: the box from west to east and from south to north around their pieces.
pub fn extent(plan: &Plan, item: &Item) -> Option<[Point; 4]> {
    let courses = match &item.body {
        Body::Line(_) | Body::Fill(_) => courses_for(plan, &[item.id]),
        Body::Feed(_) => Courses::new(),
        _ => return item.outline(),
    };
    let course = courses.get(&item.id).cloned().flatten();
    let pieces = pieces_of(plan, item, course.as_deref());
    around(plan, &pieces)
}

/// The box around pieces, from west to east and from south to north, counter-clockwise.
pub(crate) fn around(plan: &Plan, pieces: &Pieces) -> Option<[Point; 4]> {
    let kind = plan.stock.kind(KindId(*pieces.kind.first()?));
    let half = kind.map_or((0.0, 0.0), |k| (k.thickness.to_mm() / 2.0, k.width.to_mm() / 2.0));
    let (mut least, mut most) = ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY));
    for ((&x, &y), &yaw) in pieces.x.iter().zip(&pieces.y).zip(&pieces.yaw) {
        let (sin, cos) = units::maths::sin_cos(f64::from(yaw));
        let dx = half.0 * cos.abs() + half.1 * sin.abs();
        let dy = half.0 * sin.abs() + half.1 * cos.abs();
        least = (least.0.min(x - dx), least.1.min(y - dy));
        most = (most.0.max(x + dx), most.1.max(y + dy));
    }
    Some([
        Point::new(least.0, least.1),
        Point::new(most.0, least.1),
        Point::new(most.0, most.1),
        Point::new(least.0, most.1),
    ])
}

#[cfg(test)]
mod tests {
    use super::changes_along;

    #[test]
    fn the_first_piece_of_a_lane_is_no_change() {
        assert_eq!(changes_along(&[0, 0, 0, 1, 1, 1], &[1, 1, 2, 3, 3, 1]), 2);
    }
}
