//! Turns that are too tight for the wave.

use plan::{Body, Command, Item, Leg, Line, Plan};
use sayings::{found, say};
use units::Length;

use crate::ease::{Ends, eased};
use crate::finding::{Finding, Place, Severity, about, degrees, nth};
use crate::lanes::{laid, steps};
use crate::shape::Shape;

/// Every turn up to this angle a piece ran, at every gap measured, degrees (own runs of a rigid-body model, 2026).
const SAFE: f64 = 30.0;
/// Beyond this one some stopped, at tight radii or wide gaps, degrees; at 90° all did.
const MOST: f64 = 45.0;
/// Positions and angles are kept to so much, degrees.
const SLACK: f64 = 0.1;
/// The least radius for a step of 30°, in pitches: a chord of c under angle a lies on the radius c / (2 sin(a/2)).
const RADIUS: f64 = 1.9319;

/// One finding for each turn of a line: pieces one after another that are turned too far.
pub(crate) fn check(_: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    if laid(item).is_none() {
        return;
    }
    let mut turn = None::<Turn>;
    for step in steps(shape).filter(|s| s.turn > SAFE + SLACK) {
        match &mut turn {
            Some(t) if t.last == step.from => {
                t.count += 1;
                t.last = step.to;
                if step.turn > t.worst {
                    (t.worst, t.at, t.pitch) = (step.turn, step.to, step.pitch);
                }
            }
            _ => {
                found.extend(turn.take().map(|t| finding(item, shape, &t)));
                turn = Some(Turn {
                    first: step.from,
                    last: step.to,
                    count: 1,
                    worst: step.turn,
                    at: step.to,
                    pitch: step.pitch,
                });
            }
        }
    }
    found.extend(turn.map(|t| finding(item, shape, &t)));
}

struct Turn {
    first: usize,
    last: usize,
    count: u64,
    worst: f64,
    at: usize,
    pitch: f64,
}

fn finding(item: &Item, shape: &Shape, turn: &Turn) -> Finding {
    let radius = RADIUS * turn.pitch;
    let p = &shape.pieces;
    let (by, rank, name) = (degrees(turn.worst), nth(p.rank[turn.at]), &item.name);
    let (severity, message) = if turn.worst > MOST + SLACK {
        let most = degrees(MOST);
        (Severity::Must, say!(found::TURN, item = name, turn = by, rank = rank, n = turn.count, most = most))
    } else {
        let most = degrees(SAFE);
        let message =
            say!(found::TURN_SOME, item = name, turn = by, rank = rank, n = turn.count, most = most);
        (Severity::Should, message)
    };
    Finding {
        code: "turn-tight",
        severity,
        place: Place::item(item)
            .at(shape.solid(turn.at).at)
            .lanes(p.lane[turn.first], p.lane[turn.last])
            .ranks(p.rank[turn.first], p.rank[turn.last]),
        message,
        hint: say!(found::TURN_HINT, radius = about((radius * 10.0).ceil() / 10.0)),
        mend: mend(item, shape, radius),
    }
}

/// Widens every arc and spiral of the line that is too tight, and moves the points of its smooth curves.
fn mend(item: &Item, shape: &Shape, radius: f64) -> Option<Command> {
    let whole = item;
    let mut item = item.clone();
    let Body::Line(line) = &mut item.body else { return None };
    // The lanes on the inside turn on a smaller radius.
    let inside = f64::from(line.lanes.saturating_sub(1)) / 2.0 * line.pitch_across.to_mm();
    let least = Length::mm((radius + inside).ceil());
    let mut widened = false;
    for leg in &mut line.path {
        if let Leg::Arc { radius, .. } | Leg::Spiral { radius, .. } = leg
            && *radius < least
        {
            *radius = least;
            widened = true;
        }
    }
    if let Some(path) = ends(line, shape).and_then(|ends| eased(whole, line, &ends, SAFE)) {
        line.path = path;
        widened = true;
    }
    widened.then(|| Command::PutItem { item: Box::new(item) })
}

/// Where a line of one lane begins and ends as it stands; what it leads to is the piece after its last one.
fn ends(line: &Line, shape: &Shape) -> Option<Ends> {
    let smooth = line.path.iter().any(|leg| matches!(leg, Leg::Through { .. }));
    let last = shape.len().checked_sub(1).filter(|last| *last > 0 && smooth && line.lanes == 1)?;
    // In a turn pieces stand nearer than along the path; where it is straightest they are a pitch apart.
    let pitch = steps(shape).map(|s| s.pitch).fold(0.0, f64::max);
    let (first, last) = (shape.solid(0), shape.solid(last));
    let target = (last.at.plus(last.along.times(pitch)), last.along.heading());
    (pitch > 0.0).then(|| Ends {
        start: (first.at, first.along.heading()),
        target: line.to.is_some().then_some(target),
        pitch,
    })
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use geometry::Point;
    use placement::place_item;
    use plan::{ColourId, ItemId, Kind, KindId};
    use units::Angle;

    use super::*;

    fn curve(points: &[(f64, f64)]) -> Item {
        let points = points.iter().map(|p| Point::new(p.0, p.1)).collect();
        let line = Line::plain(
            KindId(1),
            ColourId(1),
            vec![Leg::Straight { length: Length::mm(150.0) }, Leg::Through { points }],
        );
        let item = Item::new(ItemId(1), "River", Point::new(400.0, 300.0), Body::Line(line));
        Item { heading: Angle::deg(37.0), ..item }
    }

    /// The finding about the tightest turn of a line, and how far that turns.
    fn tightest(item: &Item) -> (Option<Finding>, f64) {
        let mut plan = Plan::new("");
        plan.stock.kinds = vec![Kind::usual(KindId(1))];
        let shape = Shape::new(&plan, &Arc::new(place_item(item, &plan.stock)));
        let mut found = Vec::new();
        check(&plan, item, &shape, &mut found);
        (found.into_iter().next(), steps(&shape).map(|s| s.turn).fold(0.0, f64::max))
    }

    fn points(item: &Item) -> &[Point] {
        let Body::Line(line) = &item.body else { panic!("a line") };
        let Some(Leg::Through { points }) = line.path.last() else { panic!("a smooth curve") };
        points
    }

    /// A spike, two spikes, and a curve that turns back: each is eased, by hardly more than is needed.
    #[test]
    fn the_points_of_a_smooth_curve_move_until_every_turn_always_ran() {
        for drawn in [
            vec![(300.0, 0.0), (330.0, 60.0), (360.0, 0.0), (600.0, 0.0)],
            vec![
                (300.0, 0.0),
                (325.0, 50.0),
                (350.0, 0.0),
                (600.0, 0.0),
                (630.0, -60.0),
                (660.0, 0.0),
                (900.0, 0.0),
            ],
            vec![(300.0, 0.0), (310.0, 30.0), (300.0, 60.0), (0.0, 60.0)],
        ] {
            let item = curve(&drawn);
            let (found, turn) = tightest(&item);
            assert!(turn > SAFE + SLACK, "{drawn:?}: {turn}");
            let Some(Command::PutItem { item: eased }) = found.and_then(|f| f.mend) else {
                panic!("{drawn:?}: {turn}")
            };
            let (left, turn) = tightest(&eased);
            assert!(left.is_none() && turn > SAFE - 4.0, "{drawn:?}: {turn}");
            // No point is lost, and the last one, which is far from any turn, stays.
            assert_eq!(points(&eased).len(), drawn.len());
            assert_eq!(points(&eased).last(), points(&item).last());
        }
    }

    /// A way back 10 mm beside itself has no room for a turn: its points would have to be others. What is wide enough is not
    /// told at all.
    #[test]
    fn a_curve_that_cannot_be_eased_has_no_mend() {
        let (found, _) = tightest(&curve(&[(160.0, 10.0), (0.0, 10.0)]));
        assert_eq!(found.expect("told").mend, None);
        assert!(tightest(&curve(&[(300.0, 0.0), (500.0, 100.0), (800.0, 100.0)])).0.is_none());
    }
}
