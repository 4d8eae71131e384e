//! The edges of pieces that have pieces of another item, or something fixed, within reach; they take the place of those
//! that the item would have alone.

use std::sync::Arc;

use rayon::prelude::*;

use super::blockers::Blocks;
use super::body::{Bodies, Body, Shapes};
use super::grid::{Grid, coarse_key};
use super::hit::Code;
use super::rules::{Miss, Rules};
use super::sweep::{Near, Sweep};

/// An edge that may lead to another item.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OverEdge {
    /// Place of the item among all.
    pub(crate) slot: u32,
    /// State within that item.
    pub(crate) state: u32,
    pub(crate) code: Code,
}

/// For some states of an item, all their edges.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Over {
    /// One bit for each piece: its two states are listed here. Empty when none is.
    bits: Vec<u64>,
    /// Pieces that are listed, sorted.
    pieces: Vec<u32>,
    /// Where the edges of each listed state begin, two to a piece, and where the last ones end.
    start: Vec<u32>,
    pub(crate) edges: Vec<OverEdge>,
    /// Listed states over whose way another piece may fall, sorted.
    pub(crate) crossed: Vec<u32>,
}

/// One item, as weaving needs it.
pub(crate) struct Strand<'a> {
    pub(crate) bodies: Bodies<'a>,
    pub(crate) cells: &'a [(i32, i32)],
    pub(crate) hand: bool,
}

impl Over {
    /// All edges of a state, if it is listed.
    pub(crate) fn edges(&self, state: u32) -> Option<&[OverEdge]> {
        let piece = state / 2;
        let word = self.bits.get(piece as usize / 64)?;
        if word >> (piece % 64) & 1 == 0 {
            return None;
        }
        let at = self.pieces.binary_search(&piece).ok()? * 2 + (state % 2) as usize;
        Some(&self.edges[self.start[at] as usize..self.start[at + 1] as usize])
    }

    /// Adds a piece of an item of `count`; pieces come in order.
    fn push(&mut self, count: usize, piece: u32, both: [&[OverEdge]; 2], crossed: [bool; 2]) {
        if self.bits.is_empty() {
            self.bits.resize(count.div_ceil(64), 0);
        }
        self.bits[piece as usize / 64] |= 1 << (piece % 64);
        self.pieces.push(piece);
        self.crossed.extend((0u32..).zip(crossed).filter(|c| c.1).map(|c| 2 * piece + c.0));
        for edges in both {
            self.start.push(self.edges.len() as u32);
            self.edges.extend_from_slice(edges);
        }
    }

    fn crossed_of(&self, piece: u32) -> [bool; 2] {
        [0, 1].map(|way| self.crossed.binary_search(&(2 * piece + way)).is_ok())
    }

    fn end(&mut self) {
        self.start.push(self.edges.len() as u32);
    }

    /// What stays of this, and what is new instead.
    fn with(&self, new: &Self, stays: &dyn Fn(u32) -> bool) -> Self {
        let count = 64 * self.bits.len().max(new.bits.len());
        let mut out = Self::default();
        let old = self.pieces.iter().copied().filter(|p| stays(*p)).map(|p| (p, self));
        let mut all: Vec<(u32, &Self)> = old.chain(new.pieces.iter().map(|p| (*p, new))).collect();
        all.sort_by_key(|a| a.0);
        for (piece, from) in all {
            let of = |way| from.edges(2 * piece + way).unwrap_or(&[]);
            out.push(count, piece, [of(0), of(1)], from.crossed_of(piece));
        }
        out.end();
        out
    }

    /// The same with items in other places: `to[slot]` is where the item at `slot` is now; hits on items that are gone
    /// go too.
    pub(crate) fn moved(&self, to: &[Option<u32>]) -> Self {
        let mut out = Self::default();
        let place = |e: &OverEdge| Some(OverEdge { slot: to.get(e.slot as usize).copied()??, ..*e });
        for &piece in &self.pieces {
            let of = |way| -> Vec<OverEdge> {
                self.edges(2 * piece + way).unwrap_or(&[]).iter().filter_map(place).collect()
            };
            out.push(64 * self.bits.len(), piece, [&of(0), &of(1)], self.crossed_of(piece));
        }
        out.end();
        out
    }

    /// Bytes of memory that it holds.
    pub(crate) fn bytes(&self) -> usize {
        let words = self.pieces.len() + self.start.len() + self.crossed.len();
        8 * self.bits.len() + 4 * words + 12 * self.edges.len()
    }
}

/// Which cells of an item are to be woven anew.
pub(crate) struct Todo {
    /// Place of the item among all.
    pub(crate) slot: usize,
    /// All of its cells, or only those in or next to these (sorted).
    pub(crate) only_near: Option<Arc<Vec<(i32, i32)>>>,
    /// Its cells that hold or touch a piece of another item, or something fixed; sorted.
    shared: Vec<(i32, i32)>,
}

impl Todo {
    pub(crate) fn new(slot: usize, only_near: Option<Arc<Vec<(i32, i32)>>>) -> Self {
        Self { slot, only_near, shared: Vec::new() }
    }

    /// Whether pieces in a cell are woven anew.
    fn covers(&self, cell: (i32, i32)) -> bool {
        self.only_near.as_ref().is_none_or(|cells| is_near(cells, cell))
    }
}

/// Least and most cells of a list, one cell more on all sides.
pub(crate) fn cell_bounds(cells: &[(i32, i32)]) -> [i32; 4] {
    let none = [i32::MAX, i32::MAX, i32::MIN, i32::MIN];
    let join = |b: [i32; 4], c: &(i32, i32)| {
        [b[0].min(c.0 - 1), b[1].min(c.1 - 1), b[2].max(c.0 + 1), b[3].max(c.1 + 1)]
    };
    cells.iter().fold(none, join)
}

/// Whether a cell lies within such bounds.
pub(crate) fn is_within(bounds: [i32; 4], cell: (i32, i32)) -> bool {
    (bounds[0]..=bounds[2]).contains(&cell.0) && (bounds[1]..=bounds[3]).contains(&cell.1)
}

/// Whether a sorted list of cells holds a cell or one of its eight neighbours.
pub(crate) fn is_near(cells: &[(i32, i32)], cell: (i32, i32)) -> bool {
    (-1..=1).any(|dx| {
        // Three cells above one another lie next to each other in the list.
        let from = cells.partition_point(|c| *c < (cell.0 + dx, cell.1 - 1));
        cells.get(from).is_some_and(|c| *c <= (cell.0 + dx, cell.1 + 1))
    })
}

/// Finds the shared cells of the items that are to be woven.
fn find_shared(strands: &[Strand<'_>], fixed: &[(i32, i32)], todo: &mut [Todo]) {
    // One owner for each cell, or "several".
    const SEVERAL: u32 = u32::MAX;
    let mut owners: Vec<((i32, i32), u32)> = fixed.iter().map(|c| (*c, SEVERAL)).collect();
    let all = |slot: usize| strands[slot].cells;
    let bounds = todo.iter().map(|t| cell_bounds(t.only_near.as_ref().map_or(all(t.slot), |n| n)));
    let around = bounds.fold([i32::MAX, i32::MAX, i32::MIN, i32::MIN], |a, b| {
        [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])]
    });
    // Neighbours of the cells that are asked for may lie two cells outside of what changed.
    let around = [around[0] - 1, around[1] - 1, around[2] + 1, around[3] + 1];
    for (slot, s) in (0u32..).zip(strands) {
        let near = s.cells.iter().filter(|c| is_within(around, **c));
        owners.extend(near.map(|c| (*c, slot)));
    }
    owners.par_sort_unstable();
    owners.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same && next.1 != kept.1 {
            kept.1 = SEVERAL;
        }
        same
    });
    let foreign = |cell: (i32, i32), slot: u32| {
        (-1..=1).any(|dx| {
            let from = owners.partition_point(|o| o.0 < (cell.0 + dx, cell.1 - 1));
            owners[from..].iter().take_while(|o| o.0 <= (cell.0 + dx, cell.1 + 1)).any(|o| o.1 != slot)
        })
    };
    todo.par_iter_mut().for_each(|t| {
        let cells = strands[t.slot].cells.iter().copied();
        t.shared = cells.filter(|c| t.covers(*c) && foreign(*c, t.slot as u32)).collect();
    });
}

/// Edges between items, for the items in `todo` (sorted by place); what of `strands` is not woven anew stays as it is in
/// `before`.
pub(crate) fn weave(
    strands: &[Strand<'_>],
    mut todo: Vec<Todo>,
    (shapes, rules, cell, levels): (&Shapes, Rules, f64, bool),
    blocks: &Blocks,
    before: &dyn Fn(usize) -> Arc<Over>,
) -> Vec<(usize, Arc<Over>)> {
    find_shared(strands, &blocks.cells(), &mut todo);
    // The cells whose pieces may be met.
    let mut wanted: Vec<(i32, i32)> = Vec::new();
    for c in todo.iter().flat_map(|t| &t.shared) {
        wanted.extend((-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (c.0 + dx, c.1 + dy))));
    }
    wanted.par_sort_unstable();
    wanted.dedup();
    let (names, hitters) = gather(strands, &todo, &wanted, cell);
    let body = |i: usize| -> Body {
        let (slot, piece) = names[i];
        strands[slot as usize].bodies.body(piece as usize, i as u32)
    };
    let grid = Grid::new(shapes, (0..names.len()).into_par_iter().map(body).collect());
    let hand = |id: u32| strands[names[id as usize].0 as usize].hand;
    let chunks: Vec<Vec<(u32, Woven)>> = hitters
        .par_chunks(2048)
        .map(|chunk| {
            let mut sweep = Sweep::new(shapes, rules, levels);
            let mut out = Vec::new();
            for &i in chunk {
                let hitter = body(i as usize);
                sweep.gather(&grid, &hitter);
                let own = names[i as usize].0;
                let foreign = sweep.gathered().iter().any(|n| names[n.body.id as usize].0 != own);
                if foreign || blocks.near(&hitter) {
                    out.push((i, woven(&mut sweep, &hitter, &hand, &names, blocks)));
                }
            }
            out
        })
        .collect();
    let fresh = collect(strands, &todo, &names, chunks);
    let keep = |(t, new): (Todo, Over)| {
        if t.only_near.is_none() {
            return (t.slot, Arc::new(new));
        }
        let p = strands[t.slot].bodies.pieces;
        let stays = |i: u32| !t.covers(coarse_key(p.x[i as usize], p.y[i as usize], cell));
        (t.slot, Arc::new(before(t.slot).with(&new, &stays)))
    };
    todo.into_iter().zip(fresh).map(keep).collect()
}

/// The edges of both states of a piece, and whether another may fall across them.
type Woven = ([Vec<OverEdge>; 2], [bool; 2]);

fn woven(
    sweep: &mut Sweep<'_>,
    hitter: &Body,
    hand: &dyn Fn(u32) -> bool,
    names: &[(u32, u32)],
    blocks: &Blocks,
) -> Woven {
    let near: Vec<Near> = sweep.gathered().to_vec();
    let (mut both, mut crossed) = ([Vec::new(), Vec::new()], [false; 2]);
    let shapes = sweep.shapes;
    let low = |b: &Body| blocks.lies_low(b, shapes.get(b.shape).h);
    let low_hitter = low(hitter);
    for (way, (edges, crossed)) in (0u8..).zip(both.iter_mut().zip(&mut crossed)) {
        for f in sweep.look(hitter, way, hand) {
            let target = near.iter().find(|n| n.body.id == f.id).map(|n| n.body);
            let barred = target.is_some_and(|b| blocks.bars(hitter, &b));
            let Ok(code) = (if barred { Err(Miss::Blocked) } else { f.code }) else { continue };
            let code = if low_hitter || target.is_some_and(|b| low(&b)) { code.not_sure() } else { code };
            let (slot, piece) = names[f.id as usize];
            edges.push(OverEdge { slot, state: 2 * piece + u32::from(f.way), code });
        }
        *crossed = sweep.is_crossed(hitter);
        let code = Code::drag(sweep.shapes.get(hitter.shape).class);
        let shoulders = sweep.beside(hitter, way).next().is_some();
        let passed = sweep.passed(hitter, way).filter(|_| !shoulders);
        for (id, way) in sweep.beside(hitter, way).chain(passed) {
            let (slot, piece) = names[id as usize];
            edges.push(OverEdge { slot, state: 2 * piece + u32::from(way), code });
        }
    }
    (both, crossed)
}

/// Pieces in the wanted cells as (place of the item, piece), and which of them are to be woven.
pub(crate) fn gather(
    strands: &[Strand<'_>],
    todo: &[Todo],
    wanted: &[(i32, i32)],
    cell: f64,
) -> (Vec<(u32, u32)>, Vec<u32>) {
    let around = cell_bounds(wanted);
    let of_item = |(slot, s): (usize, &Strand<'_>)| -> Vec<(u32, bool)> {
        let touches = s.cells.iter().any(|c| is_within(around, *c) && wanted.binary_search(c).is_ok());
        if !touches {
            return Vec::new();
        }
        let mine = todo.binary_search_by_key(&slot, |t| t.slot).ok().map(|i| &todo[i].shared);
        let p = s.bodies.pieces;
        let mut last = ((i32::MIN, i32::MIN), false, false);
        let mut out = Vec::new();
        for (i, (x, y)) in (0u32..).zip(p.x.iter().zip(&p.y)) {
            let key = coarse_key(*x, *y, cell);
            if key != last.0 {
                let hit = mine.is_some_and(|m| m.binary_search(&key).is_ok());
                last = (key, wanted.binary_search(&key).is_ok(), hit);
            }
            if last.1 {
                out.push((i, last.2));
            }
        }
        out
    };
    let lists: Vec<Vec<(u32, bool)>> = strands.par_iter().enumerate().map(of_item).collect();
    let (mut names, mut hitters) = (Vec::new(), Vec::new());
    for (slot, list) in (0u32..).zip(lists) {
        for (piece, hits) in list {
            if hits {
                hitters.push(names.len() as u32);
            }
            names.push((slot, piece));
        }
    }
    (names, hitters)
}

fn collect(
    strands: &[Strand<'_>],
    todo: &[Todo],
    names: &[(u32, u32)],
    chunks: Vec<Vec<(u32, Woven)>>,
) -> Vec<Over> {
    let mut overs = vec![Over::default(); todo.len()];
    for (i, (both, crossed)) in chunks.into_iter().flatten() {
        let (slot, piece) = names[i as usize];
        let Ok(at) = todo.binary_search_by_key(&(slot as usize), |t| t.slot) else { continue };
        let over = &mut overs[at];
        over.push(strands[slot as usize].bodies.len(), piece, [&both[0], &both[1]], crossed);
    }
    overs.iter_mut().for_each(Over::end);
    overs
}
