//! Where to leave gaps in one line: optimal for given risks and building times.

/// Pieces of a line in the order of building, and how likely each is knocked.
///
/// Piece p stands from `built[p]` until `end` and is knocked `rate[p]` times per unit of time; a knock takes all pieces of
/// its segment that stand by then. The loss of a segment is Σ `rate[p]` · (`end` − max(`built[p]`, `built[q]`)) over all
/// pairs of its pieces.
#[derive(Debug, Clone, Copy)]
pub struct Line<'a> {
    /// Knocks per unit of time.
    pub rate: &'a [f64],
    /// When each piece is placed; must not fall from one piece to the next.
    pub built: &'a [f64],
    /// When the line falls for good; not before the last piece is placed.
    pub end: f64,
}

/// The best places for gaps in a line.
#[derive(Debug, Clone, PartialEq)]
pub struct LineGaps {
    /// Expected pieces that are knocked over and have to be placed again.
    pub loss: f64,
    /// Each gap lies before the piece of this number.
    pub cuts: Vec<u32>,
}

/// Why gaps cannot be found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GapsError {
    /// The columns differ in length.
    #[error("The line has {rates} rates but {times} building times. Give one of each for every piece.")]
    Columns {
        /// Rates that were given.
        rates: usize,
        /// Times that were given.
        times: usize,
    },
    /// A value that is not a number, below zero or out of order.
    #[error(
        "Piece {piece} of the line has a rate or a building time that cannot be: rates are at least 0, \
             times do not fall along the line and do not pass the end. Give the pieces in the order of building."
    )]
    Value {
        /// The piece, from 0.
        piece: usize,
    },
}

/// Pieces up to which every place for a gap is looked at; longer lines are looked at in equal steps, which costs little
/// because the optimum is flat.
const FINE: usize = 20_000;

/// The best places for `gaps` gaps. Optimal for lines of up to 20 000 pieces, in O(k n log n).
///
/// The loss is a sum of terms of pairs that are never negative, so it satisfies the quadrangle inequality, and the best
/// last gap moves forward with the end of the line: each half of a layer is searched on its side of the middle's best.
/// Five running sums give the loss of any segment at once.
pub fn gaps_on_line(line: &Line<'_>, gaps: usize) -> Result<LineGaps, GapsError> {
    check(line)?;
    let n = line.rate.len();
    if n == 0 {
        return Ok(LineGaps { loss: 0.0, cuts: Vec::new() });
    }
    let step = n.div_ceil(FINE);
    let sums = Sums::of(line, step);
    let layers = gaps.min(sums.steps() - 1);
    let mut best: Vec<f64> = (0..=sums.steps()).map(|to| sums.loss(0, to)).collect();
    let mut from: Vec<Vec<u32>> = Vec::with_capacity(layers);
    for _ in 0..layers {
        let mut next = Layer { best: vec![f64::INFINITY; best.len()], from: vec![0; best.len()] };
        next.fill(&best, &sums);
        best = next.best;
        from.push(next.from);
    }
    let (mut at, mut cuts) = (sums.steps(), Vec::new());
    for layer in from.iter().rev() {
        at = layer[at] as usize;
        cuts.push((at * step) as u32);
    }
    cuts.reverse();
    Ok(LineGaps { loss: best[sums.steps()], cuts })
}

fn check(line: &Line<'_>) -> Result<(), GapsError> {
    let (rates, times) = (line.rate.len(), line.built.len());
    if rates != times {
        return Err(GapsError::Columns { rates, times });
    }
    let mut last = f64::NEG_INFINITY;
    for (piece, (&rate, &built)) in line.rate.iter().zip(line.built).enumerate() {
        let sound = rate.is_finite() && rate >= 0.0 && built.is_finite() && line.end.is_finite();
        if !sound || built < last || built > line.end {
            return Err(GapsError::Value { piece });
        }
        last = built;
    }
    Ok(())
}

/// Running sums at the ends of the steps. With v = end − built and M the sum of the rates before a piece:
/// a segment from i to j loses Σ (p + 1 − i) rate v + Σ v (M − M at i).
struct Sums {
    /// Number of pieces before.
    count: Vec<f64>,
    rate: Vec<f64>,
    rate_time: Vec<f64>,
    place_rate_time: Vec<f64>,
    time: Vec<f64>,
    time_before: Vec<f64>,
}

impl Sums {
    fn of(line: &Line<'_>, step: usize) -> Self {
        let n = line.rate.len();
        let mut all = Self {
            count: vec![0.0],
            rate: vec![0.0],
            rate_time: vec![0.0],
            place_rate_time: vec![0.0],
            time: vec![0.0],
            time_before: vec![0.0],
        };
        let mut sum = [0.0; 5];
        for p in 0..n {
            let (rate, v) = (line.rate[p], line.end - line.built[p]);
            sum[4] += v * sum[0];
            sum[0] += rate;
            sum[1] += rate * v;
            sum[2] += (p + 1) as f64 * rate * v;
            sum[3] += v;
            if (p + 1) % step == 0 || p + 1 == n {
                all.count.push((p + 1) as f64);
                all.rate.push(sum[0]);
                all.rate_time.push(sum[1]);
                all.place_rate_time.push(sum[2]);
                all.time.push(sum[3]);
                all.time_before.push(sum[4]);
            }
        }
        all
    }

    fn steps(&self) -> usize {
        self.rate.len() - 1
    }

    /// The loss of a segment of steps.
    fn loss(&self, from: usize, to: usize) -> f64 {
        let d = |sums: &[f64]| sums[to] - sums[from];
        d(&self.place_rate_time) - self.count[from] * d(&self.rate_time) + d(&self.time_before)
            - self.rate[from] * d(&self.time)
    }
}

struct Layer {
    best: Vec<f64>,
    from: Vec<u32>,
}

impl Layer {
    fn fill(&mut self, before: &[f64], sums: &Sums) {
        let steps = sums.steps();
        // Ranges of ends with the range in which their best last gap lies.
        let mut todo = vec![(1, steps, 0, steps)];
        while let Some((low, high, from, to)) = todo.pop() {
            if low > high {
                continue;
            }
            let middle = usize::midpoint(low, high);
            let (mut best, mut at) = (f64::INFINITY, from);
            let range = from..=to.min(middle - 1);
            for (cut, before) in range.clone().zip(&before[range]) {
                let loss = before + sums.loss(cut, middle);
                if loss < best {
                    (best, at) = (loss, cut);
                }
            }
            (self.best[middle], self.from[middle]) = (best, at as u32);
            todo.push((low, middle - 1, from, at));
            todo.push((middle + 1, high, at, to));
        }
    }
}

/// The least Σ L² over the segments of a line of `pieces` with `gaps` gaps: equal segments, or as near as can be. Divided
/// by the pieces it is the loss of one accident when all are as likely: n / (k + 1) for equal segments.
pub fn even_loss(pieces: u64, gaps: u64) -> u64 {
    let parts = gaps.saturating_add(1).min(pieces.max(1));
    let (least, longer) = (pieces / parts, pieces % parts);
    longer * (least + 1) * (least + 1) + (parts - longer) * least * least
}

/// The best number of gaps in an even line when `accidents` are expected and a gap costs as much work as placing
/// `price` pieces: k + 1 = √(M n / g), from M n / (k + 1) + g k. At least 0, at most one before each piece.
pub fn even_gaps(pieces: u64, accidents: f64, price: f64) -> u64 {
    let parts = (accidents * pieces as f64 / price).sqrt().round();
    if parts.is_finite() { (parts.max(1.0) as u64 - 1).min(pieces.saturating_sub(1)) } else { 0 }
}
