//! How high a step a wave climbs, as it was measured: one rule for the fall and for what is said of bridges.

/// Whether a wave climbs a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Climb {
    /// In all runs.
    Surely,
    /// In all runs with two pieces or more on each step.
    WithTwo,
    /// In some runs, with two pieces or more on each step and none left out between.
    Perhaps,
    /// In none.
    Not,
}

/// Whether a wave climbs so many millimetres from one piece to the next at a clear gap of so many, both for pieces 48 mm
/// high; those of other pieces are as many times larger as the pieces are.
///
/// Up 7.5 mm a step passed 54 of 54 runs of five steps, and 15 mm with two or three on each step 36 of 36, with one 14 of
/// 18. Up 22.5 mm passed 8 of 24 runs with two or three on a step and gaps of 12 and 20 mm, all of them on a normal floor;
/// with one on a step, and at gaps of 7.5 mm, none of 30. Up 30 mm passed none of 54 (own runs of rigid bodies, `steps.csv`).
pub fn climb(up: f64, gap: f64) -> Climb {
    match up {
        up if up <= 8.0 => Climb::Surely,
        up if up <= 15.5 => Climb::WithTwo,
        up if up <= 22.7 && gap >= 9.5 => Climb::Perhaps,
        _ => Climb::Not,
    }
}
