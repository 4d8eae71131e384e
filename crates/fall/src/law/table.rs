//! Tables of delays for one shape of piece and one friction: steady, and for the first hops after a push.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock};

use rayon::prelude::*;
use units::maths;

use super::GRAVITY;
use super::train::{AGES, Steady, steady};

/// Nodes of the gap, from 0 to 23/24 of the height: every 2 mm for the usual piece.
const NODES: usize = 24;
/// The first push of the reference runs, 6 rad/s for a piece of 48 mm.
const PUSH_RAD_S: f64 = 6.0;
/// Tables that are kept; they are cheap, so a plan with more shapes than this only computes some again.
const KEPT: usize = 256;

/// Tables by the bits of d/h, of the friction and of the slope.
type Kept = BTreeMap<[u64; 3], Arc<Law>>;

/// Delays for one ratio of thickness to height and one friction, in units of the square root of h / g.
#[derive(Debug, Clone, PartialEq)]
pub struct Law {
    /// Steady delay at each node.
    delay: [f64; NODES],
    /// Inertia of the train at each node.
    inertia: [f64; NODES],
    /// Delay of each of the first hops over the steady one, at each node.
    first: Vec<[f32; AGES]>,
}

impl Law {
    /// The table for a piece of height `h` and thickness `d` (mm) at friction `mu` on a level floor; kept for the next who
    /// asks.
    pub fn of(h: f64, d: f64, mu: f64) -> Arc<Self> {
        Self::on_slope(h, d, mu, 0.0)
    }

    /// The same for pieces that stand square to a plank, `slope` in radians, positive where the line runs down. A slope on
    /// which a piece would not stand counts as the steepest one on which it does.
    ///
    /// It is a pure function of d/h, mu and the slope, so that keeping it changes no result.
    pub fn on_slope(h: f64, d: f64, mu: f64, slope: f64) -> Arc<Self> {
        static KEPT_LAWS: OnceLock<Mutex<Kept>> = OnceLock::new();
        let kept = KEPT_LAWS.get_or_init(Mutex::default);
        // Thicker than high is no piece that falls; the figures stay finite all the same.
        let (d, mu) = ((d / h).clamp(1e-3, 1.0), mu.clamp(0.0, 1.0));
        let most = maths::atan2(d, 1.0);
        // Adding nothing makes one zero of both.
        let slope = if slope.is_finite() { slope.clamp(-most, most) + 0.0 } else { 0.0 };
        let key = [d, mu, slope].map(f64::to_bits);
        if let Some(law) = kept.lock().ok().and_then(|k| k.get(&key).cloned()) {
            return law;
        }
        let law = Arc::new(Self::compute(d, mu, slope));
        if let Ok(mut k) = kept.lock() {
            if k.len() >= KEPT {
                k.clear();
            }
            k.insert(key, Arc::clone(&law));
        }
        law
    }

    /// The same, computed anew; `d` is thickness over height.
    pub fn compute(d: f64, mu: f64, slope: f64) -> Self {
        let push = PUSH_RAD_S * (0.048 / GRAVITY).sqrt();
        let nodes: Vec<Option<(Steady, bool)>> = (0..NODES)
            .into_par_iter()
            .map(|k| follow(d, k as f64 / NODES as f64, (mu, slope), push))
            .collect();
        let mut law = Self { delay: [0.0; NODES], inertia: [1.0; NODES], first: vec![[1.0; AGES]; NODES] };
        for (k, node) in nodes.iter().enumerate() {
            if let Some((s, usual)) = node {
                (law.delay[k], law.inertia[k]) = (s.delay, s.inertia);
                if *usual {
                    s.first.iter().zip(&mut law.first[k]).for_each(|(f, to)| *to = *f as f32);
                }
            }
        }
        law.fill_ends(&nodes);
        law
    }

    /// Tight gaps where the model's line stops take the slope of their neighbours; likewise the widest ones.
    fn fill_ends(&mut self, nodes: &[Option<(Steady, bool)>]) {
        let ran = |k: usize| nodes[k].is_some();
        let from = (0..NODES).find(|&k| (k..k + 4).all(|i| i < NODES && ran(i))).unwrap_or(0);
        for k in (0..from).rev() {
            self.delay[k] = (2.0 * self.delay[k + 1] - self.delay[k + 2]).max(self.delay[k + 1] / 2.0);
            self.inertia[k] = self.inertia[k + 1];
        }
        for k in from + 2..NODES {
            if !ran(k) {
                self.delay[k] = 2.0 * self.delay[k - 1] - self.delay[k - 2];
                self.inertia[k] = self.inertia[k - 1];
            }
        }
        let started = (0..NODES).find(|&k| nodes[k].as_ref().is_some_and(|n| n.1)).unwrap_or(0);
        let first = self.first[started];
        self.first[..started].fill(first);
    }

    /// Steady delay of a hop in seconds, for a piece of height `h` mm at a clear gap of `s` mm.
    pub fn delay_s(&self, h: f64, s: f64) -> f64 {
        (h * 1e-3 / GRAVITY).sqrt() * self.at(&self.delay, s / h)
    }

    /// Steady speed in m/s, for a piece of height `h` and thickness `d` mm.
    pub fn speed(&self, h: f64, d: f64, s: f64) -> f64 {
        (s + d) * 1e-3 / self.delay_s(h, s)
    }

    /// Inertia of the train behind a hit, in units of one piece, at a share s/h.
    pub fn inertia(&self, share: f64) -> f64 {
        self.at(&self.inertia, share)
    }

    /// Delay of hop number `age` (0 for the first after a push) over the steady one, at a share s/h.
    pub fn start(&self, share: f64, age: usize) -> f64 {
        let age = age.min(AGES - 1);
        let x = (share * NODES as f64).clamp(0.0, (NODES - 1) as f64);
        let k = (x as usize).min(NODES - 2);
        let (a, b) = (f64::from(self.first[k][age]), f64::from(self.first[k + 1][age]));
        a + (b - a) * (x - k as f64)
    }

    /// Linear between nodes; beyond the last one along the last slope.
    fn at(&self, values: &[f64; NODES], share: f64) -> f64 {
        let x = (share * NODES as f64).clamp(0.0, NODES as f64);
        let k = (x as usize).min(NODES - 2);
        values[k] + (values[k + 1] - values[k]) * (x - k as f64)
    }

    /// Hops after which a line counts as steady.
    pub const AGES: usize = AGES;
}

/// A line at one node; if the usual push does not start it, a harder one, and then the start is not the usual one.
fn follow(d: f64, s: f64, grip: (f64, f64), push: f64) -> Option<(Steady, bool)> {
    if let Some(run) = steady(d, s, grip, push) {
        return Some((run, true));
    }
    [1.5, 2.5, 4.0].iter().find_map(|k| steady(d, s, grip, k * push)).map(|run| (run, false))
}
