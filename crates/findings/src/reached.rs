//! Which pieces the wave reaches, surely or perhaps, and where fronts meet.

use std::collections::BTreeMap;

use fall::{Network, Sure};
use plan::ItemId;

/// What becomes of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
pub(crate) enum Fate {
    /// Nothing fells it.
    Stands = 0,
    /// It falls if something passes that may fail.
    Perhaps = 1,
    /// It falls.
    Falls = 2,
}

/// A passage that may fail.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Passage {
    /// The piece that it would fell.
    pub piece: u32,
    /// Whether that is because lines cross there.
    pub crossed: bool,
}

/// What a search through the network found. Pieces are numbered as the network numbers them.
#[derive(Debug, Default)]
pub(crate) struct Reached {
    fates: Vec<Fate>,
    /// Passages that may fail and behind which something hangs, in order of the search.
    pub unsure: Vec<Passage>,
    /// Pieces that fall only if they pass.
    pub perhaps: u64,
    /// For each two starts, a piece at which their fronts meet.
    pub meetings: BTreeMap<(ItemId, ItemId), u32>,
}

impl Reached {
    /// Searches from all starts at once, hit by hit; first over what surely passes, then over the rest.
    pub(crate) fn of(network: &Network) -> Self {
        let mut search = Search::new(network);
        for (i, push) in network.starts().iter().enumerate() {
            push.states.iter().for_each(|&s| search.reach(s, number(i), Fate::Falls));
        }
        search.run(Fate::Falls);
        let later = std::mem::take(&mut search.later);
        for Later { state, start, crossed } in later {
            if search.fates[state as usize / 2] == Fate::Stands {
                search.found.unsure.push(Passage { piece: state / 2, crossed });
                search.reach(state, start, Fate::Perhaps);
                search.run(Fate::Perhaps);
            }
        }
        let Search { fates, mut found, .. } = search;
        found.perhaps = fates.iter().filter(|f| **f == Fate::Perhaps).count() as u64;
        found.fates = fates;
        found
    }

    /// The fates of the pieces of an item, in their order.
    pub(crate) fn of_item(&self, network: &Network, item: ItemId) -> &[Fate] {
        let Some(first) = network.index().first(item).map(|f| f as usize) else { return &[] };
        let count = network.pieces_of(item).map_or(0, |p| p.len());
        self.fates.get(first..first + count).unwrap_or(&[])
    }
}

struct Search<'a> {
    network: &'a Network,
    fates: Vec<Fate>,
    /// By piece: from which start it is reached, counted from 1, and in the highest bit which way it falls.
    fronts: Vec<u16>,
    queue: Vec<u32>,
    later: Vec<Later>,
    /// By piece that falls into a placeholder: which of them.
    enters: BTreeMap<u32, usize>,
    passed: Vec<bool>,
    found: Reached,
    many: bool,
}

/// A hit that may fail.
struct Later {
    state: u32,
    /// The start that it comes from.
    start: u16,
    /// Whether lines cross there.
    crossed: bool,
}

const BACK: u16 = 0x8000;

/// The number of a start, from 1. So many starts are one mistake made many times; the last number stands for all the
/// rest of them.
fn number(start: usize) -> u16 {
    u16::try_from(start + 1).unwrap_or(u16::MAX).min(BACK - 1)
}

impl<'a> Search<'a> {
    fn new(network: &'a Network) -> Self {
        let count = network.pieces() as usize;
        let enters =
            network.passes().iter().enumerate().flat_map(|(i, p)| p.enter.iter().map(move |s| (*s, i)));
        let many = network.starts().len() > 1;
        Self {
            network,
            fates: vec![Fate::Stands; count],
            fronts: if many { vec![0; count] } else { Vec::new() },
            queue: Vec::new(),
            later: Vec::new(),
            enters: enters.collect(),
            passed: vec![false; network.passes().len()],
            found: Reached::default(),
            many,
        }
    }

    fn reach(&mut self, state: u32, start: u16, fate: Fate) {
        let piece = (state / 2) as usize;
        match self.fates.get(piece) {
            Some(Fate::Stands) => {
                self.fates[piece] = fate;
                if self.many {
                    self.fronts[piece] = start & !BACK | if state % 2 == 1 { BACK } else { 0 };
                }
                self.queue.push(state);
            }
            Some(_) if self.many => self.meet(state, start),
            _ => {}
        }
    }

    /// Two fronts meet where one is about to fell, the other way, what another one has felled.
    fn meet(&mut self, state: u32, start: u16) {
        let there = self.fronts[(state / 2) as usize];
        let (other, back) = (there & !BACK, there & BACK != 0);
        if other != start && back != (state % 2 == 1) {
            let id = |n: u16| self.network.starts()[usize::from(n) - 1].item;
            let (a, b) = (id(start), id(other));
            self.found.meetings.entry((a.min(b), a.max(b))).or_insert(state / 2);
        }
    }

    /// Follows the queue to its end, level by level.
    fn run(&mut self, fate: Fate) {
        let network = self.network;
        let mut from = 0;
        while let Some(&state) = self.queue.get(from) {
            from += 1;
            let start = if self.many { self.fronts[(state / 2) as usize] & !BACK } else { 1 };
            for edge in network.edges(state) {
                if fate == Fate::Perhaps {
                    self.reach(edge.to, start, fate);
                    continue;
                }
                let crossed = network.crossed_by(state, edge.to).is_some();
                if edge.sure == Sure::Passes && !crossed {
                    self.reach(edge.to, start, fate);
                } else if self.fates[(edge.to / 2) as usize] == Fate::Stands {
                    self.later.push(Later { state: edge.to, start, crossed });
                }
            }
            if !self.enters.is_empty() {
                self.pass(state, start, fate);
            }
        }
        self.queue.clear();
    }

    fn pass(&mut self, state: u32, start: u16, fate: Fate) {
        let Some(&pass) = self.enters.get(&state) else { return };
        if !std::mem::replace(&mut self.passed[pass], true) {
            let leave = &self.network.passes()[pass].leave;
            leave.iter().for_each(|&s| self.reach(s, start, fate));
        }
    }
}
