//! How many gaps to propose: what is worth its work, at most so many, or as few as keep a fall small.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;
use units::maths;

use crate::advice::Wish;
use crate::coarse::Coarse;
use crate::parts::{Parts, Place, Roots, gaps_on_network};

/// How far proposed gaps are to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Aim {
    /// What is worth its work for the accidents that are expected.
    #[default]
    Worth,
    /// At most so many gaps: those that save most.
    Gaps(u32),
    /// As few gaps as part whatever hangs together into at most so many pieces, or as small as it can be parted.
    Pieces(u32),
}

/// Says how far the work is, 0 to 1; false ends it.
pub type KeepOn<'a> = &'a (dyn Fn(f64) -> bool + Sync);

/// Weights of what hangs together are scaled to about so many units, which the exact way can take.
const UNITS: u64 = 4_000;
/// More accidents make more gaps worth their work; between these numbers of them lies none at all and all there can be.
const ACCIDENTS: (f64, f64) = (1e-6, 1e12);
/// Halvings of that range: to a ten-thousandth of a number of accidents.
const HALVINGS: u32 = 20;

/// The candidates of a plan and what hangs together, however many of them are open.
pub(crate) struct Choice<'a> {
    coarse: &'a Coarse,
    wish: &'a Wish,
    pieces: f64,
    islands: Vec<Island>,
}

/// Nodes and places that hang together, however many places are open.
struct Island {
    nodes: Vec<u32>,
    places: Vec<u32>,
}

/// Places of an island that are left open, and the pieces of its largest part then.
struct Opened {
    places: Vec<u32>,
    largest: u64,
}

impl<'a> Choice<'a> {
    pub(crate) fn of(coarse: &'a Coarse, wish: &'a Wish) -> Self {
        let pieces: u64 = coarse.parts.weight.iter().map(|&w| u64::from(w)).sum();
        Self { coarse, wish, pieces: pieces as f64, islands: islands(&coarse.parts) }
    }

    /// The candidates to take, rising; `None` when the work was ended.
    pub(crate) fn take(&self, aim: Aim, accidents: f64, keep_on: KeepOn<'_>) -> Option<Vec<usize>> {
        match aim {
            Aim::Worth => keep_on(0.0).then(|| self.worth(accidents)),
            Aim::Gaps(most) => self.at_most(most as usize, keep_on),
            Aim::Pieces(most) => self.small(most.into(), keep_on),
        }
    }

    /// The price of an open lane, in squared pieces.
    fn price(&self, place: usize, accidents: f64) -> f64 {
        let at = self.coarse.of_place[place] as usize;
        let late = f64::from(self.coarse.candidates[at].pieces);
        let work = self.wish.each.max(0.0) + self.wish.late.max(0.0) * late;
        work / f64::from(self.coarse.ties_of[at].max(1)) * self.pieces / accidents
    }

    fn open(&self, island: &Island, accidents: f64) -> Opened {
        island.open(&self.coarse.parts, &|place| self.price(place, accidents))
    }

    /// A gap goes through all lanes; it is worth it where it is for at least half of them.
    fn worth(&self, accidents: f64) -> Vec<usize> {
        let open: Vec<Opened> = self.islands.par_iter().map(|i| self.open(i, accidents)).collect();
        let cut = self.cut(&open);
        (0..cut.len()).filter(|&c| cut[c] > 0 && 2 * cut[c] >= self.coarse.ties_of[c]).collect()
    }

    /// How many lanes of each candidate are open.
    fn cut(&self, open: &[Opened]) -> Vec<u32> {
        let mut cut = vec![0_u32; self.coarse.candidates.len()];
        for &place in open.iter().flat_map(|o| &o.places) {
            cut[self.coarse.of_place[place as usize] as usize] += 1;
        }
        cut
    }

    fn at_most(&self, most: usize, keep_on: KeepOn<'_>) -> Option<Vec<usize>> {
        let mut best = Vec::new();
        let mut halving = Halving::new();
        for step in 0..HALVINGS {
            if !keep_on(f64::from(step) / f64::from(HALVINGS)) {
                return None;
            }
            let found = if most == 0 { Vec::new() } else { self.worth(halving.at()) };
            halving.go(found.len() < most);
            let fits = found.len() <= most;
            if fits && found.len() >= best.len() {
                best = found;
            }
            if best.len() == most {
                break;
            }
        }
        Some(best)
    }

    fn small(&self, most: u64, keep_on: KeepOn<'_>) -> Option<Vec<usize>> {
        let done = AtomicUsize::new(0);
        let all = self.islands.len().max(1) as f64;
        let open = self.islands.par_iter().map(|island| {
            let share = done.fetch_add(1, Ordering::Relaxed) as f64 / all;
            self.parted(island, most, &|| keep_on(share))
        });
        let open: Vec<Opened> = open.collect::<Option<_>>()?;
        let cut = self.cut(&open);
        Some((0..cut.len()).filter(|&c| cut[c] > 0).collect())
    }

    /// The fewest places that were found to leave no part of an island larger than asked for, or than the least it can be.
    fn parted(&self, island: &Island, most: u64, keep_on: &dyn Fn() -> bool) -> Option<Opened> {
        let whole = island.pieces(&self.coarse.parts);
        if !keep_on() {
            return None;
        }
        if whole <= most {
            return Some(Opened { places: Vec::new(), largest: whole });
        }
        let mut best = self.open(island, ACCIDENTS.1);
        let most = most.max(best.largest);
        let mut halving = Halving::new();
        for _ in 0..HALVINGS {
            if !keep_on() {
                return None;
            }
            let found = self.open(island, halving.at());
            halving.go(found.largest > most);
            if found.largest <= most && found.places.len() <= best.places.len() {
                best = found;
            }
        }
        Some(best)
    }
}

/// A range of accidents that is halved, by their logarithms.
struct Halving {
    least: f64,
    most: f64,
}

impl Halving {
    fn new() -> Self {
        Self { least: maths::ln(ACCIDENTS.0), most: maths::ln(ACCIDENTS.1) }
    }

    fn at(&self) -> f64 {
        maths::exp((self.least + self.most) / 2.0)
    }

    /// On with more accidents, or with fewer.
    fn go(&mut self, up: bool) {
        let middle = (self.least + self.most) / 2.0;
        if up { self.least = middle } else { self.most = middle }
    }
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
    fn pieces(&self, parts: &Parts) -> u64 {
        self.nodes.iter().map(|&v| u64::from(parts.weight[v as usize])).sum()
    }

    /// The places to leave open.
    fn open(&self, parts: &Parts, price: &(dyn Fn(usize) -> f64 + Sync)) -> Opened {
        let unit = self.pieces(parts).div_ceil(UNITS).max(1);
        let number = |v: u32| self.nodes.binary_search(&v).unwrap_or(0) as u32;
        let weight = self.nodes.iter().map(|&v| u64::from(parts.weight[v as usize]).div_ceil(unit) as u32);
        let places = self.places.iter().map(|&i| {
            let p = &parts.places[i as usize];
            let price = price(i as usize) / (unit * unit) as f64;
            Place { a: number(p.a), b: number(p.b), price: price.round().clamp(1.0, 1e15) as u64 }
        });
        let own = Parts { weight: weight.collect(), places: places.collect() };
        let cuts = gaps_on_network(&own);
        let mut largest = BTreeMap::<u32, u64>::new();
        for (&v, &part) in self.nodes.iter().zip(&cuts.part) {
            *largest.entry(part).or_default() += u64::from(parts.weight[v as usize]);
        }
        Opened {
            places: cuts.open.iter().map(|&i| self.places[i as usize]).collect(),
            largest: largest.into_values().max().unwrap_or(0),
        }
    }
}
