//! Where the pieces of a feed stand, and where a line must arrive at it.
//!
//! A way lays its pieces out on ground of its own: x runs along the edge of the field in the direction in which the
//! line runs, y along the fall; the first lane that the line meets lies at x = 0, the foremost first piece at y = 0.
//! Here the ground is laid on the floor, for either side of the field and for either of its two edges.

use plan::{Body, Feed, FeedWay, Field, Hand, Item, LaneCourse, Plan, PortFlow};
use sayings::{Said, feeding, say};
use units::Angle;

use crate::feed_ways::{Layout, Spot, lay};
use crate::pieces::{Pieces, Pose};
use crate::ports::PortPlace;

/// More pieces than this are not placed: a field so wide is fed in parts.
pub(crate) const MOST_PIECES: usize = 200_000;

/// The lanes that a feed has to reach, and the pieces that it is laid from; lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ground {
    /// Thickness and width of a piece.
    pub thickness: f64,
    /// See above.
    pub width: f64,
    /// Centre to centre of pieces that simply follow one another.
    pub pitch: f64,
    /// Centre to centre of the lanes that are fed.
    pub step: f64,
    /// Number of each lane within the field, in the order in which the line meets them.
    pub lanes: Vec<u32>,
}

/// How the ground lies on the floor.
struct Laid {
    frame: geometry::Frame,
    bearing: Angle,
    /// Along the fall of the field, and to its left: where the ground's origin lies, in the field's own frame.
    origin: (f64, f64),
    /// 1 when x runs to the left of the field's heading, -1 when to the right.
    across: f64,
    /// 1 when y runs along the field's heading, -1 for lanes that fall the other way.
    along: f64,
}

/// The pieces of a feed, `z` above the surface that the item stands on; none when its field is gone or the way is not
/// possible at its pitch.
pub(crate) fn place_feed(plan: &Plan, item: &Item, feed: &Feed) -> Pieces {
    let Some((layout, laid)) = laid_out(plan, item, feed) else { return Pieces::with_capacity(item.id, 0) };
    let middle = plan.stock.kind(feed.kind).map_or(0.0, |k| k.height.to_mm() / 2.0);
    let mut pieces = Pieces::with_capacity(item.id, layout.spots.len());
    for spot in &layout.spots {
        let (p, heading) = laid.floor(spot);
        pieces.x.push(p.x);
        pieces.y.push(p.y);
        pieces.yaw.push(heading.to_rad() as f32);
        pieces.lane.push(spot.lane);
        pieces.rank.push(spot.rank);
    }
    let count = pieces.len();
    pieces.z.resize(count, middle as f32);
    pieces.kind.resize(count, feed.kind.0);
    pieces.colour.resize(count, feed.colour.0);
    pieces.pose.resize(count, Pose::OnEnd);
    pieces
}

/// How many pieces a feed has.
pub(crate) fn feed_pieces(plan: &Plan, item: &Item, feed: &Feed) -> u64 {
    laid_out(plan, item, feed).map_or(0, |(layout, _)| layout.spots.len() as u64)
}

/// `entry`, where the line must arrive, and, where the feeding line goes on, `end`.
pub(crate) fn feed_ports(plan: &Plan, item: &Item, feed: &Feed) -> Vec<PortPlace> {
    let Some((layout, laid)) = laid_out(plan, item, feed) else { return Vec::new() };
    let height = plan.surface(item.surface).map_or(0.0, |s| s.height.to_mm());
    let width = plan.stock.kind(feed.kind).map_or(0.0, |k| k.width.to_mm());
    let port = |name: &str, flow, spot: &Spot| {
        let (at, heading) = laid.floor(spot);
        PortPlace { name: name.into(), flow, at, heading, height, width }
    };
    let entry = layout.spots.first().map(|first| port("entry", PortFlow::In, first));
    let end = layout.end.as_ref().map(|next| port("end", PortFlow::Out, next));
    entry.into_iter().chain(end).collect()
}

/// The lanes of a field that begin at one of its edges, as ground for a feed; `far` is the edge at the last rank.
///
/// # Errors
/// A sentence that says why there is nothing to feed.
pub(crate) fn ground(plan: &Plan, field: &Field, feed: &Feed, far: bool) -> Result<Ground, Said> {
    let kind = plan.stock.kind(feed.kind).ok_or_else(|| say!(feeding::KIND))?;
    let f = &field.frame;
    let lanes: Vec<u32> = match f.course {
        LaneCourse::Together => (0..f.lanes).collect(),
        LaneCourse::Opposed => (0..f.lanes).filter(|lane| (lane % 2 == 1) == far).collect(),
        LaneCourse::InTurn => {
            return Err(say!(feeding::IN_TURN));
        }
    };
    if lanes.is_empty() {
        return Err(say!(feeding::EDGE));
    }
    let every = if f.course == LaneCourse::Opposed { 2.0 } else { 1.0 };
    Ok(Ground {
        thickness: kind.thickness.to_mm(),
        width: kind.width.to_mm(),
        pitch: feed.pitch.to_mm(),
        step: f.pitch_across.to_mm() * every,
        lanes,
    })
}

/// True when a feed stands at the edge of the last rank: its item heads against the fall of a field with opposed lanes.
pub(crate) fn is_far(item: &Item, of: &Item, field: &Field) -> bool {
    field.frame.course == LaneCourse::Opposed && (item.heading - of.heading).sin_cos().1 < 0.0
}

/// The side from which the line comes, seen along the fall.
pub(crate) fn side(way: &FeedWay) -> Hand {
    match *way {
        FeedWay::Brick { .. } => Hand::Right,
        FeedWay::Beside { side, .. }
        | FeedWay::Angled { side, .. }
        | FeedWay::InLine { side, .. }
        | FeedWay::Echelon { side, .. }
        | FeedWay::HalfShift { side } => side,
    }
}

fn laid_out(plan: &Plan, item: &Item, feed: &Feed) -> Option<(Layout, Laid)> {
    let of = plan.item(feed.of)?;
    let Body::Field(field) = &of.body else { return None };
    let far = is_far(item, of, field);
    let mut ground = ground(plan, field, feed, far).ok()?;
    // Seen along the fall, lane 0 is the rightmost; at the far edge the last one is.
    let rightmost_first = side(&feed.way) == Hand::Right;
    let upwards = rightmost_first != far;
    if !upwards {
        ground.lanes.reverse();
    }
    let layout = lay(&ground, &feed.way).ok()?;
    let f = &field.frame;
    let first = f64::from(*ground.lanes.first()?) * f.pitch_across.to_mm();
    let shift = |lane: &u32| if lane % 2 == 1 { f.stagger.to_mm() } else { 0.0 };
    let u = if far {
        let last = f64::from(f.ranks.saturating_sub(1)) * f.pitch_along.to_mm();
        ground.lanes.iter().map(|l| last + shift(l)).fold(f64::NEG_INFINITY, f64::max)
    } else {
        ground.lanes.iter().map(shift).fold(f64::INFINITY, f64::min)
    };
    let laid = Laid {
        frame: of.stands(),
        bearing: of.bearing(),
        origin: (u, first),
        across: if upwards { 1.0 } else { -1.0 },
        along: if far { -1.0 } else { 1.0 },
    };
    Some((layout, laid))
}

impl Laid {
    fn floor(&self, spot: &Spot) -> (geometry::Point, Angle) {
        let (u, v) = (self.origin.0 + self.along * spot.y, self.origin.1 + self.across * spot.x);
        // In the field's frame the piece falls towards (along sin t, across cos t); in degrees, so that quarter turns are
        // exact.
        let turn = match (self.along > 0.0, self.across > 0.0) {
            (true, true) => Angle::deg(90.0) - spot.turn,
            (true, false) => spot.turn - Angle::deg(90.0),
            (false, true) => spot.turn + Angle::deg(90.0),
            (false, false) => Angle::deg(-90.0) - spot.turn,
        };
        (self.frame.at(u, v), self.bearing + turn)
    }
}
