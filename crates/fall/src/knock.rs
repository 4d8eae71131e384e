//! A single knock: whether the piece falls, what it hits first, and what its foot kicks.
//!
//! A piece that is touched is not driven by a line behind it. At tight gaps it comes to lie on the next one before it has
//! tipped, so that a soft knock dies out; on a slick floor its foot slides away under it and kicks what stands on the
//! other side. Speeds and gaps as measured in `tests/data/transfers/backward_*.csv` and `mujoco_touch.csv`.

use crate::contacts::Code;
use crate::law::{goes_on, least_start_speed_on};
use crate::network::{Network, State, Sure};

/// What a knock does at once.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Knocked {
    /// Whether the piece itself falls; `None` when it rocks back.
    pub own: Option<Sure>,
    /// What is felled at once, by the piece or by its foot.
    pub next: Vec<(State, Sure)>,
}

/// Height of the measured pieces, mm.
const HEIGHT: f64 = 48.0;
/// Floors from this friction down are slick: none of 120 lines on floors of 0.2 and 0.3 was started both ways.
const SLICK: f64 = 0.15 + 1e-9;
/// Clear gaps at which a sliding foot kicked the next piece, mm: not at 7.5 and 28 in any of 48 runs.
const KICKED: (f64, f64) = (10.0, 24.0);
/// The same at a knock up to 9 rad/s, beside the measured gap of 16 mm; at 12 and 20 mm it was 6 rad/s at the most.
const KICKED_HARD: (f64, f64) = (14.0, 18.0);
/// A knock that kicked the next piece in all runs there, rad/s.
const SURELY: f64 = 9.5;
/// Knocks with which that was seen, and half-way to the next speed without, rad/s.
const KICKS: (f64, f64) = (7.5, 10.5);
/// Shares of the least push that starts the train of leaning pieces up or down a slope, below which no line went on and above
/// which all did: 54 lines pushed at 9 rad/s, of which 9 died out, `tests/data/transfers/ramp.csv`.
const STARTS: (f64, f64) = (0.9, 1.05);

impl Network {
    /// What follows at once when a piece is knocked so that it falls as `state` says, with this speed of turning in rad/s.
    ///
    /// Below the least speed that tips it, [`least_start_speed_on`] its slope, nothing does. Speeds and gaps scale with the
    /// height.
    pub fn knocked(&self, state: State, speed: f64) -> Knocked {
        let Some(shape) = self.shape_of(state / 2) else { return Knocked::default() };
        let slope = self.slope(state).to_radians();
        if speed.is_nan() || speed < least_start_speed_on(shape.h, shape.d, slope) {
            return Knocked::default();
        }
        let pushed = speed;
        let speed = speed * (shape.h / HEIGHT).sqrt();
        let next = |code: Code| match slope == 0.0 {
            true => onward(gap(code), speed),
            false => {
                up_or_down((shape.h, shape.d, code.share() * shape.h), (self.rules.piece, slope), pushed)
            }
        };
        let mut knocked = Knocked { own: Some(Sure::Passes), next: Vec::new() };
        for (to, code) in self.codes(state) {
            let goes = next(code);
            match goes {
                Some(Sure::Passes) if !code.unsure() => knocked.next.push((to, Sure::Passes)),
                Some(_) => knocked.next.push((to, Sure::Unsure)),
                None => {}
            }
            if goes != Some(Sure::Passes) {
                knocked.own = Some(Sure::Unsure);
            }
        }
        let kicked = self.codes(state ^ 1).filter(|e| kicks(gap(e.1), self.rules.floor, Some(speed)));
        let surely = |code: Code| speed <= SURELY && is_within(KICKED_HARD, gap(code)) && !code.unsure();
        knocked.next.extend(kicked.map(|e| (e.0, if surely(e.1) { Sure::Passes } else { Sure::Unsure })));
        knocked
    }
}

/// The clear gap of a hit for a piece of 48 mm.
fn gap(code: Code) -> f64 {
    code.share() * HEIGHT
}

/// Whether a lone piece that was knocked fells the next one. At 7.5 mm 3.5 rad/s never did and 4.5 always, at 12 mm 2.8
/// mostly and 3.5 always; tighter gaps were not measured.
fn onward(gap: f64, speed: f64) -> Option<Sure> {
    let (never, always) = match gap {
        g if g < 7.0 => (0.0, 9.0),
        g if g < 9.75 => (3.6, 4.4),
        _ => (0.0, 3.15),
    };
    match speed {
        v if v < never => None,
        v if v < always => Some(Sure::Unsure),
        _ => Some(Sure::Passes),
    }
}

/// The same on a slope, by the train of leaning pieces: size and gap in mm, most friction and slope, and the speed in rad/s.
fn up_or_down(piece: (f64, f64, f64), grip: (f64, f64), speed: f64) -> Option<Sure> {
    if goes_on(piece, grip, speed / STARTS.1) {
        Some(Sure::Passes)
    } else {
        goes_on(piece, grip, speed / STARTS.0).then_some(Sure::Unsure)
    }
}

/// Whether the foot of a knocked piece may kick what stands so far on its other side; at some speed when none is given.
pub(crate) fn kicks(gap: f64, floor: f64, speed: Option<f64>) -> bool {
    let most = if is_within(KICKED_HARD, gap) { KICKS.1 } else { KICKS.0 };
    floor <= SLICK && is_within(KICKED, gap) && speed.is_none_or(|v| v <= most)
}

fn is_within((least, most): (f64, f64), gap: f64) -> bool {
    (least - 1e-6..=most + 1e-6).contains(&gap)
}
