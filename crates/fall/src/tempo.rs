//! Delays in whole microseconds at one friction, for each class of pieces.

use plan::Plan;

use crate::contacts::{self, Code, Shapes};
use crate::law::{Floor, Law, Pace, floor_friction, friction};

/// No hop is taken to be shorter than this; pieces of the usual size need 5 ms at 4 mm.
pub(crate) const LEAST_US: u32 = 1_000;
/// Steps of the gap for the start-up factors.
const STARTS: usize = 64;

/// Delays of one class of pieces.
#[derive(Debug, Clone, PartialEq)]
struct Class {
    /// By step of the gap, µs.
    delay: Vec<u32>,
    /// By step of the gap and hops since the start, in 1/1024.
    start: Vec<[u16; Law::AGES]>,
}

/// Delays of all classes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tempo {
    classes: Vec<Class>,
}

impl Tempo {
    pub(crate) fn of(plan: &Plan, shapes: &Shapes, pace: Pace) -> Self {
        let mu = friction(plan, pace);
        let [least, middle, most] = floor_friction(plan);
        let ends = |floors| [friction(plan, Pace::Fast), friction(plan, Pace::Slow)].map(|mu| (mu, floors));
        // On slick floors slippery pieces are the slower ones at wide gaps, so both ends of both frictions are asked.
        let grips: Vec<(f64, f64)> = match pace {
            Pace::Usual => vec![(mu, middle)],
            _ => [ends(least), ends(most)].concat(),
        };
        let used = shapes.classes.iter().map(|c| Class::of(*c, (mu, pace), &grips));
        Self { classes: used.collect() }
    }

    /// Delay of a hop in a running line, µs.
    pub(crate) fn hop(&self, code: Code) -> u32 {
        let delay = self.classes[code.class()].delay[code.step()];
        let product = u64::from(delay) * u64::from(code.factor()) / 100;
        u32::try_from(product).unwrap_or(u32::MAX).max(LEAST_US)
    }

    /// Delay of a hop from a piece that fell `age` hops after a start, µs.
    pub(crate) fn hop_at(&self, code: Code, age: u8) -> u32 {
        let hop = self.hop(code);
        if usize::from(age) >= Law::AGES {
            return hop;
        }
        let start = self.classes[code.class()].start[code.step() / (4096 / STARTS)][usize::from(age)];
        u32::try_from(u64::from(hop) * u64::from(start) / 1024).unwrap_or(u32::MAX).max(LEAST_US)
    }
}

impl Class {
    /// With the friction of pieces at a pace, and those of pieces and floor of which the pace takes the slowest or the
    /// fastest, gap by gap.
    fn of(of: contacts::Class, (mu, pace): (f64, Pace), grips: &[(f64, f64)]) -> Self {
        let (h, d, slope) = (of.h, of.d, of.down.to_radians());
        let law = Law::on_slope(h, d, mu, slope);
        let laws: Vec<_> =
            grips.iter().map(|&(mu, floor)| (Law::on_slope(h, d, mu, slope), Floor::of(mu, floor))).collect();
        let us = |i: u32| {
            let share = f64::from(i) / Code::STEPS;
            let delays = laws
                .iter()
                .map(|(law, floor)| law.delay_s(h, share * h) * floor.on_slope(share, slope).factor);
            let delay = match pace {
                Pace::Slow => delays.fold(0.0, f64::max),
                _ => delays.fold(f64::INFINITY, f64::min),
            };
            (delay * 1e6).round().clamp(0.0, 4e9) as u32
        };
        let start = |k: usize| {
            let share = (k as f64 + 0.5) / STARTS as f64;
            std::array::from_fn(|age| (law.start(share, age) * 1024.0).round().clamp(256.0, 16_384.0) as u16)
        };
        Self { delay: (0..4096).map(us).collect(), start: (0..STARTS).map(start).collect() }
    }
}
