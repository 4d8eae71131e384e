//! What was measured of each way of feeding a field: lanes that fell of lanes run, and how slow the edge is.
//!
//! Source: own rigid-body runs (rapier3d 0.36.1, repeated with a turn of 1° and a place of 0.5 mm at random, usual
//! pieces of 48 x 24 x 7.5 mm, one friction for floor and pieces), 16 runs of 5 lanes in each case. Not measured on real
//! pieces. Bricks at lane pitches above 25 mm were run by `tools/race` (`race bricks 16 26 27 28 30 34`), which gives the
//! same 80 of 80 at 25 mm and, without bricks, 2 to 4 lanes of 10. The slowness is the time from the first to the last lane over that of a straight line of the same length.

/// Which way a case belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Family {
    /// See [`plan::FeedWay`].
    Brick,
    /// See [`plan::FeedWay`].
    Beside,
    /// See [`plan::FeedWay`].
    InLine,
    /// See [`plan::FeedWay`].
    Echelon,
    /// See [`plan::FeedWay`].
    HalfShift,
}

/// One measured case.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case {
    /// Which way.
    pub family: Family,
    /// Clear gap of the line, mm.
    pub gap: f64,
    /// Turn of the piece, degrees; 0 where nothing is turned.
    pub turn: f64,
    /// The wider gap, mm, or the clear distance around the turned piece.
    pub local: f64,
    /// Poke, mm; 0 where nothing pokes.
    pub poke: f64,
    /// Lane pitch, mm.
    pub lanes: f64,
    /// Lanes that fell of 80, at friction 0.15 and 0.3.
    pub fell: (u32, u32),
    /// Slowness at friction 0.15 and 0.3; 0 where it was not recorded.
    pub slow: (f64, f64),
}

/// Lanes run in each case.
pub(crate) const RUN: u32 = 80;

#[rustfmt::skip]
pub(crate) const CASES: &[Case] = &[
    Case { family: Family::Beside, gap: 7.5, turn: 15.0, local: 20.0, poke: 2.0, lanes: 42.5, fell: (79, 79), slow: (1.49, 1.49) },
    Case { family: Family::Beside, gap: 7.5, turn: 15.0, local: 20.0, poke: 4.0, lanes: 42.5, fell: (80, 80), slow: (1.57, 1.53) },
    Case { family: Family::Beside, gap: 7.5, turn: 30.0, local: 12.0, poke: 1.0, lanes: 34.5, fell: (45, 61), slow: (0.00, 1.21) },
    Case { family: Family::Beside, gap: 7.5, turn: 30.0, local: 12.0, poke: 2.0, lanes: 34.5, fell: (65, 74), slow: (1.29, 1.23) },
    Case { family: Family::Beside, gap: 7.5, turn: 30.0, local: 16.0, poke: 2.0, lanes: 38.5, fell: (68, 74), slow: (1.33, 1.28) },
    Case { family: Family::Beside, gap: 7.5, turn: 30.0, local: 16.0, poke: 4.0, lanes: 38.5, fell: (78, 80), slow: (1.41, 1.36) },
    Case { family: Family::Beside, gap: 7.5, turn: 30.0, local: 16.0, poke: 6.0, lanes: 38.5, fell: (80, 80), slow: (1.48, 1.46) },
    Case { family: Family::Beside, gap: 7.5, turn: 45.0, local: 16.0, poke: 4.0, lanes: 38.5, fell: (77, 78), slow: (1.26, 1.25) },
    Case { family: Family::Beside, gap: 7.5, turn: 45.0, local: 16.0, poke: 6.0, lanes: 38.5, fell: (80, 80), slow: (1.32, 1.33) },
    Case { family: Family::Beside, gap: 7.5, turn: 45.0, local: 20.0, poke: 4.0, lanes: 42.5, fell: (75, 78), slow: (1.35, 1.32) },
    Case { family: Family::Beside, gap: 7.5, turn: 45.0, local: 20.0, poke: 6.0, lanes: 42.5, fell: (80, 80), slow: (1.38, 1.42) },
    Case { family: Family::Beside, gap: 7.5, turn: 60.0, local: 20.0, poke: 4.0, lanes: 42.5, fell: (15, 71), slow: (0.00, 1.25) },
    Case { family: Family::Beside, gap: 7.5, turn: 60.0, local: 25.0, poke: 4.0, lanes: 47.5, fell: (14, 68), slow: (0.00, 1.34) },
    Case { family: Family::Beside, gap: 7.5, turn: 60.0, local: 25.0, poke: 6.0, lanes: 47.5, fell: (56, 80), slow: (0.00, 1.43) },
    Case { family: Family::InLine, gap: 12.0, turn: 30.0, local: 3.0, poke: 0.0, lanes: 32.0, fell: (78, 80), slow: (1.28, 1.38) },
    Case { family: Family::InLine, gap: 12.0, turn: 45.0, local: 0.5, poke: 0.0, lanes: 30.8, fell: (62, 79), slow: (1.44, 1.73) },
    Case { family: Family::InLine, gap: 12.0, turn: 45.0, local: 3.0, poke: 0.0, lanes: 35.8, fell: (80, 80), slow: (1.37, 1.50) },
    Case { family: Family::InLine, gap: 7.5, turn: 30.0, local: 3.0, poke: 0.0, lanes: 32.0, fell: (36, 78), slow: (0.00, 1.40) },
    Case { family: Family::InLine, gap: 7.5, turn: 45.0, local: 0.5, poke: 0.0, lanes: 30.8, fell: (2, 69), slow: (0.00, 1.68) },
    Case { family: Family::InLine, gap: 7.5, turn: 45.0, local: 3.0, poke: 0.0, lanes: 35.8, fell: (79, 80), slow: (1.47, 1.57) },
    Case { family: Family::HalfShift, gap: 12.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 25.0, fell: (79, 80), slow: (2.78, 3.04) },
    Case { family: Family::HalfShift, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 25.0, fell: (79, 80), slow: (3.36, 3.59) },
    Case { family: Family::HalfShift, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 25.0, fell: (77, 80), slow: (2.88, 2.61) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 25.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 25.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 26.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 27.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 28.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 30.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 7.5, turn: 0.0, local: 0.0, poke: 0.0, lanes: 34.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 26.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 27.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 28.0, fell: (80, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 30.0, fell: (67, 80), slow: (0.00, 0.00) },
    Case { family: Family::Brick, gap: 20.0, turn: 0.0, local: 0.0, poke: 0.0, lanes: 34.0, fell: (12, 69), slow: (0.00, 0.00) },
    Case { family: Family::Echelon, gap: 12.0, turn: 50.0, local: 3.0, poke: 0.0, lanes: 25.0, fell: (70, 80), slow: (2.52, 2.01) },
    Case { family: Family::Echelon, gap: 12.0, turn: 50.0, local: 3.0, poke: 0.0, lanes: 30.0, fell: (69, 80), slow: (3.15, 2.30) },
    Case { family: Family::Echelon, gap: 20.0, turn: 50.0, local: 3.0, poke: 0.0, lanes: 25.0, fell: (72, 80), slow: (0.00, 2.50) },
    Case { family: Family::Echelon, gap: 20.0, turn: 50.0, local: 3.0, poke: 0.0, lanes: 30.0, fell: (37, 24), slow: (4.78, 2.94) },
    Case { family: Family::Echelon, gap: 7.5, turn: 45.0, local: 3.0, poke: 0.0, lanes: 25.0, fell: (76, 80), slow: (1.94, 2.30) },
    Case { family: Family::Echelon, gap: 7.5, turn: 45.0, local: 3.0, poke: 0.0, lanes: 30.0, fell: (26, 80), slow: (0.00, 2.15) },
    Case { family: Family::Echelon, gap: 7.5, turn: 50.0, local: 0.5, poke: 0.0, lanes: 25.0, fell: (79, 80), slow: (2.10, 2.38) },
    Case { family: Family::Echelon, gap: 7.5, turn: 50.0, local: 3.0, poke: 0.0, lanes: 25.0, fell: (79, 80), slow: (2.08, 2.36) },
    Case { family: Family::Echelon, gap: 7.5, turn: 50.0, local: 3.0, poke: 0.0, lanes: 27.5, fell: (74, 80), slow: (2.09, 2.19) },
    Case { family: Family::Echelon, gap: 7.5, turn: 50.0, local: 3.0, poke: 0.0, lanes: 30.0, fell: (56, 80), slow: (2.02, 2.40) },
    Case { family: Family::Echelon, gap: 7.5, turn: 55.0, local: 3.0, poke: 0.0, lanes: 25.0, fell: (77, 80), slow: (2.20, 2.67) },
];

/// Lanes that fell of lanes run in single exact runs of a line that runs past the lanes at an angle, by that angle (degrees)
/// and poke (mm), gaps 7.5 to 20 mm together, at friction 0.15 and 0.3; and the range of slowness in all of them.
pub(crate) const ANGLED: &[AngledCase] = &[
    AngledCase { turn: 30.0, poke: 2.0, slick: (50, 50), normal: (50, 50), slow: (1.16, 1.57) },
    AngledCase { turn: 30.0, poke: 4.0, slick: (40, 40), normal: (40, 40), slow: (1.26, 1.67) },
    AngledCase { turn: 30.0, poke: 6.0, slick: (40, 40), normal: (40, 40), slow: (1.24, 1.76) },
    AngledCase { turn: 45.0, poke: 2.0, slick: (55, 55), normal: (55, 55), slow: (1.11, 1.50) },
    AngledCase { turn: 45.0, poke: 4.0, slick: (50, 50), normal: (50, 50), slow: (1.16, 1.54) },
    AngledCase { turn: 45.0, poke: 6.0, slick: (40, 40), normal: (40, 40), slow: (1.22, 1.66) },
    AngledCase { turn: 60.0, poke: 2.0, slick: (30, 50), normal: (49, 50), slow: (1.06, 1.35) },
    AngledCase { turn: 60.0, poke: 4.0, slick: (40, 40), normal: (40, 40), slow: (1.11, 1.38) },
    AngledCase { turn: 60.0, poke: 6.0, slick: (15, 15), normal: (15, 15), slow: (1.23, 1.51) },
];

/// See [`ANGLED`].
#[derive(Debug, Clone, Copy)]
pub(crate) struct AngledCase {
    /// Angle between the line and the fall of the lanes.
    pub turn: f64,
    /// Poke.
    pub poke: f64,
    /// Fell and run at 0.15.
    pub slick: (u32, u32),
    /// Fell and run at 0.3.
    pub normal: (u32, u32),
    /// Least and most slowness.
    pub slow: (f64, f64),
}
