//! The transportation problem by successive shortest paths on a graph whose nodes are the colours.
//!
//! Every class starts at its cheapest colour by cost plus price; the surplus of colours used too much then flows
//! along shortest paths to colours with room, and the prices follow the distances (Ahuja, Magnanti, Orlin,
//! "Network Flows", 1993, section 9.7). A sample of the cells is solved first and hands its prices down,
//! so that little surplus is left on the whole problem.

use std::ops::Range;

use rayon::prelude::*;

use super::{
    arcs::{Arcs, Shares, Splits},
    classes::Classes,
    core::{self, Solved},
    costs::{Costs, FORBIDDEN},
};
use crate::problem::{MatchError, Report, Stage, tell};

/// A solved problem: colours per class and prices per colour.
pub(super) struct Plan {
    /// The colour of each class that has only one.
    pub(super) main: Vec<u16>,
    splits: Splits,
    /// The least prices that prove the plan, at least 0.
    pub(super) prices: Vec<i64>,
}

impl Plan {
    /// The classes of a range that have several colours, ascending, with these and their amounts, ascending too.
    pub(super) fn splits(&self, range: Range<usize>) -> impl Iterator<Item = (usize, &[(u16, u32)])> {
        let range = range.start as u32..range.end as u32;
        self.splits.range(range).map(|(&class, split)| (class as usize, split.as_slice()))
    }
}

/// One cell in so many is in the sample of each level, before all of them are solved.
const LEVELS: [u32; 4] = [256, 64, 16, 4];

/// A sample must have so many cells to be worth solving.
const LEAST_SAMPLE: u32 = 400;

/// A sample is copied where it has at most one class in so many, and so many entries of the table.
const FEW: usize = 2;
const LARGE: usize = 1 << 22;

/// Shortest paths between two reports.
const STEP: usize = 64;

/// Solves the problem to the optimum.
pub(super) fn solve(
    classes: &Classes,
    costs: &Costs,
    stock: &[u64],
    report: Report<'_>,
) -> Result<Plan, MatchError> {
    let total = u64::from(classes.total());
    // More pieces than cells are never needed.
    let stock: Vec<u64> = stock.iter().map(|&s| s.min(total)).collect();
    let mut prices = vec![0i64; stock.len()];
    for level in LEVELS.into_iter().filter(|&l| classes.total() / l >= LEAST_SAMPLE) {
        let counts = classes.sampled(level);
        let stock = sampled_stock(&stock, level);
        let before = prices.clone();
        let solved = match sample_table(costs, &counts) {
            Some((rows, counts)) => core::solve(&rows, &counts, &stock, before, false, report)?,
            None => core::solve(costs, &counts, &stock, before, false, report)?,
        };
        // A sample may want more of a colour than its share of the stock has; then it has nothing to teach.
        if let Some(solved) = solved {
            prices = solved.prices;
        }
    }
    let counts: Vec<u32> = (0..classes.len()).map(|class| classes.count(class)).collect();
    let solved = core::solve(costs, &counts, &stock, prices, true, report)?;
    let mut solved = solved.expect("the stock was found to suffice before");
    core::lower_prices(costs, &counts, &mut solved);
    Ok(Plan { main: solved.main, splits: solved.splits, prices: solved.prices })
}

/// The classes of a sample as a table of their own, with their counts, where these are few.
fn sample_table(costs: &Costs, counts: &[u32]) -> Option<(Costs, Vec<u32>)> {
    let active = counts.iter().filter(|&&n| n > 0).count();
    if active > counts.len() / FEW || costs.size_of(active) > LARGE {
        return None;
    }
    let classes: Vec<u32> = (0..counts.len() as u32).filter(|&class| counts[class as usize] > 0).collect();
    Some((costs.pick(&classes), classes.iter().map(|&class| counts[class as usize]).collect()))
}

/// Every class at its cheapest colour, whatever the stock.
pub(super) fn nearest(classes: &Classes, costs: &Costs, colours: usize) -> Plan {
    let prices = vec![0; colours];
    let cheapest = |class| cheapest_colour(costs.row(class), &prices).1 as u16;
    let main = (0..classes.len()).into_par_iter().with_min_len(1_024).map(cheapest).collect();
    Plan { main, splits: Splits::new(), prices }
}

/// A lower bound of every assignment within the stock: the dual value of the prices, whatever they are.
pub(super) fn bound(classes: &Classes, costs: &Costs, stock: &[u64], prices: &[i64]) -> i64 {
    let cells: i64 = (0..classes.len())
        .into_par_iter()
        .with_min_len(1_024)
        .map(|class| i64::from(classes.count(class)) * cheapest_colour(costs.row(class), prices).0)
        .sum();
    let paid: i64 = stock.iter().zip(prices).filter(|(_, p)| **p != 0).map(|(&s, &p)| s as i64 * p).sum();
    cells - paid
}

/// The least cost plus price in a row, and the first colour that has it.
fn cheapest_colour(row: &[i32], prices: &[i64]) -> (i64, usize) {
    let mut best = (i64::MAX, 0);
    for (colour, (&cost, &price)) in row.iter().zip(prices).enumerate() {
        let priced = i64::from(cost) + price;
        if priced < best.0 && cost != FORBIDDEN {
            best = (priced, colour);
        }
    }
    best
}

/// The stock scaled down by sums, so that the whole is scaled without loss.
fn sampled_stock(stock: &[u64], step: u32) -> Vec<u64> {
    let step = u64::from(step);
    let mut sum = 0;
    stock
        .iter()
        .map(|&s| {
            let before = sum / step;
            sum += s;
            sum / step - before
        })
        .collect()
}

/// A network on the way to its optimum: no arc with flow has a negative reduced cost at any time.
pub(super) struct Network<'a> {
    arcs: Arcs<'a>,
    prices: Vec<i64>,
    stock: Vec<u64>,
    /// Cells and unused stock at each colour; the optimum has `load == stock`.
    load: Vec<u64>,
}

/// Shortest distances in reduced costs from a set of colours.
struct Paths {
    distance: Vec<i64>,
    settled: Vec<bool>,
    /// The arc by which a colour was reached: colour before it, and the class that moves.
    before: Vec<Option<(usize, u32)>>,
}

impl<'a> Network<'a> {
    pub(super) fn new(costs: &'a Costs, counts: &[u32], stock: Vec<u64>, prices: Vec<i64>) -> Self {
        let colours = stock.len();
        let mut load = vec![0u64; colours];
        let mut main = vec![0u16; counts.len()];
        for (class, &count) in counts.iter().enumerate().filter(|(_, count)| **count > 0) {
            let (_, colour) = cheapest_colour(costs.row(class), &prices);
            main[class] = colour as u16;
            load[colour] += u64::from(count);
        }
        let unused = place_unused(&stock, &mut load, &prices);
        let shares = Shares::new(main, counts.to_vec(), unused);
        Self { arcs: Arcs::new(costs, shares, colours), prices, stock, load }
    }

    /// Sends all surplus to colours with room; false if some cannot get there, as can happen in a sample.
    pub(super) fn run(&mut self, last: bool, report: Report<'_>) -> Result<bool, MatchError> {
        let surplus =
            |n: &Self| -> u64 { n.load.iter().zip(&n.stock).map(|(l, s)| l.saturating_sub(*s)).sum() };
        let at_first = surplus(self).max(1);
        let from = if last { 0.5 } else { 0.0 };
        for round in 0.. {
            let left = surplus(self);
            if round % STEP == 0 {
                tell(report, Stage::Stock, from + 0.5 * (1.0 - left as f64 / at_first as f64).max(0.0))?;
            }
            if left == 0 {
                break;
            }
            let (targets, paths) = self.paths_to_room();
            let Some(&last) = targets.last() else { return Ok(false) };
            self.raise_prices(&paths, last);
            // All these paths now cost nothing more, so that each may carry what the ones before it leave.
            targets.iter().for_each(|&target| self.send(&paths, target));
        }
        Ok(true)
    }

    /// Shortest paths from the colours in surplus to all colours with room, and these, closest first.
    fn paths_to_room(&mut self) -> (Vec<usize>, Paths) {
        let start: Vec<Option<i64>> =
            self.load.iter().zip(&self.stock).map(|(l, s)| (l > s).then_some(0)).collect();
        let room: Vec<bool> = self.load.iter().zip(&self.stock).map(|(l, s)| l < s).collect();
        let mut missing = room.iter().filter(|&&r| r).count();
        let mut targets = Vec::with_capacity(missing);
        let paths = self.shortest(&start, |colour| {
            if room[colour] {
                targets.push(colour);
                missing -= 1;
            }
            missing == 0
        });
        (targets, paths)
    }

    /// Dijkstra's algorithm on the colours, dense: every colour has an arc to every other.
    fn shortest(&mut self, start: &[Option<i64>], mut stop: impl FnMut(usize) -> bool) -> Paths {
        let colours = start.len();
        let mut paths = Paths {
            distance: start.iter().map(|d| d.unwrap_or(i64::MAX)).collect(),
            settled: vec![false; colours],
            before: vec![None; colours],
        };
        let mut direct = Vec::new();
        while let Some(u) = paths.closest() {
            paths.settled[u] = true;
            if stop(u) {
                return paths;
            }
            let by_rows = self.arcs.cheapest_to_all(u, &mut direct);
            #[expect(clippy::needless_range_loop, reason = "v is a colour in four lists")]
            for v in 0..colours {
                // No arc is shorter than 0, so one that is already as close need not be looked at.
                if paths.settled[v] || paths.distance[v] <= paths.distance[u] {
                    continue;
                }
                let found = match by_rows {
                    true => (direct[v].0 != FORBIDDEN).then(|| (i64::from(direct[v].0), direct[v].1)),
                    false => self.arcs.cheapest(u, v),
                };
                if let Some((extra, class)) = found {
                    let length = paths.distance[u] + extra + self.prices[v] - self.prices[u];
                    if length < paths.distance[v] {
                        paths.distance[v] = length;
                        paths.before[v] = Some((u, class));
                    }
                }
            }
        }
        paths
    }

    /// Colours closer to the surplus than the target become dearer by what they are closer.
    fn raise_prices(&mut self, paths: &Paths, target: usize) {
        let reach = paths.distance[target];
        for (price, &distance) in self.prices.iter_mut().zip(&paths.distance) {
            *price += reach - distance.min(reach);
        }
    }

    /// Sends as much as the path to the target can carry.
    fn send(&mut self, paths: &Paths, target: usize) {
        let mut amount = self.stock[target] - self.load[target];
        let mut v = target;
        while let Some((u, class)) = paths.before[v] {
            amount = amount.min(self.arcs.shares.amount(class, u));
            v = u;
        }
        amount = amount.min(self.load[v].saturating_sub(self.stock[v]));
        if amount == 0 {
            return;
        }
        self.load[v] -= amount;
        self.load[target] += amount;
        let mut v = target;
        while let Some((u, class)) = paths.before[v] {
            self.arcs.shift(class, (u, v), amount);
            v = u;
        }
    }

    /// The prices as they are now.
    pub(super) fn prices(&self) -> &Vec<i64> {
        &self.prices
    }

    /// The colours of the classes, the unused stock and the prices.
    pub(super) fn into_solved(self) -> Solved {
        let (main, splits, unused) = self.arcs.shares.into_parts();
        Solved { main, splits, unused, prices: self.prices }
    }
}

impl Paths {
    /// The closest colour that is reached and not yet settled.
    fn closest(&self) -> Option<usize> {
        (0..self.distance.len())
            .filter(|&u| !self.settled[u] && self.distance[u] < i64::MAX)
            .min_by_key(|&u| self.distance[u])
    }
}

/// Lays the unused stock on the colours of the least price, first where there is room.
fn place_unused(stock: &[u64], load: &mut [u64], prices: &[i64]) -> Vec<u64> {
    let mut unused = vec![0; stock.len()];
    let total: u64 = stock.iter().sum();
    let mut left = total.saturating_sub(load.iter().sum());
    let least = prices.iter().copied().min().unwrap_or(0);
    let cheapest: Vec<usize> = (0..stock.len()).filter(|&k| prices[k] == least).collect();
    for &k in &cheapest {
        let part = left.min(stock[k].saturating_sub(load[k]));
        unused[k] += part;
        left -= part;
    }
    if let Some(&k) = cheapest.first() {
        unused[k] += left;
    }
    for (load, unused) in load.iter_mut().zip(&unused) {
        *load += unused;
    }
    unused
}
