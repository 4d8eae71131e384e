//! The fall as a report: how much falls, in what time, when each item is reached, and what stays standing and why.

use placement::PieceId;
use plan::{Item, ItemId, Plan};

use crate::doubts::Doubts;
use crate::law::Pace;
use crate::network::{Network, State};
use crate::passes::Pass;
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

/// When the fall runs through a placeholder, at the least and at the most, seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PassTimes {
    /// The placeholder.
    pub item: ItemId,
    /// When it comes in.
    pub from_s: (f64, f64),
    /// When it has run through.
    pub to_s: (f64, f64),
}

/// Why a hit may fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// By itself: measured runs with such a gap, turn or step passed and failed.
    Hit,
    /// What lies above leaves too little room to fall.
    Low,
    /// What flies out of a curve or slides past an end may have knocked its target before.
    Knocked {
        /// The first piece that may have.
        by: PieceId,
    },
    /// Two lines cross here without a bridge, and what falls in one may lie across the other.
    Crossed {
        /// A piece of the other line.
        by: PieceId,
    },
    /// The push of a start uphill may die out.
    Dies,
}

/// A hit that may fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unsure {
    /// What hits.
    pub from: PieceId,
    /// What is hit.
    pub to: PieceId,
    /// Why it may fail.
    pub why: Doubt,
}

/// What falls, when, and what does not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Report {
    /// Pieces of the plan.
    pub pieces: u32,
    /// Pieces that placeholders ask for; nobody has drawn them, so that they are not among the others.
    pub assumed: u32,
    /// Pieces that fall, hits that may fail counted as passing.
    pub fallen: u32,
    /// Pieces that fall without any such hit.
    pub surely: u32,
    /// Least total time, seconds: with the least friction, less the scatter of hops; placeholders that are reached have run
    /// through.
    pub least_s: f64,
    /// Most total time, seconds: with the most friction, and the scatter of hops; likewise.
    pub most_s: f64,
    /// True when a fall may last longer than a day: later hits all have that time.
    pub beyond: bool,
    /// What stays standing, in order of item.
    pub stands: Vec<Stands>,
    /// Pieces that fall in each second, at the usual pace; seconds in which none falls are left out.
    pub per_second: Vec<(u32, u32)>,
    /// When the fall reaches each item, seconds at the least and at the most; items that it does not reach are left out.
    pub arrivals: Vec<(ItemId, f64, f64)>,
    /// Placeholders through which it runs, in order of item.
    pub passes: Vec<PassTimes>,
    /// Hits that may fail and without which some pieces stay standing, in order of what is hit; the first ones.
    pub unsure: Vec<Unsure>,
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
    let passes = pass_times(network, &fast, &slow);
    let ends = |of: fn(&PassTimes) -> f64| passes.iter().map(of).fold(0.0, f64::max);
    Report {
        pieces: network.pieces(),
        assumed: assumed(plan),
        fallen: usual.fallen,
        surely: surely.fallen,
        least_s: total(&fast, -1.0).max(ends(|p| p.to_s.0)),
        most_s: total(&slow, 1.0).max(ends(|p| p.to_s.1)),
        beyond: slow.last_us.max(fast.last_us) >= LAST_US,
        stands: stands(network, &usual),
        per_second: per_second(&usual),
        arrivals: arrivals(network, &fast, &slow),
        passes,
        unsure: unsure(plan, network, &usual, &surely),
    }
}

fn assumed(plan: &Plan) -> u32 {
    let all: u64 = plan
        .items
        .iter()
        .filter_map(Item::placeholder)
        .flat_map(|p| &p.needs)
        .map(|n| u64::from(n.count))
        .sum();
    u32::try_from(all).unwrap_or(u32::MAX)
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
    out.extend(pass_times(network, fast, slow).iter().map(|p| (p.item, p.from_s.0, p.from_s.1)));
    out.sort_unstable_by_key(|a| a.0);
    out
}

fn pass_times(network: &Network, fast: &Fall, slow: &Fall) -> Vec<PassTimes> {
    let each = network.passes().iter().zip(fast.entered_us.iter().zip(&slow.entered_us));
    let times = |(pass, (&a, &b)): (&Pass, (&u64, &u64))| {
        let reached = a != STANDS_US && b != STANDS_US;
        let s = |us: u64| us.min(LAST_US) as f64 * 1e-6;
        let (least, most) = (a.min(b), a.max(b));
        reached.then(|| PassTimes {
            item: pass.item,
            from_s: (s(least), s(most)),
            to_s: (s(least + pass.delay_us.0), s(most + pass.delay_us.1)),
        })
    };
    let mut all: Vec<PassTimes> = each.filter_map(times).collect();
    all.sort_unstable_by_key(|p| p.item);
    all
}

/// Hits at the border of what falls surely.
fn unsure(plan: &Plan, network: &Network, usual: &Fall, surely: &Fall) -> Vec<Unsure> {
    let border = (0u32..).zip(&usual.from).filter(|&(to, &from)| {
        let fails = surely.hit_us[to as usize] == STANDS_US;
        from != u32::MAX && fails && surely.hit_us[from as usize] != STANDS_US
    });
    let first: Vec<(u32, u32)> = border.map(|(to, &from)| (to, from)).take(NAMED).collect();
    if first.is_empty() {
        return Vec::new();
    }
    let doubts = Doubts::of(plan, network, &Ask { unsure_passes: false, ..Ask::default() });
    let fell = |s: State| {
        let piece = s as usize / 2;
        if u32::from(usual.way[piece]) == s % 2 { usual.hit_us[piece] } else { STANDS_US }
    };
    let tell = |&(to, from): &(u32, u32)| {
        let state = 2 * from + u32::from(usual.way[from as usize]);
        let target = 2 * to + u32::from(usual.way[to as usize]);
        let itself = network.codes(state).any(|c| c.0 / 2 == to && c.1.unsure());
        let knocked = || doubts.knocked_by(to, usual.hit_us[from as usize], fell).map(|s| s / 2);
        let why = if itself && (network.lies_low(from) || network.lies_low(to)) {
            Doubt::Low
        } else if itself {
            Doubt::Hit
        } else if let Some(by) = knocked().and_then(|p| network.piece_id(p)) {
            Doubt::Knocked { by }
        } else if let Some(by) = network.crossed_by(state, target).and_then(|p| network.piece_id(p)) {
            Doubt::Crossed { by }
        } else {
            Doubt::Dies
        };
        Some(Unsure { from: network.piece_id(from)?, to: network.piece_id(to)?, why })
    };
    first.iter().filter_map(tell).collect()
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
