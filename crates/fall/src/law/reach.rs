//! How far fallen pieces come to lie past the end of a line and beside it, as measured.
//!
//! Source: own runs of rigid bodies (rapier3d 0.36.1) with the usual piece, the worst of eight lines each,
//! `tests/data/transfers/slide.csv` and `line_end.csv`. Nothing was measured on real pieces.

/// How far the farthest corner comes to lie past the front face of a lane's last piece, mm, by clear gap (7.5, 12,
/// 20 mm) and friction of the floor (the same from about 12 pieces on). At 0.3 and 7.5 mm 59 were measured; 60 is told,
/// as at 0.15 170 for 168.
const AHEAD: [(f64, [f64; 3]); 5] = [
    (0.1, [233.0, 199.0, 167.0]),
    (0.15, [170.0, 121.0, 102.5]),
    (0.2, [102.0, 71.0, 69.0]),
    (0.25, [74.0, 55.0, 63.0]),
    (0.3, [60.0, 55.5, 56.0]),
];
/// The clear gaps of the columns above, mm.
const GAPS: [f64; 3] = [7.5, 12.0, 20.0];
/// How far a straight line reaches beyond its own half width, mm, by friction of the floor.
const BESIDE: [(f64, f64); 2] = [(0.15, 8.0), (0.3, 3.0)];
/// The same for straight pieces that follow a curve.
const RUN_OUT: [(f64, f64); 2] = [(0.15, 10.0), (0.3, 6.5)];
/// How far a curve reaches beyond its outer edge, mm, by radius of the centre line: friction 0.15, then 0.3 (worst of
/// three gaps and of quarter and half turns; half turns were run at 60 mm alone, narrower ones count as those).
const OUTSIDE: [(f64, [f64; 2]); 3] = [(40.0, [101.0, 46.5]), (60.0, [101.0, 40.5]), (100.0, [52.5, 18.5])];
/// Wider curves than this one were not measured; from here the figures fall evenly to those of a straight line at
/// 400 mm, where free flight passes the outer edge by sqrt(412² + 52²) - 412 = 3.3 mm.
const STRAIGHT_FROM: f64 = 400.0;

/// How far the pieces of a line reach on a floor; all lengths mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    friction: f64,
    scale: f64,
}

impl Reach {
    /// Pieces run out of a curve for so many more (no figure was measured; a tail of 12 pieces sets the speed of a line).
    pub const RUN_OUT_PIECES: usize = 12;

    /// On a floor of this least friction, taken as 0.1 to 0.3, for pieces of `scale` times the height of 48 mm.
    pub fn new(friction: f64, scale: f64) -> Self {
        Self { friction: friction.clamp(0.1, 0.3), scale }
    }

    /// The height of the pieces over that of the usual one.
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// The largest of all these figures: beyond it nothing has to be looked at.
    pub fn most(&self) -> f64 {
        let ends = AHEAD.map(|(mu, row)| (mu, row[0]));
        self.scale
            * between(&ends, self.friction).max(between(&slick_and_normal(OUTSIDE[0].1), self.friction))
    }

    /// Past the front face of a last piece, by the clear gap before it.
    pub fn ahead(&self, gap: f64) -> f64 {
        let gap = gap / self.scale;
        let columns =
            [0, 1, 2].map(|i| (GAPS[i], between(&AHEAD.map(|(mu, row)| (mu, row[i])), self.friction)));
        self.scale * between(&columns, gap)
    }

    /// Beyond the side of a piece, on the inside of a curve or of a straight line.
    pub fn beside(&self) -> f64 {
        self.scale * between(&BESIDE, self.friction)
    }

    /// Beyond the side of a straight piece behind a curve.
    pub fn run_out(&self) -> f64 {
        self.scale * between(&RUN_OUT, self.friction)
    }

    /// Beyond the outer side of a piece in a curve of this radius.
    pub fn outside(&self, radius: f64) -> f64 {
        let radius = radius / self.scale;
        let measured = OUTSIDE.map(|(r, both)| (r, between(&slick_and_normal(both), self.friction)));
        let [a, b, c] = measured;
        self.scale * between(&[a, b, c, (STRAIGHT_FROM, between(&BESIDE, self.friction))], radius)
    }
}

fn slick_and_normal([slick, normal]: [f64; 2]) -> [(f64, f64); 2] {
    [(0.15, slick), (0.3, normal)]
}

/// Straight between the rows of a table whose first column rises; the end rows reach on.
fn between(rows: &[(f64, f64)], at: f64) -> f64 {
    let next = rows.partition_point(|r| r.0 < at);
    match (next.checked_sub(1).and_then(|i| rows.get(i)), rows.get(next)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0),
        (Some(only), None) | (None, Some(only)) => only.1,
        (None, None) => 0.0,
    }
}
