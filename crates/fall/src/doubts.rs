//! What may fail for reasons that no single hit tells: pushes that die out, pieces that were knocked before, and lines that
//! cross.

use plan::Plan;
use rayon::prelude::*;

use crate::network::{Network, State};
use crate::wave::{Ask, STANDS_US};

/// What flies out of a curve knocks nothing sooner than so long after its piece was hit, µs, for a height of 48 mm. A piece of
/// that height falls freely in 99 ms; and where measured lines split beside a bend (`tests/data/transfers/branch.csv`) what
/// would have been knocked up to 80 ms after that fell in its turn in all 384 runs.
const FLIES_US: f64 = 80_000.0;

/// Empty where whatever may fail passes.
#[derive(Default)]
pub(crate) struct Doubts {
    /// Pushed states that may die out, sorted.
    dying: Vec<State>,
    /// What may be knocked out of its turn, by what, and how long after that was hit at the least, µs; sorted.
    knocked: Vec<(u32, State, u64)>,
    crossed: Crossed,
}

/// When lines that cross hinder each other.
#[derive(Default, Clone, Copy, PartialEq, Eq)]
enum Crossed {
    /// Never: nothing crosses, or it is not asked.
    #[default]
    Not,
    /// What falls later is hindered by what fell before; a run with a seed decides which that is.
    Later,
    /// Nobody is sure which falls first, nor that the first one leaves its neighbour standing.
    Both,
}

impl Doubts {
    pub(crate) fn of(plan: &Plan, network: &Network, ask: &Ask) -> Self {
        if ask.unsure_passes && ask.seed.is_none() {
            return Self::default();
        }
        let crossed = match ask.seed {
            _ if network.crossings().is_empty() => Crossed::Not,
            Some(_) if ask.unsure_passes => Crossed::Later,
            _ => Crossed::Both,
        };
        Self { dying: dying(network), knocked: knocked(plan, network), crossed }
    }

    /// Whether a push on a state may die out.
    pub(crate) fn dies(&self, state: State) -> bool {
        self.dying.binary_search(&state).is_ok()
    }

    /// What may have knocked a piece before something that falls at `at` hits it: the first of them that has fallen, as
    /// `fell` tells, long enough before.
    pub(crate) fn knocked_by(&self, piece: u32, at: u64, fell: impl Fn(State) -> u64) -> Option<State> {
        let first = self.knocked.partition_point(|k| k.0 < piece);
        let mut near = self.knocked[first..].iter().take_while(|k| k.0 == piece);
        near.find(|k| has_fallen(fell(k.1), k.2, at)).map(|k| k.1)
    }

    /// Whether a hit at `at` may fail because of something besides the hit itself.
    pub(crate) fn bar(
        &self,
        network: &Network,
        (from, to): (State, State),
        at: u64,
        fell: impl Fn(State) -> u64,
    ) -> bool {
        let crossed = || match self.crossed {
            Crossed::Not => false,
            Crossed::Later => network.crossings().across(from, to).any(|s| has_fallen(fell(s), 0, at)),
            Crossed::Both => network.crossed_by(from, to).is_some(),
        };
        self.knocked_by(to / 2, at, &fell).is_some() || crossed()
    }
}

/// Whether what was hit at a time has fallen for longer than `since` at another one.
fn has_fallen(hit: u64, since: u64, at: u64) -> bool {
    hit != STANDS_US && hit + since < at
}

fn dying(network: &Network) -> Vec<State> {
    let mut all: Vec<State> = network.starts().iter().flat_map(|p| p.dies.iter().copied()).collect();
    all.sort_unstable();
    all
}

/// The least time from the hit on a piece until it may knock another one, µs.
fn flies_us(network: &Network, piece: u32) -> u64 {
    let height = network.shape_of(piece).map_or(48.0, |s| s.h);
    (FLIES_US * (height / 48.0).sqrt()) as u64
}

/// What may be knocked from the outside of curves, and by what.
fn knocked(plan: &Plan, network: &Network) -> Vec<(u32, State, u64)> {
    let pair = |&(from, to): &(State, State)| (to / 2, from, flies_us(network, from / 2));
    let mut all: Vec<(u32, State, u64)> = network.thrown(plan).iter().map(pair).collect();
    all.par_sort_unstable();
    all.dedup();
    all
}
