//! How sure the whole fall is: many runs with scatter, chance stops, and chances of hits that may fail.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use placement::PieceId;
use plan::Plan;
use rayon::prelude::*;

use crate::chance::mix;
use crate::doubts::Doubts;
use crate::law::Pace;
use crate::network::Network;
use crate::tempo::Tempo;
use crate::wave::{Ask, Wave, run};

/// Places that are named.
const NAMED: usize = 20;

/// What many runs showed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Odds {
    /// How many runs.
    pub runs: u32,
    /// Pieces that fall without chance.
    pub can_fall: u32,
    /// Share of runs in which all of these fall.
    pub all_fall: f64,
    /// Share of these pieces that falls: in the worst twentieth of runs at most the first, in half of them at most the
    /// second, in all but a twentieth at most the third.
    pub fallen: [f64; 3],
    /// Time of the last hit in seconds, likewise.
    pub end_s: [f64; 3],
    /// Pieces at which the fall stopped most often, with the number of runs.
    pub stops: Vec<(PieceId, u32)>,
}

/// Runs the fall `runs` times with seeds drawn from `seed`; the same bits for any number of threads. `keep_on` is told
/// the share of runs that are done; when it says no, the answer is `None`.
pub fn odds(
    plan: &Plan,
    network: &Network,
    runs: u32,
    seed: u64,
    keep_on: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Odds> {
    let tempo = Tempo::of(plan, &network.shapes, Pace::Usual);
    let plain = run(plan, network, &Ask::default(), &|_| true)?;
    // The same for all seeds.
    let doubts = Doubts::of(plan, network, &Ask { seed: Some(seed), ..Ask::default() });
    let (stopped, done) = (AtomicBool::new(false), AtomicU32::new(0));
    let go_on = |_: f64| !stopped.load(Ordering::Relaxed);
    let one = |i: u32| {
        if stopped.load(Ordering::Relaxed) {
            return None;
        }
        let ask = Ask { seed: Some(mix(seed, u64::from(i))), ..Ask::default() };
        let ran = Wave::new(plan, network, ask, &tempo, &doubts).run(&go_on);
        let share = f64::from(done.fetch_add(1, Ordering::Relaxed) + 1) / f64::from(runs);
        if !keep_on(share) {
            stopped.store(true, Ordering::Relaxed);
        }
        ran.map(|(fall, stops)| (fall.fallen, fall.last_us, stops))
    };
    let results: Option<Vec<(u32, u64, Vec<u32>)>> = (0..runs).into_par_iter().map(one).collect();
    results.map(|r| sum_up(network, plain.fallen, r))
}

fn sum_up(network: &Network, can_fall: u32, results: Vec<(u32, u64, Vec<u32>)>) -> Odds {
    let runs = results.len() as u32;
    let mut stops: BTreeMap<u32, u32> = BTreeMap::new();
    for (_, _, at) in &results {
        let mut at = at.clone();
        at.sort_unstable();
        at.dedup();
        at.into_iter().for_each(|p| *stops.entry(p).or_default() += 1);
    }
    let mut stops: Vec<(u32, u32)> = stops.into_iter().collect();
    stops.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let all = results.iter().filter(|r| r.0 >= can_fall).count();
    let share = |n: u32| if can_fall == 0 { 0.0 } else { f64::from(n) / f64::from(can_fall) };
    Odds {
        runs,
        can_fall,
        all_fall: if runs == 0 { 0.0 } else { all as f64 / f64::from(runs) },
        fallen: quantiles(results.iter().map(|r| share(r.0))),
        end_s: quantiles(results.iter().map(|r| r.1 as f64 * 1e-6)),
        stops: stops.iter().take(NAMED).filter_map(|s| Some((network.piece_id(s.0)?, s.1))).collect(),
    }
}

/// 5 %, 50 % and 95 %.
fn quantiles(values: impl Iterator<Item = f64>) -> [f64; 3] {
    let mut values: Vec<f64> = values.collect();
    values.sort_unstable_by(f64::total_cmp);
    let at = |q: f64| values.get(((values.len() as f64 - 1.0) * q).round().max(0.0) as usize).copied();
    [0.05, 0.5, 0.95].map(|q| at(q).unwrap_or(0.0))
}
