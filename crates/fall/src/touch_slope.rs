//! What a slope does to an opening and to pieces that slide: only what follows from the level runs is sure.

use plan::Plan;
use units::maths;

use crate::network::{Network, State};
use crate::touch_hold::Holds;

/// So far fallen pieces were seen to slide at the most, for pieces of 48 mm: 233 mm at friction 0.1 on the level.
pub(crate) const FARTHEST: f64 = 240.0;
/// Speed of the fall downhill over that on the level, squared: 1.20 at 8°, the most that was run (`ramp.csv`).
const FASTER: f64 = 1.44;
/// Where the slope hardly lets pieces stop, what lies beyond so many times the level way is not looked at.
const MOST: f64 = 10.0;

/// How the floor of a slide lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Tilt {
    Level,
    Up,
    Down,
    /// Across the slope, too steep, or over a bend.
    Unknown,
}

impl Network {
    /// What an opening that `holds` so on the level does between two pieces where they stand.
    ///
    /// Up to 8° uphill the fall is slower and gravity brakes what slides, so that what surely holds on the level does there
    /// as well, and what passes on the level may not. Downhill it is the other way round. Nothing was run on a slope, so the
    /// rest is unsure, with a stopper as well.
    pub(crate) fn holds_between(&self, from: State, to: State, holds: Holds) -> Holds {
        match (self.tilt(from, to), holds) {
            (Tilt::Level, _) | (Tilt::Up, Holds::Surely) | (Tilt::Down, Holds::Not) => holds,
            _ => Holds::Unsure,
        }
    }

    /// How far what falls as `from` may slide, mm, for pieces of this height. Downhill the way on the level grows with the
    /// square of the speed and with what the slope takes off the friction.
    pub(crate) fn farthest(&self, plan: &Plan, from: State, height: f64) -> f64 {
        let level = FARTHEST * height / 48.0;
        let down = self.slope(from);
        if down <= 0.0 {
            return level;
        }
        let floor = plan.hall.grip.floor.0.min(plan.hall.grip.floor.1).max(1e-3);
        let held = floor - maths::tan(down.to_radians());
        let longer = if held > 0.0 { FASTER * floor / held } else { MOST };
        level * longer.min(MOST)
    }

    fn tilt(&self, from: State, to: State) -> Tilt {
        match (self.plank_under(from / 2), self.plank_under(to / 2)) {
            (None, None) => Tilt::Level,
            (Some((plank, turn)), Some((other, _))) if plank == other => {
                if !plank.is_straight(turn) {
                    Tilt::Unknown
                } else if plank.down(turn, (from % 2) as u8) > 0.0 {
                    Tilt::Down
                } else {
                    Tilt::Up
                }
            }
            _ => Tilt::Unknown,
        }
    }
}
