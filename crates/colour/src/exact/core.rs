//! The core of a problem: the classes that can still move once the prices are nearly right.
//!
//! With prices from a sample, nearly every class has one colour that is cheaper than all others by far more than
//! the prices are off. Only the others, the core, are solved as a network; the rest keep their cheapest colour.
//! That the rest was right to stay is checked under the core's prices, class by class; where it was not, the core
//! grows. So the answer is an optimum of the whole, whatever was left out on the way.

use fearless_simd::{Level, dispatch};
use rayon::prelude::*;

use super::{
    arcs::Splits,
    costs::{Costs, FORBIDDEN},
    transport::Network,
};
use crate::problem::{MatchError, Report};

/// A solved level: colours per class, unused stock per colour, and prices that prove it.
pub(super) struct Solved {
    pub(super) main: Vec<u16>,
    pub(super) splits: Splits,
    pub(super) unused: Vec<u64>,
    pub(super) prices: Vec<i64>,
}

/// Below so many classes the whole network is as fast.
const WORTH_IT: usize = 4_096;

/// The first core holds one class in so many; each further one twice as many.
const FIRST_SHARE: usize = 24;

/// Classes looked at in one go by one thread.
const PART: usize = 1_024;

/// Solves a level from prices that may be nearly right; `None` when its stock does not suffice.
pub(super) fn solve(
    costs: &Costs,
    counts: &[u32],
    stock: &[u64],
    mut prices: Vec<i64>,
    last: bool,
    report: Report<'_>,
) -> Result<Option<Solved>, MatchError> {
    let active = counts.par_iter().filter(|&&n| n > 0).count();
    let mut size = if prices.iter().all(|&p| p == 0) { active } else { active / FIRST_SHARE };
    while active > WORTH_IT && size < active / 4 * 3 {
        let nearest = Nearest::all(costs, counts, &prices);
        let core = nearest.closest_calls(size);
        size *= 2;
        let Some(rest) = nearest.stock_left(counts, stock, &core) else { continue };
        let rows = costs.pick(&core);
        let core_counts: Vec<u32> = core.iter().map(|&c| counts[c as usize]).collect();
        let mut network = Network::new(&rows, &core_counts, rest, prices.clone());
        if !network.run(last, report)? {
            continue;
        }
        prices.clone_from(network.prices());
        if nearest.still_right(costs, counts, &core, &prices) {
            return Ok(Some(nearest.with_core(&core, network)));
        }
    }
    let mut network = Network::new(costs, counts, stock.to_vec(), prices);
    let whole = network.run(last, report)?;
    Ok(whole.then(|| network.into_solved()))
}

/// The cheapest colour of each class under some prices, and by how much it is cheaper than the next.
struct Nearest {
    colour: Vec<u16>,
    margin: Vec<i64>,
}

impl Nearest {
    fn all(costs: &Costs, counts: &[u32], prices: &[i64]) -> Self {
        let (mut colour, mut margin) = (vec![0; counts.len()], vec![i64::MAX; counts.len()]);
        let vectors = Level::new();
        let parts = colour.par_chunks_mut(PART).zip(margin.par_chunks_mut(PART)).zip(counts.par_chunks(PART));
        parts.enumerate().for_each(|(part, ((colour, margin), counts))| {
            dispatch!(vectors, _ => two_cheapest(costs, (part * PART, counts), prices, (colour, margin)));
        });
        Self { colour, margin }
    }

    /// At least `size` classes with the least margins, all of equal margin together; ascending.
    fn closest_calls(&self, size: usize) -> Vec<u32> {
        let mut margins = self.margin.clone();
        let (_, &mut limit, _) = margins.select_nth_unstable(size.min(self.margin.len() - 1));
        (0..self.margin.len() as u32).filter(|&c| self.margin[c as usize] <= limit).collect()
    }

    /// What the classes outside the core leave of the stock; `None` when they take more of a colour than there is.
    fn stock_left(&self, counts: &[u32], stock: &[u64], core: &[u32]) -> Option<Vec<u64>> {
        let mut taken = vec![0u64; stock.len()];
        for (&colour, &count) in self.colour.iter().zip(counts) {
            taken[usize::from(colour)] += u64::from(count);
        }
        for &class in core {
            taken[usize::from(self.colour[class as usize])] -= u64::from(counts[class as usize]);
        }
        stock.iter().zip(&taken).map(|(stock, taken)| stock.checked_sub(*taken)).collect()
    }

    /// Whether each class outside the core still has its cheapest colour under new prices.
    fn still_right(&self, costs: &Costs, counts: &[u32], core: &[u32], prices: &[i64]) -> bool {
        let mut inside = vec![false; counts.len()];
        core.iter().for_each(|&c| inside[c as usize] = true);
        (0..counts.len()).into_par_iter().with_min_len(1_024).all(|class| {
            if inside[class] || counts[class] == 0 {
                return true;
            }
            let row = costs.row(class);
            let own = usize::from(self.colour[class]);
            let paid = i64::from(row[own]) + prices[own];
            row.iter().zip(prices).all(|(&cost, &price)| cost == FORBIDDEN || i64::from(cost) + price >= paid)
        })
    }

    /// The whole level: the rest at its cheapest colours, the core as the network has it.
    fn with_core(self, core: &[u32], network: Network<'_>) -> Solved {
        let Solved { main, splits, unused, prices } = network.into_solved();
        let mut all = self.colour;
        for (&class, &colour) in core.iter().zip(&main) {
            all[class as usize] = colour;
        }
        let splits = splits.into_iter().map(|(place, split)| (core[place as usize], split)).collect();
        Solved { main: all, splits, unused, prices }
    }
}

/// The cheapest colour and its margin for the classes from `first` on that have a count.
#[inline(always)]
fn two_cheapest(
    costs: &Costs,
    (first, counts): (usize, &[u32]),
    prices: &[i64],
    (colour, margin): (&mut [u16], &mut [i64]),
) {
    let mut priced = vec![0; prices.len()];
    for (place, _) in counts.iter().enumerate().filter(|(_, count)| **count > 0) {
        for ((priced, &cost), &price) in priced.iter_mut().zip(costs.row(first + place)).zip(prices) {
            *priced = if cost == FORBIDDEN { i64::MAX } else { i64::from(cost) + price };
        }
        let least = |priced: &[i64]| priced.iter().fold(i64::MAX, |least, &p| least.min(p));
        let best = least(&priced);
        let cheapest = priced.iter().position(|&p| p == best).unwrap_or(0);
        priced[cheapest] = i64::MAX;
        colour[place] = cheapest as u16;
        margin[place] = least(&priced).saturating_sub(best);
    }
}

/// The least prices that prove the optimum.
///
/// One more piece of colour k is one more unused piece: it may stay or take any way from any colour j to k.
/// What it saves at best is the price, so the price falls by the shortest way that starts at j with the price of j.
/// The ways are those between colours: from u to v the least extra cost of any class at u, 0 for unused stock.
pub(super) fn lower_prices(costs: &Costs, counts: &[u32], solved: &mut Solved) {
    let colours = solved.prices.len();
    let least = solved.prices.iter().copied().min().unwrap_or(0);
    solved.prices.iter_mut().for_each(|p| *p -= least);
    let extra = extra_costs(costs, counts, solved, colours);
    let mut distance = solved.prices.clone();
    let mut settled = vec![false; colours];
    while let Some(u) = (0..colours).filter(|&u| !settled[u]).min_by_key(|&u| distance[u]) {
        settled[u] = true;
        for v in (0..colours).filter(|&v| extra[u * colours + v] != FORBIDDEN) {
            let length =
                distance[u] + i64::from(extra[u * colours + v]) + solved.prices[v] - solved.prices[u];
            distance[v] = distance[v].min(length);
        }
    }
    solved.prices.iter_mut().zip(&distance).for_each(|(price, distance)| *price -= distance);
}

/// From each colour u to each v the least extra cost of a class at u; `FORBIDDEN` where none may go.
fn extra_costs(costs: &Costs, counts: &[u32], solved: &Solved, colours: usize) -> Vec<i32> {
    let smaller = |mut a: Vec<i32>, b: Vec<i32>| {
        a.iter_mut().zip(&b).for_each(|(a, b)| *a = (*a).min(*b));
        a
    };
    let none = || vec![FORBIDDEN; colours * colours];
    // Each part keeps a table of its own, so that the parts must be few where there are many colours.
    let part = counts.len().div_ceil(8).max(1);
    let vectors = Level::new();
    let mut least = counts
        .par_chunks(part)
        .enumerate()
        .map(|(number, counts)| {
            let mut least = none();
            dispatch!(vectors, _ => lower_to_extras(&mut least, costs, (number * part, counts), solved));
            least
        })
        .reduce(none, smaller);
    for u in (0..colours).filter(|&u| solved.unused[u] > 0) {
        least[u * colours..(u + 1) * colours].iter_mut().for_each(|extra| *extra = (*extra).min(0));
    }
    least
}

/// Lowers the table of [`extra_costs`] to what the classes from `first` on that have a count allow.
#[inline(always)]
fn lower_to_extras(least: &mut [i32], costs: &Costs, (first, counts): (usize, &[u32]), solved: &Solved) {
    let mut splits = solved.splits.range(first as u32..).peekable();
    for (class, _) in (first as u32..).zip(counts).filter(|(_, count)| **count > 0) {
        let row = costs.row(class as usize);
        let mut lower = |u: u16| {
            let u = usize::from(u);
            for (least, &cost) in least[u * row.len()..(u + 1) * row.len()].iter_mut().zip(row) {
                *least = (*least).min(if cost == FORBIDDEN { FORBIDDEN } else { cost - row[u] });
            }
        };
        match splits.next_if(|(split, _)| **split == class) {
            Some((_, split)) => split.iter().for_each(|&(u, _)| lower(u)),
            None => lower(solved.main[class as usize]),
        }
    }
}
