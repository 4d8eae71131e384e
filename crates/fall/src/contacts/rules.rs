//! The rules of one hit, as measured in simulated runs of rigid bodies with pieces of 48 x 24 x 7.5 mm. Lengths scale
//! with the size of the piece that hits.

use plan::Plan;

use crate::climb::{Climb, climb};
use crate::law::{Floor, Pace, floor_friction, friction};

use super::body::{QUARTER, Shape};
use super::hit::{Code, Reset};
use super::limits::{Limit, Limits};

/// Factor on the hop of a piece that pushes two others, as in a staggered field (1.42 times a line, with the start-up
/// of [`super::hit::Reset::Split`]).
pub(crate) const SPLIT: f64 = 1.27;
/// Height of the usual piece, to which measured lengths refer.
pub(super) const USUAL: f64 = 48.0;
/// Share of the height beyond which the upper edge no longer reaches the next piece.
const REACH: f64 = 0.98;
/// The farthest flight down to a lower level, or slide off an edge on a slick floor, as a share of the height: 112 mm.
const FLIGHT: f64 = 112.0 / USUAL;
/// A floor of less friction is slick: half-way between the two at which most was measured, 0.15 and 0.3.
const SLICK_BELOW: f64 = 0.225;

/// The narrowest gap at which feet slid far, mm.
const SLIDES_FROM: f64 = 22.0;

/// Why a piece is not hit, or not felled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Miss {
    /// It stands beside the sweep.
    Beside,
    /// The gap is larger than the reach; mm.
    TooFar(f32),
    /// It is turned too far.
    Turned,
    /// It is too large.
    TooBig,
    /// The step up is too high, or it stands far below.
    Step,
    /// Something fixed stands between.
    Blocked,
}

/// Where a target stands, seen from the piece that hits: `along` the push and `across` it (mm), how far it is turned.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Geometry {
    pub(crate) along: f64,
    pub(crate) across: f64,
    /// Cosine and sine of the turn between the two, folded so that the cosine is not negative.
    pub(crate) cos: f64,
    pub(crate) sin: f64,
    /// The turn between the two faces, 0 to a quarter of [`super::body::TURN`].
    pub(crate) turned: u32,
    /// Foot of the target above that of the hitter, mm.
    pub(crate) up: f64,
}

/// How the sweep meets a target.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Meeting {
    /// Gap to its nearest corner within the sweep, mm, not negative.
    pub(crate) near: f64,
    /// The gap that counts for the delay, mm.
    pub(crate) gap: f64,
    /// What it covers of the sweep, mm from the middle.
    pub(crate) from: f64,
    pub(crate) to: f64,
}

/// Whether it falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Felled {
    pub(crate) unsure: bool,
    /// On the delay of the gap.
    pub(crate) factor: f64,
    /// It stands so much higher that two pieces must stand there.
    pub(crate) needs_two: bool,
    /// It stands so far off an edge that only a line with wide gaps slides there.
    pub(crate) slides: bool,
    /// Instead of the gap, for what flies down: share of the height whose delay is taken.
    pub(crate) share: Option<f64>,
}

/// What of hall and floor the rules ask.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rules {
    /// Least friction of piece on floor.
    pub(crate) floor: f64,
    /// Most friction of piece on piece.
    pub(crate) piece: f64,
    /// Bit k: at a gap of k millimetres for the usual piece, or a little more, feet may slide far in a running line.
    slides: u64,
    /// From where on what is turned counts.
    pub(super) limits: Limits,
}

impl Rules {
    pub(crate) fn of(plan: &Plan, limits: &Limits) -> Self {
        let grip = &plan.hall.grip;
        Self {
            floor: grip.floor.0.min(grip.floor.1),
            piece: grip.piece.0.max(grip.piece.1),
            slides: slides(plan),
            limits: *limits,
        }
    }

    pub(crate) fn limits(&self) -> &Limits {
        &self.limits
    }

    /// Whether feet may slide so far at a gap that the line is slow or stops, once it runs over such gaps.
    pub(crate) fn slides(&self, hitter: Shape, gap: f64) -> bool {
        let gap = gap * USUAL / hitter.h;
        gap > SLIDES_FROM && self.slides >> (gap.min(USUAL) - 1e-6).max(0.0) as u32 & 1 == 1
    }

    /// Farthest gap at which a piece can be hit, mm.
    pub(crate) fn reach(shape: Shape, levels: bool) -> f64 {
        shape.h * if levels { FLIGHT } else { REACH }
    }

    /// Whether a piece that is met falls. `hand`: one of the two was placed by hand.
    pub(crate) fn felled(
        &self,
        hitter: Shape,
        target: Shape,
        at: &Geometry,
        met: &Meeting,
        hand: bool,
    ) -> Result<Felled, Miss> {
        let scale = USUAL / hitter.h;
        let mut unsure = self.level(hitter, target, at, met, scale)?;
        let (near, covered) = (met.near * scale, (met.to - met.from) * scale);
        unsure.unsure |= self.turned(at.turned, near, met.gap * scale, covered)?;
        unsure.unsure |= self.grown(hitter, target, met.near / hitter.h)?;
        if unsure.share.is_none() && at.up.abs() <= 0.5 {
            // Combs set pieces evenly enough for 5 mm; by hand it takes 7.5 mm. Above 36 mm the feet begin to slide.
            let tight: f64 = if hand { 7.5 } else { 5.0 };
            // Faces that overlap by two thirds at most, as in an echelon, did not jam from 0.4 mm on.
            let tight = if covered < 16.0 { tight.min(self.limits.at(Limit::JamsBelow)) } else { tight };
            let narrow = at.turned < degrees(2.0) && met.gap * scale < tight - 0.06;
            // On a slick floor a wider gap than those before it held some lines from 30 mm on.
            let widest = if self.floor < 0.2 - 1e-9 { 28.0 } else { 36.0 };
            unsure.unsure |= narrow || met.gap * scale > widest + 0.01;
        }
        unsure.factor *= curve(at.turned, met, hitter.w) * partial(covered, near, at.turned);
        Ok(unsure)
    }

    /// Steps up and down, and flights from an edge to a lower level.
    fn level(
        &self,
        hitter: Shape,
        target: Shape,
        at: &Geometry,
        met: &Meeting,
        scale: f64,
    ) -> Result<Felled, Miss> {
        let (up, near) = (at.up * scale, met.near * scale);
        let plain = Felled { unsure: false, factor: 1.0, needs_two: false, slides: false, share: None };
        let far = Miss::TooFar(met.near as f32);
        let reach = REACH * hitter.h;
        // The upper edge of the hitter must come by between foot and top of the target.
        if up > 22.7 || at.up >= hitter.h || at.up + target.h <= 0.0 && up > -0.5 {
            return Err(Miss::Step);
        }
        if up > 0.5 {
            let (factor, needs_two, unsure) = match climb(up, near) {
                Climb::Surely => (1.2, false, false),
                Climb::WithTwo => (2.6, true, false),
                Climb::Perhaps => (3.1, true, true),
                Climb::Not => return Err(Miss::Step),
            };
            let felled = Felled { factor, needs_two, unsure, ..plain };
            return match met.near <= reach {
                true => Ok(felled),
                false if unsure => Err(Miss::Step),
                false => Err(far),
            };
        }
        if up >= -0.5 {
            return if met.near <= reach { Ok(plain) } else { Err(far) };
        }
        let down = -up;
        let slick = self.is_slick();
        match down {
            d if d <= 30.5 => {
                let factor = 1.0 + d * 0.036;
                // The deeper, the farther: 36, 41 and 46 mm for 7.5, 15 and 24 mm, 5 mm more on a floor that grips.
                let deeper = if d < 15.0 { (d - 7.5) / 1.5 } else { 5.0 + (d - 15.0) / 1.8 };
                let sure = if slick { 36.2 } else { 41.2 } + deeper.max(0.0);
                let most = if d < if slick { 11.0 } else { 19.5 } { 58.0 } else { 62.0 };
                let slides = slick && (66.0..=86.0).contains(&near);
                let felled = Felled { unsure: near > sure, factor, slides, ..plain };
                if near <= most || slides { Ok(felled) } else { Err(far) }
            }
            d if d <= 48.5 => {
                let (least, most) = if slick { (19.0, 92.0) } else { (2.9, 82.0) };
                let sure = if slick { 41.5 } else { 36.0 };
                let unsure = !(least..=sure).contains(&near);
                let flown = Felled { unsure, factor: 2.7, share: Some(0.5), ..plain };
                if near <= most { Ok(flown) } else { Err(far) }
            }
            d if d <= 105.0 => {
                // Pieces fly 60 to 80 mm; nearer they land before the target's foot or on it.
                let lands = if slick { 70.0..=85.0 } else { 55.0..=75.0 };
                let unsure = d < 95.0 || !lands.contains(&near);
                let flown = Felled { unsure, factor: 4.9, share: Some(0.5), ..plain };
                if (18.0..=112.0).contains(&near) { Ok(flown) } else { Err(far) }
            }
            _ => Err(Miss::Step),
        }
    }

    /// Whether the floor is slick at its least friction.
    pub(crate) fn is_slick(&self) -> bool {
        self.floor < SLICK_BELOW
    }

    /// A larger target falls only to a growing line, and the more of it the wider the gap. `Ok(true)` when it may stay.
    fn grown(&self, hitter: Shape, target: Shape, share: f64) -> Result<bool, Miss> {
        let growth = target.h / hitter.h;
        if growth <= 1.02 {
            return Ok(false);
        }
        let most = most_growth(share, self.piece);
        if growth > most + 0.25 { Err(Miss::TooBig) } else { Ok(growth > most) }
    }
}

/// The gaps of [`Rules::slides`]. Between the ends of the ranges of friction it counts as well; each step looks at the
/// frictions on both sides that were run, so that a few are enough.
fn slides(plan: &Plan) -> u64 {
    const STEPS: u32 = 8;
    let [least, _, most] = floor_friction(plan);
    let (low, high) = (friction(plan, Pace::Fast), friction(plan, Pace::Slow));
    let at = |from: f64, to: f64, k: u32| from + (to - from) * f64::from(k) / f64::from(STEPS);
    let floors: Vec<Floor> = (0..=STEPS)
        .flat_map(|i| (0..=STEPS).map(move |j| (i, j)))
        .map(|(i, j)| Floor::of(at(low, high, j), at(least, most, i)))
        .collect();
    let any = |gap: f64| floors.iter().any(|f| f.at(gap / USUAL).slides);
    (SLIDES_FROM as u32..48).filter(|k| any(f64::from(*k) + 0.5)).fold(0, |bits, k| bits | 1 << k)
}

/// Degrees in units of [`super::body::TURN`].
pub(crate) const fn degrees(d: f64) -> u32 {
    (d * (QUARTER as f64 / 90.0)) as u32
}

/// Largest steady growth from piece to piece that a line drives, by gap over height, without friction and at 0.2.
fn most_growth(share: f64, mu: f64) -> f64 {
    const TABLE: [(f64, f64, f64); 4] =
        [(0.2, 1.243, 1.220), (0.4, 1.439, 1.393), (0.6, 1.577, 1.504), (0.8, 1.691, 1.565)];
    let i = TABLE.partition_point(|t| t.0 <= share).clamp(1, 3);
    let (a, b) = (TABLE[i - 1], TABLE[i]);
    let x = (share.clamp(0.0, 0.98) - a.0) / (b.0 - a.0);
    let (free, rough) = (a.1 + (b.1 - a.1) * x, a.2 + (b.2 - a.2) * x);
    free + (rough - free) * (mu / 0.2).min(2.0)
}

/// Factor of a step of a curve, against a straight line of the same gap in the middle.
fn curve(turned: u32, met: &Meeting, width: f64) -> f64 {
    // A corner hit is no curve.
    if met.to - met.from < width / 2.0 {
        return 1.0;
    }
    const TABLE: [(u32, f64); 7] = [
        (0, 1.0),
        (degrees(6.0), 0.92),
        (degrees(15.0), 0.92),
        (degrees(20.0), 1.0),
        (degrees(30.0), 1.15),
        (degrees(40.0), 1.3),
        (degrees(60.0), 1.6),
    ];
    let i = TABLE.partition_point(|t| t.0 <= turned).clamp(1, TABLE.len() - 1);
    let (a, b) = (TABLE[i - 1], TABLE[i]);
    a.1 + (b.1 - a.1) * f64::from(turned.min(b.0) - a.0) / f64::from(b.0 - a.0)
}

/// Factor of a square hit that covers less than a third of the width: four times what the first four hops of lines that
/// join at their corners lose on average.
fn partial(covered: f64, gap: f64, turned: u32) -> f64 {
    if covered >= 8.0 || turned > degrees(10.0) {
        return 1.0;
    }
    let most = if gap <= 12.0 { 0.15 + (gap - 7.5) * 0.022 } else { 0.25 + (gap - 12.0) * 0.08 };
    let missing = (8.0 - covered) / 8.0;
    1.0 + 4.0 * most.clamp(0.1, 1.0) * missing * missing
}

/// The hit across an opening from which pieces were left out and which does not surely hold.
pub(crate) fn felled_across(shape: Shape, opening: f64, unsure: bool) -> Code {
    let scaled = opening * USUAL / shape.h;
    let share = (opening / shape.h).clamp(0.0, 0.95);
    Code::new(share, (scaled / 47.0).max(1.0), unsure, Reset::None, shape.class)
}
