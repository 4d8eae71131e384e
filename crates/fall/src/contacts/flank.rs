//! What stands at the sides of a sweep: pieces shoulder to shoulder, and those that an echelon passes.

use super::body::{Body, QUARTER, TURN};
use super::grid::Grid;
use super::rules::degrees;
use super::sweep::{Near, Sweep, folded};

/// Side by side, lanes are independent from a clear distance of 2 mm on: none of 360 runs at 2 to 4 mm lost a piece of
/// the lane beside, up to 9 of 10 did at 1 mm and less.
pub(super) const APART: f64 = 1.95;
/// Pieces of an echelon are hit askew and twist on their feet as they fall, so that they catch what stands farther aside:
/// of 72 echelons 0.6 to 4.2 mm apart all carried the fall on to some pieces, and 11 to all of them (`edge_scan.csv`,
/// H_echelon). Farther apart none was run.
const TWISTED: f64 = 4.5;
/// From this turn on a piece is hit askew; steps of a curve are smaller.
const ASKEW: u32 = degrees(36.5);
/// A piece behind that is turned less drives straight.
const STRAIGHT: u32 = degrees(15.0);
/// Pieces stand side by side when their faces are shifted against each other by no more than this beyond a thickness, mm.
const SHIFTED: f64 = 1.0;
/// More pieces than this in and beside a sweep are a heap.
const HEAP: usize = 48;
/// Pieces more than so many times as wide are not looked for in an echelon.
const WIDEST: f64 = 4.0;
/// Less than this beside the sweep and a piece stands in it, mm.
const WITHIN: f64 = -0.25;

/// What is known of the sides of one piece.
#[derive(Debug, Clone, Default)]
pub(super) struct Flank {
    /// Something that was gathered stands beside the sweep.
    pub(super) beside: bool,
    /// For each way to fall: nothing stands straight behind it, but it is hit askew, or is one of an echelon.
    twists: [bool; 2],
    /// What stands at the sides as far as a twisted piece reaches; empty unless it twists.
    wide: Vec<Near>,
}

impl Sweep<'_> {
    /// Finds out whether a piece twists as it falls. Nothing is searched where pieces stand straight behind one another.
    pub(super) fn look_aside(&mut self, grid: &Grid, hitter: &Body) {
        self.flank.wide.clear();
        self.flank.twists = [false; 2];
        let shape = self.shapes.get(hitter.shape);
        // In a heap nothing is an echelon.
        if !shape.falls || self.near.len() > HEAP {
            return;
        }
        let straight = |sign: f64| {
            self.near.iter().any(|n| {
                let half = (shape.w + self.shapes.get(n.body.shape).w) / 2.0;
                sign * n.along < 0.0
                    && n.across.abs() < half - 0.5
                    && folded(n.body.turn, hitter.turn, false).0 < STRAIGHT
            })
        };
        let loose = [1.0, -1.0].map(|sign| !straight(sign));
        if loose == [false; 2] {
            return;
        }
        let apart = TWISTED * shape.h / 48.0;
        let (c, s) = super::body::cos_sin(hitter.turn);
        let (ahead, widest) = (shape.h / 2.0, self.widest().min(WIDEST * shape.w));
        let aside = (shape.w + widest) / 2.0 + apart;
        let box_of = (ahead * c.abs() + aside * s.abs(), ahead * s.abs() + aside * c.abs());
        let wide = &mut self.flank.wide;
        grid.near(hitter.x, hitter.y, box_of, |b| {
            let (dx, dy) = (b.x - hitter.x, b.y - hitter.y);
            let (along, across) = (dx * c + dy * s, dy * c - dx * s);
            if b.id != hitter.id && along.abs() <= ahead && across.abs() <= aside {
                wide.push(Near { body: *b, along, across });
            }
        });
        let lanes = self.aside(hitter, &self.flank.wide, apart).any(|a| a.1 <= SHIFTED);
        let twists = [0, 1].map(|way: u8| {
            let sign = if way == 1 { -1.0 } else { 1.0 };
            // Lanes side by side fall straight whatever begins them.
            if lanes || !loose[usize::from(way)] {
                return false;
            }
            let follows = self.aside(hitter, &self.flank.wide, apart).any(|a| sign * a.0.along < 0.0);
            follows || self.drivers(hitter, way).iter().any(|d| d.driven.turned >= ASKEW)
        });
        self.flank.twists = twists;
    }

    /// Pieces shoulder to shoulder with one that falls forward (`way` 0) or back (1), which it may drag along, and the way
    /// that they fall then.
    pub(crate) fn beside<'b>(&'b self, hitter: &'b Body, way: u8) -> impl Iterator<Item = (u32, u8)> + 'b {
        let near: &[Near] = if self.flank.beside { &self.near } else { &[] };
        let apart = APART * self.shapes.get(hitter.shape).h / 48.0;
        self.aside(hitter, near, apart).filter(|a| a.1 <= SHIFTED).map(move |a| named(a.0, a.2, way))
    }

    /// The same ahead of it, as in an echelon whose pieces pass each other by less than is safe.
    pub(crate) fn passed<'b>(&'b self, hitter: &'b Body, way: u8) -> impl Iterator<Item = (u32, u8)> + 'b {
        let sign = if way == 1 { -1.0 } else { 1.0 };
        let h = self.shapes.get(hitter.shape).h;
        let (near, apart): (&[Near], f64) = match (self.flank.twists[usize::from(way)], self.flank.beside) {
            (true, _) => (&self.flank.wide, TWISTED),
            (false, true) => (&self.near, APART),
            (false, false) => (&[], APART),
        };
        let ahead = move |n: &Near| sign * n.along > 0.0 && n.along.abs() <= h / 2.0;
        let found = self.aside(hitter, near, apart * h / 48.0);
        found.filter(move |a| a.1 > SHIFTED && ahead(a.0)).map(move |a| named(a.0, a.2, way))
    }

    /// Pieces that stand parallel beside the sweep, closer than `apart`: which, how far their faces are shifted against the
    /// hitter's (mm), and whether they face the same way.
    fn aside<'b>(
        &'b self,
        hitter: &'b Body,
        near: &'b [Near],
        apart: f64,
    ) -> impl Iterator<Item = (&'b Near, f64, bool)> + 'b {
        let shape = self.shapes.get(hitter.shape);
        near.iter().filter_map(move |n| {
            let other = self.shapes.get(n.body.shape);
            let clear = n.across.abs() - (shape.w + other.w) / 2.0;
            let shifted = n.along.abs() - (shape.d + other.d) / 2.0;
            let level = self.shapes.up(hitter, &n.body).abs() < 2.0;
            if !shape.falls || !other.falls || !level || !(WITHIN..apart).contains(&clear) {
                return None;
            }
            let between = u32::from(n.body.turn.wrapping_sub(hitter.turn));
            let folded = between % (TURN / 2);
            let same = !(QUARTER..=3 * QUARTER).contains(&between);
            let parallel = folded.min(TURN / 2 - folded) <= degrees(10.0);
            parallel.then_some((n, shifted, same))
        })
    }
}

/// A piece and the way it falls along with one that falls this way.
fn named(n: &Near, same: bool, way: u8) -> (u32, u8) {
    (n.body.id, if same { way } else { 1 - way })
}
