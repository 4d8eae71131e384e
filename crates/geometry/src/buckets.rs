//! Points sorted into square cells, so that neighbours are found without looking at all points.

use crate::Point;

/// An index over points for neighbour queries.
///
/// Built by counting into cells in time and memory linear in the points, wherever they lie: where the cells of the
/// whole extent would outnumber the points, they share buckets by a fixed hash. A point with a coordinate that is not
/// finite is in no bucket and never found. Points that all lie in one cell are found by looking at all of them, so a
/// million pieces in one place have a million neighbours each; stop early there, as [`Self::pairs`] allows.
#[derive(Debug, Clone)]
pub struct Buckets<T> {
    cell: f64,
    /// West and south edge of cell (0, 0).
    corner: (f64, f64),
    layout: Layout,
    /// Where each bucket begins in the columns below; one more at the end.
    starts: Vec<u32>,
    index: Vec<u32>,
    xs: Vec<T>,
    ys: Vec<T>,
    /// The points' own columns, to walk them in their order.
    count: usize,
}

#[derive(Debug, Clone, Copy)]
enum Layout {
    /// Bucket = row * columns + column.
    Grid { columns: i64, rows: i64 },
    /// Bucket = hash of column and row, of which the top bits are taken.
    Hash { shift: u32 },
}

impl<T: Copy + Into<f64>> Buckets<T> {
    /// Sorts the points (`xs[i]`, `ys[i]`), in mm, into cells of side `cell` mm. Best when `cell` is about the reach
    /// that is asked for; one that is not above 0 is chosen so that there are about as many cells as points.
    /// Of columns of unequal length the longer one's rest is left out; at most 2^32 - 1 points are taken.
    pub fn new(xs: &[T], ys: &[T], cell: f64) -> Self {
        let count = xs.len().min(ys.len()).min(u32::MAX as usize);
        let (xs, ys) = (&xs[..count], &ys[..count]);
        let (corner, far) = extent(xs, ys);
        let (width, height) = (far.0 - corner.0, far.1 - corner.1);
        let even = (width.max(height) / (count.max(1) as f64).sqrt()).max(1e-6);
        let cell = if cell > 0.0 && cell.is_finite() { cell } else { even };
        let layout = Layout::new((width, height), cell, count);
        let mut buckets = Self {
            cell,
            corner,
            layout,
            starts: vec![0; layout.buckets() + 1],
            index: Vec::new(),
            xs: Vec::new(),
            ys: Vec::new(),
            count,
        };
        buckets.sort(xs, ys);
        buckets
    }

    /// How many points were given, those that are in no bucket among them.
    pub fn len(&self) -> usize {
        self.count
    }

    /// True when no point was given.
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Calls `found` with the number of each point at most `reach` mm from (`x`, `y`): cells from south to north and
    /// west to east, within a cell in the order of the points.
    pub fn near(&self, x: f64, y: f64, reach: f64, mut found: impl FnMut(u32)) {
        self.near_while(x, y, reach, |i| {
            found(i);
            true
        });
    }

    /// Calls `found` with each two points at most `reach` mm apart, once, the smaller number first; the first of the
    /// two goes through the buckets. Ends when `found` says false, and then gives false itself.
    pub fn pairs(&self, reach: f64, mut found: impl FnMut(u32, u32) -> bool) -> bool {
        for (&i, (&x, &y)) in self.index.iter().zip(self.xs.iter().zip(&self.ys)) {
            if !self.near_while(x.into(), y.into(), reach, |j| j <= i || found(i, j)) {
                return false;
            }
        }
        true
    }

    /// As [`Self::near`], but ends when `found` says false, and then gives false itself.
    pub fn near_while(&self, x: f64, y: f64, reach: f64, mut found: impl FnMut(u32) -> bool) -> bool {
        let valid = x.is_finite() && y.is_finite() && reach >= 0.0;
        let square = reach * reach;
        let near = |px: f64, py: f64| (px - x) * (px - x) + (py - y) * (py - y) <= square;
        let (low, high) = ((x - reach, y - reach), (x + reach, y + reach));
        !valid || self.visit(low, high, |i, px, py| !near(px, py) || found(i))
    }

    /// Calls `found` with the number of each point from `low` to `high`, both corners of an upright rectangle included, in
    /// the order of [`Self::near`]. Ends when `found` says false, and then gives false itself.
    pub fn within_while(&self, low: Point, high: Point, mut found: impl FnMut(u32) -> bool) -> bool {
        let (x, y) = (low.x..=high.x, low.y..=high.y);
        let valid = low.x <= high.x && low.y <= high.y;
        let inside = |px: f64, py: f64| x.contains(&px) && y.contains(&py);
        !valid || self.visit((low.x, low.y), (high.x, high.y), |i, px, py| !inside(px, py) || found(i))
    }

    /// Calls `see` with the points of all cells that a rectangle meets, until it says false.
    fn visit(&self, low: (f64, f64), high: (f64, f64), mut see: impl FnMut(u32, f64, f64) -> bool) -> bool {
        if self.index.is_empty() {
            return true;
        }
        let (west, south) = self.cell_of(low.0, low.1);
        let (east, north) = self.cell_of(high.0, high.1);
        let mut look = |slots: std::ops::Range<usize>, own: Option<(i64, i64)>| {
            for slot in slots {
                let (px, py): (f64, f64) = (self.xs[slot].into(), self.ys[slot].into());
                let here = own.is_none_or(|own| self.cell_of(px, py) == own);
                if here && !see(self.index[slot], px, py) {
                    return false;
                }
            }
            true
        };
        match self.layout {
            Layout::Grid { columns, rows } => {
                let (west, east) = (west.max(0), east.min(columns - 1));
                if west > east {
                    return true;
                }
                for row in south.max(0)..=north.min(rows - 1) {
                    let begin = self.starts[(row * columns + west) as usize] as usize;
                    let end = self.starts[(row * columns + east) as usize + 1] as usize;
                    if !look(begin..end, None) {
                        return false;
                    }
                }
                true
            }
            Layout::Hash { .. } => {
                let cells = (east as f64 - west as f64 + 1.0) * (north as f64 - south as f64 + 1.0);
                if cells > self.index.len() as f64 {
                    return look(0..self.index.len(), None);
                }
                for row in south..=north {
                    for column in west..=east {
                        let bucket = self.layout.bucket((column, row));
                        let slots = self.starts[bucket] as usize..self.starts[bucket + 1] as usize;
                        if !look(slots, Some((column, row))) {
                            return false;
                        }
                    }
                }
                true
            }
        }
    }

    fn cell_of(&self, x: f64, y: f64) -> (i64, i64) {
        // A cast from f64 saturates; halved so that neighbours of the farthest cell have numbers too.
        let number = |v: f64| (v.floor() as i64).clamp(i64::MIN / 2, i64::MAX / 2);
        (number((x - self.corner.0) / self.cell), number((y - self.corner.1) / self.cell))
    }

    /// Counting sort: stable, so the order of the points stays within a bucket.
    fn sort(&mut self, xs: &[T], ys: &[T]) {
        const NOWHERE: u32 = u32::MAX;
        let bucket = |x: f64, y: f64| {
            if x.is_finite() && y.is_finite() {
                self.layout.bucket(self.cell_of(x, y)) as u32
            } else {
                NOWHERE
            }
        };
        let of: Vec<u32> = xs.iter().zip(ys).map(|(&x, &y)| bucket(x.into(), y.into())).collect();
        let Some((&x0, &y0)) = xs.first().zip(ys.first()) else { return };
        for &b in of.iter().filter(|&&b| b != NOWHERE) {
            self.starts[b as usize + 1] += 1;
        }
        let mut sum = 0;
        for start in &mut self.starts {
            sum += *start;
            *start = sum;
        }
        (self.index, self.xs, self.ys) =
            (vec![0; sum as usize], vec![x0; sum as usize], vec![y0; sum as usize]);
        let mut next = self.starts.clone();
        for (i, &b) in of.iter().enumerate().filter(|(_, b)| **b != NOWHERE) {
            let slot = next[b as usize] as usize;
            next[b as usize] += 1;
            (self.index[slot], self.xs[slot], self.ys[slot]) = (i as u32, xs[i], ys[i]);
        }
    }
}

impl Layout {
    fn new((width, height): (f64, f64), cell: f64, count: usize) -> Self {
        let (columns, rows) = ((width / cell).floor() + 1.0, (height / cell).floor() + 1.0);
        if columns * rows <= 2.0 * count as f64 + 64.0 {
            Self::Grid { columns: columns as i64, rows: rows as i64 }
        } else {
            Self::Hash { shift: 64 - (count.max(32) as u64).next_power_of_two().trailing_zeros() }
        }
    }

    fn buckets(self) -> usize {
        match self {
            Self::Grid { columns, rows } => (columns * rows) as usize,
            Self::Hash { shift } => 1 << (64 - shift),
        }
    }

    fn bucket(self, (column, row): (i64, i64)) -> usize {
        match self {
            Self::Grid { columns, rows } => {
                (row.clamp(0, rows - 1) * columns + column.clamp(0, columns - 1)) as usize
            }
            // Multiplication by the golden ratio's bits, twice: any odd constant without a pattern does.
            Self::Hash { shift } => {
                let mixed = (column as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ (row as u64);
                (mixed.rotate_left(23).wrapping_mul(0x9E37_79B9_7F4A_7C15) >> shift) as usize
            }
        }
    }
}

/// South-west and north-east corner of what is finite; (0, 0) twice when nothing is.
fn extent<T: Copy + Into<f64>>(xs: &[T], ys: &[T]) -> ((f64, f64), (f64, f64)) {
    let (mut low, mut high) = ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY));
    for (&x, &y) in xs.iter().zip(ys) {
        let (x, y): (f64, f64) = (x.into(), y.into());
        if x.is_finite() && y.is_finite() {
            low = (low.0.min(x), low.1.min(y));
            high = (high.0.max(x), high.1.max(y));
        }
    }
    if low.0 <= high.0 { (low, high) } else { ((0.0, 0.0), (0.0, 0.0)) }
}
