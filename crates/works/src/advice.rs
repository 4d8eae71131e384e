//! Which gaps to leave in a plan, and what they save.

use fall::{Built, Network, TouchMap, touch};
use plan::{ItemId, Plan, SafetyGap};

use crate::coarse::{Candidate, coarse};
use crate::parts::gaps_on_network;

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

/// Weights are scaled to about so many units, which the exact way can take.
const UNITS: u64 = 4_000;

fn choose(plan: &Plan, network: &Network, wish: &Wish, accidents: f64) -> Vec<Proposal> {
    let mut coarse = coarse(plan, network);
    let pieces: u64 = coarse.parts.weight.iter().map(|&w| u64::from(w)).sum();
    let unit = pieces.div_ceil(UNITS).max(1);
    // Parts that are alone and small need no unit of their own, but no node may vanish.
    for w in &mut coarse.parts.weight {
        *w = u64::from(*w).div_ceil(unit) as u32;
    }
    for (place, &at) in coarse.parts.places.iter_mut().zip(&coarse.of_place) {
        let c = &coarse.candidates[at as usize];
        let work = wish.each.max(0.0) + wish.late.max(0.0) * f64::from(c.pieces);
        let price = work * pieces as f64 / accidents / (unit * unit) as f64;
        place.price = price.round().clamp(1.0, 1e15) as u64;
    }
    let cuts = gaps_on_network(&coarse.parts);
    let chosen =
        cuts.open.iter().map(|&p| proposal(&coarse.candidates[coarse.of_place[p as usize] as usize]));
    let mut proposals: Vec<Proposal> = chosen.collect();
    proposals.sort_by_key(|p| (p.item, p.gap.first));
    proposals
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
