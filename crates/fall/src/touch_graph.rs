//! States and what topples what, condensed: chains of states, strong components, an order from the ends back.

use placement::strong_parts;

/// What topples what, in compressed rows: state `s` topples `to[first[s]..first[s + 1]]`.
///
/// State `2 p` is piece `p` falling forward, `2 p + 1` the same piece falling back. `first` holds one more entry than
/// there are states. A state may be listed twice; pieces that do not stand have no edges and are named by nobody.
#[derive(Debug, Clone, Copy)]
pub struct Graph<'a> {
    /// Where the row of each state begins, and the end of the last one.
    pub first: &'a [u32],
    /// The states that are toppled.
    pub to: &'a [u32],
}

impl<'a> Graph<'a> {
    /// Number of states.
    pub fn states(&self) -> usize {
        self.first.len().saturating_sub(1)
    }

    /// The states that one state topples.
    pub fn next(&self, state: usize) -> &'a [u32] {
        &self.to[self.first[state] as usize..self.first[state + 1] as usize]
    }
}

/// Rows of numbers of different lengths in one array.
#[derive(Debug, Clone, Default)]
pub(crate) struct Rows {
    first: Vec<u32>,
    items: Vec<u32>,
}

impl Rows {
    /// Rows from pairs (row, item), which come in the order of their rows.
    fn from_sorted(rows: usize, pairs: &[(u32, u32)]) -> Self {
        let mut first = vec![0; rows + 1];
        for &(row, _) in pairs {
            first[row as usize + 1] += 1;
        }
        for r in 0..rows {
            first[r + 1] += first[r];
        }
        Self { first, items: pairs.iter().map(|&(_, item)| item).collect() }
    }

    /// The same pairs the other way round.
    fn turned(&self, rows: usize) -> Self {
        let mut first = vec![0_u32; rows + 1];
        for &item in &self.items {
            first[item as usize + 1] += 1;
        }
        for r in 0..rows {
            first[r + 1] += first[r];
        }
        let mut at = first.clone();
        let mut items = vec![0; self.items.len()];
        for row in 0..self.len() {
            for &item in self.row(row) {
                let slot = &mut at[item as usize];
                items[*slot as usize] = row as u32;
                *slot += 1;
            }
        }
        Self { first, items }
    }

    /// Number of rows.
    pub(crate) fn len(&self) -> usize {
        self.first.len().saturating_sub(1)
    }

    /// One row.
    pub(crate) fn row(&self, row: usize) -> &[u32] {
        &self.items[self.first[row] as usize..self.first[row + 1] as usize]
    }
}

/// A graph of states condensed to knots, numbered so that each topples only knots of lower numbers.
///
/// A knot is either a chain, in which each state topples just the next one, or a strong component, whose states all
/// topple each other.
#[derive(Debug, Clone)]
pub(crate) struct Knots {
    /// The states of all knots, knot by knot; within a chain in the order of the fall.
    members: Vec<u32>,
    /// Where each knot begins in `members`.
    first: Vec<u32>,
    /// The knot of each state.
    pub(crate) of: Vec<u32>,
    /// True for chains, false for strong components of more than a chain.
    pub(crate) chain: Vec<bool>,
    /// The knots that each knot topples, without itself, each once.
    pub(crate) next: Rows,
    /// The knots that topple each knot.
    pub(crate) before: Rows,
}

impl Knots {
    /// Condenses a graph. With `even`, chains are also cut where the chain of the same pieces falling the other way
    /// ends, so that both chains hold the same pieces.
    pub(crate) fn of(graph: Graph<'_>, even: bool) -> Self {
        let mut inner = inner_states(graph);
        let mut chains = Chains::walk(graph, &inner);
        if even {
            cut_evenly(&chains, &mut inner);
            chains = Chains::walk(graph, &inner);
        }
        let component = components(graph, &chains);
        condense(graph, &chains, &component)
    }

    /// Number of knots.
    pub(crate) fn len(&self) -> usize {
        self.chain.len()
    }

    /// The states of a knot; in a chain, in the order of the fall.
    pub(crate) fn members(&self, knot: usize) -> &[u32] {
        &self.members[self.first[knot] as usize..self.first[knot + 1] as usize]
    }
}

/// True for states that one single state topples which topples nothing else.
fn inner_states(graph: Graph<'_>) -> Vec<bool> {
    let n = graph.states();
    let mut ways_in = vec![0_u8; n];
    for &t in graph.to {
        ways_in[t as usize] = (ways_in[t as usize] + 1).min(2);
    }
    let mut inner = vec![false; n];
    for s in 0..n {
        if let &[t] = graph.next(s)
            && ways_in[t as usize] == 1
        {
            inner[t as usize] = true;
        }
    }
    inner
}

/// Begins a new chain wherever the same pieces falling the other way belong to another chain.
fn cut_evenly(chains: &Chains, inner: &mut [bool]) {
    for c in 0..chains.len() {
        for pair in chains.members(c).windows(2) {
            let other = |s: u32| chains.of[(s ^ 1) as usize];
            if other(pair[0]) != other(pair[1]) {
                inner[pair[1] as usize] = false;
            }
        }
    }
}

/// Chains of states, each of which topples just the next one; every state is in one.
struct Chains {
    members: Vec<u32>,
    first: Vec<u32>,
    of: Vec<u32>,
}

const NONE: u32 = u32::MAX;

impl Chains {
    fn walk(graph: Graph<'_>, inner: &[bool]) -> Self {
        let n = graph.states();
        let mut chains = Self { members: Vec::with_capacity(n), first: vec![0], of: vec![NONE; n] };
        for s in 0..n {
            if !inner[s] {
                chains.follow(graph, inner, s);
            }
        }
        // What is left are rings in which nobody is the first: begin anywhere.
        for s in 0..n {
            if chains.of[s] == NONE {
                chains.follow(graph, inner, s);
            }
        }
        chains
    }

    fn follow(&mut self, graph: Graph<'_>, inner: &[bool], head: usize) {
        let chain = self.len() as u32;
        let mut s = head;
        loop {
            self.of[s] = chain;
            self.members.push(s as u32);
            match *graph.next(s) {
                [t] if inner[t as usize] && self.of[t as usize] == NONE => s = t as usize,
                _ => break,
            }
        }
        self.first.push(self.members.len() as u32);
    }

    fn len(&self) -> usize {
        self.first.len() - 1
    }

    fn members(&self, chain: usize) -> &[u32] {
        &self.members[self.first[chain] as usize..self.first[chain + 1] as usize]
    }

    /// The states that the last state of a chain topples.
    fn next<'a>(&self, graph: Graph<'a>, chain: usize) -> &'a [u32] {
        self.members(chain).last().map_or(&[], |&tail| graph.next(tail as usize))
    }
}

/// The strong component of each chain, numbered so that each topples only itself and lower ones.
fn components(graph: Graph<'_>, chains: &Chains) -> Vec<u32> {
    strong_parts(chains.len(), |c| chains.next(graph, c), |state| chains.of[state as usize] as usize)
}

fn condense(graph: Graph<'_>, chains: &Chains, component: &[u32]) -> Knots {
    let count = component.iter().max().map_or(0, |&m| m as usize + 1);
    let mut by_knot: Vec<(u32, u32)> = component.iter().enumerate().map(|(c, &k)| (k, c as u32)).collect();
    by_knot.sort_unstable();
    let (mut members, mut first) = (Vec::with_capacity(graph.states()), Vec::with_capacity(count + 1));
    let mut of = vec![0; graph.states()];
    let (mut chain, mut pairs) = (vec![true; count], Vec::with_capacity(chains.len()));
    let mut stamp = vec![NONE; count];
    for group in by_knot.chunk_by(|a, b| a.0 == b.0) {
        let knot = group[0].0;
        first.push(members.len() as u32);
        chain[knot as usize] = group.len() == 1;
        for &(_, c) in group {
            for &s in chains.members(c as usize) {
                of[s as usize] = knot;
                members.push(s);
            }
            for &t in chains.next(graph, c as usize) {
                let target = component[chains.of[t as usize] as usize];
                if target == knot {
                    chain[knot as usize] = false;
                } else if stamp[target as usize] != knot {
                    stamp[target as usize] = knot;
                    pairs.push((knot, target));
                }
            }
        }
    }
    first.push(members.len() as u32);
    let next = Rows::from_sorted(count, &pairs);
    let before = next.turned(count);
    Knots { members, first, of, chain, next, before }
}
