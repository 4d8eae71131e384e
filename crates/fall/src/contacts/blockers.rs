//! Fixed things between pieces: stoppers that are fixed to the floor, pillars, and planks beneath which pieces pass.

use geometry::Point;
use plan::{Body as ItemBody, HallPartKind, Plan};

use crate::room::{board, clear_height};

use super::body::Body;
use super::grid::coarse_key;

/// Coarse cells that one thing may fill before it counts in none of them; it then bars nothing. A pillar that large is
/// no pillar.
const CELLS: i64 = 1 << 20;

/// The foot of what stands on a plank is told to so much, mm.
const ON_IT: f64 = 0.5;

/// Something upright on a polygon.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Block {
    outline: Vec<Point>,
    /// Floor to top, mm; of a plank at the middle of the floor plan.
    from: f32,
    to: f32,
    /// How a plank rises to the east and to the north.
    grade: (f64, f64),
    /// The underside of a plank, which lets pass what stands on it: how thick its board is, mm.
    plank: Option<f64>,
    bounds: [f64; 4],
}

/// All of them, and the coarse cells that they touch.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Blocks {
    list: Vec<Block>,
    /// Cell and place in the list, sorted.
    cells: Vec<((i32, i32), u32)>,
    cell: f64,
}

impl Blocks {
    /// What bars a fall in a plan.
    pub(crate) fn of(plan: &Plan, cell: f64) -> Self {
        let mut list = Vec::new();
        for item in &plan.items {
            if let ItemBody::Stopper(s) = &item.body
                && s.fixed
            {
                let frame = item.stands();
                let (t, w) = (s.thickness.to_mm() / 2.0, s.width.to_mm() / 2.0);
                let outline = [(-t, -w), (t, -w), (t, w), (-t, w)].map(|(u, v)| frame.at(u, v)).to_vec();
                let base = plan.height_at(item.surface, item.stands().origin);
                list.extend(Block::new(outline, base, base + s.height.to_mm()));
            }
        }
        for part in plan.hall.parts.iter().filter(|p| p.is == HallPartKind::Pillar) {
            let top = if part.height.to_mm() > 0.0 { part.height.to_mm() } else { 1e6 };
            list.extend(Block::new(part.outline.clone(), 0.0, top));
        }
        // A piece that lies under a plank is not hit from above: the plank is in between.
        for s in &plan.surfaces {
            let (h, grade) = (s.height_at(Point::new(0.0, 0.0)), s.grade());
            let plank = Block::new(s.outline.clone(), h - 5.0, h);
            list.extend(plank.map(|b| Block { plank: Some(board(plan, s)), grade: (grade.x, grade.y), ..b }));
        }
        let mut all = Self { list, cells: Vec::new(), cell };
        for (i, b) in (0u32..).zip(&all.list) {
            let (lo, hi) =
                (coarse_key(b.bounds[0], b.bounds[1], cell), coarse_key(b.bounds[2], b.bounds[3], cell));
            let (nx, ny) = (i64::from(hi.0) - i64::from(lo.0) + 1, i64::from(hi.1) - i64::from(lo.1) + 1);
            if nx * ny <= CELLS {
                all.cells.extend((lo.0..=hi.0).flat_map(|x| (lo.1..=hi.1).map(move |y| ((x, y), i))));
            }
        }
        all.cells.sort_unstable();
        all
    }

    /// The cells that hold something, sorted, some of them more than once.
    pub(crate) fn cells(&self) -> Vec<(i32, i32)> {
        let mut cells: Vec<(i32, i32)> = self.cells.iter().map(|c| c.0).collect();
        cells.dedup();
        cells
    }

    /// True when something stands in or next to the cell of a piece.
    pub(crate) fn near(&self, b: &Body) -> bool {
        !self.list.is_empty() && self.around(b).next().is_some()
    }

    /// True when something stands between two pieces: on the line between their centres, at their height.
    pub(crate) fn bars(&self, from: &Body, to: &Body) -> bool {
        if self.list.is_empty() {
            return false;
        }
        let (a, b) = (Point::new(from.x, from.y), Point::new(to.x, to.y));
        let (low, high) = (from.z.min(to.z), from.z.max(to.z));
        self.around(from).any(|i| {
            let block = &self.list[i as usize];
            if block.plank.is_some() {
                // Between an upper and a lower piece when both stand over its outline, or the lower one beneath it.
                let at = if from.z < to.z { a } else { b };
                let under = (f64::from(block.from) + block.grade.0 * at.x + block.grade.1 * at.y) as f32;
                return low < under && high >= under && block.holds(at);
            }
            block.to > low + 2.0 && block.from < high + 20.0 && block.cuts(a, b)
        })
    }

    /// True when a plank leaves a piece of a height (mm) too little room to fall.
    pub(crate) fn lies_low(&self, b: &Body, height: f64) -> bool {
        let at = Point::new(b.x, b.y);
        !self.list.is_empty()
            && self.around(b).any(|i| {
                let block = &self.list[i as usize];
                let over = f64::from(block.to) + block.grade.0 * at.x + block.grade.1 * at.y - f64::from(b.z);
                // What stands on it is not beneath it.
                block.plank.is_some_and(|thick| over > ON_IT && over - thick < clear_height(height) - 1e-3)
                    && block.holds(at)
            })
    }

    fn around(&self, b: &Body) -> impl Iterator<Item = u32> + '_ {
        let (cx, cy) = coarse_key(b.x, b.y, self.cell);
        (-1..=1).flat_map(move |dx| {
            let first = self.cells.partition_point(|c| c.0 < (cx + dx, cy - 1));
            self.cells[first..].iter().take_while(move |c| c.0 <= (cx + dx, cy + 1)).map(|c| c.1)
        })
    }
}

impl Block {
    fn new(outline: Vec<Point>, from: f64, to: f64) -> Option<Self> {
        if outline.len() < 3 || outline.iter().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
            return None;
        }
        let mut bounds = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
        for p in &outline {
            bounds = [bounds[0].min(p.x), bounds[1].min(p.y), bounds[2].max(p.x), bounds[3].max(p.y)];
        }
        Some(Self { outline, from: from as f32, to: to as f32, plank: None, grade: (0.0, 0.0), bounds })
    }

    fn sides(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let n = self.outline.len();
        (0..n).map(move |i| (self.outline[i], self.outline[(i + 1) % n]))
    }

    fn holds(&self, p: Point) -> bool {
        let crossings = self.sides().filter(|(a, b)| {
            (a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x
        });
        crossings.count() % 2 == 1
    }

    fn cuts(&self, a: Point, b: Point) -> bool {
        let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
        self.holds(a)
            || self
                .sides()
                .any(|(p, q)| side(p, q, a) * side(p, q, b) <= 0.0 && side(a, b, p) * side(a, b, q) <= 0.0)
    }
}
