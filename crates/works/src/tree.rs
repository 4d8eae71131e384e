//! The best cuts in networks without loops, exact, by weights carried up from the ends.

use crate::parts::Parts;

/// Weight of all nodes together up to which the exact way is taken; it needs time and memory by its square.
pub(crate) const MOST: u64 = 6_000;

const NEVER: u64 = u64::MAX / 4;

/// A tie between two nodes with the price of cutting it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tie {
    pub(crate) a: u32,
    pub(crate) b: u32,
    pub(crate) price: u64,
}

/// For each node the part it belongs to, if the ties form no loop and the weights are not too large. Each part is
/// named by one of its nodes.
///
/// For each node and each weight of the part that is still open above it, the least cost below is kept; a child is
/// merged by cutting it off or by joining its open part. Smaller into larger, all merges together take time by the
/// square of the whole weight.
pub(crate) fn cut(parts: &Parts, ties: &[Tie]) -> Option<Vec<u32>> {
    let weight: u64 = parts.weight.iter().map(|&w| u64::from(w)).sum();
    if weight > MOST {
        return None;
    }
    let order = Order::of(parts.weight.len(), ties)?;
    let n = parts.weight.len();
    let mut least: Vec<Vec<u64>> = parts.weight.iter().map(|&w| single(w as usize)).collect();
    // For each node that is not a root: the share of its open part for each weight of the parent's.
    let mut share: Vec<Vec<u16>> = vec![Vec::new(); n];
    // The open weight of each node's part if it is cut off above.
    let mut closed_at = vec![0; n];
    for &v in order.down.iter().rev() {
        let Some((parent, price)) = order.up[v as usize] else { continue };
        let child = std::mem::take(&mut least[v as usize]);
        let own = std::mem::take(&mut least[parent as usize]);
        let (merged, shares) = merge(&own, &child, price);
        least[parent as usize] = merged;
        share[v as usize] = shares;
        closed_at[v as usize] = closed(&child).1;
    }
    for &v in order.down.iter().filter(|&&v| order.up[v as usize].is_none()) {
        closed_at[v as usize] = closed(&least[v as usize]).1;
    }
    Some(give_back(&order, &closed_at, &share))
}

fn single(weight: usize) -> Vec<u64> {
    let mut least = vec![NEVER; weight + 1];
    least[weight] = 0;
    least
}

/// The least cost closed, and the open weight at which it is reached.
fn closed(least: &[u64]) -> (u64, usize) {
    let cost = |(w, &c): (usize, &u64)| (c.saturating_add((w * w) as u64), w);
    least.iter().enumerate().map(cost).min().unwrap_or((0, 0))
}

/// Share of a child that is cut off.
const CUT: u16 = u16::MAX;

fn merge(own: &[u64], child: &[u64], price: u64) -> (Vec<u64>, Vec<u16>) {
    let mut merged = vec![NEVER; own.len() + child.len() - 1];
    let mut share = vec![CUT; merged.len()];
    let cut = closed(child).0.saturating_add(price);
    for (w, &c) in own.iter().enumerate().filter(|&(_, &c)| c < NEVER) {
        merged[w] = c.saturating_add(cut);
    }
    for (w, &c) in own.iter().enumerate().filter(|&(_, &c)| c < NEVER) {
        for (v, &d) in child.iter().enumerate().filter(|&(_, &d)| d < NEVER) {
            if c + d < merged[w + v] {
                merged[w + v] = c + d;
                share[w + v] = v as u16;
            }
        }
    }
    (merged, share)
}

/// Walks down again: which child joins its parent's part.
fn give_back(order: &Order, closed_at: &[usize], share: &[Vec<u16>]) -> Vec<u32> {
    let n = order.up.len();
    let mut part: Vec<u32> = (0..n as u32).collect();
    // The open weight of a node's part, as far as its children are not given back yet.
    let mut open = closed_at.to_vec();
    for &v in &order.down {
        // The child that was merged last comes first in `down`.
        for &c in &order.children[v as usize] {
            let taken = share[c as usize][open[v as usize]];
            if taken != CUT {
                part[c as usize] = part[v as usize];
                open[c as usize] = usize::from(taken);
                open[v as usize] -= usize::from(taken);
            }
        }
    }
    part
}

/// A forest from its roots down.
struct Order {
    down: Vec<u32>,
    /// The parent and the price of the tie to it.
    up: Vec<Option<(u32, u64)>>,
    /// In the order of `down`.
    children: Vec<Vec<u32>>,
}

impl Order {
    /// `None` when the ties form a loop.
    fn of(n: usize, ties: &[Tie]) -> Option<Self> {
        let mut near = vec![Vec::new(); n];
        for (i, tie) in ties.iter().enumerate() {
            near[tie.a as usize].push((tie.b, i));
            near[tie.b as usize].push((tie.a, i));
        }
        let mut all = Self { down: Vec::with_capacity(n), up: vec![None; n], children: vec![Vec::new(); n] };
        let (mut seen, mut used, mut at) = (vec![false; n], vec![false; ties.len()], 0);
        for root in 0..n {
            if std::mem::replace(&mut seen[root], true) {
                continue;
            }
            all.down.push(root as u32);
            while at < all.down.len() {
                let v = all.down[at] as usize;
                at += 1;
                for &(w, tie) in &near[v] {
                    if std::mem::replace(&mut used[tie], true) {
                        continue;
                    }
                    if std::mem::replace(&mut seen[w as usize], true) {
                        return None;
                    }
                    all.up[w as usize] = Some((v as u32, ties[tie].price));
                    all.children[v].push(w);
                    all.down.push(w);
                }
            }
        }
        Some(all)
    }
}
