//! The gaps that a plan has: whether each stops the fall, and what would.

use fall::{Across, Built, Holds, Network, Opening, needed_opening, openings};
use plan::{ItemId, Plan, SafetyGap};

/// A gap that a plan has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Present {
    /// In which item.
    pub item: ItemId,
    /// The gap.
    pub gap: SafetyGap,
    /// Pieces that it leaves out, of all lanes.
    pub pieces: u32,
    /// Whether it stops the fall, at the worst of its lanes and both ways.
    pub holds: Holds,
    /// The worst opening; absent when nothing stands on both sides within 240 mm, which is farther than fallen pieces of
    /// the usual size were seen to slide.
    pub opening: Option<Opening>,
    /// The least opening that surely holds without a stopper on this floor, mm; absent where none was measured.
    pub needed: Option<f64>,
}

/// The gaps of a plan, all of them open, by item and in the order of their lists.
pub fn present_gaps(plan: &Plan, network: &Network) -> Vec<Present> {
    let across = openings(plan, network, &Built { items: None, gaps_open: true });
    let mut found: Vec<Present> = Vec::new();
    for item in &plan.items {
        let Some(pieces) = network.pieces_of(item.id) else { continue };
        let from = found.len();
        for &gap in &item.gaps {
            let pieces = pieces.rank.iter().filter(|&&rank| gap.leaves_out(rank)).count() as u32;
            found.push(Present {
                item: item.id,
                gap,
                pieces,
                holds: Holds::Surely,
                opening: None,
                needed: None,
            });
        }
        let own = &mut found[from..];
        if !own.is_empty() {
            across.iter().for_each(|a| take(network, own, item.id, a));
        }
    }
    found
}

/// Lets an opening count for all gaps of the item that it spans.
fn take(network: &Network, gaps: &mut [Present], item: ItemId, across: &Across) {
    let (Some(a), Some(b)) = (network.piece_id(across.from / 2), network.piece_id(across.to / 2)) else {
        return;
    };
    // Where an opening leads out of the item, the gap reaches to its end.
    let (low, high) = match (a.item == item, b.item == item) {
        (true, true) => (a.rank.min(b.rank), a.rank.max(b.rank)),
        (true, false) | (false, true) => {
            let rank = if a.item == item { a.rank } else { b.rank };
            let ends =
                |g: &Present| g.gap.first.saturating_add(g.gap.count) == rank || g.gap.first == rank + 1;
            match gaps.iter().find(|g| ends(g)) {
                Some(g) if g.gap.first > rank => (rank, u32::MAX),
                Some(_) => (0, rank),
                None => return,
            }
        }
        (false, false) => return,
    };
    for g in gaps.iter_mut().filter(|g| low <= g.gap.first && g.gap.first < high && g.pieces > 0) {
        if g.opening.is_none() || across.holds > g.holds {
            g.opening = Some(across.opening);
            g.holds = g.holds.max(across.holds);
            // On a slope none was measured, and the fall may come downhill.
            let level = network.slope(across.from) == 0.0 && network.slope(across.to) == 0.0;
            g.needed = needed_opening(&across.opening).filter(|_| level);
        }
    }
}
