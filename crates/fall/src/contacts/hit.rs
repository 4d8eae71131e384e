//! What is kept of one hit, packed into 32 bits: gap, factor on the delay, sureness, and what it does to the start-up.
//!
//! The delay itself is not kept, so that one network serves every friction.

/// What a transfer does to the count of hops since the start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reset {
    /// The count goes on.
    None = 0,
    /// A split: at most so many hops count as done, see [`Reset::apply`].
    Split = 1,
    /// A corner hit on a turned piece: as after a fresh push.
    Turn = 2,
    /// No hit at all: a piece shoulder to shoulder is dragged along in some runs.
    Drag = 3,
}

impl Reset {
    /// The count of hops of a piece that was hit by one with `age`.
    ///
    /// One line into two is 1.2 to 1.3 times slower over its next four hops; with the factor of
    /// [`super::rules::SPLIT`] that is a start at the seventh hop. A corner hit starts like a new line: the next five
    /// hops take 2 to 4 times as long.
    pub(crate) fn apply(self, age: u8) -> u8 {
        match self {
            Self::None => age.saturating_add(1),
            Self::Split => age.saturating_add(1).min(7),
            Self::Turn | Self::Drag => 1,
        }
    }
}

/// The packed form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Code(pub(crate) u32);

impl Code {
    /// Steps of the gap over the height: 4 096.
    pub(crate) const STEPS: f64 = 4096.0;

    /// `share` is s/h from 0 to 1, `factor` from 0.01 to 5.11.
    pub(crate) fn new(share: f64, factor: f64, unsure: bool, reset: Reset, class: u8) -> Self {
        let s = (share * Self::STEPS).round().clamp(0.0, Self::STEPS - 1.0) as u32;
        let f = (factor * 100.0).round().clamp(1.0, 511.0) as u32;
        Self(s | f << 12 | u32::from(unsure) << 21 | (reset as u32) << 22 | u32::from(class) << 24)
    }

    /// A piece beside that may be dragged along.
    pub(crate) fn drag(class: u8) -> Self {
        Self::new(0.0, 1.0, true, Reset::Drag, class)
    }

    /// The same hit, which may fail.
    pub(crate) fn not_sure(self) -> Self {
        Self(self.0 | 1 << 21)
    }

    /// Whether it is no hit but a drag.
    pub(crate) fn drags(self) -> bool {
        self.reset() == Reset::Drag
    }

    /// Whether a line goes on by it: no split, no turned corner.
    pub(crate) fn is_straight(self) -> bool {
        self.reset() == Reset::None
    }

    /// The gap over the height.
    pub(crate) fn share(self) -> f64 {
        self.step() as f64 / Self::STEPS
    }

    pub(crate) fn step(self) -> usize {
        (self.0 & 0xfff) as usize
    }

    /// In hundredths.
    pub(crate) fn factor(self) -> u32 {
        self.0 >> 12 & 0x1ff
    }

    pub(crate) fn unsure(self) -> bool {
        self.0 >> 21 & 1 == 1
    }

    pub(crate) fn reset(self) -> Reset {
        match self.0 >> 22 & 3 {
            0 => Reset::None,
            1 => Reset::Split,
            2 => Reset::Turn,
            _ => Reset::Drag,
        }
    }

    pub(crate) fn class(self) -> usize {
        (self.0 >> 24) as usize
    }
}
