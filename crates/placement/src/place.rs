//! Places the pieces of one item.

use geometry::{FillError, Frame};
use plan::{Body, EMPTY, Field, Item, KindId, LaneCourse, Line, Pattern, Plan, Stock};
use units::{Angle, maths};

use crate::course::Course;
use crate::feed::place_feed;
use crate::pieces::{Pieces, Pose};
use crate::room::too_many;
use crate::turns::turn_after;

/// The pieces of an item, where they stand as if nothing else were in the plan: lines without their links, no feeds.
/// Placeholders have none.
///
/// `z` is the height of the centres above the surface that the item stands on; [`crate::Placement`] adds that of the
/// surface. The stock tells how high a kind stands; a kind that it does not know is taken to have no height.
pub fn place_item(item: &Item, stock: &Stock) -> Pieces {
    match &item.body {
        Body::Field(field) => place_field(item, field, stock),
        Body::Line(line) => {
            let own = (item.stands().origin, item.bearing());
            place_course(item, along(item, stock), &Course::of_line(item, line, stock, own, None))
        }
        Body::Fill(fill) => match Course::of_fill(item, fill, stock) {
            Ok(course) => place_course(item, along(item, stock), &course),
            Err(_) => Pieces::with_capacity(item.id, 0),
        },
        // What is not drawn yet has no pieces in a place of their own; a feed has none without its field.
        _ => Pieces::with_capacity(item.id, 0),
    }
}

/// Why the area of a fill cannot be filled as it is asked for; `None` when it can be, and for all other items.
pub fn unfilled(item: &Item, stock: &Stock) -> Option<FillError> {
    match &item.body {
        Body::Fill(fill) => Course::of_fill(item, fill, stock).err(),
        _ => None,
    }
}

/// The pieces of an item of a plan, `z` above the surface that it stands on; lines and fills along their course.
pub(crate) fn pieces_of(plan: &Plan, item: &Item, course: Option<&Course>) -> Pieces {
    match (&item.body, course) {
        (Body::Feed(feed), _) => place_feed(plan, item, feed),
        (Body::Line(_) | Body::Fill(_), Some(course)) => place_course(item, along(item, &plan.stock), course),
        (Body::Line(_) | Body::Fill(_), None) => Pieces::with_capacity(item.id, 0),
        _ => place_item(item, &plan.stock),
    }
}

/// Height of the centre of a piece of this kind above what it stands on, in mm.
pub(crate) fn middle(kind: KindId, stock: &Stock) -> f64 {
    stock.kind(kind).map_or(0.0, |k| k.height.to_mm() / 2.0)
}

/// What stands along a course: kind, colours, and the height of a centre.
struct Along<'a> {
    kind: KindId,
    colours: Option<&'a Pattern>,
    middle: f64,
}

fn along<'a>(item: &'a Item, stock: &Stock) -> Along<'a> {
    let (kind, colours) = match &item.body {
        Body::Line(Line { kind, colours, .. }) => (*kind, Some(colours)),
        Body::Fill(fill) => (fill.kind, Some(&fill.colours)),
        _ => (KindId(0), None),
    };
    Along { kind, colours, middle: middle(kind, stock) }
}

fn place_course(item: &Item, along: Along<'_>, course: &Course) -> Pieces {
    let (ranks, lanes) = (course.ranks(), course.lanes());
    let colours = along.colours.map_or_else(Vec::new, |pattern| pattern.colours(ranks));
    let mut pieces = Pieces::with_capacity(item.id, course.pieces());
    let (mut z, mut yaw) = (Vec::with_capacity(ranks), Vec::with_capacity(ranks));
    let mut places = Vec::with_capacity(ranks);
    for (rank, (at, heading)) in course.places().enumerate() {
        places.push((at, heading.left()));
        yaw.push(maths::atan2(heading.y, heading.x) as f32);
        z.push((along.middle + course.height(rank)) as f32);
    }
    for lane in 0..lanes {
        let left = course.left(lane);
        for (rank, &(at, across)) in places.iter().enumerate() {
            pieces.x.push(at.x + left * across.x);
            pieces.y.push(at.y + left * across.y);
            pieces.lane.push(lane as u32);
            pieces.rank.push(rank as u32);
        }
        pieces.yaw.extend_from_slice(&yaw);
        pieces.z.extend_from_slice(&z);
        pieces.colour.extend_from_slice(&colours);
    }
    let count = pieces.len();
    pieces.kind.resize(count, along.kind.0);
    pieces.pose.resize(count, Pose::OnEnd);
    pieces
}

/// A piece for each cell that is not empty; where the lanes fall in turn, behind the last cell of a lane the pieces that
/// lead into the next one, if the lanes lie far enough apart. None when those are more than one item may have.
fn place_field(item: &Item, field: &Field, stock: &Stock) -> Pieces {
    if too_many(field) {
        return Pieces::with_capacity(item.id, 0);
    }
    let frame = item.stands();
    let ranks = field.frame.ranks.max(1) as usize;
    let cells = field.cells.as_slice();
    let mut pieces = Pieces::with_capacity(item.id, field.cells.pieces());
    for (lane, colours) in (0u32..).zip(cells.chunks(ranks)) {
        place_lane(&mut pieces, field, &frame, lane, colours);
        let back = is_back(field, lane);
        let bearing = if back { item.bearing() + Angle::deg(180.0) } else { item.bearing() };
        pieces.yaw.resize(pieces.len(), bearing.to_rad() as f32);
        if field.frame.course == LaneCourse::InTurn {
            let next = &cells[((lane as usize + 1) * ranks).min(cells.len())..];
            place_turn(&mut pieces, item, field, lane, (colours, next));
        }
    }
    let count = pieces.len();
    pieces.z.resize(count, middle(field.kind, stock) as f32);
    pieces.kind.resize(count, field.kind.0);
    pieces.pose.resize(count, Pose::OnEnd);
    pieces
}

fn place_lane(pieces: &mut Pieces, field: &Field, frame: &Frame, lane: u32, colours: &[u16]) {
    let along = field.frame.pitch_along.to_mm();
    let left = f64::from(lane) * field.frame.pitch_across.to_mm();
    let ahead = if lane % 2 == 1 { field.frame.stagger.to_mm() } else { 0.0 };
    for (rank, &colour) in (0u32..).zip(colours).filter(|(_, c)| **c != EMPTY) {
        let p = frame.at(f64::from(rank) * along + ahead, left);
        pieces.x.push(p.x);
        pieces.y.push(p.y);
        pieces.lane.push(lane);
        pieces.rank.push(rank);
        pieces.colour.push(colour);
    }
}

/// True where a lane falls against the heading of its field.
pub(crate) fn is_back(field: &Field, lane: u32) -> bool {
    lane % 2 == 1 && field.frame.course != LaneCourse::Together
}

/// The pieces that lead from a lane into the next one, in the colour of the lane's last piece; none where either of the
/// two cells that they join is empty.
fn place_turn(pieces: &mut Pieces, item: &Item, field: &Field, lane: u32, cells: (&[u16], &[u16])) {
    let end = |lane: &[u16], back| if back { lane.first().copied() } else { lane.last().copied() };
    let (this, next) = cells;
    let next = &next[..next.len().min(this.len())];
    let back = is_back(field, lane);
    let (Some(colour), Some(into)) = (end(this, back), end(next, back)) else { return };
    if colour == EMPTY || into == EMPTY {
        return;
    }
    let frame = item.stands();
    for (i, (u, v, turned)) in (0u32..).zip(turn_after(&field.frame, lane)) {
        let p = frame.at(u, v);
        pieces.x.push(p.x);
        pieces.y.push(p.y);
        pieces.yaw.push((item.bearing() + turned).to_rad() as f32);
        pieces.lane.push(lane);
        pieces.rank.push(field.frame.ranks.saturating_add(i));
        pieces.colour.push(colour);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Point;
    use plan::{FieldFrame, ItemId, Kind, KindId};
    use units::{Angle, Length};

    fn field_item(lanes: u32, ranks: u32, along: f64, across: f64, heading: f64) -> Item {
        let frame = FieldFrame::new(lanes, ranks, Length::mm(along), Length::mm(across));
        let mut field = Field::empty(KindId(1), frame);
        field.cells = vec![1; frame.len()].into();
        Item {
            heading: Angle::deg(heading),
            ..Item::new(ItemId(4), "F", Point::new(1000.0, 2000.0), Body::Field(field))
        }
    }

    fn usual() -> Stock {
        Stock { kinds: vec![Kind::usual(KindId(1))], ..Stock::default() }
    }

    fn centres(item: &Item) -> Vec<(f64, f64)> {
        let p = place_item(item, &usual());
        p.x.iter().copied().zip(p.y.iter().copied()).collect()
    }

    /// 67 pieces a metre at 15 mm pitch (reported; 1000 / 15 = 66.7, the first piece at the start of the metre).
    #[test]
    fn a_metre_at_15_mm_holds_67_pieces() {
        let line = centres(&field_item(1, 200, 15.0, 25.0, 0.0));
        assert_eq!(line.iter().filter(|p| (0.0..=1000.0).contains(&(p.0 - 1000.0))).count(), 67);
    }

    /// 60 x 60 cm at 15 x 25 mm: 40 x 24 = 960 pieces (calculated).
    #[test]
    fn sixty_by_sixty_centimetres_hold_960_pieces() {
        let field = centres(&field_item(40, 60, 15.0, 25.0, 90.0));
        let inside = |v: f64| (0.0..600.0).contains(&v);
        let (left, front) = (field[0].0, field[0].1);
        assert_eq!(field.iter().filter(|p| inside(left - p.0) && inside(p.1 - front)).count(), 960);
    }

    /// Lane 1 lies to the left of the fall and rank 1 ahead, whichever way the item is turned.
    #[test]
    fn lanes_lie_to_the_left_of_the_fall_for_all_four_headings() {
        let ahead = [(15.0, 0.0), (0.0, 15.0), (-15.0, 0.0), (0.0, -15.0)];
        let left = [(0.0, 25.0), (-25.0, 0.0), (0.0, -25.0), (25.0, 0.0)];
        for (i, heading) in [0.0, 90.0, 180.0, 270.0].into_iter().enumerate() {
            let p = centres(&field_item(2, 2, 15.0, 25.0, heading));
            let at = |dx: f64, dy: f64| (1000.0 + dx, 2000.0 + dy);
            let (a, l) = (ahead[i], left[i]);
            assert_eq!(p, [at(0.0, 0.0), at(a.0, a.1), at(l.0, l.1), at(a.0 + l.0, a.1 + l.1)], "{heading}");
        }
    }

    /// A turn keeps all distances: a wrong sign in one axis would mirror the field and fail the second check.
    #[test]
    fn a_turned_field_keeps_distances_and_is_not_mirrored() {
        let plain = centres(&field_item(3, 4, 15.0, 25.0, 0.0));
        let turned = centres(&field_item(3, 4, 15.0, 25.0, 33.0));
        for i in 0..plain.len() {
            for j in 0..plain.len() {
                let d = |p: &[(f64, f64)]| units::maths::hypot(p[i].0 - p[j].0, p[i].1 - p[j].1);
                assert!((d(&plain) - d(&turned)).abs() < 1e-9);
            }
        }
        let cross = |p: &[(f64, f64)]| {
            let (a, b) = ((p[1].0 - p[0].0, p[1].1 - p[0].1), (p[4].0 - p[0].0, p[4].1 - p[0].1));
            a.0 * b.1 - a.1 * b.0
        };
        assert!((cross(&plain) - 375.0).abs() < 1e-9 && (cross(&turned) - 375.0).abs() < 1e-9);
    }

    #[test]
    fn stagger_shifts_every_odd_lane_along_the_fall() {
        let mut item = field_item(3, 2, 15.0, 25.0, 90.0);
        let Body::Field(field) = &mut item.body else { panic!("a field") };
        field.frame.stagger = Length::mm(7.5);
        let norths: Vec<f64> = centres(&item).iter().map(|p| p.1 - 2000.0).collect();
        assert_eq!(norths, [0.0, 15.0, 7.5, 22.5, 0.0, 15.0]);
    }

    #[test]
    fn empty_cells_carry_no_piece_and_move_no_other() {
        let mut item = field_item(2, 3, 15.0, 25.0, 0.0);
        let full = place_item(&item, &usual());
        let Body::Field(field) = &mut item.body else { panic!("a field") };
        field.cells.make_mut()[1] = EMPTY;
        let less = place_item(&item, &usual());
        assert_eq!((full.len(), less.len()), (6, 5));
        for i in 0..less.len() {
            let id = less.id(i).unwrap();
            assert_eq!(less.find(id), Some(i));
            let j = full.find(id).unwrap();
            assert_eq!((less.x[i], less.y[i]), (full.x[j], full.y[j]));
        }
        assert_eq!(less.find(full.id(1).unwrap()), None);
        assert_eq!(less.z[0], 24.0);
    }
}
