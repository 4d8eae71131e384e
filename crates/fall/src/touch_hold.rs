//! Whether an opening in a line stops the fall: measured openings, by clear gap and friction of the floor.
//!
//! Source: own simulations with two engines of rigid bodies (rapier3d; MuJoCo as a second opinion), lines of 22 to 24
//! usual pieces before the opening, placed with a scatter of 1° and 0.5 mm; 10 to 40 runs for each opening. The values
//! lie in `tests/data/transfers/safety_*.csv`. Nothing was measured on real pieces yet, so on the floor at hand a test is
//! worth more than this table.

/// Whether an opening stops the fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Holds {
    /// It held in every measured run, for any friction in the range.
    Surely,
    /// It held in some runs, or nobody measured the like.
    Unsure,
    /// It held in no measured run, for some friction in the range.
    Not,
}

/// What stands in an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum Block {
    /// Nothing.
    #[default]
    None,
    /// A block of at least half the height of a piece, fixed to the floor: it held in all 384 runs.
    Fixed,
    /// A loose block that stands. At friction 0.3 it is worse than nothing, because it is pushed on like a piece.
    LooseStanding,
    /// A loose block that lies flat.
    LooseFlat,
}

/// An opening in a line, as it is built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Face to face across the opening, mm.
    pub clear: f64,
    /// Face to face between the pieces before it, mm; measured from 7.5 to 20.
    pub gap: f64,
    /// Height of the pieces, mm. Only 48 mm was measured; for others all lengths are scaled by the height, which is
    /// right for pieces of the same shape.
    pub height: f64,
    /// Least and most friction between a fallen piece and the floor; measured from 0.15 to 0.3. A floor that grips
    /// more counts as 0.3, a slicker one was not measured.
    pub floor: (f64, f64),
    /// What stands in it.
    pub block: Block,
}

/// Height of the measured pieces, mm.
const HEIGHT: f64 = 48.0;
/// Clear gaps of the measured lines, mm.
const GAPS: [f64; 3] = [7.5, 12.0, 20.0];
/// So far outside the measured gaps a gap still counts as measured, mm.
const NEAR: f64 = 0.5;
/// Openings with a fixed block were measured from this one, mm.
const BLOCK_FROM: f64 = 37.5;

/// What was measured on one floor; all lengths mm, for the clear gaps of [`GAPS`].
struct Floor {
    friction: f64,
    /// Up to here the fall passed in every run.
    passes: [f64; 3],
    /// From here on it was held in every run.
    holds: [f64; 3],
    /// Between these two it passed in every run again, though shorter openings held in some: pieces slide across and
    /// push the rest over. Least above most where there is no such range.
    slides: [(f64, f64); 3],
}

const NO: (f64, f64) = (f64::INFINITY, f64::NEG_INFINITY);

/// From the runs; on floors of 0.2 and 0.25 short openings were not run, so there 22.5 mm is taken from 0.15 and 0.3,
/// where it passed in all 80 runs.
const FLOORS: [Floor; 4] = [
    Floor {
        friction: 0.15,
        passes: [28.0, 30.0, 34.0],
        holds: [110.0, 80.0, 90.0],
        slides: [(46.0, 80.0), (44.0, 65.0), NO],
    },
    Floor { friction: 0.2, passes: [28.0, 30.0, 34.0], holds: [55.0, 48.0, 60.0], slides: [NO; 3] },
    Floor { friction: 0.25, passes: [28.0, 30.0, 34.0], holds: [48.0, 48.0, 55.0], slides: [NO; 3] },
    Floor { friction: 0.3, passes: [38.0, 40.0, 46.0], holds: [48.0, 50.0, 55.0], slides: [NO; 3] },
];

/// Whether an opening stops the fall, at the worst friction of the floor's range.
///
/// Between two measured frictions it holds surely only if it does at both. Between measured gaps the limits are
/// interpolated. With gaps that were not measured nothing holds surely, except against a fixed block.
pub fn hold(opening: &Opening) -> Holds {
    let scale = HEIGHT / opening.height.max(1e-3);
    let (clear, gap) = (opening.clear * scale, opening.gap * scale);
    if !clear.is_finite() || !gap.is_finite() {
        return Holds::Unsure;
    }
    match opening.block {
        Block::Fixed if clear >= BLOCK_FROM - NEAR => Holds::Surely,
        // The block stands closer to the pieces than in any run.
        Block::Fixed => Holds::Unsure,
        block => {
            let floors = floors(opening.floor);
            let worst = floors.iter().map(|f| on_floor(f, clear, gap, block)).max();
            let worst = worst.unwrap_or(Holds::Unsure);
            let slicker = opening.floor.0.min(opening.floor.1) < FLOORS[0].friction - 1e-9;
            if worst == Holds::Surely && slicker { Holds::Unsure } else { worst }
        }
    }
}

/// The least opening that surely holds without a block, mm; `None` where none was measured that does: then a fixed
/// block is the answer. Only `clear` and `block` of the opening are not looked at.
pub fn needed_opening(opening: &Opening) -> Option<f64> {
    let scale = HEIGHT / opening.height.max(1e-3);
    let gap = opening.gap * scale;
    let slicker = opening.floor.0.min(opening.floor.1) < FLOORS[0].friction - 1e-9;
    if slicker || !is_measured(gap) {
        return None;
    }
    let needs = floors(opening.floor).iter().map(|f| between(&f.holds, gap)).fold(0.0, f64::max);
    Some(needs / scale)
}

/// The measured floors that bracket a range of friction.
fn floors((a, b): (f64, f64)) -> &'static [Floor] {
    let (least, most) = (a.min(b), a.max(b));
    let from = FLOORS.iter().rposition(|f| f.friction <= least + 1e-9).unwrap_or(0);
    let to = FLOORS.iter().position(|f| f.friction >= most - 1e-9).unwrap_or(FLOORS.len() - 1);
    &FLOORS[from..=to.max(from)]
}

fn is_measured(gap: f64) -> bool {
    (GAPS[0] - NEAR..=GAPS[2] + NEAR).contains(&gap)
}

fn on_floor(floor: &Floor, clear: f64, gap: f64, block: Block) -> Holds {
    let passes = clear <= between(&floor.passes, gap) + 1e-9;
    // Both neighbours must have the range, since its ends were not seen to move evenly.
    let slides = neighbours(gap)
        .iter()
        .all(|&i| floor.slides[i].0 - 1e-9 <= clear && clear <= floor.slides[i].1 + 1e-9);
    let plain = if passes || slides {
        Holds::Not
    } else if clear >= between(&floor.holds, gap) - 1e-9 && is_measured(gap) {
        Holds::Surely
    } else {
        Holds::Unsure
    };
    match block {
        Block::None | Block::Fixed => plain,
        Block::LooseFlat => {
            if passes {
                Holds::Not
            } else {
                Holds::Unsure
            }
        }
        // Measured at 0.15 and 0.3 only; it passed up to 62.5 and 82.5 mm.
        Block::LooseStanding if clear <= if floor.friction < 0.3 { 62.5 } else { 82.5 } => Holds::Not,
        Block::LooseStanding => Holds::Unsure,
    }
}

/// The measured gaps beside a gap; one of them twice outside their range or right at one.
fn neighbours(gap: f64) -> [usize; 2] {
    let above = GAPS.partition_point(|&g| g < gap - 1e-9).min(GAPS.len() - 1);
    let exact = (GAPS[above] - gap).abs() < 1e-9 || !(GAPS[0]..=GAPS[2]).contains(&gap);
    [if exact { above } else { above - 1 }, above]
}

fn between(values: &[f64; 3], gap: f64) -> f64 {
    let [a, b] = neighbours(gap);
    if a == b {
        return values[a];
    }
    values[a] + (values[b] - values[a]) * (gap - GAPS[a]) / (GAPS[b] - GAPS[a])
}
