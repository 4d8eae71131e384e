//! How fast the fall is taken to run: the ends and the middle of the range of friction, narrowed by timed lines.

use plan::{Hall, Plan, TimedLine};

use super::closed::friction_from_speed;

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
    let (least, most) = range(plan);
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

/// Least and most friction of piece on piece: as the hall states, or as the timed lines say. Several lines give the
/// range of what each says, widened by their scatter; a single one is taken as right to 3 %.
fn range(plan: &Plan) -> (f64, f64) {
    let (h, d) = usual_size(plan);
    let hall: &Hall = &plan.hall;
    let speed = |t: &TimedLine| (t.gap.to_mm() + d) * f64::from(t.pieces.max(1)) * 1e-3 / t.took.to_s();
    let told: Vec<f64> = hall
        .timed
        .iter()
        .filter(|t| t.gap.to_mm() > 0.0 && t.gap.to_mm() < h && t.took.to_s() > 0.0)
        .map(|t| friction_from_speed(h, d, t.gap.to_mm(), speed(t)))
        .collect();
    match (told.as_slice(), hall.timed.first()) {
        ([], _) | (_, None) => sorted(hall.grip.piece),
        ([_], Some(_)) => {
            let t =
                hall.timed.iter().find(|t| t.gap.to_mm() > 0.0 && t.gap.to_mm() < h && t.took.to_s() > 0.0);
            let Some(t) = t else { return sorted(hall.grip.piece) };
            let at = |k: f64| friction_from_speed(h, d, t.gap.to_mm(), speed(t) * k);
            (at(1.0 + ONE_LINE), at(1.0 - ONE_LINE))
        }
        (all, _) => {
            let n = all.len() as f64;
            let mean = all.iter().sum::<f64>() / n;
            let scatter = (all.iter().map(|m| (m - mean) * (m - mean)).sum::<f64>() / (n - 1.0)).sqrt();
            let least = all.iter().copied().fold(f64::INFINITY, f64::min);
            let most = all.iter().copied().fold(0.0, f64::max);
            ((least - scatter).max(0.0), (most + scatter).min(1.0))
        }
    }
}

fn sorted((a, b): (f64, f64)) -> (f64, f64) {
    (a.min(b).clamp(0.0, 1.0), a.max(b).clamp(0.0, 1.0))
}

/// Height and thickness of the kind that timed lines are made of: the first of the stock.
fn usual_size(plan: &Plan) -> (f64, f64) {
    plan.stock.kinds.first().map_or((48.0, 7.5), |k| (k.height.to_mm(), k.thickness.to_mm()))
}
