//! How the floor changes the pace of a running line: on a slick one feet slide back, a little at all gaps, and beyond
//! 22 mm so far that the line becomes slow or stops.
//!
//! Source: lines of 130 rigid pieces of 48 x 24 x 7.5 mm (rapier3d 0.36.1), the rows of `tests/data/line_speed.csv` at the
//! frictions and gaps of the table below; the other rows there were not used here and check it. Gaps scale with the
//! height; other ratios of thickness to height were not run.

/// Height of the measured pieces, mm.
const HEIGHT: f64 = 48.0;
/// Frictions of piece on piece.
const PIECES: [f64; 4] = [0.06, 0.1, 0.2, 0.4];
/// Frictions of piece on floor.
const FLOORS: [f64; 4] = [0.1, 0.15, 0.2, 0.25];
/// From this friction on the floor holds the feet, and the law counts as it is.
const HOLDS: f64 = 0.3;
/// Clear gaps, mm.
const GAPS: [f64; 8] = [22.0, 24.0, 26.0, 28.0, 30.0, 32.0, 34.0, 36.0];
/// Up to this gap feet slide by a few millimetres on every floor, mm.
const EVEN: f64 = 20.0;
/// On a slick floor feet give way to a slope: a line runs down slower, and up faster, by this share for each degree than
/// the law says, up to the first of these gaps and not at all from the second on (mm). From the lines on planks of 3 and 7°
/// down and 3° up at a friction of 0.15, `tests/data/transfers/ramp.csv`; the other rows there check it.
const GIVES: f64 = 0.0045;
const GIVES_AT: (f64, f64) = (12.0, 26.0);
/// The friction at which that was run.
const GIVES_ON: f64 = 0.15;
/// A ratio above this shows that feet slid far.
const SLID: f64 = 1.045;
/// What is taken where the line stopped: as slow as the slowest one that ran.
const STOPS: f64 = 1.79;

/// Speed of the law over that of the run, by piece, floor and gap.
const RATIOS: [[[f64; 8]; 4]; 4] = [
    [
        [0.950, 1.132, 1.283, 1.479, 1.788, 1.789, STOPS, STOPS],
        [0.952, 0.964, 1.221, 1.239, 1.462, 1.549, 1.457, 1.726],
        [0.955, 0.963, 1.169, 1.201, 1.174, 1.206, 1.086, 1.420],
        [0.966, 0.971, 1.108, 1.095, 1.065, 1.016, 1.025, 1.038],
    ],
    [
        [0.951, 1.132, 1.218, 1.255, 1.699, 1.678, STOPS, STOPS],
        [0.961, 0.960, 1.162, 1.193, 1.177, 1.328, 1.243, 1.530],
        [0.963, 0.963, 1.099, 1.082, 1.032, 1.011, 1.017, 1.309],
        [0.970, 0.966, 1.030, 1.013, 1.003, 1.012, 1.017, 1.023],
    ],
    [
        [0.956, 1.100, 1.098, 1.125, 1.465, 1.009, 1.545, STOPS],
        [0.960, 0.971, 1.046, 1.005, 0.996, 1.000, 1.001, 1.283],
        [0.965, 0.982, 0.988, 0.994, 0.998, 1.001, 1.001, 1.003],
        [0.971, 0.982, 0.990, 0.996, 0.999, 1.001, 1.002, 1.003],
    ],
    [
        [0.957, 1.047, 1.018, 0.978, 0.981, 0.983, 0.988, 1.238],
        [0.966, 0.976, 0.979, 0.980, 0.982, 0.984, 0.984, 0.995],
        [0.976, 0.979, 0.981, 0.983, 0.983, 0.985, 0.984, 0.977],
        [0.980, 0.982, 0.983, 0.984, 0.984, 0.985, 0.985, 0.975],
    ],
];

/// What a floor does to a running line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnFloor {
    /// Factor on the delay of a hop.
    pub factor: f64,
    /// Whether feet slide so far, on this floor or one of those around it that were run, that the pace is a guess and
    /// the line may stop.
    pub slides: bool,
}

/// A floor under pieces of one friction, for all gaps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floor {
    /// Factor up to [`EVEN`].
    even: f64,
    /// Share of [`GIVES`] that counts on it.
    slick: f64,
    /// Factor at each of [`GAPS`], and whether feet slid far there.
    at: [(f64, bool); GAPS.len()],
    /// Beyond the narrowest of these gaps nothing like it was run.
    unknown: bool,
}

impl Floor {
    /// A floor of friction `floor` under pieces with friction `mu` between them.
    pub fn of(mu: f64, floor: f64) -> Self {
        if floor >= HOLDS {
            return Self { even: 1.0, slick: 0.0, at: [(1.0, false); GAPS.len()], unknown: false };
        }
        // A line runs up to 5 % faster on a floor of 0.1 than on one that holds its feet, and half of that on one of 0.15.
        let even = 1.0 - 0.5 * (0.2 - floor.max(FLOORS[0])).max(0.0);
        let (pieces, floors) = (around(&PIECES, mu), around(&FLOORS, floor));
        let last = FLOORS[FLOORS.len() - 1];
        let to_held = ((floor - last) / (HOLDS - last)).clamp(0.0, 1.0);
        let at = std::array::from_fn(|k| {
            let (mut factor, mut slid) = (0.0, false);
            for (i, a) in pieces {
                for (j, b) in floors {
                    factor += a * b * RATIOS[i][j][k];
                    slid |= a * b > 0.0 && RATIOS[i][j][k] > SLID;
                }
            }
            (factor + (1.0 - factor) * to_held, slid)
        });
        let slick = ((HOLDS - floor) / (HOLDS - GIVES_ON)).clamp(0.0, 1.0);
        Self { even, slick, at, unknown: floor < FLOORS[0] - 1e-9 }
    }

    /// What it does to a line at a share s/h on a slope, in radians, positive where the line runs down.
    pub fn on_slope(&self, share: f64, slope: f64) -> OnFloor {
        let on = self.at(share);
        let tight = (GIVES_AT.1 - share * HEIGHT) / (GIVES_AT.1 - GIVES_AT.0);
        let gives = GIVES * self.slick * tight.clamp(0.0, 1.0);
        OnFloor { factor: on.factor * (1.0 + gives * slope.to_degrees()), ..on }
    }

    /// What it does to a line at a share s/h.
    pub fn at(&self, share: f64) -> OnFloor {
        let gap = share * HEIGHT;
        if gap.is_nan() || gap <= EVEN {
            return OnFloor { factor: self.even, slides: false };
        }
        let [(i, a), (j, b)] = around(&GAPS, gap);
        let (low, high) = (self.at[i], self.at[j]);
        let slides = a > 0.0 && low.1 || b > 0.0 && high.1 || self.unknown && gap > GAPS[0];
        let share = ((gap - EVEN) / (GAPS[0] - EVEN)).clamp(0.0, 1.0);
        OnFloor { factor: self.even + (a * low.0 + b * high.0 - self.even) * share, slides }
    }
}

/// The two nodes around a value and their weights; beyond the ends the last node alone.
fn around(nodes: &[f64], value: f64) -> [(usize, f64); 2] {
    let value = value.clamp(nodes[0], nodes[nodes.len() - 1]);
    let above = nodes.partition_point(|n| *n < value - 1e-9).max(1);
    let share = ((value - nodes[above - 1]) / (nodes[above] - nodes[above - 1])).clamp(0.0, 1.0);
    // Rounding must not bring in a neighbour of a node that is met.
    let share = if share < 1e-6 {
        0.0
    } else if share > 1.0 - 1e-6 {
        1.0
    } else {
        share
    };
    [(above - 1, 1.0 - share), (above, share)]
}
