//! How the floor changes the pace of a running line: on a slick one feet slide back, a little at all gaps, and beyond
//! 22 mm so far that the line becomes slow or stops.
//!
//! Source: lines of 130 rigid pieces of 48 x 24 x 7.5 mm, rows of `tests/data/line_speed.csv` (rapier3d 0.36.1; the file
//! tells how). Other rows of that file were not used here and check it. Gaps scale with the height; other ratios of
//! thickness to height were not run.

/// Height of the measured pieces, mm.
const HEIGHT: f64 = 48.0;
/// Up to this gap feet never slid far, mm.
const HELD: f64 = 22.0;
/// Frictions of piece on piece that were run at all of these floors.
const PIECES: [f64; 4] = [0.06, 0.1, 0.2, 0.4];
/// Frictions of piece on floor.
const FLOORS: [f64; 4] = [0.1, 0.15, 0.2, 0.25];
/// Clear gaps, mm.
const GAPS: [f64; 8] = [HELD, 24.0, 26.0, 28.0, 30.0, 32.0, 34.0, 36.0];
/// A ratio above this shows that feet slid far; all others lay at 1.03 and below.
const SLID: f64 = 1.045;
/// What is taken where the line stopped: a little more than the slowest one that ran.
const STOPS: f64 = 1.8;

/// Speed of the law over speed of the run, by piece, floor and gap. At 0.4 the rows that were not run (26, 30 and 34 mm
/// on floors of 0.15 and more, and all on 0.25) stand between their neighbours, which differ by 1 % at most; on floors
/// that hold the feet the law counts as it is.
const RATIOS: [[[f64; 8]; 4]; 4] = [
    [
        [0.955, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
        [0.952, 0.964, 1.221, 1.239, 1.462, 1.549, 1.457, 1.726],
        [0.955, 0.963, 1.169, 1.201, 1.174, 1.206, 1.086, 1.420],
        [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    ],
    [
        [0.951, 1.132, 1.218, 1.255, 1.699, 1.678, STOPS, STOPS],
        [0.955, 0.960, 1.162, 1.193, 1.177, 1.328, 1.243, 1.530],
        [0.965, 0.963, 1.099, 1.082, 1.032, 1.011, 1.017, 1.309],
        [0.965, 0.966, 0.990, 1.013, 1.012, 1.012, 1.017, 1.023],
    ],
    [
        [0.956, 1.100, 1.098, 1.125, 1.465, 1.009, 1.545, STOPS],
        [0.962, 0.972, 1.046, 1.005, 0.996, 1.000, 1.001, 1.283],
        [0.970, 0.982, 0.988, 0.994, 0.998, 1.001, 1.001, 1.003],
        [0.972, 0.982, 0.989, 0.996, 0.998, 1.001, 1.002, 1.003],
    ],
    [
        [0.952, 1.047, 1.000, 0.978, 0.980, 0.983, 0.985, 1.238],
        [0.965, 0.976, 0.978, 0.980, 0.982, 0.984, 0.988, 0.995],
        [0.970, 0.978, 0.980, 0.983, 0.982, 0.980, 0.978, 0.977],
        [0.975, 0.980, 0.985, 0.990, 0.990, 0.990, 0.990, 0.990],
    ],
];
