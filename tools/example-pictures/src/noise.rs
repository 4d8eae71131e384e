//! Chance that is the same on every machine: a counter-based generator and smooth noise on a lattice.

/// SplitMix64's finishing step (Steele, Lea, Flood, "Fast splittable pseudorandom number generators", 2014).
fn scramble(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// The top 53 bits as a number in 0..1.
fn unit(bits: u64) -> f64 {
    (bits >> 11) as f64 / 9_007_199_254_740_992.0
}

/// A sequence of chances, given by its seed.
pub(crate) struct Chance {
    state: u64,
}

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        Chance { state: scramble(seed ^ 0x5851_f42d_4c95_7f2d) }
    }

    /// The next number in 0..1.
    pub(crate) fn next(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        unit(scramble(self.state))
    }

    /// The next number between two bounds.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    /// One of the things in the list.
    pub(crate) fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[((self.next() * list.len() as f64) as usize).min(list.len() - 1)]
    }
}

/// Smooth noise in 0..1 with a feature size of one unit.
fn smooth(x: f64, y: f64, seed: u64) -> f64 {
    let (x0, y0) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * t * (t * (t * 6.0 - 15.0) + 10.0);
    let (u, v) = (ease(x - x0), ease(y - y0));
    let corner = |dx: i64, dy: i64| {
        let (cx, cy) = ((x0 as i64 + dx) as u64, (y0 as i64 + dy) as u64);
        unit(scramble(
            scramble(cx.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ seed) ^ cy.wrapping_mul(0xd1b5_4a32_d192_ed03),
        ))
    };
    let top = corner(0, 0) + (corner(1, 0) - corner(0, 0)) * u;
    let bottom = corner(0, 1) + (corner(1, 1) - corner(0, 1)) * u;
    top + (bottom - top) * v
}

/// Noise in 0..1 made of `octaves` layers, each half the size and half the weight of the one before.
pub(crate) fn layered(x: f64, y: f64, octaves: u32, seed: u64) -> f64 {
    let (mut sum, mut weight, mut total, mut scale) = (0.0, 1.0, 0.0, 1.0);
    for octave in 0..octaves {
        sum += weight * smooth(x * scale, y * scale, seed.wrapping_add(u64::from(octave) * 7919));
        total += weight;
        weight *= 0.5;
        scale *= 2.03;
    }
    sum / total
}

/// 0 below `low`, 1 above `high`, eased between.
pub(crate) fn step(low: f64, high: f64, x: f64) -> f64 {
    let t = ((x - low) / (high - low)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}
