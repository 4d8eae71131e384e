//! The edges within one item, as if nothing else stood in the hall.

use rayon::prelude::*;

use super::body::{Bodies, Body};
use super::grid::{Grid, coarse_key};
use super::hit::Code;
use super::rules::Rules;
use super::sweep::Sweep;

/// Pieces of one chunk: edges are written chunk by chunk, so that they are never held twice.
const CHUNK: usize = 4096;

/// Edges of a run of pieces.
#[derive(Debug, Clone, PartialEq)]
struct Chunk {
    /// Where the edges of each state begin, and where the last ones end.
    start: Box<[u32]>,
    /// State within the item, and code.
    edges: Box<[(u32, Code)]>,
    /// States over whose way another piece may fall.
    crossed: Box<[u32]>,
    /// Where the shoulders of each piece begin, and where the last ones end; empty when there are none.
    first: Box<[u32]>,
    /// Pieces shoulder to shoulder: twice the piece, and one more when it faces the other way.
    beside: Box<[u32]>,
}

/// The edges of an item, two states to each piece.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Part {
    chunks: Vec<Chunk>,
    /// Coarse cells in which its pieces stand, sorted.
    pub(crate) cells: Vec<(i32, i32)>,
    /// True when its pieces stand on more than one level.
    pub(crate) levels: bool,
}

impl Part {
    /// Edges of an item alone. `hand`: its pieces were placed by hand.
    pub(crate) fn of(bodies: &Bodies<'_>, rules: Rules, hand: bool, cell: f64) -> Self {
        let count = bodies.len();
        let levels = bodies.pieces.z.windows(2).any(|z| (z[0] - z[1]).abs() > 0.25);
        let grid = Grid::new(bodies.shapes, bodies.all());
        let chunk =
            |first: usize| chunk_of(bodies, &grid, rules, (hand, levels), first, (first + CHUNK).min(count));
        let chunks: Vec<Chunk> =
            (0..count.div_ceil(CHUNK)).into_par_iter().map(|k| chunk(k * CHUNK)).collect();
        Self { chunks, cells: cells_of(bodies, cell), levels }
    }

    /// Bytes of memory that it holds.
    pub(crate) fn bytes(&self) -> usize {
        let of = |c: &Chunk| {
            4 * (c.start.len() + c.crossed.len() + c.first.len() + c.beside.len()) + 8 * c.edges.len()
        };
        self.chunks.iter().map(of).sum::<usize>() + 8 * self.cells.len()
    }

    /// States over whose way another piece of the item may fall.
    pub(crate) fn crossed(&self) -> impl Iterator<Item = u32> + '_ {
        self.chunks.iter().flat_map(|c| c.crossed.iter().copied())
    }

    /// States of the pieces shoulder to shoulder with one that falls.
    pub(crate) fn beside(&self, state: u32) -> impl Iterator<Item = u32> + '_ {
        let (chunk, at) = ((state as usize / 2) / CHUNK, (state as usize / 2) % CHUNK);
        let c = &self.chunks[chunk];
        let of = |at: usize| c.first.get(at).map_or(0, |f| *f as usize);
        c.beside[of(at)..of(at + 1)].iter().map(move |b| b ^ state & 1)
    }

    /// Edges of a state of the item.
    pub(crate) fn edges(&self, state: u32) -> &[(u32, Code)] {
        let (chunk, at) = ((state as usize / 2) / CHUNK, state as usize % (2 * CHUNK));
        let c = &self.chunks[chunk];
        &c.edges[c.start[at] as usize..c.start[at + 1] as usize]
    }
}

fn chunk_of(
    bodies: &Bodies<'_>,
    grid: &Grid,
    rules: Rules,
    (hand, levels): (bool, bool),
    first: usize,
    end: usize,
) -> Chunk {
    let mut sweep = Sweep::new(bodies.shapes, rules, levels);
    let mut start = Vec::with_capacity(2 * (end - first) + 1);
    let mut edges: Vec<(u32, Code)> = Vec::with_capacity(2 * (end - first));
    let (mut crossed, mut shoulders, mut beside) = (Vec::new(), Vec::new(), Vec::new());
    for i in first..end {
        let hitter: Body = bodies.body(i, i as u32);
        sweep.gather(grid, &hitter);
        for way in 0..2 {
            start.push(edges.len() as u32);
            let found = sweep.look(&hitter, way, &|_| hand);
            edges.extend(found.iter().filter_map(|f| Some((2 * f.id + u32::from(f.way), f.code.ok()?))));
            // In lanes side by side each piece passes others too, but then its shoulders say it all.
            if sweep.beside(&hitter, way).next().is_none() {
                let drag = Code::drag(bodies.shapes.get(hitter.shape).class);
                edges.extend(sweep.passed(&hitter, way).map(|(id, way)| (2 * id + u32::from(way), drag)));
            }
            if sweep.is_crossed(&hitter) {
                crossed.push(2 * i as u32 + u32::from(way));
            }
        }
        shoulders.push(beside.len() as u32);
        beside.extend(sweep.beside(&hitter, 0).map(|(id, way)| 2 * id + u32::from(way)));
    }
    start.push(edges.len() as u32);
    shoulders.push(beside.len() as u32);
    if beside.is_empty() {
        shoulders = Vec::new();
    }
    Chunk {
        start: start.into_boxed_slice(),
        edges: edges.into_boxed_slice(),
        crossed: crossed.into_boxed_slice(),
        first: shoulders.into_boxed_slice(),
        beside: beside.into_boxed_slice(),
    }
}

fn cells_of(bodies: &Bodies<'_>, cell: f64) -> Vec<(i32, i32)> {
    let p = bodies.pieces;
    let mut cells: Vec<(i32, i32)> = Vec::new();
    for (x, y) in p.x.iter().zip(&p.y) {
        let key = coarse_key(*x, *y, cell);
        if cells.last() != Some(&key) {
            cells.push(key);
        }
        // Lanes cross the same cells again and again.
        if cells.len() >= 65_536 && cells.len() == cells.capacity() {
            cells.sort_unstable();
            cells.dedup();
        }
    }
    cells.sort_unstable();
    cells.dedup();
    cells.shrink_to_fit();
    cells
}
