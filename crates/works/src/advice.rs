//! Which gaps to leave in a plan, and what they save.

use std::collections::BTreeMap;

use fall::{Built, Network, TouchMap, touch};
use plan::{ItemId, Plan, SafetyGap};
use rayon::prelude::*;

use crate::coarse::{Candidate, coarse};
use crate::parts::{Parts, Place, Roots, gaps_on_network};

/// What the crew expects and what gaps cost them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// Accidents that are expected until the end; one for every 10 000 pieces, at least one, when absent. Crews report one
    /// for every 3 000 to 20 000 pieces placed (working figures, no source).
    pub accidents: Option<f64>,
    /// What leaving a gap and closing it late costs, as so many pieces placed; 10 unless said otherwise (a guess).
    pub each: f64,
    /// What each piece put in late, under caution, costs more, as so many pieces placed; 2 unless said otherwise (a guess).
    pub late: f64,
}

impl Default for Wish {
    fn default() -> Self {
        Self { accidents: None, each: 10.0, late: 2.0 }
    }
}

impl Wish {
    /// Accidents expected for so many pieces.
    pub fn accidents_for(&self, pieces: u32) -> f64 {
        self.accidents.unwrap_or_else(|| (f64::from(pieces) / 10_000.0).max(1.0)).clamp(1e-3, 1e9)
    }
}

/// A gap that is proposed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proposal {
    /// In which item.
    pub item: ItemId,
    /// Which ranks, and whether a stopper is to stand in it.
    pub gap: SafetyGap,
    /// Pieces that it leaves out, of all lanes.
    pub pieces: u32,
    /// Face to face across the opening, mm.
    pub opening: f64,
    /// The least opening that surely holds without a stopper on this floor, mm; absent where none was measured.
    pub needed: Option<f64>,
}

/// What a touch costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Pieces that a touch takes on the average, all standing pieces being as likely to be touched.
    pub mean: f64,
    /// The most that a touch takes.
    pub worst: u32,
    /// The piece of the worst touch.
    pub worst_piece: Option<u32>,
    /// True when the counts are exact.
    pub exact: bool,
}

impl Loss {
    /// What a touch costs by a touch map.
    pub fn of(map: &TouchMap) -> Self {
        let worst = map.worst(1).first().copied();
        Self {
            mean: map.mean(),
            worst: worst.map_or(0, |w| w.1),
            worst_piece: worst.map(|w| w.0),
            exact: map.exact,
        }
    }
}

/// Proposed gaps with what they save.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// The gaps, by item and rank.
    pub proposals: Vec<Proposal>,
    /// With the gaps that the plan has, open.
    pub before: Loss,
    /// With the proposed ones as well.
    pub after: Loss,
    /// Accidents that were expected.
    pub accidents: f64,
}

/// Proposes gaps for a plan. Each is a run of ranks on an even, nearly straight stretch that was found to hold on the
/// hall's floor range, or a shorter one with a stopper; never on bridges and their steps, in feeds, or where items meet.
///
/// Places are a dozen ranks apart or more. Which of them are worth it is decided by [`gaps_on_network`]: Σ W² · M / n
/// for M accidents among n pieces, against the prices. That takes what hangs together as falling together; what the
/// gaps really save is then counted by the touch map.
pub fn suggest(plan: &Plan, network: &Network, wish: &Wish) -> Advice {
    let built = Built { items: None, gaps_open: true };
    let before = Loss::of(&touch(plan, network, &built));
    let accidents = wish.accidents_for(network.pieces());
    let proposals = choose(plan, network, wish, accidents);
    let after = if proposals.is_empty() {
        before
    } else {
        Loss::of(&touch(&with(plan, &proposals), network, &built))
    };
    Advice { proposals, before, after, accidents }
}

fn with(plan: &Plan, proposals: &[Proposal]) -> Plan {
    let mut plan = plan.clone();
    for item in &mut plan.items {
        item.gaps.extend(proposals.iter().filter(|p| p.item == item.id).map(|p| p.gap));
    }
    plan
}

/// Weights of what hangs together are scaled to about so many units, which the exact way can take.
const UNITS: u64 = 4_000;

fn choose(plan: &Plan, network: &Network, wish: &Wish, accidents: f64) -> Vec<Proposal> {
    let coarse = coarse(plan, network);
    let pieces: u64 = coarse.parts.weight.iter().map(|&w| u64::from(w)).sum();
    // The price of an open lane, in squared pieces.
    let price = |place: usize| {
        let at = coarse.of_place[place] as usize;
        let work = wish.each.max(0.0) + wish.late.max(0.0) * f64::from(coarse.candidates[at].pieces);
        work / f64::from(coarse.ties_of[at].max(1)) * pieces as f64 / accidents
    };
    let islands = islands(&coarse.parts);
    let open: Vec<Vec<u32>> = islands.par_iter().map(|i| i.open(&coarse.parts, &price)).collect();
    let mut cut = vec![0_u32; coarse.candidates.len()];
    for place in open.into_iter().flatten() {
        cut[coarse.of_place[place as usize] as usize] += 1;
    }
    // A gap goes through all lanes; it is worth it where it is for at least half of them.
    let chosen = (0..cut.len()).filter(|&c| cut[c] > 0 && 2 * cut[c] >= coarse.ties_of[c]);
    let mut proposals: Vec<Proposal> = chosen.map(|c| proposal(&coarse.candidates[c])).collect();
    proposals.sort_by_key(|p| (p.item, p.gap.first));
    proposals
}

/// Nodes and places that hang together, however many places are open.
struct Island {
    nodes: Vec<u32>,
    places: Vec<u32>,
}

/// The islands that have any place, by their first node.
fn islands(parts: &Parts) -> Vec<Island> {
    let mut root = Roots::new(parts.weight.len());
    parts.places.iter().for_each(|p| root.join(p.a, p.b));
    let mut found = BTreeMap::<u32, Island>::new();
    for (i, p) in parts.places.iter().enumerate() {
        let island =
            found.entry(root.of(p.a)).or_insert_with(|| Island { nodes: Vec::new(), places: Vec::new() });
        island.places.push(i as u32);
    }
    for v in 0..parts.weight.len() as u32 {
        if let Some(island) = found.get_mut(&root.of(v)) {
            island.nodes.push(v);
        }
    }
    found.into_values().collect()
}

impl Island {
    /// The places to leave open.
    fn open(&self, parts: &Parts, price: &(dyn Fn(usize) -> f64 + Sync)) -> Vec<u32> {
        let pieces: u64 = self.nodes.iter().map(|&v| u64::from(parts.weight[v as usize])).sum();
        let unit = pieces.div_ceil(UNITS).max(1);
        let number = |v: u32| self.nodes.binary_search(&v).unwrap_or(0) as u32;
        let weight = self.nodes.iter().map(|&v| u64::from(parts.weight[v as usize]).div_ceil(unit) as u32);
        let places = self.places.iter().map(|&i| {
            let p = &parts.places[i as usize];
            let price = price(i as usize) / (unit * unit) as f64;
            Place { a: number(p.a), b: number(p.b), price: price.round().clamp(1.0, 1e15) as u64 }
        });
        let own = Parts { weight: weight.collect(), places: places.collect() };
        gaps_on_network(&own).open.iter().map(|&i| self.places[i as usize]).collect()
    }
}

fn proposal(c: &Candidate) -> Proposal {
    Proposal {
        item: c.item,
        gap: SafetyGap { first: c.first, count: c.count, stopper: c.stopper },
        pieces: c.pieces,
        opening: c.opening,
        needed: c.needed,
    }
}
