//! How long hands need: person-hours from pieces and changes of colour.

use placement::Placed;

/// A range of person-hours.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Hours {
    /// At a good pace.
    pub low: f64,
    /// At a slow pace.
    pub high: f64,
}

/// Pieces an hour and person in a field of plain colour, fast and slow: 800 to 1 200 (from memory of builders,
/// not measured; an editable default until the crew's own pace is known).
const PIECES_AN_HOUR: [f64; 2] = [1_200.0, 800.0];

/// What each change of colour costs, in seconds, fast and slow: 1.5 to 3 (from memory of builders).
const SECONDS_A_CHANGE: [f64; 2] = [1.5, 3.0];

impl Hours {
    /// No hours.
    pub const NONE: Self = Self { low: 0.0, high: 0.0 };

    /// The same hours, known exactly.
    pub const fn exactly(hours: f64) -> Self {
        Self { low: hours, high: hours }
    }
}

impl std::ops::Add for Hours {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { low: self.low + other.low, high: self.high + other.high }
    }
}

impl std::iter::Sum for Hours {
    fn sum<I: Iterator<Item = Self>>(hours: I) -> Self {
        hours.fold(Self::NONE, |a, b| a + b)
    }
}

/// Net person-hours to place `pieces` with `changes` changes of colour along the lanes.
pub fn hours_for(pieces: u64, changes: u64) -> Hours {
    let at = |i: usize| pieces as f64 / PIECES_AN_HOUR[i] + changes as f64 * SECONDS_A_CHANGE[i] / 3_600.0;
    Hours { low: at(0), high: at(1) }
}

/// Net person-hours to place the pieces of a line, a fill or a feed.
pub fn hours_to_place(placed: &Placed) -> Hours {
    hours_for(placed.pieces.len() as u64, placed.changes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_change_of_colour_costs_its_seconds() {
        let plain = hours_for(2_400, 0);
        assert_eq!((plain.low, plain.high), (2.0, 3.0));
        let busy = hours_for(2_400, 1_200);
        assert!((busy.low - 2.5).abs() < 1e-9 && (busy.high - 4.0).abs() < 1e-9);
    }
}
