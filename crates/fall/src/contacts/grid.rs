//! Pieces sorted into square cells, in levels by size, so that small and large pieces find each other without each
//! looking at all.

use super::body::{Body, Shapes};
use super::sweep::half_diagonal;

/// Pieces that one search looks at, at the most; what lies beyond is not looked at. Only pieces that overlap by the
/// hundreds come near it.
const LOOKED_AT: usize = 1024;
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
    /// Sorts bodies; `of(i)` gives the i-th of `count`.
    pub(crate) fn new(shapes: &Shapes, count: usize, of: &(dyn Fn(usize) -> Body + Sync)) -> Self {
        let level_of = |b: &Body| {
            let half = half_diagonal(shapes.get(b.shape));
            // Powers of four from 4 mm: level k holds half diagonals up to 4^(k+1).
            (0..12u32).find(|k| half <= f64::from(4u32 << (2 * k))).unwrap_or(12)
        };
        let mut present = [false; 13];
        let mut last = (u16::MAX, 0);
        for i in 0..count {
            let b = of(i);
            if b.shape != last.0 {
                last = (b.shape, level_of(&b));
            }
            present[last.1 as usize] = true;
        }
        let many = present.iter().filter(|p| **p).count() > 1;
        let levels = (0..13u32).filter(|&k| present[k as usize]).map(|k| {
            if many {
                let own: Vec<u32> = (0..count as u32).filter(|&i| level_of(&of(i as usize)) == k).collect();
                Level::new(shapes, own.len(), &|i| of(own[i] as usize))
            } else {
                Level::new(shapes, count, of)
            }
        });
        Self { levels: levels.collect() }
    }

    /// Calls `see` with the pieces whose nearest corner may lie within `reach` of (x, y).
    pub(crate) fn near(&self, x: f64, y: f64, reach: f64, mut see: impl FnMut(&Body)) {
        for level in &self.levels {
            level.near(x, y, reach, &mut see);
        }
    }
}

impl Level {
    fn new(shapes: &Shapes, count: usize, of: &dyn Fn(usize) -> Body) -> Self {
        let (mut half, mut tall) = (0.0f64, 0.0f64);
        let mut bounds = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
        let mut last = u16::MAX;
        for i in 0..count {
            let b = of(i);
            if b.shape != last {
                last = b.shape;
                let s = shapes.get(b.shape);
                half = half.max(half_diagonal(s));
                tall = tall.max(s.h.min(4.0 * s.w));
            }
            bounds = [bounds[0].min(b.x), bounds[1].min(b.y), bounds[2].max(b.x), bounds[3].max(b.y)];
        }
        let cell = tall.max(half).max(1.0);
        let at = |v: f64| (v / cell).floor() as i64;
        let least = (at(bounds[0]), at(bounds[1]));
        let size = (at(bounds[2]) - least.0 + 1, at(bounds[3]) - least.1 + 1);
        let room = 2 * count as i64 + 64;
        let dense = size.0 <= room && size.1 <= room && size.0 * size.1 <= room;
        let slots = if dense { (size.0 * size.1) as usize } else { (count.max(1)).next_power_of_two() };
        let mut level =
            Self { cell, half, least, size, dense, start: vec![0; slots + 1], bodies: Vec::new() };
        level.fill(count, of);
        level
    }

    fn fill(&mut self, count: usize, of: &dyn Fn(usize) -> Body) {
        for i in 0..count {
            let slot = self.slot_of(&of(i));
            self.start[slot] += 1;
        }
        let mut sum = 0;
        for s in &mut self.start {
            sum += *s;
            *s = sum;
        }
        let none = Body { x: 0.0, y: 0.0, z: 0.0, id: 0, turn: 0, shape: 0 };
        self.bodies = vec![none; count];
        // From the last to the first, so that each cell keeps the order of its pieces.
        for i in (0..count).rev() {
            let b = of(i);
            let slot = self.slot_of(&b);
            self.start[slot] -= 1;
            self.bodies[self.start[slot] as usize] = b;
        }
    }

    fn slot_of(&self, b: &Body) -> usize {
        let (cx, cy) = ((b.x / self.cell).floor() as i64, (b.y / self.cell).floor() as i64);
        self.slot(cx, cy)
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

    fn near(&self, x: f64, y: f64, reach: f64, see: &mut impl FnMut(&Body)) {
        let r = reach + self.half;
        let cut = |v: f64, least: i64, size: i64| ((v / self.cell).floor() as i64 - least).clamp(-1, size);
        let (u0, u1) = (cut(x - r, self.least.0, self.size.0), cut(x + r, self.least.0, self.size.0));
        let (v0, v1) = (cut(y - r, self.least.1, self.size.1), cut(y + r, self.least.1, self.size.1));
        let (u0, u1) = (u0.max(0), u1.min(self.size.0 - 1));
        let (v0, v1) = (v0.max(0), v1.min(self.size.1 - 1));
        let (mut looked, mut cells) = (0, 0);
        for v in v0..=v1 {
            for u in u0..=u1 {
                cells += 1;
                if looked > LOOKED_AT || cells > CELLS {
                    return;
                }
                let slot = self.slot(u + self.least.0, v + self.least.1);
                for b in &self.bodies[self.start[slot] as usize..self.start[slot + 1] as usize] {
                    // Cells that share a slot must not be seen twice.
                    if !self.dense
                        && ((b.x / self.cell).floor() as i64 - self.least.0 != u
                            || (b.y / self.cell).floor() as i64 - self.least.1 != v)
                    {
                        continue;
                    }
                    looked += 1;
                    if looked > LOOKED_AT {
                        return;
                    }
                    if (b.x - x).abs() <= r && (b.y - y).abs() <= r {
                        see(b);
                    }
                }
            }
        }
    }
}

/// Side of the coarse cells by which items find their neighbours, for pieces that reach `farthest` mm: a power of two.
pub(crate) fn coarse_cell(farthest: f64) -> f64 {
    let mut cell = 128.0;
    while cell < farthest {
        cell *= 2.0;
    }
    cell
}

/// The coarse cell of a place.
pub(crate) fn coarse_key(x: f64, y: f64, cell: f64) -> (i32, i32) {
    ((x / cell).floor() as i32, (y / cell).floor() as i32)
}
