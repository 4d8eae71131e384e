//! Where the fall is started from outside: start pieces, and placeholders that pass it on.

use std::collections::BTreeSet;

use geometry::Point;
use placement::ports;
use plan::{Body as ItemBody, ItemId, Plan, PortFlow};
use units::Angle;

use crate::contacts::{Body, Grid, coarse_key, cos_sin, gather, snap, turn_of};
use crate::network::{Network, State, Sure};
use crate::wave::LAST_US;

/// How far a push reaches, mm: as far as the usual piece falls.
const REACH: f64 = 48.0;
/// How far behind its place a push begins, mm: half the usual thickness.
const BEHIND: f64 = 3.75;

/// A push from outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Push {
    /// The start piece.
    pub item: ItemId,
    /// What it fells, and which way; empty when nothing stands before it.
    pub states: Vec<State>,
    /// Those of them that stand uphill and may rock back or die out after a piece or two, sorted: one push of
    /// [`FLICK`] does not surely go on there, and they are not pushed together with the two before them.
    pub dies: Vec<State>,
    /// When, in microseconds.
    pub at_us: u64,
}

/// The push with which starts uphill were measured, rad/s: as hard as a finger flicks one piece.
pub const FLICK: f64 = 9.0;

/// A placeholder that passes the fall on.
#[derive(Debug, Clone, PartialEq)]
pub struct Pass {
    /// The placeholder.
    pub item: ItemId,
    /// Pieces that fall into one of its ways in, sorted.
    pub enter: Vec<State>,
    /// What it fells at its ways out.
    pub leave: Vec<State>,
    /// Least and most time from the first to the other, microseconds.
    pub delay_us: (u64, u64),
}

/// A strip of floor: what stands in it, at that height, is pushed.
struct Strip {
    at: Point,
    turn: u16,
    half_width: f64,
    height: f64,
}

enum Asked {
    Start(ItemId, u64),
    In(usize),
    Out(usize),
}

pub(crate) fn passes_and_starts(plan: &Plan, network: &Network) -> (Vec<Pass>, Vec<Push>) {
    let (mut passes, mut asked) = (Vec::new(), Vec::new());
    for item in &plan.items {
        match &item.body {
            ItemBody::Start(s) => {
                let base = plan.height_at(item.surface, item.stands().origin);
                let strip = strip(item.stands().origin, item.bearing(), s.width.to_mm(), base);
                asked.push((Asked::Start(item.id, micros(s.after.to_s())), strip));
            }
            ItemBody::Placeholder(p) => {
                let Some(delay) = p.delay else { continue };
                let delay_us = (micros(delay.least.to_s()), micros(delay.most.to_s()));
                passes.push(Pass { item: item.id, enter: Vec::new(), leave: Vec::new(), delay_us });
                for port in ports(plan, item) {
                    let way = match port.flow {
                        PortFlow::In => Asked::In(passes.len() - 1),
                        PortFlow::Out => Asked::Out(passes.len() - 1),
                    };
                    asked.push((way, strip(port.at, port.heading, port.width, port.height)));
                }
            }
            _ => {}
        }
    }
    let mut starts = Vec::new();
    if !asked.is_empty() {
        answer(network, &asked, &mut passes, &mut starts);
    }
    for p in &mut passes {
        p.enter.sort_unstable();
        p.enter.dedup();
    }
    mark_dying(network, &mut starts);
    (passes, starts)
}

/// Marks the pushes uphill that may die out. Three first pieces pushed together went on in all 99 runs.
fn mark_dying(network: &Network, starts: &mut [Push]) {
    let uphill = |s: &State| network.slope(*s) < 0.0;
    if !starts.iter().any(|p| p.states.iter().any(uphill)) {
        return;
    }
    // What a pushed state fells, and when it is pushed itself.
    let mut fells: Vec<(State, u64, State)> = Vec::new();
    for p in starts.iter() {
        fells.extend(p.states.iter().flat_map(|s| network.codes(*s).map(|e| (e.0, p.at_us, *s))));
    }
    fells.sort_unstable();
    let behind = |s: State, at: u64| {
        let from = fells.partition_point(|f| (f.0, f.1) < (s, at));
        fells[from..].iter().take_while(move |f| (f.0, f.1) == (s, at)).map(|f| f.2)
    };
    for p in starts {
        let at = p.at_us;
        let together = |s: State| behind(s, at).any(|b| behind(b, at).next().is_some());
        let goes_on = |s: State| network.knocked(s, FLICK).next.iter().any(|n| n.1 == Sure::Passes);
        let follows = |s: State| network.codes(s).any(|e| !e.1.unsure());
        let dies = |s: &State| uphill(s) && follows(*s) && !goes_on(*s) && !together(*s);
        p.dies = p.states.iter().copied().filter(dies).collect();
        p.dies.sort_unstable();
    }
}

fn strip(at: Point, heading: Angle, width: f64, height: f64) -> Strip {
    let at = Point::new(snap(at.x), snap(at.y));
    Strip { at, turn: turn_of(heading.to_rad()), half_width: width / 2.0, height }
}

/// At most a day, as the fall itself.
fn micros(seconds: f64) -> u64 {
    (seconds * 1e6).round().clamp(0.0, LAST_US as f64) as u64
}

/// Finds the pieces around all strips at once.
fn answer(network: &Network, asked: &[(Asked, Strip)], passes: &mut [Pass], starts: &mut Vec<Push>) {
    let cell = network.cell();
    let mut wanted: Vec<(i32, i32)> = Vec::new();
    for (_, s) in asked {
        // A wide bar takes in all cells along it; the gate bounds its width.
        let (cos, sin) = cos_sin(s.turn);
        let mut v = -s.half_width;
        loop {
            let c = coarse_key(s.at.x - sin * v, s.at.y + cos * v, cell);
            wanted.extend((-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (c.0 + dx, c.1 + dy))));
            if v >= s.half_width {
                break;
            }
            v = (v + cell).min(s.half_width);
        }
    }
    wanted.sort_unstable();
    wanted.dedup();
    let strands = network.strands();
    let (names, _) = gather(&strands, &[], &wanted, cell);
    let body = |i: usize| strands[names[i].0 as usize].bodies.body(names[i].1 as usize, i as u32);
    let grid = Grid::new(&network.shapes, (0..names.len()).map(body).collect());
    let state = |b: &Body, way: u32| {
        let (slot, piece) = names[b.id as usize];
        2 * (network.index().base(slot as usize) + piece) + way
    };
    for (way, s) in asked {
        match way {
            Asked::Start(item, at_us) => {
                let states = pushed(network, &grid, s, &state, BEHIND);
                starts.push(Push { item: *item, states, dies: Vec::new(), at_us: *at_us });
            }
            // A port out is where the next piece would stand: the push comes from half its reach before.
            Asked::Out(i) => passes[*i].leave.extend(pushed(network, &grid, s, &state, REACH / 2.0)),
            Asked::In(i) => passes[*i].enter.extend(entering(network, &grid, s, &state)),
        }
    }
}

/// The first pieces that stand in the way of a push that begins so far behind its place.
fn pushed(
    network: &Network,
    grid: &Grid,
    s: &Strip,
    state: &dyn Fn(&Body, u32) -> State,
    behind: f64,
) -> Vec<State> {
    let (cos, sin) = cos_sin(s.turn);
    // Distance, what it covers across, and state of all that stand in the strip.
    let mut found: Vec<(f64, f64, f64, State)> = Vec::new();
    around(grid, s, REACH, &mut |b| {
        let shape = network.shapes.get(b.shape);
        let (dx, dy) = (b.x - s.at.x, b.y - s.at.y);
        let (along, across) = (dx * cos + dy * sin + behind, dy * cos - dx * sin);
        let (bc, bs) = cos_sin(b.turn.wrapping_sub(s.turn));
        let near = along - bc.abs() * shape.d / 2.0 - bs.abs() * shape.w / 2.0;
        let half = bc.abs() * shape.w / 2.0 + bs.abs() * shape.d / 2.0;
        let (from, to) = ((across - half).max(-s.half_width), (across + half).min(s.half_width));
        let level = (f64::from(b.z) - s.height).abs() < shape.h * 0.5;
        if shape.falls && level && along >= 0.0 && near <= REACH && to - from > 0.1 && bc.abs() >= 0.5 {
            found.push((near, from, to, state(b, u32::from(bc < 0.0))));
        }
    });
    unhidden(found)
}

/// Calls `see` once for each piece near a strip. A search looks at a limited number of pieces, so a wide strip is
/// searched bit by bit.
fn around(grid: &Grid, s: &Strip, reach: f64, see: &mut dyn FnMut(&Body)) {
    let (cos, sin) = cos_sin(s.turn);
    let mut seen: BTreeSet<u32> = BTreeSet::new();
    let mut v = -s.half_width;
    loop {
        grid.near(s.at.x - sin * v, s.at.y + cos * v, (reach, reach), |b| {
            if seen.insert(b.id) {
                see(b);
            }
        });
        if v >= s.half_width {
            return;
        }
        v = (v + reach).min(s.half_width);
    }
}

/// Pieces that fall into a way in: their sweep covers the place where its first piece would stand, and no other piece
/// stands in between.
fn entering(network: &Network, grid: &Grid, s: &Strip, state: &dyn Fn(&Body, u32) -> State) -> Vec<State> {
    let (cos, sin) = cos_sin(s.turn);
    // Distance before the port, what it covers across, and state.
    let mut found: Vec<(f64, f64, f64, State)> = Vec::new();
    around(grid, s, 2.0 * REACH, &mut |b| {
        let shape = network.shapes.get(b.shape);
        let (dx, dy) = (s.at.x - b.x, s.at.y - b.y);
        let (along, across) = (dx * cos + dy * sin, dy * cos - dx * sin);
        let (bc, _) = cos_sin(b.turn.wrapping_sub(s.turn));
        let reach = shape.d / 2.0 + 0.98 * shape.h;
        let half = shape.w / 2.0;
        let covers = across.abs() < half + s.half_width - 0.5 && along > 0.0 && along <= reach;
        let level = (f64::from(b.z) - s.height).abs() < 16.0;
        if shape.falls && covers && level && bc.abs() >= 0.5 {
            found.push((along, across - half, across + half, state(b, u32::from(bc < 0.0))));
        }
    });
    unhidden(found)
}

/// The states of those that no nearer one hides by seven tenths of their width. At most 64 lie side by side before a
/// port or a push that are looked at one against the other; a wide rank is told by its neighbours.
fn unhidden(mut found: Vec<(f64, f64, f64, State)>) -> Vec<State> {
    found.sort_unstable_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)).then(a.3.cmp(&b.3)));
    let hides = |g: &(f64, f64, f64, State), f: &(f64, f64, f64, State)| {
        g.0 < f.0 - 0.25 && g.2.min(f.2) - g.1.max(f.1) >= 0.7 * (f.2 - f.1)
    };
    let is_open = |i: usize| {
        let near = &found[i.saturating_sub(64)..(i + 65).min(found.len())];
        !near.iter().any(|g| hides(g, &found[i]))
    };
    let mut states: Vec<State> = (0..found.len()).filter(|&i| is_open(i)).map(|i| found[i].3).collect();
    states.sort_unstable();
    states
}
