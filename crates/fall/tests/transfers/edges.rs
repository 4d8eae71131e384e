//! Lines along the edge of a field, as they were set up in the measured runs.
//!
//! The line runs east along y = 0 behind twenty plain pieces; five lanes lead north.

use std::collections::BTreeMap;

use units::Angle;

use crate::scene::{D, Scene, W};

/// The pieces of a scene that are asked about.
pub(crate) struct Edge {
    pub(crate) scene: Scene,
    /// Pieces of the line in order.
    pub(crate) line: Vec<usize>,
    /// Pieces of each lane in order.
    pub(crate) lanes: Vec<Vec<usize>>,
}

pub(crate) type Keys = BTreeMap<String, f64>;

pub(crate) fn keys(text: &str) -> Keys {
    let pair = |p: &str| p.split_once('=').map(|(k, v)| (k.to_owned(), v.parse().unwrap_or(f64::NAN)));
    text.split(';').filter_map(pair).collect()
}

const LEAD: usize = 20;
const LANES: usize = 5;

fn sc(deg: f64) -> (f64, f64) {
    Angle::deg(deg).sin_cos()
}

/// From the centre of a turned piece to its corner that is nearest to the line.
fn inner_corner(deg: f64) -> (f64, f64) {
    let (s, c) = sc(deg);
    (-D / 2.0 * c + W / 2.0 * s, -D / 2.0 * s - W / 2.0 * c)
}

impl Edge {
    fn new(pitch: f64) -> Self {
        let mut scene = Scene::default();
        let line = scene.run(-(LEAD as f64) * pitch, 0.0, 0.0, pitch, LEAD);
        Self { scene, line, lanes: Vec::new() }
    }

    fn last_x(&self) -> f64 {
        self.line.last().map_or(0.0, |i| self.scene.pieces[*i].0)
    }

    fn add(&mut self, x: f64, y: f64, deg: f64) {
        let i = self.scene.put(x, y, deg);
        self.line.push(i);
    }

    /// A lane from a first piece on, turning to `to` by at most 30° at a step, `n` pieces in all.
    fn lane(&mut self, first: (f64, f64, f64), to: f64, pitch: f64, n: usize) {
        let turns = ((to - first.2) / 30.0 - 1e-9).ceil().max(0.0) as usize;
        let step = if turns > 0 { (to - first.2) / turns as f64 } else { 0.0 };
        let (mut x, mut y, mut deg) = first;
        let mut lane = vec![self.scene.put(x, y, deg)];
        for i in 1..n {
            let next = if i <= turns { deg + step } else { deg };
            let (s, c) = sc((deg + next) / 2.0);
            (x, y, deg) = (x + pitch * c, y + pitch * s, next);
            lane.push(self.scene.put(x, y, deg));
        }
        self.lanes.push(lane);
    }

    pub(crate) fn of(family: &str, gap: f64, k: &Keys) -> Self {
        let p = gap + D;
        match &family[..1] {
            "A" => Self::plain(p, k),
            "B" => Self::beside(p, k, k["pos"]),
            "J" => Self::square(p, k),
            "C" => Self::in_line(p, k),
            "D" => Self::angled(p, k),
            "E" => Self::diagonal(p, k),
            "F" => Self::brick(p, k),
            "G" => Self::narrow(p, k),
            _ => Self::echelon(p, k),
        }
    }

    fn plain(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let n = (5.0 * k["lane_pitch"] / p).ceil() as usize + 8;
        (0..n).for_each(|i| e.add(i as f64 * p, 0.0, 0.0));
        for lane in 0..LANES {
            let x = p + (k["phase"] * p) + lane as f64 * k["lane_pitch"];
            e.lane((x, W / 2.0 + k["side_distance"] + D / 2.0, 90.0), 90.0, p, 7);
        }
        e
    }

    fn beside(p: f64, k: &Keys, pos: f64) -> Self {
        let mut e = Self::new(p);
        let (g, a) = (k["local_gap"], k["yaw"]);
        for _ in 0..LANES {
            let face = e.last_x() + D / 2.0;
            let (cx, cy) = inner_corner(a);
            let first = (face + pos * g - cx, W / 2.0 - k["poke"] - cy, a);
            e.lane(first, 90.0, p, 7);
            let x = face + g + D / 2.0;
            e.add(x, 0.0, 0.0);
            let rest = k["lane_pitch"] - g - D;
            let n = (rest / p).round().max(0.0) as usize;
            (1..=n).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        }
        let x = e.last_x();
        (1..=5).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        e
    }

    fn square(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let (g, a) = (k["local_gap"], k["yaw"]);
        let (s, c) = sc(a);
        for _ in 0..LANES {
            let face = e.last_x() + D / 2.0;
            let low = D / 2.0 * s + W / 2.0 * c;
            e.lane((face + g / 2.0, W / 2.0 - k["poke"] + low, a), 90.0, p, 7);
            let x = face + g + D / 2.0;
            e.add(x, 0.0, 0.0);
            e.add(x + p, 0.0, 0.0);
        }
        let x = e.last_x();
        (1..=5).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        e
    }

    fn in_line(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let a = k["yaw"];
        let (s, c) = sc(a);
        let next = W / 2.0 * s + D / 2.0 * c + k["clear"] + D / 2.0;
        for _ in 0..LANES {
            let x = e.last_x() + next;
            e.add(x, 0.0, a);
            e.lane((x + k["lane_shift"], k["lane_y"], k["first_lane_yaw"]), 90.0, p, 7);
            e.add(x + (k["lane_pitch"] - next).max(next), 0.0, 0.0);
        }
        let x = e.last_x();
        (1..=5).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        e
    }

    fn angled(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let (g, a) = (k["local_gap"], k["angle"]);
        let step = k["lane_spacing"] / sc(a).0;
        let n = ((step - g - D) / p).round().max(0.0) as usize;
        for _ in 0..LANES {
            let face = e.last_x() + D / 2.0;
            let (cx, cy) = inner_corner(a);
            e.lane((face + g / 2.0 - cx, W / 2.0 - k["poke"] - cy, a), a, p, 7);
            let x = face + g + D / 2.0;
            (0..=n).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        }
        let x = e.last_x();
        (1..=5).for_each(|i| e.add(x + i as f64 * p, 0.0, 0.0));
        e
    }

    fn echelon(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let (a, per) = (k["yaw"], k["per_lane"]);
        let step = k["lane_pitch"] / per;
        let (s, c) = sc(a);
        let next = W / 2.0 * s + D / 2.0 * c + k["clear"] + D / 2.0;
        let x = e.last_x() + next;
        for i in 0..(LANES * per as usize) {
            let at = x + i as f64 * step;
            e.add(at, 0.0, a);
            if i % per as usize == 0 {
                e.lane((at + k["lane_shift"], k["lane_dy"], 90.0), 90.0, p, 6);
            }
        }
        e
    }

    /// A line that arrives northwards, its last piece at (x, -p).
    fn north(p: f64, x: f64) -> Self {
        let mut scene = Scene::default();
        let line = scene.run(x, -(LEAD as f64) * p, 90.0, p, LEAD);
        Self { scene, line, lanes: Vec::new() }
    }

    fn diagonal(p: f64, k: &Keys) -> Self {
        let mut e = Self::north(p, 0.0);
        let (l, rows) = (k["lane_pitch"], k["rows_per_lane"]);
        for lane in 0..LANES {
            let (x, y) = (lane as f64 * l, lane as f64 * rows * p);
            e.add(x, y, 90.0);
            e.add(x + l / 2.0, y + p, 90.0);
            e.lane((x, y + 2.0 * p, 90.0), 90.0, p, 6);
        }
        e
    }

    fn brick(p: f64, k: &Keys) -> Self {
        let (l, ranks) = (k["lane_pitch"], k["brick_ranks"] as usize);
        // With brick ranks the line hits the first rank between two pieces, else one piece in the middle.
        let over = if ranks > 0 { 0.5 } else { 0.0 };
        let mut e = Self::north(p, (k["line_at_lane"] + over) * l);
        for lane in 0..LANES {
            let all = ranks + 4;
            let put = |r: usize| {
                let shift = if r < ranks && r % 2 == 1 { l / 2.0 } else { 0.0 };
                (lane as f64 * l + shift, r as f64 * p)
            };
            let pieces = (0..all).map(put).collect::<Vec<_>>();
            let lane = pieces.iter().map(|(x, y)| e.scene.put(*x, *y, 90.0)).collect();
            e.lanes.push(lane);
        }
        e
    }

    fn narrow(p: f64, k: &Keys) -> Self {
        let mut e = Self::new(p);
        let x = e.last_x() + D / 2.0 + (p - D) + W / 2.0;
        for lane in 0..LANES {
            e.lane((x + lane as f64 * (W + k["side_clear"]), k["offset"], 90.0), 90.0, p, 6);
        }
        e
    }
}
