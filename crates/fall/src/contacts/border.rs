//! The edges of pieces that have pieces of another item, or something fixed, within reach; they take the place of those
//! that the item would have alone.

use std::collections::BTreeMap;

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

    /// Bytes of memory that it holds.
    pub(crate) fn bytes(&self) -> usize {
        8 * self.bits.len() + 4 * (self.pieces.len() + self.start.len()) + 12 * self.edges.len()
    }
}

/// For each item its cells that hold or touch a piece of another item, or something fixed; sorted.
pub(crate) fn shared_cells(strands: &[Strand<'_>], fixed: &[(i32, i32)]) -> Vec<Vec<(i32, i32)>> {
    // One owner for each cell, or "several".
    const SEVERAL: u32 = u32::MAX;
    let mut owners: Vec<((i32, i32), u32)> = fixed.iter().map(|c| (*c, SEVERAL)).collect();
    for (slot, s) in (0u32..).zip(strands) {
        owners.extend(s.cells.iter().map(|c| (*c, slot)));
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
            // Three cells above one another lie next to each other in the list.
            let from = owners.partition_point(|o| o.0 < (cell.0 + dx, cell.1 - 1));
            owners[from..].iter().take_while(|o| o.0 <= (cell.0 + dx, cell.1 + 1)).any(|o| o.1 != slot)
        })
    };
    let own = |(slot, s): (usize, &Strand<'_>)| -> Vec<(i32, i32)> {
        s.cells.iter().copied().filter(|c| foreign(*c, slot as u32)).collect()
    };
    strands.par_iter().enumerate().map(own).collect()
}

/// Edges between items, for the items in `todo` (places among all, sorted). `shared` is what [`shared_cells`] found.
pub(crate) fn weave(
    strands: &[Strand<'_>],
    shared: &[Vec<(i32, i32)>],
    todo: &[usize],
    (shapes, rules, cell): (&Shapes, Rules, f64),
    blocks: &Blocks,
) -> BTreeMap<usize, Over> {
    // The cells whose pieces may be met.
    let mut wanted: Vec<(i32, i32)> = Vec::new();
    for &slot in todo {
        for c in &shared[slot] {
            wanted.extend((-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (c.0 + dx, c.1 + dy))));
        }
    }
    wanted.par_sort_unstable();
    wanted.dedup();
    let (names, hitters) = gather(strands, shared, todo, &wanted, cell);
    let body = |i: usize| -> Body {
        let (slot, piece) = names[i];
        strands[slot as usize].bodies.body(piece as usize, i as u32)
    };
    let grid = Grid::new(shapes, (0..names.len()).into_par_iter().map(body).collect());
    let hand = |id: u32| strands[names[id as usize].0 as usize].hand;
    let chunks: Vec<Vec<(u32, [Vec<OverEdge>; 2])>> = hitters
        .par_chunks(2048)
        .map(|chunk| {
            let mut sweep = Sweep::new(shapes, rules, true);
            let mut out = Vec::new();
            for &i in chunk {
                let hitter = body(i as usize);
                sweep.gather(&grid, &hitter);
                let own = names[i as usize].0;
                let foreign = sweep.gathered().iter().any(|n| names[n.body.id as usize].0 != own);
                if foreign || blocks.near(&hitter, shapes) {
                    out.push((i, woven(&mut sweep, &hitter, &hand, &names, blocks)));
                }
            }
            out
        })
        .collect();
    collect(strands, todo, &names, chunks)
}

/// The edges of both states of a piece.
fn woven(
    sweep: &mut Sweep<'_>,
    hitter: &Body,
    hand: &dyn Fn(u32) -> bool,
    names: &[(u32, u32)],
    blocks: &Blocks,
) -> [Vec<OverEdge>; 2] {
    let near: Vec<Near> = sweep.gathered().to_vec();
    let mut both = [Vec::new(), Vec::new()];
    for (way, edges) in (0u8..).zip(&mut both) {
        for f in sweep.look(hitter, way, hand) {
            let target = near.iter().find(|n| n.body.id == f.id).map(|n| n.body);
            let barred = target.is_some_and(|b| blocks.bars(hitter, &b));
            let Ok(code) = (if barred { Err(Miss::Blocked) } else { f.code }) else { continue };
            let (slot, piece) = names[f.id as usize];
            edges.push(OverEdge { slot, state: 2 * piece + u32::from(f.way), code });
        }
    }
    both
}

/// Pieces in the wanted cells as (place of the item, piece), and which of them are to be woven.
pub(crate) fn gather(
    strands: &[Strand<'_>],
    shared: &[Vec<(i32, i32)>],
    todo: &[usize],
    wanted: &[(i32, i32)],
    cell: f64,
) -> (Vec<(u32, u32)>, Vec<u32>) {
    let of_item = |(slot, s): (usize, &Strand<'_>)| -> Vec<(u32, bool)> {
        let touches = s.cells.iter().any(|c| wanted.binary_search(c).is_ok());
        if !touches {
            return Vec::new();
        }
        let mine = todo.binary_search(&slot).is_ok();
        let p = s.bodies.pieces;
        let mut last = ((i32::MIN, i32::MIN), false, false);
        let mut out = Vec::new();
        for (i, (x, y)) in (0u32..).zip(p.x.iter().zip(&p.y)) {
            let key = coarse_key(*x, *y, cell);
            if key != last.0 {
                let hit = mine && shared[slot].binary_search(&key).is_ok();
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
    todo: &[usize],
    names: &[(u32, u32)],
    chunks: Vec<Vec<(u32, [Vec<OverEdge>; 2])>>,
) -> BTreeMap<usize, Over> {
    let mut overs: BTreeMap<usize, Over> = todo.iter().map(|&slot| (slot, Over::default())).collect();
    for (i, both) in chunks.into_iter().flatten() {
        let (slot, piece) = names[i as usize];
        let Some(over) = overs.get_mut(&(slot as usize)) else { continue };
        if over.bits.is_empty() {
            over.bits.resize(strands[slot as usize].bodies.len().div_ceil(64), 0);
        }
        over.bits[piece as usize / 64] |= 1 << (piece % 64);
        over.pieces.push(piece);
        for edges in both {
            over.start.push(over.edges.len() as u32);
            over.edges.extend(edges);
        }
    }
    for over in overs.values_mut() {
        over.start.push(over.edges.len() as u32);
    }
    overs
}
