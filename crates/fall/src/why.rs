//! Why pieces stay standing: for each lane the first of them, and what came nearest to felling it.

use placement::PieceId;

use crate::contacts::{Miss, Sweep};
use crate::network::Network;
use crate::site::Site;
use crate::wave::{Fall, STANDS_US};

/// First pieces that are looked at closely; those beyond count as not fed.
const LOOKED_AT: usize = 20_000;

/// Why a piece stays standing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// The plan has no start piece that pushes anything.
    NoStart,
    /// Nothing ever falls towards it.
    NotFed,
    /// What falls towards it stands too far away.
    TooFar {
        /// The clear gap, mm.
        gap_mm: f64,
    },
    /// It is turned too far out of the fall.
    Turned,
    /// Something fixed stands in between.
    Blocked,
    /// It is too large for what hits it.
    TooBig,
    /// It stands too much higher or lower.
    StepTooHigh,
    /// Only because something before it stands.
    AfterStall {
        /// The first piece that stands.
        first: PieceId,
    },
}

impl Why {
    /// The same kind of reason: gaps within a millimetre, stalls in the same item.
    pub(crate) fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::TooFar { gap_mm: a }, Self::TooFar { gap_mm: b }) => (a - b).abs() < 1.0,
            (Self::AfterStall { first: a }, Self::AfterStall { first: b }) => a.item == b.item,
            _ => std::mem::discriminant(self) == std::mem::discriminant(other),
        }
    }
}

/// One lane with standing pieces.
pub(crate) struct LaneStands {
    pub(crate) sample: PieceId,
    pub(crate) pieces: u32,
    pub(crate) why: Why,
}

/// The lanes in which pieces stand, in order of item and lane.
pub(crate) fn reasons(network: &Network, fall: &Fall) -> Vec<LaneStands> {
    let started = network.starts().iter().any(|s| !s.states.is_empty());
    let roots = if started { roots(network, fall) } else { Vec::new() };
    let mut lanes: Vec<(u32, u32, PieceId)> = Vec::new();
    for piece in (0..network.pieces()).filter(|p| fall.hit_us[*p as usize] == STANDS_US) {
        let Some(id) = network.piece_id(piece) else { continue };
        match lanes.last_mut() {
            Some(l) if l.2.item == id.item && l.2.lane == id.lane => l.1 += 1,
            _ => lanes.push((piece, 1, id)),
        }
    }
    if !started {
        let none =
            |&(_, pieces, sample): &(u32, u32, PieceId)| LaneStands { sample, pieces, why: Why::NoStart };
        return lanes.iter().map(none).collect();
    }
    // Where each lane's standing begins: its own first piece, or one in another lane.
    let ahead = |&(piece, _, id): &(u32, u32, PieceId)| -> Option<u32> {
        let root = roots[piece as usize];
        let own = |r: u32| network.piece_id(r).is_some_and(|i| (i.item, i.lane) == (id.item, id.lane));
        (root != u32::MAX && own(root)).then_some(root)
    };
    let mut close: Vec<u32> = lanes.iter().filter_map(ahead).take(LOOKED_AT).collect();
    close.sort_unstable();
    let misses = near_misses(network, fall, &close);
    let why = |lane: &(u32, u32, PieceId)| match (roots[lane.0 as usize], ahead(lane)) {
        (u32::MAX, _) => Why::NotFed,
        (_, Some(own)) => close.binary_search(&own).map_or(Why::NotFed, |i| misses[i]),
        (other, None) => network.piece_id(other).map_or(Why::NotFed, |first| Why::AfterStall { first }),
    };
    lanes.iter().map(|l| LaneStands { sample: l.2, pieces: l.1, why: why(l) }).collect()
}

/// For each standing piece the first one before it that nothing standing would fell; `u32::MAX` on a ring.
fn roots(network: &Network, fall: &Fall) -> Vec<u32> {
    let stands = |p: u32| fall.hit_us[p as usize] == STANDS_US;
    let mut fed = vec![false; network.pieces() as usize];
    for piece in (0..network.pieces()).filter(|p| stands(*p)) {
        for (to, _) in network.codes(2 * piece).filter(|e| e.0 % 2 == 0) {
            fed[to as usize / 2] = true;
        }
    }
    let mut root = vec![u32::MAX; fed.len()];
    let mut todo: Vec<u32> = Vec::new();
    for first in (0..network.pieces()).filter(|p| stands(*p) && !fed[*p as usize]) {
        root[first as usize] = first;
        todo.push(first);
        while let Some(piece) = todo.pop() {
            for (to, _) in network.codes(2 * piece) {
                let to = to / 2;
                if stands(to) && root[to as usize] == u32::MAX {
                    root[to as usize] = first;
                    todo.push(to);
                }
            }
        }
    }
    root
}

/// What came nearest to felling each of these pieces (sorted).
fn near_misses(network: &Network, fall: &Fall, pieces: &[u32]) -> Vec<Why> {
    let (site, cell) = (Site::of(network), network.cell());
    let spots = pieces.iter().filter_map(|p| site.body(*p)).map(|b| (site.cell_of(&b), 2));
    let grid = site.around(spots.collect());
    let mut sweep = Sweep::new(&network.shapes, network.rules, true);
    let hand = |id: u32| network.is_by_hand(id);
    let mut out = Vec::with_capacity(pieces.len());
    for &piece in pieces {
        let mut best = (0, Why::NotFed);
        let Some(b) = site.body(piece) else {
            out.push(Why::NotFed);
            continue;
        };
        let mut around = Vec::new();
        grid.near(b.x, b.y, (2.0 * cell, 2.0 * cell), |o| {
            if fall.hit_us[o.id as usize] != STANDS_US {
                around.push(*o);
            }
        });
        around.sort_unstable_by_key(|o| o.id);
        for o in &around {
            sweep.gather(&grid, o);
            let found = sweep.look(o, fall.way[o.id as usize], &hand);
            let Some(f) = found.iter().find(|f| f.id == piece) else { continue };
            let why = if network.blocks.bars(o, &b) { (6, Why::Blocked) } else { told(f.code.err()) };
            if why.0 > best.0 {
                best = why;
            }
        }
        out.push(best.1);
    }
    out
}

/// A miss as a reason, with its rank among several.
fn told(miss: Option<Miss>) -> (u8, Why) {
    match miss {
        Some(Miss::Blocked) => (6, Why::Blocked),
        Some(Miss::TooBig) => (5, Why::TooBig),
        Some(Miss::Turned) => (4, Why::Turned),
        Some(Miss::Step) => (3, Why::StepTooHigh),
        Some(Miss::TooFar(gap)) => (2, Why::TooFar { gap_mm: f64::from(gap) }),
        Some(Miss::Beside) | None => (0, Why::NotFed),
    }
}
