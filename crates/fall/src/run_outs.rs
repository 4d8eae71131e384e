//! The outside of curves: fallen pieces fly and slide out of them, and may knock what stands there.
//!
//! Nobody plans on it, so the wave does not follow it; but it counts in what a touch takes down, and what stands there is
//! hit in its turn only if it was not knocked before.

use plan::Plan;
use rayon::prelude::*;
use units::maths;

use crate::contacts::{Body, Grid, cos_sin, turn_of};
use crate::law::Reach;
use crate::network::{Knot, Network, State};
use crate::site::Site;

/// A wider curve than this is straight, mm.
const STRAIGHT: f64 = 4_000.0;
/// A turn from one piece to the next below this is none: its sine.
const TURNS: f64 = 1e-3;
/// So far along its own lane a piece is a neighbour and not another course of the line, mm.
const COURSE: f64 = 150.0;
/// Hits along the fall, and against it, within which the pieces of other items count as the same line.
const LINKED: usize = 12;
/// Pieces that are looked at for that, and that one piece may knock: heaps are told, not counted out.
const MOST: usize = 64;

/// What a state that falls may knock beside its line: (what falls, what it knocks), sorted.
///
/// Outside of curves as far as [`Reach::outside`] says for the least friction of the floor, and on both sides of the dozen
/// straight pieces after a curve as far as [`Reach::run_out`]; past the end of a line see [`crate::slides`]. What lies near
/// along the line itself is not counted, nor what is hit within a dozen hops.
pub fn run_outs(plan: &Plan, network: &Network) -> Vec<(State, State)> {
    let curves: Vec<Side> =
        (0..network.knots.len()).into_par_iter().flat_map_iter(|slot| sides(plan, network, slot)).collect();
    if curves.is_empty() {
        return Vec::new();
    }
    let site = Site::of(network);
    let spot = |side: &Side| {
        let b = site.body(side.piece)?;
        Some((site.cell_of(&b), (side.far(&b, network) / network.cell()).ceil() as i32))
    };
    let grid = site.around(curves.par_iter().filter_map(spot).collect());
    let knocked = |side: &Side| -> Vec<(State, State)> {
        site.body(side.piece).map(|b| side.knocks(network, &grid, &b)).unwrap_or_default()
    };
    let mut all: Vec<(State, State)> = curves.par_iter().flat_map_iter(knocked).collect();
    all.par_sort_unstable();
    all.dedup();
    all
}

/// One side of a piece at which others may be knocked.
struct Side {
    piece: u32,
    /// True on its left.
    left: bool,
    /// The ways it may fall for that.
    ways: [bool; 2],
    /// Beyond its own side, mm.
    reach: f64,
    /// Half of what it covers along its lane, mm.
    half: f64,
    /// Ranks along its own lane within which the others are its neighbours.
    course: u32,
}

/// How a lane turns from one piece to the next: the radius, positive where it turns to the left; `None` where it is straight.
fn bend(knot: &Knot, a: usize, b: usize) -> Option<f64> {
    let p = &knot.pieces;
    let of = |i: usize| cos_sin(turn_of(f64::from(p.yaw[i])));
    let ((ax, ay), (bx, by)) = (of(a), of(b));
    let cross = ax * by - ay * bx;
    if cross.abs() < TURNS {
        return None;
    }
    let half = maths::atan2(cross.abs(), ax * bx + ay * by) / 2.0;
    let radius = chord(knot, a, b) / (2.0 * maths::sin(half).max(1e-6));
    (radius < STRAIGHT).then_some(radius * cross.signum())
}

fn chord(knot: &Knot, a: usize, b: usize) -> f64 {
    let p = &knot.pieces;
    let (dx, dy) = (p.x[b] - p.x[a], p.y[b] - p.y[a]);
    (dx * dx + dy * dy).sqrt()
}

/// The sides of the pieces of one item at which something may be knocked.
fn sides(plan: &Plan, network: &Network, slot: usize) -> Vec<Side> {
    let knot = &network.knots[slot];
    let p = &knot.pieces;
    let Some(&first) = p.yaw.first() else { return Vec::new() };
    if p.yaw.iter().all(|yaw| *yaw == first) {
        return Vec::new();
    }
    let (a, b) = plan.hall.grip.floor;
    let base = network.index().base(slot);
    let n = p.len();
    let follows = |i: usize| i + 1 < n && p.lane[i + 1] == p.lane[i] && p.rank[i + 1] == p.rank[i] + 1;
    let bends: Vec<Option<f64>> =
        (0..n).map(|i| if follows(i) { bend(knot, i, i + 1) } else { None }).collect();
    let since = since_bend(n, &follows, &bends);
    let until = until_bend(n, &follows, &bends);
    let mut all = Vec::new();
    for i in 0..n {
        let before = i.checked_sub(1).filter(|&j| follows(j));
        let pitch =
            if follows(i) { chord(knot, i, i + 1) } else { before.map_or(0.0, |j| chord(knot, j, i)) };
        let runs_out = [since[i], until[i]].map(|k| usize::from(k) <= Reach::RUN_OUT_PIECES);
        let tighter = match (before.and_then(|j| bends[j]), bends[i]) {
            (Some(x), Some(y)) => Some(if x.abs() < y.abs() { x } else { y }),
            (x, y) => x.or(y),
        };
        if tighter.is_none() && runs_out == [false; 2] {
            continue;
        }
        let piece = base + i as u32;
        let Some(shape) = network.shape_of(piece).filter(|s| s.falls) else { continue };
        let reach = Reach::new(a.min(b), shape.h / 48.0);
        let half = (shape.d / 2.0).max(pitch / 2.0);
        let course = (COURSE * reach.scale() / pitch.max(0.1)).ceil() as u32;
        let side = |left, ways, reach| Side { piece, left, ways, reach, half, course };
        match tighter {
            // A piece that turns to the left flies out on its right.
            Some(radius) => all.push(side(radius < 0.0, [true; 2], reach.outside(radius.abs()))),
            None => all.extend([true, false].map(|left| side(left, runs_out, reach.run_out()))),
        }
    }
    all
}

/// Pieces since the last step that turned, along the lane; at most 255.
fn since_bend(n: usize, follows: &dyn Fn(usize) -> bool, bends: &[Option<f64>]) -> Vec<u8> {
    let mut since = vec![u8::MAX; n];
    for i in 1..n {
        since[i] = match (follows(i - 1), bends[i - 1]) {
            (true, Some(_)) => 0,
            (true, None) => since[i - 1].saturating_add(1),
            (false, _) => u8::MAX,
        };
    }
    since
}

/// The same against the lane.
fn until_bend(n: usize, follows: &dyn Fn(usize) -> bool, bends: &[Option<f64>]) -> Vec<u8> {
    let mut until = vec![u8::MAX; n];
    for i in (0..n.saturating_sub(1)).rev() {
        until[i] = match (follows(i), bends[i]) {
            (true, Some(_)) => 0,
            (true, None) => until[i + 1].saturating_add(1),
            (false, _) => u8::MAX,
        };
    }
    until
}

impl Side {
    /// From the middle of the piece to what it may knock at the most, mm.
    fn far(&self, b: &Body, network: &Network) -> f64 {
        let widest = network.shapes.all().iter().map(|s| s.w + s.d).fold(0.0, f64::max);
        self.reach + network.shapes.get(b.shape).w / 2.0 + self.half + widest
    }

    fn knocks(&self, network: &Network, grid: &Grid, from: &Body) -> Vec<(State, State)> {
        let shape = network.shapes.get(from.shape);
        let (c, s) = cos_sin(from.turn);
        // Away from the line.
        let (x, y) = if self.left { (-s, c) } else { (s, -c) };
        let own = network.piece_id(from.id);
        let mut found: Vec<(u32, f64)> = Vec::new();
        let mut see = |b: &Body| {
            let other = network.shapes.get(b.shape);
            let (dx, dy) = (b.x - from.x, b.y - from.y);
            let (out, along) = (dx * x + dy * y, (dx * c + dy * s).abs());
            // Most pieces around lie beyond what their sides can cover at any turn, and cost no sine.
            let covers = (other.d + other.w) / 2.0;
            let beyond = out - shape.w / 2.0;
            if along > covers + self.half || beyond <= -0.01 || beyond - covers >= self.reach {
                return;
            }
            let (bx, by) = cos_sin(b.turn);
            let (faces, slants) = (x * bx + y * by, (x * by - y * bx).abs());
            let clear = out - (shape.w + other.d * faces.abs() + other.w * slants) / 2.0;
            let abreast = along <= (other.d * slants + other.w * faces.abs()) / 2.0 + self.half;
            let level =
                f64::from(b.z) < f64::from(from.z) + shape.h && f64::from(from.z) < f64::from(b.z) + other.h;
            if b.id != from.id && other.falls && level && abreast && clear > -0.01 && clear < self.reach {
                let near = |a: placement::PieceId, b: placement::PieceId| {
                    a.item == b.item && a.rank.abs_diff(b.rank) <= self.course
                };
                let meant = own.zip(network.piece_id(b.id)).is_some_and(|(a, b)| near(a, b));
                let barred = network.blocks.bars(from, b) || network.blocks.bars(b, from);
                if !meant && !barred {
                    found.push((b.id, faces));
                }
            }
        };
        let middle = (shape.w + self.reach) / 2.0;
        let (u, v) = ((self.far(from, network) - middle).max(middle), self.half + shape.w);
        let box_of = (u * x.abs() + v * c.abs(), u * y.abs() + v * s.abs());
        grid.near(from.x + x * middle, from.y + y * middle, box_of, &mut see);
        if found.is_empty() {
            return Vec::new();
        }
        found.sort_unstable_by_key(|f| f.0);
        found.truncate(MOST);
        let line = linked(network, 2 * from.id);
        found.retain(|f| line.binary_search(&f.0).is_err());
        let mut all = Vec::new();
        for way in (0..2).filter(|w| self.ways[*w as usize]) {
            for &(piece, faces) in &found {
                let to = 2 * piece + u32::from(faces < 0.0);
                all.push((2 * from.id + way, to));
                // What is hit on its narrow side may fall either way.
                if faces.abs() < 0.5 {
                    all.push((2 * from.id + way, to ^ 1));
                }
            }
        }
        all
    }
}

/// The pieces that a state and its opposite fell within a few hops, sorted.
fn linked(network: &Network, state: State) -> Vec<u32> {
    let mut seen: Vec<State> = vec![state, state ^ 1];
    let mut at = 0;
    for _ in 0..LINKED {
        let end = seen.len();
        while at < end && seen.len() < MOST {
            for (to, _) in network.codes(seen[at]) {
                if !seen.contains(&to) {
                    seen.push(to);
                }
            }
            at += 1;
        }
    }
    let mut pieces: Vec<u32> = seen.iter().map(|s| s / 2).collect();
    pieces.sort_unstable();
    pieces.dedup();
    pieces
}
