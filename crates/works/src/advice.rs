//! Which gaps to leave in a plan, and what they save.

use std::collections::BTreeMap;

use fall::{Built, Network, TouchMap, touch};
use plan::{ItemId, Plan, SafetyGap};

use crate::aim::{Aim, Choice, KeepOn};
use crate::coarse::{Candidate, coarse};

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
    /// The most pieces that a touch of one right before or behind it takes, with all proposed gaps open.
    pub beside: u32,
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
///
/// [`gaps_on_network`]: crate::gaps_on_network
pub fn suggest(plan: &Plan, network: &Network, wish: &Wish) -> Advice {
    suggest_for(plan, network, (wish, Aim::Worth), &|_| true).expect("nothing ends the work")
}

/// Shares of the work: a touch map before, the choice, a touch map after.
const CHOICE: (f64, f64) = (0.3, 0.4);

/// The same with another aim than what is worth its work; `None` when `keep_on` ended the work, which it is asked between
/// parts of it.
///
/// For [`Aim::Gaps`] and [`Aim::Pieces`] the number of accidents is sought at which the gaps that are worth it are as many,
/// or leave parts as small, as was asked for. A plan that has no places for enough gaps gets as many as there are.
pub fn suggest_for(
    plan: &Plan,
    network: &Network,
    (wish, aim): (&Wish, Aim),
    keep_on: KeepOn<'_>,
) -> Option<Advice> {
    let built = Built { items: None, gaps_open: true };
    if !keep_on(0.0) {
        return None;
    }
    let before = Loss::of(&touch(plan, network, &built));
    let accidents = wish.accidents_for(network.pieces());
    let coarse = coarse(plan, network);
    let (from, share) = CHOICE;
    let taken = Choice::of(&coarse, wish).take(aim, accidents, &|done| keep_on(from + share * done))?;
    let mut proposals: Vec<Proposal> = taken.iter().map(|&c| proposal(&coarse.candidates[c])).collect();
    proposals.sort_by_key(|p| (p.item, p.gap.first));
    if proposals.is_empty() {
        return Some(Advice { proposals, before, after: before, accidents });
    }
    if !keep_on(from + share) {
        return None;
    }
    let map = touch(&with_gaps(plan, &proposals), network, &built);
    beside(network, &map, &mut proposals);
    Some(Advice { proposals, before, after: Loss::of(&map), accidents })
}

/// A plan with proposed gaps behind those that its items have.
pub fn with_gaps(plan: &Plan, proposals: &[Proposal]) -> Plan {
    let mut plan = plan.clone();
    for item in &mut plan.items {
        item.gaps.extend(proposals.iter().filter(|p| p.item == item.id).map(|p| p.gap));
    }
    plan
}

/// What a touch right before or behind each gap takes.
fn beside(network: &Network, map: &TouchMap, proposals: &mut [Proposal]) {
    let mut sides = BTreeMap::<(ItemId, u32), Vec<usize>>::new();
    for (i, p) in proposals.iter().enumerate() {
        let behind = p.gap.first.saturating_add(p.gap.count);
        for rank in p.gap.first.checked_sub(1).into_iter().chain([behind]) {
            sides.entry((p.item, rank)).or_default().push(i);
        }
    }
    for (piece, &most) in (0..).zip(&map.most) {
        let Some(id) = network.piece_id(piece) else { continue };
        for &i in sides.get(&(id.item, id.rank)).into_iter().flatten() {
            proposals[i].beside = proposals[i].beside.max(most);
        }
    }
}

fn proposal(c: &Candidate) -> Proposal {
    Proposal {
        item: c.item,
        gap: SafetyGap { first: c.first, count: c.count, stopper: c.stopper },
        pieces: c.pieces,
        opening: c.opening,
        needed: c.needed,
        beside: 0,
    }
}
