//! The generator of all trials: SplitMix64 (Steele, Lea, Flood 2014, "Fast splittable pseudorandom number generators").

/// A generator that yields the same numbers for the same seed everywhere.
#[derive(Debug, Clone)]
pub struct Rng(u64);

impl Rng {
    /// A generator for one purpose: the same seed with another purpose yields other numbers.
    pub fn new(seed: u64, purpose: u64) -> Self {
        let mut rng = Self(seed ^ purpose.wrapping_mul(0xa076_1d64_78bd_642f));
        rng.next();
        rng
    }

    /// The next 64 bits.
    #[allow(clippy::should_implement_trait, reason = "a generator never ends, so it is no iterator")]
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to `below` - 1; 0 when `below` is 0.
    pub fn below(&mut self, below: u64) -> u64 {
        if below == 0 { 0 } else { self.next() % below }
    }

    /// True in so many of a hundred cases.
    pub fn percent(&mut self, share: u64) -> bool {
        self.below(100) < share
    }

    /// Puts the values in a random order.
    pub fn shuffle<T>(&mut self, values: &mut [T]) {
        for i in (1..values.len()).rev() {
            values.swap(i, self.below(i as u64 + 1) as usize);
        }
    }
}
