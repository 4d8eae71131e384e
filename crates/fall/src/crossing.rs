//! Flat crossings: what lies across a hit once another line has fallen through it, and what the first line takes along.
//!
//! Measured with two lines at a right angle and an opening in one or both (`tests/data/transfers/crossing.csv`): the line
//! that falls second meets a piece that lies across its way and passes in some runs only. Lines whose pieces stand in one
//! another cross as well; nobody can build that, and nothing is sure of it.

use rayon::prelude::*;

use crate::contacts::{Body, Grid, Shapes, cos_sin};
use crate::network::{Network, State};
use crate::site::Site;

/// Hits over at least this share of the height leave room for another line, 24 mm and a little.
pub(crate) const WIDE: f64 = 0.49;
/// So close beside its flank a piece that falls through takes along what stands there, mm: it did in 19 of 64 runs at
/// 0.5 and 0.75 mm and in none of 128 at 1 mm and more.
const FLANK: f64 = 0.9;
/// Pieces may reach into one another by so much, mm: rounding, not a design.
const SLACK: f64 = 0.01;
/// So many pieces that stand in one are kept; in a heap one of them is enough.
const PARTNERS: usize = 4;

/// All crossings of a network.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Crossings {
    /// A hit as (what falls, what it fells), and a state that lies across it once it has fallen; sorted.
    barred: Vec<(State, State, State)>,
    /// What a state may take along beside its way; sorted.
    strays: Vec<(State, State)>,
    /// A piece and another one that stands in it; sorted.
    inside: Vec<(u32, u32)>,
}

impl Crossings {
    /// Looks at the states over whose way others may fall, as the search for hits found them.
    pub(crate) fn of(network: &Network) -> Self {
        let crossed = network.crossed();
        if crossed.is_empty() {
            return Self::default();
        }
        let site = Site::of(network);
        let spots = crossed.iter().filter_map(|s| site.body(s / 2)).map(|b| (site.cell_of(&b), 1));
        let grid = site.around(spots.collect());
        let parts: Vec<Self> = crossed
            .par_iter()
            .filter_map(|&s| Some((s, site.body(s / 2)?)))
            .map(|(s, from)| of_state((network, &site), &grid, s, &from))
            .collect();
        let mut all = Self::default();
        for part in parts {
            all.barred.extend(part.barred);
            all.strays.extend(part.strays);
            all.inside.extend(part.inside);
        }
        all.barred.sort_unstable();
        all.barred.dedup();
        all.strays.sort_unstable();
        all.strays.dedup();
        all.inside.sort_unstable();
        all.inside.dedup();
        all
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.barred.is_empty() && self.inside.is_empty()
    }

    /// The states that lie across a hit once they have fallen, or whose pieces stand in one of its two.
    pub(crate) fn across(&self, from: State, to: State) -> impl Iterator<Item = State> + '_ {
        let at = self.barred.partition_point(|b| (b.0, b.1) < (from, to));
        let lying = self.barred[at..].iter().take_while(move |b| (b.0, b.1) == (from, to)).map(|b| b.2);
        let both = [(from / 2, to / 2), (to / 2, from / 2)];
        let inside = both.into_iter().flat_map(|(one, other)| self.inside(one).filter(move |p| *p != other));
        lying.chain(inside.flat_map(|p| [2 * p, 2 * p + 1]))
    }

    /// Pieces that stand in another one.
    fn inside(&self, piece: u32) -> impl Iterator<Item = u32> + '_ {
        let at = self.inside.partition_point(|i| i.0 < piece);
        self.inside[at..].iter().take_while(move |i| i.0 == piece).map(|i| i.1)
    }

    pub(crate) fn strays(&self, state: State) -> impl Iterator<Item = State> + '_ {
        let at = self.strays.partition_point(|s| s.0 < state);
        self.strays[at..].iter().take_while(move |s| s.0 == state).map(|s| s.1)
    }
}

fn of_state((network, site): (&Network, &Site<'_>), grid: &Grid, s: State, from: &Body) -> Crossings {
    let mut all = Crossings::default();
    let shape = network.shapes.get(from.shape);
    let reach = shape.w + shape.d;
    let mut looked = 0;
    grid.near(from.x, from.y, (reach, reach), |b| {
        if looked < PARTNERS && stands_in(&network.shapes, from, b) {
            looked += 1;
            all.inside.push((from.id, b.id));
        }
    });
    for (t, code) in network.codes(s).filter(|e| e.1.share() >= WIDE) {
        let Some(to) = site.body(t / 2).filter(|to| is_straight(from, to)) else { continue };
        let way = [(from.x, from.y), (to.x, to.y)];
        let mut near: Vec<Body> = Vec::new();
        // The piece that falls across stands on either side, as far off as it can reach.
        grid.near(from.x, from.y, (2.0 * shape.h, 2.0 * shape.h), |b| near.push(*b));
        near.sort_unstable_by_key(|b| b.id);
        for c in near.iter().filter(|c| c.id != from.id && c.id != to.id && (c.z - from.z).abs() < 20.0) {
            let other = network.shapes.get(c.shape);
            for lying in [2 * c.id, 2 * c.id + 1] {
                if !other.falls || !lies_across(c, lying % 2, (other.h, other.d), from, way) {
                    continue;
                }
                all.barred.push((s, t, lying));
                for (d, beside) in network.codes(lying) {
                    let Some(end) = site.body(d / 2) else { continue };
                    let Some(at) = cut(way, [(c.x, c.y), (end.x, end.y)]) else { continue };
                    all.barred.push((lying, d, s));
                    if beside.share() < WIDE {
                        // An intact line stands in the way: its pieces are hit on their narrow sides.
                        all.strays.extend([lying, lying ^ 1, d, d ^ 1].map(|x| (s, x)));
                    }
                    let length = code.share() * shape.h + shape.d;
                    let flank = at.min(1.0 - at) * length - (shape.d + other.w) / 2.0;
                    if flank < FLANK * shape.h / 48.0 {
                        all.strays.extend([s, s ^ 1, t, t ^ 1].map(|x| (lying, x)));
                    }
                }
            }
        }
    }
    all
}

/// Whether two pieces stand in one another.
pub(crate) fn stands_in(shapes: &Shapes, a: &Body, b: &Body) -> bool {
    let (one, two) = (shapes.get(a.shape), shapes.get(b.shape));
    let up = f64::from(b.z - a.z);
    if a.id == b.id || up >= one.h || up <= -two.h {
        return false;
    }
    let (cos, sin) = cos_sin(b.turn.wrapping_sub(a.turn));
    let (cos, sin) = (cos.abs(), sin.abs());
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    // Two rectangles are apart when they are so along a side of one of them.
    let meet = |turn: u16, (d, w): (f64, f64), (other_d, other_w): (f64, f64)| {
        let (c, s) = cos_sin(turn);
        let (along, across) = ((dx * c + dy * s).abs(), (dy * c - dx * s).abs());
        along + SLACK < (d + cos * other_d + sin * other_w) / 2.0
            && across + SLACK < (w + sin * other_d + cos * other_w) / 2.0
    };
    meet(a.turn, (one.d, one.w), (two.d, two.w)) && meet(b.turn, (two.d, two.w), (one.d, one.w))
}

/// Whether one piece stands straight before or behind another, as in an opened line: turned by 20° and shifted by 6 mm
/// at the most.
pub(crate) fn is_straight(from: &Body, to: &Body) -> bool {
    let (c, s) = cos_sin(from.turn);
    let (cos, _) = cos_sin(to.turn.wrapping_sub(from.turn));
    let across = (to.y - from.y) * c - (to.x - from.x) * s;
    cos.abs() >= 0.94 && across.abs() <= 6.0
}

/// Whether a piece that falls forward (`way` 0) or back (1) comes to lie across a hit of another, at 45° or more.
pub(crate) fn lies_across(
    c: &Body,
    way: u32,
    (height, thickness): (f64, f64),
    hitter: &Body,
    hit: [(f64, f64); 2],
) -> bool {
    let (cos, _) = cos_sin(c.turn.wrapping_sub(hitter.turn));
    if cos.abs() > 0.708 {
        return false;
    }
    let (x, y) = cos_sin(c.turn);
    let sign = if way == 1 { -1.0 } else { 1.0 };
    let (back, front) = (-thickness / 2.0, thickness / 2.0 + 0.98 * height);
    let at = |u: f64| (c.x + sign * x * u, c.y + sign * y * u);
    cut(hit, [at(back), at(front)]).is_some()
}

/// Where the second line cuts the first one, as a share of the first; `None` when they do not meet.
fn cut(a: [(f64, f64); 2], b: [(f64, f64); 2]) -> Option<f64> {
    let (ax, ay) = (a[1].0 - a[0].0, a[1].1 - a[0].1);
    let (bx, by) = (b[1].0 - b[0].0, b[1].1 - b[0].1);
    let cross = ax * by - ay * bx;
    let (dx, dy) = (b[0].0 - a[0].0, b[0].1 - a[0].1);
    let (t, u) = ((dx * by - dy * bx) / cross, (dx * ay - dy * ax) / cross);
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u)).then_some(t)
}
