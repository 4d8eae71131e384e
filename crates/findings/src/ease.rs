//! Eases the turns of a smooth curve: its points move until every step of the line is one that always ran.

use geometry::{Frame, Point, Vector};
use placement::{Footing, curve_of};
use plan::{Item, Leg, Line};

/// Rounds in which one point moves.
const ROUNDS: usize = 48;
/// The share of its way that a point moves in one round.
const SHARE: f64 = 0.2;
/// The share of the way to its nearer neighbour that a point may move.
const ROOM: f64 = 0.9;
/// So many times as long a line may become.
const LONGER: f64 = 1.1;
/// Halvings of the way back to the least that is enough.
const HALVINGS: usize = 8;
/// Longer lines are not eased: each round walks along all of it.
const MOST_STEPS: f64 = 1_000.0;

/// Where a line begins and, where it leads to something, where it ends: on the floor, with the direction of the fall.
pub(crate) struct Ends {
    pub(crate) start: Footing,
    pub(crate) target: Option<Footing>,
    /// Centre to centre, mm.
    pub(crate) pitch: f64,
}

/// The path of a line with the points of its smooth curves moved by as little as keeps every turn from piece to piece within
/// `most` degrees; `None` when no point is to move, or moving them does not help.
pub(crate) fn eased(item: &Item, line: &Line, ends: &Ends, most: f64) -> Option<Vec<Leg>> {
    let wished = |path: &[Leg]| -> Option<(f64, Point)> {
        let line = Line { path: path.to_vec(), ..line.clone() };
        worst(item, &line, ends)
    };
    let mut path = line.path.clone();
    let mut rounds = 0;
    loop {
        let (turn, at) = wished(&path)?;
        if turn <= most {
            break;
        }
        rounds += 1;
        if rounds > ROUNDS || !moved(&mut path, &item.stands(), ends, at) {
            return None;
        }
    }
    // By steps it may have gone too far: the least share of all moves that is enough.
    let (mut least, mut enough) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = (least + enough) / 2.0;
        match wished(&between(&line.path, &path, middle)) {
            Some((turn, _)) if turn <= most => enough = middle,
            _ => least = middle,
        }
    }
    let path = between(&line.path, &path, enough);
    let length = |path: &[Leg]| {
        let line = Line { path: path.to_vec(), ..line.clone() };
        curve_of(item, &line, ends.start, ends.target).length()
    };
    // A way that grows has a loop in it that nobody drew.
    let grows = || length(&path) > LONGER * length(&line.path);
    (rounds > 0 && is_alike(&line.path, &path, &item.stands(), ends) && !grows()).then_some(path)
}

/// Whether each point stays where it was rather than at one of its neighbours: else the curve is another one, which nobody
/// drew.
fn is_alike(from: &[Leg], to: &[Leg], own: &Frame, ends: &Ends) -> bool {
    let (from, to) = (knots(from, own, ends), knots(to, own, ends));
    (1..from.len()).all(|i| {
        let nearest = [i - 1, i + 1].into_iter().filter_map(|j| from.get(j));
        let room = nearest.map(|n| n.minus(from[i]).length()).fold(f64::INFINITY, f64::min);
        to[i].minus(from[i]).length() <= ROOM * room
    })
}

/// Where the smooth curves of a path begin, their points, and where it leads to, on the floor.
fn knots(path: &[Leg], own: &Frame, ends: &Ends) -> Vec<Point> {
    let points = path.iter().filter_map(through).flatten().map(|p| own.at(p.x, p.y));
    std::iter::once(ends.start.0).chain(points).chain(ends.target.map(|t| t.0)).collect()
}

/// The largest turn from piece to piece in degrees, and where.
fn worst(item: &Item, line: &Line, ends: &Ends) -> Option<(f64, Point)> {
    let curve = curve_of(item, line, ends.start, ends.target);
    let steps = curve.length() / ends.pitch;
    if !(1.0..=MOST_STEPS).contains(&steps) {
        return None;
    }
    let mut worst = (0.0, curve.start().0);
    let mut last = curve.start().1;
    for (at, along) in curve.positions(steps as usize + 1, 0.0, ends.pitch).skip(1) {
        let turn = units::maths::atan2(last.cross(along), last.dot(along)).abs().to_degrees();
        if turn > worst.0 {
            worst = (turn, at);
        }
        last = along;
    }
    Some(worst)
}

/// Moves the point of a smooth curve that lies nearest to a place towards the chord of its neighbours; false when there is
/// none.
fn moved(path: &mut [Leg], own: &Frame, ends: &Ends, at: Point) -> bool {
    let knots = knots(path, own, ends);
    let legs = path.iter().enumerate().filter_map(|(leg, l)| Some((leg, through(l)?.len())));
    let places = legs.flat_map(|(leg, n)| (0..n).map(move |i| (leg, i)));
    let far = |knot: usize| knots[knot].minus(at).length();
    let nearest = (1..).zip(places).min_by(|a, b| far(a.0).total_cmp(&far(b.0)));
    let Some((knot, (leg, i))) = nearest else { return false };
    let (before, here) = (knots[knot - 1], knots[knot]);
    let to = match knots.get(knot + 1) {
        // Onto the chord, as far along as it stands now.
        Some(after) => {
            let chord = after.minus(before);
            let share = here.minus(before).dot(chord) / chord.dot(chord).max(1e-9);
            before.plus(chord.times(share.clamp(0.25, 0.75)))
        }
        // The last one of all: straight on from where the path came.
        None => {
            let came = if knot > 1 { before.minus(knots[knot - 2]) } else { Vector::towards(ends.start.1) };
            let along = came.unit().unwrap_or(Vector { x: 1.0, y: 0.0 });
            before.plus(along.times(here.minus(before).length()))
        }
    };
    let by = to.minus(here).times(SHARE);
    let Leg::Through { points } = &mut path[leg] else { return false };
    // In the frame of the item.
    let p = points[i];
    points[i] = Point::new(p.x + by.dot(own.along), p.y + by.dot(own.left));
    by.length() > 1e-6
}

fn through(leg: &Leg) -> Option<&[Point]> {
    match leg {
        Leg::Through { points } => Some(points),
        _ => None,
    }
}

/// A path between two that differ in the points of their curves alone.
fn between(from: &[Leg], to: &[Leg], share: f64) -> Vec<Leg> {
    let leg = |(a, b): (&Leg, &Leg)| match (through(a), through(b)) {
        (Some(a), Some(b)) => {
            let point = |(a, b): (&Point, &Point)| a.plus(b.minus(*a).times(share));
            Leg::Through { points: a.iter().zip(b).map(point).collect() }
        }
        _ => b.clone(),
    };
    from.iter().zip(to).map(leg).collect()
}
