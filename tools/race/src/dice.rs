//! Pieces that stand off their places at random, the same in each run.

use units::maths;

use crate::engine::Spot;

/// Usual deviations by which pieces stand off: place along and across in mm, and turn in degrees.
const PLACE: f64 = 0.5;
const TURN: f64 = 1.0;

/// The pieces of one run with their scatter.
pub(crate) fn scattered(exact: &[Spot], run: u64) -> Vec<Spot> {
    let mut dice = Dice(run);
    let mut off = |s: &Spot| Spot {
        x: s.x + PLACE * dice.normal(),
        y: s.y + PLACE * dice.normal(),
        yaw: s.yaw + (TURN * dice.normal()).to_radians(),
    };
    exact.iter().map(&mut off).collect()
}

/// Numbers at random that are the same in each run (splitmix64).
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Box and Muller's way, one of the two numbers.
    fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.unit(), self.unit());
        (-2.0 * maths::ln(a)).sqrt() * maths::cos(std::f64::consts::TAU * b)
    }
}
