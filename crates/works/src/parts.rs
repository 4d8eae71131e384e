//! Where to leave gaps in a network: parts that fall together, against the price of the gaps between them.

use std::collections::{BTreeMap, BinaryHeap};

use rayon::prelude::*;

use crate::tree::{self, Tie};

/// A place where a gap is possible, between two nodes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// One side.
    pub a: u32,
    /// The other side.
    pub b: u32,
    /// What leaving it open costs, in the unit of squared weights.
    pub price: u64,
}

/// A network of nodes, each of which falls whole, and the places between them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Parts {
    /// Pieces in each node.
    pub weight: Vec<u32>,
    /// Places where a gap is possible; several between the same two nodes must all be open to part them.
    pub places: Vec<Place>,
}

/// Which places to leave open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cuts {
    /// Σ over parts of the squared weight, and the prices of all open places.
    pub cost: u64,
    /// The open places by their index, in order.
    pub open: Vec<u32>,
    /// The part of each node; parts are numbered by their first node.
    pub part: Vec<u32>,
    /// True when no better choice exists; false where the network has loops or is very heavy. There the choice was equal
    /// to the best one in all small networks that were tried out by brute force.
    pub exact: bool,
}

/// Starts of the search where it is not exact.
const STARTS: u64 = 20;
/// Rounds in which single nodes move, at most.
const ROUNDS: usize = 60;

/// The places to leave open for the least Σ W² and prices. Exact for networks without loops of up to 6 000 pieces in
/// all (scale the weights for more); otherwise the best of 20 searches that join what saves most and then move single
/// nodes, and of one that first cuts the loops' surroundings exactly. The same for any number of threads.
///
/// Places that name nodes beyond the last one are left out.
pub fn gaps_on_network(parts: &Parts) -> Cuts {
    let ties = ties(parts);
    if let Some(part) = tree::cut(parts, &ties) {
        return finish(parts, &part, true);
    }
    let near = near(parts.weight.len(), &ties);
    let mut starts: Vec<u64> = (0..STARTS).collect();
    starts.push(u64::MAX);
    let run = |&seed: &u64| {
        let mut part = match seed {
            u64::MAX => cut_around_loops(parts, &ties).unwrap_or_else(|| join(parts, &ties, 0)),
            seed => join(parts, &ties, seed),
        };
        move_nodes(parts, &near, &mut part);
        finish(parts, &part, false)
    };
    let found: Vec<Cuts> = starts.par_iter().map(run).collect();
    let best = found.into_iter().min_by_key(|c| c.cost);
    best.unwrap_or_else(|| finish(parts, &[], false))
}

/// Places between the same two nodes as one, in order.
fn ties(parts: &Parts) -> Vec<Tie> {
    let n = parts.weight.len() as u32;
    let mut sums = BTreeMap::<(u32, u32), u64>::new();
    for p in parts.places.iter().filter(|p| p.a != p.b && p.a < n && p.b < n) {
        let sum = sums.entry((p.a.min(p.b), p.a.max(p.b))).or_default();
        *sum = sum.saturating_add(p.price.min(1 << 50));
    }
    sums.into_iter().map(|((a, b), price)| Tie { a, b, price }).collect()
}

fn near(n: usize, ties: &[Tie]) -> Vec<Vec<(u32, u64)>> {
    let mut near = vec![Vec::new(); n];
    for t in ties {
        near[t.a as usize].push((t.b, t.price));
        near[t.b as usize].push((t.a, t.price));
    }
    near
}

/// Parts are what hangs together without a place between different names.
fn finish(parts: &Parts, name: &[u32], exact: bool) -> Cuts {
    let n = parts.weight.len();
    let sound = |p: &&Place| (p.a as usize) < n && (p.b as usize) < n;
    let mut root = Roots::new(n);
    for p in parts.places.iter().filter(sound) {
        if name[p.a as usize] == name[p.b as usize] {
            root.join(p.a, p.b);
        }
    }
    let part: Vec<u32> = (0..n as u32).map(|v| root.of(v)).collect();
    let mut weight = vec![0_u64; n];
    part.iter().zip(&parts.weight).for_each(|(&p, &w)| weight[p as usize] += u64::from(w));
    let mut cost: u64 = weight.iter().map(|w| w * w).sum();
    let mut open = Vec::new();
    for (i, p) in parts.places.iter().enumerate() {
        if sound(&p) && part[p.a as usize] != part[p.b as usize] {
            open.push(i as u32);
            cost = cost.saturating_add(p.price);
        }
    }
    Cuts { cost, open, part, exact }
}

/// Sets of nodes, named by their first one.
pub(crate) struct Roots(Vec<u32>);

impl Roots {
    pub(crate) fn new(n: usize) -> Self {
        Self((0..n as u32).collect())
    }

    pub(crate) fn of(&mut self, mut v: u32) -> u32 {
        while self.0[v as usize] != v {
            self.0[v as usize] = self.0[self.0[v as usize] as usize];
            v = self.0[v as usize];
        }
        v
    }

    pub(crate) fn join(&mut self, a: u32, b: u32) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b) as usize] = a.min(b);
    }
}

/// Starts with every place open and joins, again and again, the two parts whose joining saves most: the prices
/// between them less 2 A B. Seeds other than 0 blur the savings, so that each start goes another way.
fn join(parts: &Parts, ties: &[Tie], seed: u64) -> Vec<u32> {
    let n = parts.weight.len();
    let mut weight: Vec<u64> = parts.weight.iter().map(|&w| u64::from(w)).collect();
    let mut near: Vec<BTreeMap<u32, u64>> = vec![BTreeMap::new(); n];
    for t in ties {
        near[t.a as usize].insert(t.b, t.price);
        near[t.b as usize].insert(t.a, t.price);
    }
    let (mut root, mut random) = (Roots::new(n), Random(seed));
    let mut version = vec![0_u32; n];
    let mut heap = BinaryHeap::new();
    let mut push =
        |heap: &mut BinaryHeap<_>, weight: &[u64], version: &[u32], (a, b, price): (u32, u32, u64)| {
            let joined = 2 * weight[a as usize] * weight[b as usize];
            if price > joined {
                let saved = random.blur(price - joined, seed);
                heap.push((saved, std::cmp::Reverse((a, b)), version[a as usize], version[b as usize]));
            }
        };
    for t in ties {
        push(&mut heap, &weight, &version, (t.a, t.b, t.price));
    }
    while let Some((_, std::cmp::Reverse((a, b)), va, vb)) = heap.pop() {
        if version[a as usize] != va || version[b as usize] != vb || root.of(a) != a || root.of(b) != b {
            continue;
        }
        root.join(a, b);
        let (keep, gone) = (a.min(b), a.max(b));
        weight[keep as usize] += weight[gone as usize];
        version[keep as usize] += 1;
        version[gone as usize] += 1;
        for (other, price) in std::mem::take(&mut near[gone as usize]) {
            near[other as usize].remove(&gone);
            if other != keep {
                *near[keep as usize].entry(other).or_default() += price;
                *near[other as usize].entry(keep).or_default() += price;
            }
        }
        for (&other, &price) in &near[keep as usize] {
            push(&mut heap, &weight, &version, (keep.min(other), keep.max(other), price));
        }
    }
    (0..n as u32).map(|v| root.of(v)).collect()
}

/// Numbers that look random, the same for the same seed (`splitmix64`, public domain).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// The value times 0.5 to 1.5; the value itself for seed 0.
    fn blur(&mut self, value: u64, seed: u64) -> u64 {
        if seed == 0 { value } else { value / 2 + (value >> 10).saturating_mul(self.next() % 1_024) }
    }
}

/// Moves single nodes to a neighbouring part, or to one of their own, and joins parts, as long as that saves.
fn move_nodes(parts: &Parts, near: &[Vec<(u32, u64)>], part: &mut [u32]) {
    let n = part.len();
    let mut weight = vec![0_i128; 2 * n];
    part.iter().zip(&parts.weight).for_each(|(&p, &w)| weight[p as usize] += i128::from(w));
    // Names for parts of one node: n + node, so that they are free.
    for _ in 0..ROUNDS {
        let mut moved = false;
        for v in 0..n {
            let (own, w) = (part[v] as usize, i128::from(parts.weight[v]));
            let mut price = BTreeMap::<usize, i128>::new();
            for &(u, p) in &near[v] {
                *price.entry(part[u as usize] as usize).or_default() += i128::from(p);
            }
            let kept = price.get(&own).copied().unwrap_or(0);
            let leave = kept - 2 * w * (weight[own] - w);
            // A part of its own, if it is not that already.
            let alone = (leave < 0).then_some((leave, n + v)).filter(|_| weight[n + v] == 0);
            let joins = price.iter().filter(|(p, _)| **p != own);
            let best = joins.map(|(&p, &saved)| (leave + 2 * w * weight[p] - saved, p)).chain(alone).min();
            if let Some((change, to)) = best
                && change < 0
            {
                weight[own] -= w;
                weight[to] += w;
                part[v] = to as u32;
                moved = true;
            }
        }
        moved |= join_parts(near, part, &mut weight);
        if !moved {
            return;
        }
    }
}

/// Joins the first pairs of parts that cost more apart than together.
fn join_parts(near: &[Vec<(u32, u64)>], part: &mut [u32], weight: &mut [i128]) -> bool {
    let mut between = BTreeMap::<(u32, u32), i128>::new();
    for v in 0..part.len() {
        for &(u, p) in &near[v] {
            if part[v] < part[u as usize] {
                *between.entry((part[v], part[u as usize])).or_default() += i128::from(p);
            }
        }
    }
    let (mut to, mut joined) = (BTreeMap::new(), false);
    for ((a, b), price) in between {
        if price > 2 * weight[a as usize] * weight[b as usize] && !to.contains_key(&a) && !to.contains_key(&b)
        {
            weight[a as usize] += weight[b as usize];
            weight[b as usize] = 0;
            to.insert(b, a);
            to.insert(a, a);
            joined = true;
        }
    }
    part.iter_mut().for_each(|p| *p = to.get(p).copied().unwrap_or(*p));
    joined
}

/// Takes each set of nodes that no single place parts as one node; what is left is a forest and is cut exactly.
fn cut_around_loops(parts: &Parts, ties: &[Tie]) -> Option<Vec<u32>> {
    let n = parts.weight.len();
    let bridge = bridges(n, ties);
    let mut root = Roots::new(n);
    for (t, _) in ties.iter().zip(&bridge).filter(|(_, b)| !**b) {
        root.join(t.a, t.b);
    }
    let mut whole = Parts { weight: vec![0; n], places: Vec::new() };
    for v in 0..n as u32 {
        let w = &mut whole.weight[root.of(v) as usize];
        *w = w.saturating_add(parts.weight[v as usize]);
    }
    let mut outer = Vec::new();
    for (t, _) in ties.iter().zip(&bridge).filter(|(_, b)| **b) {
        outer.push(Tie { a: root.of(t.a), b: root.of(t.b), price: t.price });
    }
    let part = tree::cut(&whole, &outer)?;
    Some((0..n as u32).map(|v| part[root.of(v) as usize]).collect())
}

/// For each tie whether it alone connects its two sides (lowest reached place in a depth-first search, with a stack of its
/// own).
fn bridges(n: usize, ties: &[Tie]) -> Vec<bool> {
    let mut near = vec![Vec::new(); n];
    for (i, t) in ties.iter().enumerate() {
        near[t.a as usize].push((t.b as usize, i));
        near[t.b as usize].push((t.a as usize, i));
    }
    let (mut seen, mut low) = (vec![0_usize; n], vec![0_usize; n]);
    let (mut bridge, mut clock) = (vec![false; ties.len()], 0);
    for root in 0..n {
        if seen[root] != 0 {
            continue;
        }
        clock += 1;
        (seen[root], low[root]) = (clock, clock);
        let mut path = vec![(root, usize::MAX, 0)];
        while let Some(&mut (v, by, ref mut at)) = path.last_mut() {
            if let Some(&(w, tie)) = near[v].get(*at) {
                *at += 1;
                if tie == by {
                } else if seen[w] == 0 {
                    clock += 1;
                    (seen[w], low[w]) = (clock, clock);
                    path.push((w, tie, 0));
                } else {
                    low[v] = low[v].min(seen[w]);
                }
                continue;
            }
            path.pop();
            if let Some(&(parent, ..)) = path.last() {
                low[parent] = low[parent].min(low[v]);
                bridge[by] = low[v] == seen[v];
            }
        }
    }
    bridge
}
