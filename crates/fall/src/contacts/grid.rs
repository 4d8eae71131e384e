//! Pieces sorted into square cells, in levels by size, so that small and large pieces find each other without each
//! looking at all.

use rayon::prelude::*;

use super::body::{Body, Shapes};
use super::sweep::half_diagonal;

/// Pieces that one search looks at, at the most at each level; what lies beyond is not looked at. Pieces that do
/// not overlap come to about 80.
const LOOKED_AT: usize = 384;
/// Cells that one search looks into at each level, at the most.
const CELLS: i64 = 1024;

/// Pieces of one size, in cells.
struct Level {
    cell: f64,
    /// Largest half diagonal of its pieces.
    half: f64,
    least: (i64, i64),
    size: (i64, i64),
    /// Cells in rows when the room is small for its pieces, else by a hash.
    dense: bool,
    start: Vec<u32>,
    bodies: Vec<Body>,
}

/// All pieces that a search may meet.
pub(crate) struct Grid {
    levels: Vec<Level>,
}

impl Grid {
    /// Sorts bodies.
    pub(crate) fn new(shapes: &Shapes, bodies: Vec<Body>) -> Self {
        // Powers of four from 4 mm: level k holds half diagonals up to 4^(k+1).
        let level = |half: f64| (0..12u32).find(|k| half <= f64::from(4u32 << (2 * k))).unwrap_or(12);
        let of_shape: Vec<u32> = shapes.all().iter().map(|s| level(half_diagonal(*s))).collect();
        let level_of = |b: &Body| of_shape[usize::from(b.shape)];
        let mut present = [false; 13];
        bodies.iter().for_each(|b| present[level_of(b) as usize] = true);
        let levels: Vec<u32> = (0..13u32).filter(|&k| present[k as usize]).collect();
        if levels.len() <= 1 {
            return Self { levels: levels.iter().map(|_| Level::new(shapes, &bodies)).collect() };
        }
        let own = |k: u32| -> Vec<Body> { bodies.iter().filter(|b| level_of(b) == k).copied().collect() };
        Self { levels: levels.iter().map(|&k| Level::new(shapes, &own(k))).collect() }
    }

    /// Calls `see` with the pieces whose nearest corner may lie within `reach` of (x, y), to the east or west and to the
    /// north or south.
    pub(crate) fn near(&self, x: f64, y: f64, reach: (f64, f64), mut see: impl FnMut(&Body)) {
        for level in &self.levels {
            level.near(x, y, reach, &mut see);
        }
    }
}

impl Level {
    fn new(shapes: &Shapes, bodies: &[Body]) -> Self {
        let count = bodies.len();
        let (mut half, mut tall) = (0.0f64, 0.0f64);
        let mut last = u16::MAX;
        for b in bodies {
            if b.shape != last {
                last = b.shape;
                let s = shapes.get(b.shape);
                half = half.max(half_diagonal(s));
                tall = tall.max(s.h.min(4.0 * s.w));
            }
        }
        let [x0, y0, x1, y1] = bounds(bodies);
        let room = 2 * count as i64 + 64;
        let sized = |cell: f64| {
            let at = |v: f64| (v / cell).floor() as i64;
            let least = (at(x0), at(y0));
            let size = (at(x1) - least.0 + 1, at(y1) - least.1 + 1);
            (least, size, size.0 <= room && size.1 <= room && size.0 * size.1 <= room)
        };
        // Small cells waste less where they can lie in rows; where they must be looked up, fewer are better.
        let cell = tall.max(half).max(1.0);
        let small = sized(cell / 2.0);
        let (cell, (least, size, dense)) = if small.2 { (cell / 2.0, small) } else { (cell, sized(cell)) };
        let slots = if dense { (size.0 * size.1) as usize } else { count.max(1).next_power_of_two() };
        let mut level =
            Self { cell, half, least, size, dense, start: vec![0; slots + 1], bodies: Vec::new() };
        level.fill(bodies);
        level
    }

    fn fill(&mut self, bodies: &[Body]) {
        let slots: Vec<u32> = bodies.par_iter().map(|b| self.slot_of(b) as u32).collect();
        slots.iter().for_each(|s| self.start[*s as usize] += 1);
        let mut sum = 0;
        for s in &mut self.start {
            sum += *s;
            *s = sum;
        }
        let none = Body { x: 0.0, y: 0.0, z: 0.0, id: 0, turn: 0, shape: 0, plank: 0 };
        self.bodies = vec![none; bodies.len()];
        // From the last to the first, so that each cell keeps the order of its pieces.
        for (b, slot) in bodies.iter().zip(&slots).rev() {
            let at = &mut self.start[*slot as usize];
            *at -= 1;
            self.bodies[*at as usize] = *b;
        }
    }

    fn slot_of(&self, b: &Body) -> usize {
        let (cx, cy) = self.cell_of(b);
        self.slot(cx, cy)
    }

    fn cell_of(&self, b: &Body) -> (i64, i64) {
        ((b.x / self.cell).floor() as i64, (b.y / self.cell).floor() as i64)
    }

    fn slot(&self, cx: i64, cy: i64) -> usize {
        let (u, v) = (cx - self.least.0, cy - self.least.1);
        if self.dense {
            return (v * self.size.0 + u) as usize;
        }
        let mixed =
            (u as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ (v as u64).wrapping_mul(0xc2b2_ae3d_27d4_eb4f);
        (mixed ^ (mixed >> 29)) as usize & (self.start.len() - 2)
    }

    fn near(&self, x: f64, y: f64, reach: (f64, f64), see: &mut impl FnMut(&Body)) {
        let (rx, ry) = (reach.0 + self.half, reach.1 + self.half);
        let cut = |v: f64, least: i64, size: i64| ((v / self.cell).floor() as i64 - least).clamp(-1, size);
        let (u0, u1) = (cut(x - rx, self.least.0, self.size.0), cut(x + rx, self.least.0, self.size.0));
        let (v0, v1) = (cut(y - ry, self.least.1, self.size.1), cut(y + ry, self.least.1, self.size.1));
        let (u0, u1) = (u0.max(0), u1.min(self.size.0 - 1));
        let (v0, v1) = (v0.max(0), v1.min(self.size.1 - 1));
        if u0 > u1 {
            return;
        }
        let mut looked = 0;
        let mut scan = |bodies: &[Body], cell: Option<(i64, i64)>| {
            for b in bodies {
                // Cells that share a slot must not be seen twice.
                if cell.is_some_and(|c| self.cell_of(b) != c) {
                    continue;
                }
                looked += 1;
                if looked > LOOKED_AT {
                    return false;
                }
                if (b.x - x).abs() <= rx && (b.y - y).abs() <= ry {
                    see(b);
                }
            }
            true
        };
        let from_to = |first: usize, last: usize| self.start[first] as usize..self.start[last + 1] as usize;
        let mut cells = 0;
        for v in v0..=v1 {
            if self.dense {
                // The cells of a row lie one after another.
                let first = (v * self.size.0 + u0) as usize;
                if !scan(&self.bodies[from_to(first, first + (u1 - u0) as usize)], None) {
                    return;
                }
                continue;
            }
            for u in u0..=u1 {
                let cell = (u + self.least.0, v + self.least.1);
                let slot = self.slot(cell.0, cell.1);
                cells += 1;
                if cells > CELLS || !scan(&self.bodies[from_to(slot, slot)], Some(cell)) {
                    return;
                }
            }
        }
    }
}

/// Least and most east and north of some bodies: west, south, east, north.
fn bounds(bodies: &[Body]) -> [f64; 4] {
    let none = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    let join = |a: [f64; 4], b: [f64; 4]| [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])];
    let of = |c: &[Body]| c.iter().fold(none, |a, b| join(a, [b.x, b.y, b.x, b.y]));
    bodies.par_chunks(1 << 16).map(of).reduce(|| none, join)
}

/// Side of the coarse cells by which items find their neighbours, for pieces that reach `farthest` mm.
pub(crate) fn coarse_cell(farthest: f64) -> f64 {
    (farthest / 16.0).ceil().max(4.0) * 16.0
}

/// The coarse cell of a place.
pub(crate) fn coarse_key(x: f64, y: f64, cell: f64) -> (i32, i32) {
    ((x / cell).floor() as i32, (y / cell).floor() as i32)
}
