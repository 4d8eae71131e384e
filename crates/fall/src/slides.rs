//! The ends of lines: fallen pieces slide on, and may take what stands ahead of the last piece beyond its reach.
//!
//! Whether they do is told by the measured openings of [`hold`]; an end before another line is nothing else.

use plan::Plan;
use rayon::prelude::*;

use crate::contacts::{Body, Grid, cos_sin};
use crate::network::{Network, State};
use crate::site::Site;
use crate::touch_hold::{Block, Holds, Opening, hold};
use crate::touch_standing::Across;

/// The clear gap that is taken for a piece with nothing behind it, mm: it slides like the last one of a loose line.
const ALONE: f64 = 20.0;

/// What slides from the ends of lines may topple: the nearest piece straight ahead of each state that fells nothing, as
/// far as fallen pieces were seen to slide on this floor and not surely hold. In order of the sliding state.
pub fn slides(plan: &Plan, network: &Network) -> Vec<Across> {
    let states: Vec<State> = (0..2 * network.pieces())
        .into_par_iter()
        .filter(|s| network.codes(*s).next().is_none() && network.codes(s ^ 1).next().is_some())
        .collect();
    if states.is_empty() {
        return Vec::new();
    }
    let site = Site::of(network);
    let mut wanted: Vec<(i32, i32)> = Vec::new();
    for s in &states {
        let Some(b) = site.body(s / 2) else { continue };
        let far = network.farthest(plan, *s, network.shapes.get(b.shape).h);
        let (c, n) = (site.cell_of(&b), (far / network.cell()).ceil() as i32 + 1);
        let (x, y) = ahead(&b, *s);
        // Only the cells on the side to which it slides.
        let side = |v: f64| {
            if v > 0.1 {
                -1..=n
            } else if v < -0.1 {
                -n..=1
            } else {
                -1..=1
            }
        };
        wanted.extend(side(x).flat_map(|dx| side(y).map(move |dy| (c.0 + dx, c.1 + dy))));
    }
    let grid = site.grid(wanted);
    let of = |s: &State| {
        let from = site.body(s / 2)?;
        of_state(plan, network, &grid, *s, &from)
    };
    states.par_iter().filter_map(of).collect()
}

/// The direction in which a state falls.
fn ahead(b: &Body, s: State) -> (f64, f64) {
    let (c, sin) = cos_sin(b.turn);
    if s % 2 == 1 { (-c, -sin) } else { (c, sin) }
}

fn of_state(plan: &Plan, network: &Network, grid: &Grid, s: State, from: &Body) -> Option<Across> {
    let shape = network.shapes.get(from.shape);
    let far = network.farthest(plan, s, shape.h);
    let (x, y) = ahead(from, s);
    let mut nearest: Option<(f64, u32, Option<State>)> = None;
    let mut see = |b: &Body| {
        let other = network.shapes.get(b.shape);
        let (dx, dy) = (b.x - from.x, b.y - from.y);
        let (along, across) = (dx * x + dy * y, dy * x - dx * y);
        let (bx, by) = cos_sin(b.turn);
        let cos = x * bx + y * by;
        let sin = (x * by - y * bx).abs();
        let clear = along - (shape.d + other.d * cos.abs() + other.w * sin) / 2.0;
        let half = (shape.w + other.w * cos.abs() + other.d * sin) / 2.0;
        let meets = across.abs() < half - 0.5 && network.shapes.up(from, b).abs() < 2.0;
        if b.id != from.id && along > 0.0 && clear <= far && meets {
            let falls = other.falls && cos.abs() >= 0.5 && !network.blocks.bars(from, b);
            let state = falls.then_some(2 * b.id + u32::from(cos < 0.0));
            if nearest.is_none_or(|n| (clear, b.id) < (n.0, n.1)) {
                nearest = Some((clear, b.id, state));
            }
        }
    };
    // A search looks at a limited number of pieces, so the way is searched bit by bit.
    let step = shape.h;
    for k in 0..=(far / step).ceil() as u32 {
        let u = f64::from(k) * step;
        grid.near(from.x + x * u, from.y + y * u, (step / 2.0 + shape.w, step / 2.0 + shape.w), &mut see);
    }
    // What stands within its reach and is not felled stops it.
    let (clear, _, to) = nearest.filter(|n| n.0 > 0.98 * shape.h)?;
    let to = to?;
    let gap = network.codes(s ^ 1).map(|e| e.1.share() * shape.h).fold(f64::INFINITY, f64::min);
    let gap = if gap.is_finite() { gap } else { ALONE * shape.h / 48.0 };
    let opening = Opening {
        clear: clear.max(0.0),
        gap,
        height: shape.h,
        floor: plan.hall.grip.floor,
        block: Block::None,
    };
    // Openings were measured behind long lines; short ones slide less far.
    let holds = match hold(&opening) {
        Holds::Not if !is_long(network, s) => Holds::Unsure,
        holds => network.holds_between(s, to, holds),
    };
    (holds != Holds::Surely).then_some(Across { from: s, to, opening, holds })
}

/// Whether so many pieces stand in line behind a state that more would not slide farther: about 12.
fn is_long(network: &Network, s: State) -> bool {
    let mut back = s ^ 1;
    (1..12).all(|_| match network.codes(back).next() {
        Some((next, _)) => {
            back = next;
            true
        }
        None => false,
    })
}
