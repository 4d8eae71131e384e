//! How a path gets from one place and direction to another.

use super::cubic::Cubic;
use super::leg::Leg;
use crate::{Point, Vector};
use std::f64::consts::{PI, TAU};
use units::maths;

/// A cubic serves while each end points at most so far away from the chord, in radians (100 degrees);
/// beyond, it would bend sharply or stand still.
const SMOOTH_RAD: f64 = 100.0 * PI / 180.0;
/// Loops are not tighter than this, in mm: about the usual turn, a quarter in ten pieces at a pitch of 15 mm.
const LOOP_MM: f64 = 100.0;
/// Places nearer than this are one place, in mm.
const SAME_MM: f64 = 1e-6;

/// The legs from `from` to `to`, each a place and a direction (unit vector). They end there to rounding.
/// Nothing when both are the same.
///
/// A cubic whose speed at the ends makes it a circle when both ends bend alike; where the target lies behind or
/// points back, arcs and a straight, in the shortest order of left and right turns.
pub(super) fn lead(from: (Point, Vector), to: (Point, Vector)) -> Vec<Leg> {
    let chord = to.0.minus(from.0);
    let distance = chord.length();
    if let Some(along) = chord.unit().filter(|_| distance > SAME_MM) {
        let (a, b) = (angle(along, from.1).abs(), angle(along, to.1).abs());
        if a.max(b) < 1e-12 {
            return vec![Leg::Straight { from: from.0, along: from.1, length: distance }];
        }
        if a.max(b) <= SMOOTH_RAD {
            let cos = maths::cos(0.25 * (a + b));
            // For a circle of angle 2 a the speed that matches it best is chord / cos^2(a / 2).
            let speed = distance / (cos * cos);
            return vec![Leg::Cubic(Cubic::hermite(from.0, to.0, from.1.times(speed), to.1.times(speed)))];
        }
    } else if angle(from.1, to.1).abs() < 1e-9 {
        return Vec::new();
    }
    turns(from, to, distance)
}

/// The angle from one unit vector to another, in -pi..=pi, positive to the left.
fn angle(from: Vector, to: Vector) -> f64 {
    maths::atan2(from.cross(to), from.dot(to))
}

/// The widest of three radii whose path is not much longer than the shortest one.
fn turns(from: (Point, Vector), to: (Point, Vector), distance: f64) -> Vec<Leg> {
    let paths = [0.5, 1.0 / 3.0, 0.25].map(|part| shortest(from, to, (part * distance).max(LOOP_MM)));
    let length = |path: &Vec<Leg>| path.iter().map(Leg::length).sum::<f64>();
    let most = paths.iter().map(length).fold(f64::INFINITY, f64::min) * 1.2;
    paths.into_iter().find(|path| length(path) <= most).unwrap_or_default()
}

/// A word of three turns: left (+1) or right (-1) first, then straight or the other side, then left or right.
struct Word {
    first: (f64, f64),
    middle: Middle,
    last: (f64, f64),
}

enum Middle {
    Straight(f64),
    Turn(f64, f64),
}

/// The shortest path of arcs of one radius and a straight between two directed places. That the shortest has one of
/// these six forms is L. E. Dubins' theorem (American Journal of Mathematics 79, 1957; from memory); built here from
/// the circles that touch both ends.
fn shortest(from: (Point, Vector), to: (Point, Vector), radius: f64) -> Vec<Leg> {
    let mut words = Vec::new();
    for first in [1.0, -1.0] {
        for last in [1.0, -1.0] {
            let c0 = from.0.plus(from.1.left().times(first * radius));
            let c1 = to.0.plus(to.1.left().times(last * radius));
            let between = c1.minus(c0);
            words.extend(with_straight(from.1, to.1, between, radius, (first, last)));
            if first == last {
                words.extend(with_turn(from.1, to.1, between, radius, first));
            }
        }
    }
    let length = |w: &Word| {
        let middle = match w.middle {
            Middle::Straight(straight) => straight,
            Middle::Turn(_, turn) => radius * turn,
        };
        radius * (w.first.1 + w.last.1) + middle
    };
    let best = words.into_iter().min_by(|a, b| length(a).total_cmp(&length(b)));
    best.map(|word| lay(from, &word, radius)).unwrap_or_default()
}

fn with_straight(
    start: Vector,
    end: Vector,
    between: Vector,
    radius: f64,
    (first, last): (f64, f64),
) -> Option<Word> {
    let distance = between.length();
    // Measured across the straight, the centres differ by this; what is left is the straight's length.
    let across = radius * (last - first);
    let straight = if first == last {
        distance
    } else {
        let square = (distance - across.abs()) * (distance + across.abs());
        if square < 0.0 {
            return None;
        }
        square.sqrt()
    };
    let along = if distance > SAME_MM {
        let d = between.times(1.0 / (distance * distance));
        d.times(straight).plus(d.left().times(-across))
    } else {
        start
    };
    let (one, two) = (turn(start, along, first), turn(along, end, last));
    Some(Word { first: (first, one), middle: Middle::Straight(straight), last: (last, two) })
}

fn with_turn(start: Vector, end: Vector, between: Vector, radius: f64, side: f64) -> Vec<Word> {
    let half = 0.5 * between.length();
    let Some(along) = between.unit().filter(|_| half > SAME_MM && half <= 2.0 * radius) else {
        return Vec::new();
    };
    let high = (4.0 * radius * radius - half * half).max(0.0).sqrt();
    let word = |way: f64| {
        // The middle circle's centre, from the first one's and to the last one's, in units of two radii.
        let up = along.times(half).plus(along.left().times(way * high)).times(0.5 / radius);
        let down = along.times(half).plus(along.left().times(-way * high)).times(0.5 / radius);
        let (one, two) = (up.left().times(side), down.left().times(-side));
        Word {
            first: (side, turn(start, one, side)),
            middle: Middle::Turn(-side, turn(one, two, -side)),
            last: (side, turn(two, end, side)),
        }
    };
    vec![word(1.0), word(-1.0)]
}

/// How far to turn to one side to get from one direction to another, in 0..2 pi; a hair's breadth less than a whole
/// turn is no turn.
fn turn(from: Vector, to: Vector, side: f64) -> f64 {
    let turn = (side * angle(from, to)).rem_euclid(TAU);
    if turn > TAU - 1e-9 { 0.0 } else { turn }
}

fn lay(from: (Point, Vector), word: &Word, radius: f64) -> Vec<Leg> {
    let mut at = from;
    let mut legs = Vec::new();
    let middle = match word.middle {
        Middle::Straight(length) => Leg::Straight { from: at.0, along: at.1, length },
        Middle::Turn(side, turn) => arc(at, radius, (side, turn)),
    };
    let parts = [arc(at, radius, word.first), middle, arc(at, radius, word.last)];
    for leg in parts.into_iter().filter(|leg| leg.length() > SAME_MM) {
        let leg = leg.moved_to(at);
        at = leg.at(leg.length());
        legs.push(leg);
    }
    legs
}

fn arc((from, along): (Point, Vector), radius: f64, (side, turn): (f64, f64)) -> Leg {
    Leg::Arc { from, along, radius, left: side > 0.0, length: radius * turn }
}
