//! How fast the fall is taken to run: the ends and the middle of the range of friction, narrowed by timed lines.

use plan::{Plan, TimedLine};

use super::closed::{friction_from_speed, speed_fitted};

/// How fast the fall is taken to run, within what the friction of piece on piece leaves open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum Pace {
    /// With the most friction.
    Slow,
    /// With the middle of the range.
    #[default]
    Usual,
    /// With the least friction.
    Fast,
}

/// How far one timed line may be off, as a share of its speed: single lines that were filmed differ by 1 to 2 %.
const ONE_LINE: f64 = 0.03;

/// The friction of piece on piece at a pace.
pub fn friction(plan: &Plan, pace: Pace) -> f64 {
    let (least, most) = piece_friction(plan);
    match pace {
        Pace::Slow => most,
        Pace::Usual => (least + most) / 2.0,
        Pace::Fast => least,
    }
}

/// The friction of piece on floor: least, middle and most.
pub fn floor_friction(plan: &Plan) -> [f64; 3] {
    let (least, most) = sorted(plan.hall.grip.floor);
    [least, (least + most) / 2.0, most]
}

/// What is to be thought of a timed line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimedIs {
    /// Some friction makes a line as fast: it counts.
    Fine,
    /// Faster than without any friction; it does not count.
    TooFast,
    /// Slower than with a friction of 1; it does not count.
    TooSlow,
    /// The pieces stand too far apart to touch; it does not count.
    TooWide,
}

/// A timed line and what it tells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timed {
    /// Whether it counts.
    pub is: TimedIs,
    /// Its speed, m/s.
    pub speed: f64,
    /// The friction of piece on piece that makes a line as fast, 0 to 1.
    pub friction: f64,
    /// How long as many pieces at this gap can take, s: without friction and with a friction of 1.
    pub can_take: (f64, f64),
}

/// What the timed lines of a plan tell, in their order. Pieces are taken as those of the first kind of the stock.
pub fn timed(plan: &Plan) -> Vec<Timed> {
    let size = usual_size(plan);
    plan.hall.timed.iter().map(|line| told(size, line)).collect()
}

fn told((h, d): (f64, f64), line: &TimedLine) -> Timed {
    let gap = line.gap.to_mm();
    let way = (gap + d) * f64::from(line.pieces.max(1)) * 1e-3;
    let speed = way / line.took.to_s();
    if !(gap > 0.0 && gap < h) {
        return Timed { is: TimedIs::TooWide, speed, friction: 0.0, can_take: (0.0, 0.0) };
    }
    let (fastest, slowest) = (speed_fitted(h, d, gap, 0.0), speed_fitted(h, d, gap, 1.0));
    let is = if speed > fastest * (1.0 + ONE_LINE) {
        TimedIs::TooFast
    } else if speed >= slowest * (1.0 - ONE_LINE) {
        TimedIs::Fine
    } else {
        // A time of nothing or of no number is none at which anything runs.
        TimedIs::TooSlow
    };
    Timed {
        is,
        speed,
        friction: friction_from_speed(h, d, gap, speed),
        can_take: (way / fastest, way / slowest),
    }
}

/// Least and most friction of piece on piece: as the hall states, or as the timed lines say that count. Their mean is
/// taken as right to 3 % of the speed, and each of several as right to their scatter.
pub fn piece_friction(plan: &Plan) -> (f64, f64) {
    let (h, d) = usual_size(plan);
    let told = timed(plan);
    // Lines at several gaps run at several speeds: each by its own gap.
    let fine = || told.iter().zip(&plan.hall.timed).filter(|(t, _)| t.is == TimedIs::Fine);
    let n = fine().count() as f64;
    if n == 0.0 {
        return sorted(plan.hall.grip.piece);
    }
    let mean = |of: &dyn Fn(&Timed, f64) -> f64| fine().map(|(t, l)| of(t, l.gap.to_mm())).sum::<f64>() / n;
    let at = |k: f64| mean(&|t, gap| friction_from_speed(h, d, gap, t.speed * k));
    let (least, most) = (at(1.0 + ONE_LINE), at(1.0 - ONE_LINE));
    if n == 1.0 {
        return (least, most);
    }
    let middle = mean(&|t, _| t.friction);
    let scatter = (mean(&|t, _| (t.friction - middle) * (t.friction - middle)) * n / (n - 1.0)).sqrt();
    let ends = |(low, high): (f64, f64), (t, _): (&Timed, &TimedLine)| {
        (low.min(t.friction - scatter), high.max(t.friction + scatter))
    };
    let (low, high) = fine().fold((least, most), ends);
    (low.max(0.0), high.min(1.0))
}

fn sorted((a, b): (f64, f64)) -> (f64, f64) {
    (a.min(b).clamp(0.0, 1.0), a.max(b).clamp(0.0, 1.0))
}

/// Height and thickness of the kind that timed lines are made of: the first of the stock.
fn usual_size(plan: &Plan) -> (f64, f64) {
    plan.stock.kinds.first().map_or((48.0, 7.5), |k| (k.height.to_mm(), k.thickness.to_mm()))
}
