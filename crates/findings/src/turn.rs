//! Turns that are too tight for the wave.

use plan::{Body, Command, Item, Leg, Plan};
use sayings::{found, say};
use units::Length;

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
        mend: mend(item, radius),
    }
}

/// Widens every arc and spiral of the line that is too tight.
fn mend(item: &Item, radius: f64) -> Option<Command> {
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
    widened.then(|| Command::PutItem { item: Box::new(item) })
}
