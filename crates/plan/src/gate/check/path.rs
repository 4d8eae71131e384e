//! The legs of a path and the bridges over what it crosses.

use units::Length;

use super::{Checked, at_most, length, points, within};
use crate::gate::{MAX_BRIDGES, MAX_LEGS, MAX_POINTS, MAX_TURNS, REACH_MM};
use crate::line::{Bridge, Leg};
use crate::refusal::Refusal;

pub(super) fn path(place: &str, legs: &[Leg]) -> Checked {
    at_most(&format!("{place}, path"), "legs", legs.len(), MAX_LEGS)?;
    let through = |leg: &Leg| if let Leg::Through { points } = leg { points.len() } else { 0 };
    at_most(&format!("{place}, path"), "points", legs.iter().map(through).sum(), MAX_POINTS)?;
    for (i, l) in legs.iter().enumerate() {
        leg(&format!("{place}, leg {}", i + 1), l)?;
    }
    Ok(())
}

fn leg(place: &str, leg: &Leg) -> Checked {
    match leg {
        Leg::Straight { length: l } => length(&format!("{place}, length"), *l, 0.0, REACH_MM),
        Leg::Arc { radius: r, turn } => {
            radius(place, *r)?;
            let most = MAX_TURNS * 360.0;
            within(&format!("{place}, turn"), turn.to_deg(), "°", -most, most)
        }
        Leg::Spiral { radius: r, ring, turns, .. } => {
            radius(place, *r)?;
            length(&format!("{place}, ring"), *ring, -REACH_MM, REACH_MM)?;
            within(&format!("{place}, turns"), *turns, " turns", 0.0, MAX_TURNS)?;
            let end = r.to_mm() + ring.to_mm() * turns;
            if (0.0..=REACH_MM).contains(&end) {
                return Ok(());
            }
            Err(Refusal::new(
                format!("{place}, turns"),
                format!("{turns} turns"),
                format!("lead from a radius of {} mm to one of {end:.1} mm", r.to_mm()),
                "Give fewer turns, a smaller ring distance or another radius.",
            ))
        }
        Leg::Through { points: p } if p.is_empty() => Err(Refusal::new(
            place,
            "a curve through no point",
            "leads nowhere",
            "Give one point or more, or take the leg away.",
        )),
        Leg::Through { points: p } => points(place, "point", p),
    }
}

fn radius(place: &str, radius: Length) -> Checked {
    length(&format!("{place}, radius"), radius, 0.5, REACH_MM)
}

pub(super) fn bridges(place: &str, bridges: &[Bridge]) -> Checked {
    at_most(&format!("{place}, bridges"), "bridges", bridges.len(), MAX_BRIDGES)?;
    for (i, b) in bridges.iter().enumerate() {
        let place = format!("{place}, bridge {}", i + 1);
        length(&format!("{place}, place along the line"), b.from, 0.0, REACH_MM)?;
        length(&format!("{place}, deck"), b.deck, 0.0, REACH_MM)?;
        length(&format!("{place}, height"), b.height, 0.1, 10_000.0)?;
        length(&format!("{place}, thickness of the deck"), b.thickness, 0.1, 1_000.0)?;
        length(&format!("{place}, step"), b.step, 0.1, 1_000.0)?;
        within(&format!("{place}, pieces on a step"), b.per_step.into(), " pieces", 1.0, 10_000.0)?;
    }
    Ok(())
}
