//! The fall as a report: how much falls, in what time, when each item is reached, and what stays standing and why.

use placement::PieceId;
use plan::{ItemId, Plan};

use crate::law::Pace;
use crate::network::Network;
use crate::wave::{Ask, Fall, LAST_US, STANDS_US, run};
use crate::why::{Why, reasons};

/// Scatter of a single hop, as a share; over n hops the sum scatters by this over the root of n.
const HOP: f64 = 0.10;
/// Unsure hits that are named.
const NAMED: usize = 20;

/// Pieces of one item that stay standing for one reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Stands {
    /// The item.
    pub item: ItemId,
    /// Lanes in which pieces stand, as ranges from first to last, counted from 0.
    pub lanes: Vec<(u32, u32)>,
    /// How many pieces.
    pub pieces: u32,
    /// Why.
    pub why: Why,
    /// The first of them.
    pub sample: PieceId,
}

/// What falls, when, and what does not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Report {
    /// Pieces of the plan.
    pub pieces: u32,
    /// Pieces that fall, hits that may fail counted as passing.
    pub fallen: u32,
    /// Pieces that fall without any such hit.
    pub surely: u32,
    /// Least total time, seconds: with the least friction, less the scatter of hops.
    pub least_s: f64,
    /// Most total time, seconds: with the most friction, and the scatter of hops.
    pub most_s: f64,
    /// True when a fall may last longer than a day: later hits all have that time.
    pub beyond: bool,
    /// What stays standing, in order of item.
    pub stands: Vec<Stands>,
    /// Pieces that fall in each second, at the usual pace; seconds in which none falls are left out.
    pub per_second: Vec<(u32, u32)>,
    /// When the fall reaches each item, seconds at the least and at the most; items that it does not reach are left out.
    pub arrivals: Vec<(ItemId, f64, f64)>,
    /// Hits that may fail and without which some pieces stay standing: what hits, and what is hit; the first ones.
    pub unsure: Vec<(PieceId, PieceId)>,
}

/// Reports the fall of a plan: a slow run, a fast one, a usual one, and one without unsure hits.
pub fn report(plan: &Plan, network: &Network) -> Report {
    let with = |pace, unsure_passes| {
        let ask = Ask { pace, unsure_passes, ..Ask::default() };
        run(plan, network, &ask, &|_| true).unwrap_or_default()
    };
    let paces = [(Pace::Slow, true), (Pace::Fast, true), (Pace::Usual, true), (Pace::Usual, false)];
    let (slow, (fast, (usual, surely))) = rayon::join(
        || with(paces[0].0, paces[0].1),
        || {
            rayon::join(
                || with(paces[1].0, paces[1].1),
                || (with(paces[2].0, paces[2].1), with(paces[3].0, paces[3].1)),
            )
        },
    );
    Report {
        pieces: network.pieces(),
        fallen: usual.fallen,
        surely: surely.fallen,
        least_s: total(&fast, -1.0),
        most_s: total(&slow, 1.0),
        beyond: slow.last_us.max(fast.last_us) >= LAST_US,
        stands: stands(network, &usual),
        per_second: per_second(&usual),
        arrivals: arrivals(network, &fast, &slow),
        unsure: unsure(network, &usual, &surely),
    }
}

/// Time of the last hit with the scatter of its chain of hops added or taken away, seconds.
fn total(fall: &Fall, sign: f64) -> f64 {
    let Some(last) = fall.hit_us.iter().position(|t| *t == fall.last_us && fall.fallen > 0) else {
        return 0.0;
    };
    let (mut hops, mut at) = (0u32, last as u32);
    while at != u32::MAX && hops <= fall.fallen {
        hops += 1;
        at = fall.from[at as usize];
    }
    fall.last_us as f64 * 1e-6 * (1.0 + sign * HOP / f64::from(hops.max(1)).sqrt())
}

fn per_second(fall: &Fall) -> Vec<(u32, u32)> {
    let mut counts = vec![0u32; (fall.last_us / 1_000_000) as usize + 1];
    for t in fall.hit_us.iter().filter(|t| **t != STANDS_US) {
        counts[(t / 1_000_000) as usize] += 1;
    }
    (0u32..).zip(counts).filter(|c| c.1 > 0).collect()
}

fn arrivals(network: &Network, fast: &Fall, slow: &Fall) -> Vec<(ItemId, f64, f64)> {
    let index = network.index();
    let mut out = Vec::new();
    for knot in &network.knots {
        let first = index.first(knot.item).unwrap_or(0) as usize;
        let range = first..first + knot.pieces.len();
        let least = |f: &Fall| f.hit_us[range.clone()].iter().copied().min().filter(|t| *t != STANDS_US);
        if let (Some(a), Some(b)) = (least(fast), least(slow)) {
            out.push((knot.item, a.min(b) as f64 * 1e-6, a.max(b) as f64 * 1e-6));
        }
    }
    out
}

/// Hits at the border of what falls surely.
fn unsure(network: &Network, usual: &Fall, surely: &Fall) -> Vec<(PieceId, PieceId)> {
    let mut out = Vec::new();
    for (to, &from) in (0u32..).zip(&usual.from) {
        let fails = surely.hit_us[to as usize] == STANDS_US;
        if from != u32::MAX && fails && surely.hit_us[from as usize] != STANDS_US {
            out.extend(network.piece_id(from).zip(network.piece_id(to)));
            if out.len() == NAMED {
                break;
            }
        }
    }
    out
}

fn stands(network: &Network, fall: &Fall) -> Vec<Stands> {
    let mut out: Vec<Stands> = Vec::new();
    for lane in reasons(network, fall) {
        let same = |s: &&mut Stands| s.item == lane.sample.item && s.why.is_like(&lane.why);
        // Lanes come in order, so that only the reasons of one item are looked through.
        let from = out.partition_point(|s| s.item < lane.sample.item);
        match out[from..].iter_mut().find(same) {
            Some(s) => {
                s.pieces += lane.pieces;
                match s.lanes.last_mut() {
                    Some(last) if last.1 + 1 == lane.sample.lane => last.1 = lane.sample.lane,
                    _ => s.lanes.push((lane.sample.lane, lane.sample.lane)),
                }
            }
            None => out.push(Stands {
                item: lane.sample.item,
                lanes: vec![(lane.sample.lane, lane.sample.lane)],
                pieces: lane.pieces,
                why: lane.why,
                sample: lane.sample,
            }),
        }
    }
    out
}
