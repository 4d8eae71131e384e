//! How many pieces fall after each state: exact, by a closure of bit columns over the condensed graph.
//!
//! A piece that the fall reaches both ways counts once. To that end the pieces are sorted into *groups*: all pieces
//! whose two states belong to the same pair of knots. A whole knot falls, or the rest of a chain from a state on; so
//! what falls is a set of whole groups, and perhaps some of a chain's own pieces. Each group is a column of bits; 512
//! columns are carried from the ends back at a time, and only over the knots that reach any of them. Blocks of columns
//! are independent, so all threads work, and whole numbers add up to the same in any order.

use std::sync::atomic::{AtomicU32, AtomicU64, Ordering};

use rayon::prelude::*;

use crate::touch_graph::{Graph, Knots};

/// Columns that are carried at a time, in words of 64.
const WORDS: usize = 8;
/// Columns that are carried at a time.
const COLUMNS: usize = WORDS * 64;
/// Rows of 64 bytes that an exact count may read; about one to two seconds on two cores. It is counted, not timed, so
/// that the same plan is always counted the same way.
pub(crate) const ROWS: u64 = 60_000_000;

type Row = [u64; WORDS];

/// Pieces sorted by the pair of knots that their two states belong to.
#[derive(Debug, Clone, Default)]
pub(crate) struct Groups {
    /// The group of each piece; `u32::MAX` for pieces that do not stand.
    pub(crate) of: Vec<u32>,
    /// The pair of knots of each group: falling forward, falling back. The same pair in turn is another group.
    pub(crate) knots: Vec<(u32, u32)>,
    /// Pieces in each group.
    pub(crate) pieces: Vec<u32>,
}

impl Groups {
    /// Sorts the pieces for which `stands` holds.
    pub(crate) fn of(knots: &Knots, stands: &[bool]) -> Self {
        // Neighbours mostly share their pair, so runs are sorted instead of pieces.
        let pair = |p: usize| (knots.of[2 * p], knots.of[2 * p + 1]);
        let mut runs: Vec<(u32, u32)> = Vec::new();
        for p in (0..stands.len()).filter(|&p| stands[p]) {
            if runs.last() != Some(&pair(p)) {
                runs.push(pair(p));
            }
        }
        // Near the ends first: what reaches the columns of one block then overlaps most.
        runs.sort_unstable_by_key(|&(a, b)| (a.min(b), a, b));
        runs.dedup();
        let find =
            |p: (u32, u32)| runs.binary_search_by_key(&(p.0.min(p.1), p.0, p.1), |&(a, b)| (a.min(b), a, b));
        let mut of = vec![u32::MAX; stands.len()];
        let mut pieces = vec![0; runs.len()];
        let mut last = ((u32::MAX, u32::MAX), 0);
        for p in (0..stands.len()).filter(|&p| stands[p]) {
            if last.0 != pair(p) {
                last = (pair(p), find(pair(p)).unwrap_or(0) as u32);
            }
            of[p] = last.1;
            pieces[last.1 as usize] += 1;
        }
        Self { of, knots: runs, pieces }
    }

    /// Number of groups.
    pub(crate) fn len(&self) -> usize {
        self.knots.len()
    }
}

/// What falls beyond each knot, in pieces.
pub(crate) struct Beyond {
    /// Pieces that fall because of what the knot topples, its own left out unless they are reached from there.
    pub(crate) pieces: Vec<u32>,
    /// For each group: whether all its pieces are among those beyond its first and beyond its second knot.
    pub(crate) own: Vec<(bool, bool)>,
    /// For each group that was asked for: pieces that fall beyond either of its two knots.
    pub(crate) either: Vec<u32>,
}

/// Counts what falls beyond each knot. `None` when that would take more than `limit` rows.
///
/// `both` says for which groups the pieces beyond either knot are wanted too.
pub(crate) fn beyond(knots: &Knots, groups: &Groups, both: &[bool], limit: u64) -> Option<Beyond> {
    let pieces: Vec<AtomicU32> = (0..knots.len()).map(|_| AtomicU32::new(0)).collect();
    let either: Vec<AtomicU32> = (0..groups.len()).map(|_| AtomicU32::new(0)).collect();
    let rows = AtomicU64::new(0);
    let wanted: Vec<u32> = (0..groups.len() as u32).filter(|&g| both[g as usize]).collect();
    let blocks = groups.len().div_ceil(COLUMNS);
    let own: Vec<Vec<(bool, bool)>> = (0..blocks)
        .into_par_iter()
        .map_init(
            || Carry::new(knots.len()),
            |carry, block| {
                if rows.load(Ordering::Relaxed) > limit {
                    return Vec::new();
                }
                let block = Block { knots, groups, first: block * COLUMNS };
                let tables = Tables::of(&groups.pieces[block.first..block.end()]);
                carry.reach_all(&block);
                rows.fetch_add(carry.fill(&block, &tables, &pieces), Ordering::Relaxed);
                carry.count_either(&block, &tables, &wanted, &either);
                carry.own(&block)
            },
        )
        .collect();
    if rows.into_inner() > limit {
        return None;
    }
    let plain = |list: Vec<AtomicU32>| list.into_iter().map(AtomicU32::into_inner).collect();
    Some(Beyond { pieces: plain(pieces), own: own.concat(), either: plain(either) })
}

struct Block<'a> {
    knots: &'a Knots,
    groups: &'a Groups,
    /// The first group of the block.
    first: usize,
}

impl Block<'_> {
    fn end(&self) -> usize {
        (self.first + COLUMNS).min(self.groups.len())
    }
}

/// Room for one thread, used for one block after another.
struct Carry {
    /// One bit for each knot that reaches a column of the block.
    reached: Vec<u64>,
    /// Where the row of a knot lies; only good for reached knots.
    slot: Vec<u32>,
    /// The reached knots, lowest first.
    list: Vec<u32>,
    /// Their rows, own groups included; slots that are not filled yet hold the own groups only.
    rows: Vec<Row>,
    stack: Vec<u32>,
}

impl Carry {
    fn new(knots: usize) -> Self {
        Self {
            reached: vec![0; knots.div_ceil(64)],
            slot: vec![0; knots],
            list: Vec::new(),
            rows: Vec::new(),
            stack: Vec::new(),
        }
    }

    fn is_reached(&self, knot: usize) -> bool {
        self.reached[knot / 64] >> (knot % 64) & 1 == 1
    }

    /// Lists the knots that reach a column of the block, and sets the bits of their own groups.
    fn reach_all(&mut self, block: &Block<'_>) {
        for knot in self.list.drain(..) {
            self.reached[knot as usize / 64] = 0;
        }
        for g in block.first..block.end() {
            let (a, b) = block.groups.knots[g];
            self.reach(a);
            self.reach(b);
        }
        while let Some(knot) = self.stack.pop() {
            for &before in block.knots.before.row(knot as usize) {
                self.reach(before);
            }
        }
        for (w, &word) in self.reached.iter().enumerate() {
            let mut bits = word;
            while bits != 0 {
                self.list.push((w * 64) as u32 + bits.trailing_zeros());
                bits &= bits - 1;
            }
        }
        for (i, &knot) in self.list.iter().enumerate() {
            self.slot[knot as usize] = i as u32;
        }
        self.rows.clear();
        self.rows.resize(self.list.len(), [0; WORDS]);
        for g in block.first..block.end() {
            let (bit, pair) = (g - block.first, block.groups.knots[g]);
            for knot in [pair.0, pair.1] {
                self.rows[self.slot[knot as usize] as usize][bit / 64] |= 1 << (bit % 64);
            }
        }
    }

    fn reach(&mut self, knot: u32) {
        let (word, bit) = (knot as usize / 64, 1 << (knot % 64));
        if self.reached[word] & bit == 0 {
            self.reached[word] |= bit;
            self.stack.push(knot);
        }
    }

    /// Fills the rows, lowest knot first, and adds up what falls; returns the number of rows that were read.
    fn fill(&mut self, block: &Block<'_>, tables: &Tables, pieces: &[AtomicU32]) -> u64 {
        let mut read = 0;
        for i in 0..self.list.len() {
            let knot = self.list[i] as usize;
            let beyond = self.beyond(block, knot);
            read += 1 + block.knots.next.row(knot).len() as u64;
            (0..WORDS).for_each(|w| self.rows[i][w] |= beyond[w]);
            let falls = if block.knots.chain[knot] { &beyond } else { &self.rows[i] };
            pieces[knot].fetch_add(tables.sum(falls), Ordering::Relaxed);
        }
        read
    }

    /// The columns that fall beyond a knot; the rows of what it topples are filled already.
    fn beyond(&self, block: &Block<'_>, knot: usize) -> Row {
        let mut row = [0; WORDS];
        for &next in block.knots.next.row(knot) {
            if self.is_reached(next as usize) {
                let other = &self.rows[self.slot[next as usize] as usize];
                (0..WORDS).for_each(|w| row[w] |= other[w]);
            }
        }
        row
    }

    /// What falls: beyond a chain, or with all of a strong component.
    fn falls(&self, block: &Block<'_>, knot: usize) -> Row {
        if !self.is_reached(knot) {
            [0; WORDS]
        } else if block.knots.chain[knot] {
            self.beyond(block, knot)
        } else {
            self.rows[self.slot[knot] as usize]
        }
    }

    fn count_either(&self, block: &Block<'_>, tables: &Tables, wanted: &[u32], either: &[AtomicU32]) {
        for &g in wanted {
            let (a, b) = block.groups.knots[g as usize];
            let mut row = self.falls(block, a as usize);
            let other = self.falls(block, b as usize);
            (0..WORDS).for_each(|w| row[w] |= other[w]);
            either[g as usize].fetch_add(tables.sum(&row), Ordering::Relaxed);
        }
    }

    fn own(&self, block: &Block<'_>) -> Vec<(bool, bool)> {
        let has = |knot: u32, g: usize| {
            let bit = g - block.first;
            self.falls(block, knot as usize)[bit / 64] >> (bit % 64) & 1 == 1
        };
        let of = |g: usize| (has(block.groups.knots[g].0, g), has(block.groups.knots[g].1, g));
        (block.first..block.end()).map(of).collect()
    }
}

/// Sums of weights of the set bits of a row, a byte at a time.
struct Tables {
    byte: Vec<[u32; 256]>,
    word: [u32; WORDS],
}

impl Tables {
    fn of(weights: &[u32]) -> Self {
        let weight = |bit: usize| weights.get(bit).copied().unwrap_or(0);
        let mut byte = vec![[0_u32; 256]; COLUMNS / 8];
        for (b, table) in byte.iter_mut().enumerate() {
            for set in 1..256_usize {
                let low = set.trailing_zeros() as usize;
                table[set] = table[set & (set - 1)] + weight(8 * b + low);
            }
        }
        let word = std::array::from_fn(|w| (0..64).map(|bit| weight(64 * w + bit)).sum());
        Self { byte, word }
    }

    fn sum(&self, row: &Row) -> u32 {
        let mut sum = 0;
        for (w, &bits) in row.iter().enumerate() {
            sum += match bits {
                0 => 0,
                u64::MAX => self.word[w],
                _ => (0..8).map(|b| self.byte[8 * w + b][(bits >> (8 * b)) as usize & 255]).sum(),
            };
        }
        sum
    }
}

/// Pieces that fall after each state, from what falls beyond its knot.
pub(crate) fn by_state(knots: &Knots, groups: &Groups, beyond: &Beyond) -> Vec<u32> {
    let mut count = vec![0; knots.of.len()];
    let mut stamp = vec![u32::MAX; knots.of.len() / 2];
    for knot in 0..knots.len() {
        let mut falls = beyond.pieces[knot];
        let members = knots.members(knot);
        if !knots.chain[knot] {
            members.iter().for_each(|&s| count[s as usize] = falls);
            continue;
        }
        for &s in members.iter().rev() {
            let piece = s as usize / 2;
            let g = groups.of[piece];
            if g == u32::MAX {
                continue;
            }
            let (first, second) = beyond.own[g as usize];
            let already = if groups.knots[g as usize].0 == knot as u32 { first } else { second };
            if !already && stamp[piece] != knot as u32 {
                stamp[piece] = knot as u32;
                falls += 1;
            }
            count[s as usize] = falls;
        }
    }
    count
}

/// Pieces that fall when a piece starts both ways, for the pieces that are asked for; `None` in place of a count that
/// the columns do not give, because the two chains of the piece do not hold the same pieces.
pub(crate) fn both_ways(knots: &Knots, groups: &Groups, beyond: &Beyond, asked: &[bool]) -> Vec<Option<u32>> {
    let even: Vec<bool> = (0..groups.len()).map(|g| is_even(knots, groups, g)).collect();
    let of = |p: usize| {
        let g = groups.of[p] as usize;
        if !asked[p] || groups.of[p] == u32::MAX || !even[g] {
            return None;
        }
        let (first, second) = beyond.own[g];
        let knot = groups.knots[g].0 as usize;
        // Both rests of the two chains are all their pieces. They may be of two groups, one the other in turn.
        let own = if knots.chain[knot] && !first && !second { knots.members(knot).len() } else { 0 };
        Some(beyond.either[g] + own as u32)
    };
    (0..asked.len()).into_par_iter().map(of).collect()
}

/// True when the two knots of a group are chains of the same pieces in turned order, or both strong components.
fn is_even(knots: &Knots, groups: &Groups, g: usize) -> bool {
    let (a, b) = (groups.knots[g].0 as usize, groups.knots[g].1 as usize);
    if !knots.chain[a] && !knots.chain[b] {
        return true;
    }
    let (one, other) = (knots.members(a), knots.members(b));
    knots.chain[a]
        && knots.chain[b]
        && a != b
        && one.len() == other.len()
        && one.iter().zip(other.iter().rev()).all(|(&s, &t)| s == t ^ 1)
}

/// Pieces that fall after some states, by a plain search; the count is exact for any graph.
///
/// `seen` holds one entry for each piece and is used with a new stamp for each search.
pub(crate) fn search(graph: Graph<'_>, from: &[u32], room: &mut Search) -> u32 {
    room.begin(graph.states());
    let mut count = 0;
    from.iter().for_each(|&s| room.push(s));
    while let Some(s) = room.stack.pop() {
        count += u32::from(room.first_way(s / 2));
        graph.next(s as usize).iter().for_each(|&t| room.push(t));
    }
    count
}

/// Room for searches, used again and again.
#[derive(Default)]
pub(crate) struct Search {
    stamp: u32,
    state: Vec<u32>,
    piece: Vec<u32>,
    stack: Vec<u32>,
}

impl Search {
    fn begin(&mut self, states: usize) {
        if self.state.len() != states || self.stamp == u32::MAX {
            self.state = vec![0; states];
            self.piece = vec![0; states.div_ceil(2)];
            self.stamp = 0;
        }
        self.stamp += 1;
    }

    fn push(&mut self, state: u32) {
        if std::mem::replace(&mut self.state[state as usize], self.stamp) != self.stamp {
            self.stack.push(state);
        }
    }

    fn first_way(&mut self, piece: u32) -> bool {
        std::mem::replace(&mut self.piece[piece as usize], self.stamp) != self.stamp
    }
}
