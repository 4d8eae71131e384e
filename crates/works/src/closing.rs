//! In which order the gaps are closed at the end, so that the least is at risk.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::parts::Roots;

/// What is at risk.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Risk {
    /// Somebody knocks a piece while closing a gap: all that the gap joins falls. Loss of a closing: pieces joined.
    Hands,
    /// Anybody knocks any piece while the crew goes on: loss of the time until the next closing: Σ of squared parts.
    Waiting,
}

/// An order of closing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closing {
    /// The gaps by their index, first to close first.
    pub order: Vec<u32>,
    /// The loss that goes with each of them, in the same order.
    pub loss: Vec<u64>,
    /// All losses together.
    pub total: u64,
    /// True when no order has a smaller total.
    pub exact: bool,
}

/// Gaps up to which all orders are compared, by their sets.
const ALL: usize = 15;
/// Sides of all gaps times the number of sets up to which all orders are compared.
const SIDES: usize = 2_000_000;
/// Gaps of a line up to which the order is found by merging lists, which takes time by the square of them.
const MERGED: usize = 4_000;

/// The order of closing the gaps between neighbouring parts of a line, gap i lying between part i and part i + 1.
///
/// For [`Risk::Hands`] this is optimal: closing is merging neighbours at the cost of their sum, that is an optimal
/// alphabetic tree, found as A. M. Garsia and M. L. Wachs did (1977). For [`Risk::Waiting`] see [`closing_order`].
pub fn closing_line(sizes: &[u64], risk: Risk) -> Closing {
    let gaps: Vec<Vec<u32>> = (1..sizes.len() as u32).map(|i| vec![i - 1, i]).collect();
    if risk == Risk::Waiting || gaps.len() <= ALL || gaps.len() > MERGED {
        return closing_order(sizes, &gaps, risk);
    }
    let order = merge_order(&alphabetic_levels(sizes));
    replay(sizes, &gaps, order, (risk, true))
}

/// The order of closing gaps, each of which joins some parts. Optimal up to 15 gaps between few parts (all sets of closed
/// gaps are compared); for more, next always comes the one that adds least: the smallest joined size for [`Risk::Hands`], the
/// smallest growth of Σ L² (twice the product of its two sides) for [`Risk::Waiting`].
///
/// Parts beyond the last one are left out. A gap that joins no two parts costs nothing more and stays in.
pub fn closing_order(sizes: &[u64], gaps: &[Vec<u32>], risk: Risk) -> Closing {
    let sides: usize = gaps.iter().map(Vec::len).sum();
    let exact = gaps.len() <= ALL && sides << gaps.len() <= SIDES;
    let order = if exact { best_order(sizes, gaps, risk) } else { greedy_order(sizes, gaps, risk) };
    replay(sizes, gaps, order, (risk, exact))
}

/// Only the parts that a gap joins, numbered anew; the others are the same in every order.
fn beside(sizes: &[u64], gaps: &[Vec<u32>]) -> (Vec<u64>, Vec<Vec<u32>>) {
    let mut known: Vec<u32> =
        gaps.iter().flatten().copied().filter(|&p| (p as usize) < sizes.len()).collect();
    known.sort_unstable();
    known.dedup();
    let number = |p: &u32| known.binary_search(p).ok().map(|i| i as u32);
    let gaps = gaps.iter().map(|gap| gap.iter().filter_map(number).collect()).collect();
    (known.iter().map(|&p| sizes[p as usize]).collect(), gaps)
}

/// Parts that were joined, with their sizes.
struct Joined {
    root: Roots,
    size: Vec<u64>,
    squares: u64,
}

impl Joined {
    fn of(sizes: &[u64]) -> Self {
        let squares = sizes.iter().fold(0_u64, |sum, s| sum.saturating_add(s.saturating_mul(*s)));
        Self { root: Roots::new(sizes.len()), size: sizes.to_vec(), squares }
    }

    /// The different parts that a gap joins, as they are now.
    fn sides(&mut self, gap: &[u32]) -> Vec<u32> {
        let known = gap.iter().filter(|&&p| (p as usize) < self.size.len());
        let mut sides: Vec<u32> = known.map(|&p| self.root.of(p)).collect();
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    /// What closing a gap would lose, and by how much it would make the squares grow.
    fn cost(&mut self, gap: &[u32]) -> (u64, u64) {
        let sides = self.sides(gap);
        let sum = sides.iter().fold(0_u64, |sum, &s| sum.saturating_add(self.size[s as usize]));
        let squares = |s: u64| s.saturating_mul(s);
        let before = sides.iter().fold(0_u64, |sum, &s| sum.saturating_add(squares(self.size[s as usize])));
        (sum, squares(sum).saturating_sub(before))
    }

    fn close(&mut self, gap: &[u32]) {
        let (sum, growth) = self.cost(gap);
        self.squares = self.squares.saturating_add(growth);
        let sides = self.sides(gap);
        for pair in sides.windows(2) {
            self.root.join(pair[0], pair[1]);
        }
        if let Some(&s) = sides.first() {
            let root = self.root.of(s);
            self.size[root as usize] = sum;
        }
    }

    fn loss(&mut self, gap: &[u32], risk: Risk) -> u64 {
        let (sum, growth) = self.cost(gap);
        match risk {
            Risk::Hands => sum,
            Risk::Waiting => self.squares.saturating_add(growth),
        }
    }
}

fn replay(sizes: &[u64], gaps: &[Vec<u32>], order: Vec<u32>, (risk, exact): (Risk, bool)) -> Closing {
    let mut joined = Joined::of(sizes);
    let mut loss = Vec::with_capacity(order.len());
    for &g in &order {
        loss.push(joined.loss(&gaps[g as usize], risk));
        joined.close(&gaps[g as usize]);
    }
    let total = loss.iter().fold(0_u64, |sum, l| sum.saturating_add(*l));
    Closing { order, loss, total, exact }
}

/// The best order by the sets of gaps that are closed: the least loss of each set from those with one gap fewer.
fn best_order(sizes: &[u64], gaps: &[Vec<u32>], risk: Risk) -> Vec<u32> {
    let (sizes, gaps) = beside(sizes, gaps);
    let (sizes, gaps) = (&sizes[..], &gaps[..]);
    let all = 1_usize << gaps.len();
    let mut best = vec![(u64::MAX, 0_u32); all];
    best[0].0 = 0;
    for set in 0..all {
        let mut joined = Joined::of(sizes);
        (0..gaps.len()).filter(|g| set >> g & 1 == 1).for_each(|g| joined.close(&gaps[g]));
        for g in (0..gaps.len()).filter(|g| set >> g & 1 == 0) {
            let total = best[set].0.saturating_add(joined.loss(&gaps[g], risk));
            let next = set | 1 << g;
            if total < best[next].0 {
                best[next] = (total, g as u32);
            }
        }
    }
    let (mut set, mut order) = (all - 1, Vec::new());
    while set != 0 {
        let g = best[set].1;
        order.push(g);
        set &= !(1 << g);
    }
    order.reverse();
    order
}

/// Always the gap that adds least next, the earlier one among equals. Gaps are looked at again when a part beside them
/// grew.
fn greedy_order(sizes: &[u64], gaps: &[Vec<u32>], risk: Risk) -> Vec<u32> {
    let mut joined = Joined::of(sizes);
    let key = |joined: &mut Joined, g: usize| {
        let (sum, growth) = joined.cost(&gaps[g]);
        if risk == Risk::Hands { sum } else { growth }
    };
    // Sides only grow, and with them what a gap adds: an entry that is too small is put back with what it is now.
    let mut heap: std::collections::BinaryHeap<_> =
        (0..gaps.len()).map(|g| Reverse((key(&mut joined, g), g as u32))).collect();
    let mut order = Vec::with_capacity(gaps.len());
    while let Some(Reverse((was, g))) = heap.pop() {
        let now = key(&mut joined, g as usize);
        if now > was {
            heap.push(Reverse((now, g)));
            continue;
        }
        joined.close(&gaps[g as usize]);
        order.push(g);
    }
    order
}

/// The level of each leaf in an optimal alphabetic tree: the first part of Garsia and Wachs. The first three with the
/// left one not above the right one are found, the left two are merged, and the sum is put back behind the next larger
/// one on its left.
fn alphabetic_levels(sizes: &[u64]) -> Vec<u32> {
    let mut nodes: Vec<Option<(usize, usize)>> = vec![None; sizes.len()];
    let mut list: Vec<(u64, usize)> = sizes.iter().copied().zip(0..).collect();
    let mut at = 1;
    while list.len() > 1 {
        let value = |list: &[(u64, usize)], i: usize| list.get(i).map_or(u64::MAX, |n| n.0);
        while value(&list, at - 1) > value(&list, at + 1) {
            at += 1;
        }
        let (left, right) = (list[at - 1], list[at]);
        let sum = left.0.saturating_add(right.0);
        nodes.push(Some((left.1, right.1)));
        list.drain(at - 1..=at);
        let place = list[..at - 1].iter().rposition(|n| n.0 >= sum).map_or(0, |i| i + 1);
        list.insert(place, (sum, nodes.len() - 1));
        // What lies before stays in order; the search goes on where the sum may have broken it.
        at = place.saturating_sub(1).max(1);
    }
    let mut level = vec![0; nodes.len()];
    for i in (0..nodes.len()).rev() {
        if let Some((a, b)) = nodes[i] {
            level[a] = level[i] + 1;
            level[b] = level[i] + 1;
        }
    }
    level.truncate(sizes.len());
    level
}

/// The gaps in the order in which a tree of these levels merges neighbours, deep ones first from the left.
fn merge_order(levels: &[u32]) -> Vec<u32> {
    // Open subtrees: their level and the last leaf.
    let mut stack: Vec<(u32, u32)> = Vec::new();
    let mut order = Vec::new();
    for (leaf, &level) in levels.iter().enumerate() {
        stack.push((level, leaf as u32));
        while let [.., a, b] = stack[..]
            && a.0 == b.0
        {
            order.push(a.1);
            stack.truncate(stack.len() - 2);
            stack.push((a.0 - 1, b.1));
        }
    }
    order
}

/// The order of closing for the open safety gaps of a plan that is built as far as `built` says.
///
/// Parts are what hangs together while the gaps are open, whichever way it falls; a gap joins all parts that end at it.
/// The gaps are returned as (item, index in its list) with the order that refers to them.
pub fn closing_of_plan(
    plan: &plan::Plan,
    network: &fall::Network,
    risk: Risk,
) -> (Vec<(plan::ItemId, u32)>, Closing) {
    let mut names = Vec::new();
    let mut of_item = BTreeMap::<plan::ItemId, Vec<(plan::SafetyGap, u32)>>::new();
    for item in &plan.items {
        for (i, gap) in item.gaps.iter().enumerate() {
            let list = of_item.entry(item.id).or_default();
            list.push((*gap, names.len() as u32));
            names.push((item.id, i as u32));
        }
    }
    let gap_of = |piece: u32| -> Option<u32> {
        let id = network.piece_id(piece)?;
        let list = of_item.get(&id.item)?;
        list.iter().find(|(gap, _)| gap.leaves_out(id.rank)).map(|g| g.1)
    };
    let pieces = network.pieces();
    let gap: Vec<Option<u32>> = (0..pieces).map(gap_of).collect();
    let mut root = Roots::new(pieces as usize);
    let mut beside: Vec<Vec<u32>> = vec![Vec::new(); names.len()];
    for s in 0..2 * pieces {
        for edge in network.edges(s) {
            let (a, b) = (s / 2, edge.to / 2);
            match (gap[a as usize], gap[b as usize]) {
                (None, None) => root.join(a, b),
                (Some(g), None) => beside[g as usize].push(b),
                (None, Some(g)) => beside[g as usize].push(a),
                _ => {}
            }
        }
    }
    let built = fall::Built { items: None, gaps_open: true };
    for across in fall::openings(plan, network, &built).iter().filter(|a| a.holds != fall::Holds::Surely) {
        root.join(across.from / 2, across.to / 2);
    }
    let mut number = BTreeMap::new();
    let mut sizes = Vec::new();
    for p in (0..pieces).filter(|&p| gap[p as usize].is_none()) {
        let part = *number.entry(root.of(p)).or_insert_with(|| {
            sizes.push(0_u64);
            sizes.len() - 1
        });
        sizes[part] += 1;
    }
    let joins: Vec<Vec<u32>> = beside
        .into_iter()
        .map(|list| {
            let mut parts: Vec<u32> =
                list.into_iter().filter_map(|p| number.get(&root.of(p)).map(|&n| n as u32)).collect();
            parts.sort_unstable();
            parts.dedup();
            parts
        })
        .collect();
    let closing = closing_order(&sizes, &joins, risk);
    (names, closing)
}
