//! The legs of a path and the bridges over what it crosses.

use sayings::{Given, Unit, gate, say};
use units::Length;

use super::{Checked, DEGREES, PIECES, TURNS, at_most, length, points, within};
use crate::gate::{MAX_BRIDGES, MAX_LEGS, MAX_POINTS, MAX_TURNS, REACH_MM};
use crate::line::{Bridge, Leg};
use crate::place::Place;
use crate::refusal::Refusal;

pub(super) fn path(place: &Place<'_>, legs: &[Leg]) -> Checked {
    at_most(&place.at(gate::AT_PATH), gate::N_LEGS, legs.len(), MAX_LEGS)?;
    let through = |leg: &Leg| if let Leg::Through { points } = leg { points.len() } else { 0 };
    at_most(&place.at(gate::AT_PATH), gate::N_POINTS, legs.iter().map(through).sum(), MAX_POINTS)?;
    for (i, l) in legs.iter().enumerate() {
        leg(&place.nth(gate::AT_LEG, i), l)?;
    }
    Ok(())
}

fn leg(place: &Place<'_>, leg: &Leg) -> Checked {
    match leg {
        Leg::Straight { length: l } => length(&place.at(gate::AT_LENGTH), *l, 0.0, REACH_MM),
        Leg::Arc { radius: r, turn } => {
            radius(place, *r)?;
            let most = MAX_TURNS * 360.0;
            within(&place.at(gate::AT_TURN), turn.to_deg(), DEGREES, -most, most)
        }
        Leg::Spiral { radius: r, ring, turns, .. } => {
            radius(place, *r)?;
            length(&place.at(gate::AT_RING), *ring, -REACH_MM, REACH_MM)?;
            within(&place.at(gate::AT_TURNS), *turns, TURNS, 0.0, MAX_TURNS)?;
            let end = ((r.to_mm() + ring.to_mm() * turns) * 10.0).round() / 10.0;
            if (0.0..=REACH_MM).contains(&end) {
                return Ok(());
            }
            Err(Refusal::new(
                place.at(gate::AT_TURNS),
                TURNS.figure(*turns),
                say!(gate::SPIRAL, from = Given::new(r.to_mm(), Unit::Mm), to = Given::new(end, Unit::Mm)),
                say!(gate::SPIRAL_NEXT),
            ))
        }
        Leg::Through { points: p } if p.is_empty() => {
            Err(Refusal::new(place, say!(gate::CURVE), say!(gate::CURVE_PROBLEM), say!(gate::CURVE_NEXT)))
        }
        Leg::Through { points: p } => points(place, gate::AT_POINT, p),
    }
}

fn radius(place: &Place<'_>, radius: Length) -> Checked {
    length(&place.at(gate::AT_RADIUS), radius, 0.5, REACH_MM)
}

pub(super) fn bridges(place: &Place<'_>, bridges: &[Bridge]) -> Checked {
    at_most(&place.at(gate::AT_BRIDGES), gate::N_BRIDGES, bridges.len(), MAX_BRIDGES)?;
    for (i, b) in bridges.iter().enumerate() {
        let place = place.nth(gate::AT_BRIDGE, i);
        length(&place.at(gate::AT_BRIDGE_PLACE), b.from, 0.0, REACH_MM)?;
        length(&place.at(gate::AT_DECK), b.deck, 0.0, REACH_MM)?;
        length(&place.at(gate::AT_HEIGHT), b.height, 0.1, 10_000.0)?;
        length(&place.at(gate::AT_DECK_THICKNESS), b.thickness, 0.1, 1_000.0)?;
        length(&place.at(gate::AT_STEP), b.step, 0.1, 1_000.0)?;
        within(&place.at(gate::AT_PER_STEP), b.per_step.into(), PIECES, 1.0, 10_000.0)?;
    }
    Ok(())
}
