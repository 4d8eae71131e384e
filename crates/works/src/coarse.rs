//! A plan as strips of ranks between places where a gap would be possible.

use std::collections::BTreeMap;

use fall::{Block, Built, Holds, Network, Opening, needed_opening, openings, slides};
use placement::Pieces;
use plan::{Body, Item, ItemId, Plan};

use crate::parts::{Parts, Place, Roots};

/// Ranks that stay between a gap and the ends of its item, and between two gaps. The openings were measured behind 22
/// pieces; a dozen is where the slide is as long as behind many.
const APART: u32 = 12;
/// So many pieces are left out at the most; where more would be needed, a stopper is proposed.
const MOST_OUT: u32 = 5;
/// Room for a stopper, mm, for pieces of 48 mm: openings with one were measured from 37.5 mm.
const STOPPER_ROOM: f64 = 45.0;
/// A lane may turn by so much across an opening, radians: 10°. Only straight ones were measured.
const BEND: f64 = 0.175;
/// Places that are looked at in the whole plan.
const PLACES: u64 = 1_500;

/// A place where a gap would be possible.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Candidate {
    pub(crate) item: ItemId,
    pub(crate) first: u32,
    pub(crate) count: u32,
    pub(crate) stopper: bool,
    /// Pieces that are left out, of all lanes.
    pub(crate) pieces: u32,
    /// Face to face across the opening, mm.
    pub(crate) opening: f64,
    /// The least opening that surely holds without a stopper, mm.
    pub(crate) needed: Option<f64>,
}

/// The plan as nodes and places.
pub(crate) struct Coarse {
    pub(crate) candidates: Vec<Candidate>,
    /// Nodes with weights in pieces; place i is a lane, or several that hang together, of candidate `of_place[i]`. Its
    /// price is still 0.
    pub(crate) parts: Parts,
    pub(crate) of_place: Vec<u32>,
    /// How many such lanes each candidate has.
    pub(crate) ties_of: Vec<u32>,
}

const NOWHERE: u32 = u32::MAX;

/// Divides a plan. Gaps that it has already part it where they surely hold.
pub(crate) fn coarse(plan: &Plan, network: &Network) -> Coarse {
    let tied = tied_ranks(network);
    let ranks: u64 = plan.items.iter().map(|i| u64::from(ranks_of(network, i.id))).sum();
    let step = u32::try_from(ranks / PLACES).unwrap_or(u32::MAX);
    let mut all = Division { node: vec![NOWHERE; network.pieces() as usize], nodes: 0, strips: Vec::new() };
    let mut candidates = Vec::new();
    for item in &plan.items {
        let (Some(pieces), Some(first)) = (network.pieces_of(item.id), network.index().first(item.id)) else {
            continue;
        };
        let found = match item.body {
            Body::Line(_) | Body::Fill(_) | Body::Field(_) if stands_level(plan, item) => {
                let ties = tied.get(&item.id).map_or(&[][..], |t| &t[..]);
                places_in(plan, item, pieces, (ties, step))
            }
            // Feeds, and what stands by itself, fall whole; on slopes no gap surely holds.
            _ => Vec::new(),
        };
        all.divide(item, pieces, first, (&found, candidates.len() as u32));
        candidates.extend(found);
    }
    all.finish(plan, network, candidates)
}

fn stands_level(plan: &Plan, item: &Item) -> bool {
    plan.surface(item.surface).is_none_or(|s| s.slope.is_level())
}

fn ranks_of(network: &Network, item: ItemId) -> u32 {
    network.pieces_of(item).and_then(|p| p.rank.iter().max()).map_or(0, |r| r + 1)
}

/// For each item the ranks that topple, or are toppled by, pieces of other items; sorted.
fn tied_ranks(network: &Network) -> BTreeMap<ItemId, Vec<u32>> {
    let mut tied = BTreeMap::<ItemId, Vec<u32>>::new();
    for s in 0..2 * network.pieces() {
        let Some(a) = network.piece_id(s / 2) else { continue };
        for edge in network.edges(s) {
            let Some(b) = network.piece_id(edge.to / 2) else { continue };
            if a.item != b.item {
                tied.entry(a.item).or_default().push(a.rank);
                tied.entry(b.item).or_default().push(b.rank);
            }
        }
    }
    for list in tied.values_mut() {
        list.sort_unstable();
        list.dedup();
    }
    tied
}

/// One rank of an item.
#[derive(Clone, Copy, Default)]
struct Rank {
    pieces: u32,
    /// Distance to the rank before in the same lane, mm; 0 when nothing stands there.
    pitch: f64,
    /// Turn against it, radians.
    turn: f64,
    /// Raised above the lowest piece of the item, as on bridges and their steps.
    raised: bool,
}

fn ranks(pieces: &Pieces) -> Vec<Rank> {
    let count = pieces.rank.iter().max().map_or(0, |&r| r as usize + 1);
    let mut ranks = vec![Rank::default(); count];
    let low = pieces.z.iter().copied().fold(f32::INFINITY, f32::min);
    for i in 0..pieces.len() {
        let rank = &mut ranks[pieces.rank[i] as usize];
        rank.pieces += 1;
        rank.raised |= pieces.z[i] > low + 0.5;
        let follows =
            i > 0 && pieces.lane[i - 1] == pieces.lane[i] && pieces.rank[i - 1] + 1 == pieces.rank[i];
        if follows {
            let (dx, dy) = (pieces.x[i] - pieces.x[i - 1], pieces.y[i] - pieces.y[i - 1]);
            rank.pitch = rank.pitch.max((dx * dx + dy * dy).sqrt());
            let turn = f64::from(pieces.yaw[i] - pieces.yaw[i - 1]);
            let whole = (turn / std::f64::consts::TAU).round() * std::f64::consts::TAU;
            rank.turn = rank.turn.max((turn - whole).abs());
        }
    }
    ranks
}

/// Places for gaps in one item, at least a dozen ranks and `step` ranks apart.
fn places_in(plan: &Plan, item: &Item, pieces: &Pieces, (tied, step): (&[u32], u32)) -> Vec<Candidate> {
    let ranks = ranks(pieces);
    let size = pieces.kind.first().and_then(|&k| plan.stock.kinds.iter().find(|i| i.id.0 == k));
    let (height, thickness) = size.map_or((48.0, 7.5), |k| (k.height.to_mm(), k.thickness.to_mm()));
    let mut found = Vec::new();
    let mut first = APART;
    while (first as usize) + (APART as usize) < ranks.len() {
        let pitch = ranks[first as usize].pitch;
        let sized = size_of(pitch, thickness, height, plan.hall.grip.floor);
        let Some((count, stopper, needed)) = sized else {
            first += 1;
            continue;
        };
        let (from, end) = (first.saturating_sub(2), first.saturating_add(count + 2));
        if (end + APART) as usize > ranks.len() {
            break;
        }
        let within = &ranks[from as usize..end as usize];
        let even = within.iter().all(|r| !r.raised && r.pieces > 0 && (r.pitch - pitch).abs() < 0.2 * pitch);
        let bend: f64 = within.iter().map(|r| r.turn).sum();
        let is_tied = tied.partition_point(|&t| t < from) != tied.partition_point(|&t| t < end);
        let near = item.gaps.iter().any(|g| {
            first < g.first.saturating_add(g.count).saturating_add(APART)
                && g.first < end.saturating_add(APART)
        });
        if !even || bend > BEND || is_tied || near {
            first += 1;
            continue;
        }
        let out = &ranks[first as usize..(first + count) as usize];
        let opening = f64::from(count + 1) * pitch - thickness;
        let pieces = out.iter().map(|r| r.pieces).sum();
        found.push(Candidate { item: item.id, first, count, stopper, pieces, opening, needed });
        first = first.saturating_add((count + APART).max(step));
    }
    found
}

/// How many pieces to leave out, whether a stopper is needed, and the opening that would do without. `None` for a
/// pitch at which nothing stands.
fn size_of(pitch: f64, thickness: f64, height: f64, floor: (f64, f64)) -> Option<(u32, bool, Option<f64>)> {
    let gap = pitch - thickness;
    if gap <= 0.1 {
        return None;
    }
    let opening = Opening { clear: 0.0, gap, height, floor, block: Block::None };
    let needed = needed_opening(&opening);
    let out = |clear: f64| ((clear + thickness) / pitch - 1e-9).ceil().max(2.0) as u32 - 1;
    match needed.map(out) {
        Some(count) if count <= MOST_OUT => Some((count, false, needed)),
        _ => Some((out(STOPPER_ROOM * height / 48.0).min(10_000), true, needed)),
    }
}

struct Division {
    node: Vec<u32>,
    nodes: u32,
    /// Item, first and end rank of each node's strip, and the candidate at its end.
    strips: Vec<(ItemId, Option<u32>)>,
}

impl Division {
    /// Cuts an item into strips at the candidates and at its own gaps; the pieces that gaps leave out are nowhere.
    fn divide(&mut self, item: &Item, pieces: &Pieces, base: u32, (found, number): (&[Candidate], u32)) {
        // Ends of strips: the rank at which the next one begins, and the candidate there.
        let mut ends: Vec<(u32, Option<u32>)> =
            found.iter().zip(number..).map(|(c, n)| (c.first, Some(n))).collect();
        ends.extend(item.gaps.iter().map(|g| (g.first, None)));
        ends.push((u32::MAX, None));
        ends.sort_unstable();
        for i in 0..pieces.len() {
            let rank = pieces.rank[i];
            let out = item.gaps.iter().any(|g| g.leaves_out(rank));
            if !out {
                let strip = ends.partition_point(|e| e.0 <= rank) as u32;
                self.node[base as usize + i] = self.nodes + strip;
            }
        }
        self.strips.extend(ends.iter().map(|e| (item.id, e.1)));
        self.nodes += ends.len() as u32;
    }

    /// Joins what no candidate parts. A gap goes through all lanes, but lanes that do not hang together fall apart from
    /// each other, so each of them has nodes of its own.
    fn finish(self, plan: &Plan, network: &Network, candidates: Vec<Candidate>) -> Coarse {
        let mut root = Roots::new(self.node.len());
        let mut ties = Vec::new();
        for s in 0..2 * network.pieces() {
            // Pieces less than 2 mm beside are dragged along, and parted by a gap like those that are hit.
            for to in network.edges(s).map(|e| e.to).chain(network.strays(s)) {
                let (a, b) = (s / 2, to / 2);
                let strips = (self.node[a as usize], self.node[b as usize]);
                if strips.0 == NOWHERE || strips.1 == NOWHERE {
                    continue;
                }
                match self.place_between(strips) {
                    Some(place) => ties.push((place, a, b)),
                    None => root.join(a, b),
                }
            }
        }
        for pass in network.passes() {
            let ends = pass.enter.iter().chain(&pass.leave).map(|s| s / 2);
            let known: Vec<u32> = ends.filter(|&p| self.node[p as usize] != NOWHERE).collect();
            known.windows(2).for_each(|w| root.join(w[0], w[1]));
        }
        let open = Built { items: None, gaps_open: true };
        // What slides from the end of a line or flies out of a curve comes from farther than a gap of its own item.
        let mut takes = |a: u32, b: u32| {
            if self.node[a as usize] != NOWHERE && self.node[b as usize] != NOWHERE {
                root.join(a, b);
            }
        };
        slides(plan, network).iter().for_each(|a| takes(a.from / 2, a.to / 2));
        network.thrown(plan).iter().for_each(|r| takes(r.0 / 2, r.1 / 2));
        for across in openings(plan, network, &open).iter().filter(|a| a.holds != Holds::Surely) {
            root.join(across.from / 2, across.to / 2);
        }
        self.gather(candidates, &mut root, &ties)
    }

    /// The candidate between two strips, if they follow one another with one between them.
    fn place_between(&self, (a, b): (u32, u32)) -> Option<u32> {
        let (low, high) = (a.min(b), a.max(b));
        let (item, place) = self.strips[low as usize];
        let follows = high == low + 1 && self.strips[high as usize].0 == item;
        if follows { place } else { None }
    }

    fn gather(&self, candidates: Vec<Candidate>, root: &mut Roots, ties: &[(u32, u32, u32)]) -> Coarse {
        let mut number = vec![NOWHERE; self.node.len()];
        let mut parts = Parts::default();
        for piece in (0..self.node.len()).filter(|&p| self.node[p] != NOWHERE) {
            let n = &mut number[root.of(piece as u32) as usize];
            if *n == NOWHERE {
                *n = parts.weight.len() as u32;
                parts.weight.push(0);
            }
            parts.weight[*n as usize] += 1;
        }
        let mut pairs: Vec<(u32, u32, u32)> = Vec::with_capacity(ties.len());
        for &(place, a, b) in ties {
            let (a, b) = (number[root.of(a) as usize], number[root.of(b) as usize]);
            pairs.push((place, a.min(b), a.max(b)));
        }
        pairs.sort_unstable();
        pairs.dedup();
        let mut all = Coarse { ties_of: vec![0; candidates.len()], candidates, parts, of_place: Vec::new() };
        for (place, a, b) in pairs {
            // Where both sides hang together some other way, this lane cannot be parted here; it still counts.
            all.ties_of[place as usize] += 1;
            if a != b {
                all.parts.places.push(Place { a, b, price: 0 });
                all.of_place.push(place);
            }
        }
        all
    }
}
