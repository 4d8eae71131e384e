//! Lines that stand closer to something than a falling or sliding piece of them reaches.

use fall::{faces, law::Reach};
use geometry::{Point, Vector};
use plan::{Command, Item, Plan};
use sayings::{Arg, found, say};

use crate::finding::{Finding, Severity, about, nth};
use crate::lanes::{laid, scale};
use crate::shape::{Bounds, Shape, Solid};
use crate::tally::Tally;

/// So close to where one item leads into the other nothing is told, mm: there they are meant to touch.
const TRANSFER: f64 = 200.0;
/// Up to this share of its height a falling piece hits what stands ahead, so that the wave goes on there.
const HIT: f64 = 0.83;
/// So far along its own lane a piece is a neighbour and not another course of the line, mm.
const COURSE: f64 = 150.0;

/// What is too close to the worst of an item's pieces.
#[derive(Debug, Clone, Copy)]
struct Close {
    clear: f64,
    reach: f64,
    way: Way,
    at: Point,
    /// Rank of the piece that falls.
    rank: u32,
    /// Where it would have to move.
    away: Vector,
}

/// Pieces that reach something: the figure is what is missing, mm.
type Reaching = Tally<Close>;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Ahead,
    Beside,
    Outside,
}

/// How far the pieces of an item reach on the slickest floor that is expected.
pub(crate) fn reach_of(plan: &Plan, item: &Item) -> Option<Reach> {
    let (a, b) = plan.hall.grip.floor;
    Some(Reach::new(a.min(b), scale(plan, laid(item)?.kind)))
}

/// What is meant to touch.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Meant {
    /// Where two items lead into one another.
    pub at: Vec<Point>,
    /// The end of the line leads on into something.
    pub leads_on: bool,
}

/// One finding when pieces of `item` would fall or slide into `other`; `meant` is where they lead into one another.
pub(crate) fn into_other(
    plan: &Plan,
    (item, shape): (&Item, &Shape),
    (other, there): (&Item, &Shape),
    meant: &Meant,
    found: &mut Vec<Finding>,
) {
    let Some(reach) = reach_of(plan, item) else { return };
    let Some(bounds) = there.bounds else { return };
    let most = reach.most();
    if !shape.touches(&bounds.wider(most)) {
        return;
    }
    let mut close = None::<Reaching>;
    shape.near(bounds.wider(most), &mut |i| {
        let piece = shape.solid(i);
        if meant.at.iter().all(|m| m.minus(piece.at).length() > TRANSFER) {
            look(&reach, (shape, i, &piece), (there, &|_| true), meant.leads_on, &mut close);
        }
        true
    });
    found.extend(close.map(|c| finding(item, Some(other), &c)));
}

/// One finding when pieces of a line would fly into a course of the same line that is to fall later. What falls earlier
/// lies by then; that a touch in between would take it along as well is for the touch map to say.
pub(crate) fn into_itself(plan: &Plan, item: &Item, shape: &Shape, leads_on: bool, found: &mut Vec<Finding>) {
    let Some(reach) = reach_of(plan, item) else { return };
    let Some(pitch) = laid(item).map(|l| l.spacing.pitch(thickness(plan, l.kind)).to_mm()) else { return };
    let p = &shape.pieces;
    let course = (COURSE * reach.scale() / pitch.max(0.1)).ceil() as u32;
    let mut close = None::<Reaching>;
    for i in 0..shape.len() {
        let another = |j: usize| p.rank[j].saturating_sub(p.rank[i]) > course;
        look(&reach, (shape, i, &shape.solid(i)), (shape, &another), leads_on, &mut close);
    }
    found.extend(close.map(|c| finding(item, None, &c)));
}

fn thickness(plan: &Plan, kind: plan::KindId) -> units::Length {
    plan.stock.kind(kind).map_or(units::Length::ZERO, |k| k.thickness)
}

/// Looks around one piece for what it would reach, and keeps the worst.
fn look(
    reach: &Reach,
    (shape, i, piece): (&Shape, usize, &Solid),
    (there, asked): (&Shape, &dyn Fn(usize) -> bool),
    leads_on: bool,
    close: &mut Option<Reaching>,
) {
    let lane = Lane::around(shape, i);
    let (left, right) = lane.sides(reach);
    let ahead = lane.last_gap.filter(|_| !leads_on).map(|gap| reach.ahead(gap));
    let side = left.0.max(right.0) + piece.size.half_wide;
    let far = there.largest();
    let around = ahead.unwrap_or(0.0).max(side)
        + piece.size.half_thick
        + units::maths::hypot(far.half_thick, far.half_wide);
    let (mut hit, mut worst, mut looks) = (false, None::<(f64, f64, f64, Way, Point, Vector)>, 0);
    there.near(Bounds::about(piece.at, around), &mut |j| {
        looks += 1;
        if asked(j) {
            let other = there.solid(j);
            let (u, v) = piece.local(other.at);
            let (ru, rv) = (other.reach(piece.along), other.reach(piece.left()));
            let level =
                other.foot < piece.foot + piece.size.high && piece.foot < other.foot + other.size.high;
            // Beside it: within its own pitch along the lane, so that each neighbour is asked by the piece next to it.
            let (clear, (needed, way)) = if v >= 0.0 {
                (v - piece.size.half_wide - rv, left)
            } else {
                (-v - piece.size.half_wide - rv, right)
            };
            let abreast = u.abs() <= ru + piece.size.half_thick.max(lane.pitch / 2.0);
            let mut tell = |clear: f64, needed: f64, way: Way, away: Vector| {
                let missing = needed - clear;
                if level && clear > -0.01 && missing > 0.05 && worst.is_none_or(|w| missing > w.0) {
                    worst = Some((missing, clear, needed, way, other.at, away));
                }
            };
            if abreast {
                tell(clear, needed, way, piece.left().times(if v >= 0.0 { -1.0 } else { 1.0 }));
            }
            if let Some(ahead) = ahead
                && v.abs() <= rv + piece.size.half_wide
            {
                let clear = u - piece.size.half_thick - ru;
                // What a falling piece fells carries the fall on; only what a sliding one reaches is a surprise. One that
                // stands across is not felled.
                let faces = faces(piece.along.dot(other.along));
                hit |= level && faces && clear > -0.01 && clear < HIT * piece.size.high;
                tell(clear, ahead, Way::Ahead, piece.along.times(-1.0));
            }
        }
        looks < 2_000
    });
    let worst = worst.filter(|w| !(hit && w.3 == Way::Ahead));
    let Some((missing, clear, needed, way, at, away)) = worst else { return };
    let rank = shape.pieces.rank[i];
    Tally::add(close, shape, i, missing, Close { clear, reach: needed, way, at, rank, away });
}

/// How a lane runs at one of its pieces.
struct Lane {
    pitch: f64,
    /// Radius of the curve, and whether it turns to the left; `None` where it is straight.
    curve: Option<(f64, bool)>,
    /// It is straight here, and a curve ended a few pieces before.
    runs_out: bool,
    /// The clear gap before it, when it is the last of its lane.
    last_gap: Option<f64>,
}

impl Lane {
    fn around(shape: &Shape, i: usize) -> Self {
        let p = &shape.pieces;
        let lane = |j: usize| p.lane.get(j) == Some(&p.lane[i]);
        let before = i.checked_sub(1).filter(|&j| lane(j));
        let after = Some(i + 1).filter(|&j| lane(j));
        let piece = shape.solid(i);
        let apart = |j: Option<usize>| j.map(|j| shape.solid(j).at.minus(piece.at).length());
        let pitch = apart(after).or(apart(before)).unwrap_or(0.0);
        let last_gap = match after {
            // A lone piece reaches as one with a wide gap before it.
            None => Some(apart(before).map_or(20.0, |d| d - 2.0 * piece.size.half_thick)),
            Some(_) => None,
        };
        let bends = shape.bends();
        let curve = match (before.map(|j| bends[j]), bends[i]) {
            (Some(x), y) if x.is_tighter(&y) => x.curve(),
            (_, y) => y.curve(),
        };
        let runs_out = curve.is_none() && usize::from(bends[i].since) <= Reach::RUN_OUT_PIECES;
        Self { pitch, curve, runs_out, last_gap }
    }

    /// What it reaches beyond its left and its right side.
    fn sides(&self, reach: &Reach) -> ((f64, Way), (f64, Way)) {
        let beside = (if self.runs_out { reach.run_out() } else { reach.beside() }, Way::Beside);
        match self.curve {
            None => (beside, beside),
            Some((radius, turns_left)) => {
                let outside = (reach.outside(radius).max(beside.0), Way::Outside);
                if turns_left { (beside, outside) } else { (outside, beside) }
            }
        }
    }
}

fn finding(item: &Item, other: Option<&Item>, reaching: &Reaching) -> Finding {
    let (close, missing) = (&reaching.worst, reaching.figure);
    let other_is = other.map_or_else(|| say!(found::REACH_COURSE).into(), |o| Arg::from(&o.name));
    let (item_is, rank) = (&item.name, nth(close.rank));
    let (clear, reach) = (about(close.clear.max(0.0)), about(close.reach));
    let message = match close.way {
        Way::Ahead => say!(
            found::REACH_AHEAD,
            item = item_is,
            rank = rank,
            clear = clear,
            other = other_is,
            reach = reach
        ),
        Way::Beside => say!(
            found::REACH_BESIDE,
            item = item_is,
            rank = rank,
            clear = clear,
            other = other_is,
            reach = reach
        ),
        Way::Outside => say!(
            found::REACH_OUTSIDE,
            item = item_is,
            rank = rank,
            clear = clear,
            other = other_is,
            reach = reach
        ),
    };
    let hint = if other.is_some() {
        say!(found::REACH_HINT, by = about(up(missing)))
    } else {
        say!(found::REACH_COURSE_HINT, by = about(up(missing)))
    };
    Finding {
        code: "within-reach",
        severity: Severity::Should,
        place: reaching.place(item, close.at),
        message,
        hint,
        mend: match other {
            Some(_) => mend(item, close.away.times(up(missing))),
            None => wider(item, missing),
        },
    }
}

/// To the next tenth of a millimetre, upwards, so that a figure in a hint is enough.
fn up(value: f64) -> f64 {
    (value * 10.0 - 1e-6).ceil() / 10.0
}

/// Lays the courses of a filled area so much farther apart, in whole millimetres.
fn wider(item: &Item, by: f64) -> Option<Command> {
    let mut item = item.clone();
    let plan::Body::Fill(fill) = &mut item.body else { return None };
    fill.ring = units::Length::mm((fill.ring.to_mm() + by).ceil());
    Some(Command::PutItem { item: Box::new(item) })
}

/// Moves a line that stands for itself straight away from what it reaches.
fn mend(item: &Item, by: Vector) -> Option<Command> {
    let plan::Body::Line(line) = &item.body else { return None };
    if line.from.is_some() || line.to.is_some() || item.built.is_some() {
        return None;
    }
    let at = item.at.plus(by);
    Some(Command::MoveItem { id: item.id, at, heading: item.heading })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `line_end.csv` of crate `fall`: own runs of rigid bodies (rapier3d 0.36.1), the worst of eight lines each.
    #[test]
    fn no_measured_line_slid_farther_out_of_its_curve_or_past_its_end_than_is_told() {
        let table = include_str!("../../fall/tests/data/transfers/line_end.csv");
        let (mut curves, mut straight) = (0, 0);
        for r in table.lines().skip(1).map(|l| l.split(',').collect::<Vec<_>>()) {
            let number = |i: usize| r[i].parse::<f64>().unwrap();
            let reach = Reach::new(number(1), 1.0);
            if let Some((_, radius)) = r[0].split_once("_R") {
                assert!(reach.outside(radius.parse().unwrap()) >= number(9), "{r:?}");
                // Behind the curve the pieces stand straight again.
                assert!(reach.run_out() >= number(8), "{r:?}");
                curves += 1;
            } else {
                assert!(reach.ahead(number(2)) >= number(5), "{r:?}");
                straight += 1;
            }
        }
        assert_eq!((curves, straight), (24, 6));
    }
}
