//! Placeholders: size, needs, ports and delay.

use sayings::gate;

use super::{COLOUR, Checked, HOURS, KIND, SECONDS, heading, length, name, named, point, unknown, within};
use crate::document::Plan;
use crate::gate::REACH_MM;
use crate::item::{Need, Placeholder};
use crate::place::Place;

pub(super) fn placeholder(plan: &Plan, place: &Place<'_>, p: &Placeholder) -> Checked {
    length(&place.at(gate::AT_LENGTH), p.length, 1.0, REACH_MM)?;
    length(&place.at(gate::AT_WIDTH), p.width, 1.0, REACH_MM)?;
    length(&place.at(gate::AT_HEIGHT), p.height, 0.0, 100_000.0)?;
    within(&place.at(gate::AT_HOURS), p.hours.to_h(), HOURS, 0.0, 100_000.0)?;
    name(&place.at(gate::AT_WHO), &p.who)?;
    p.needs.iter().try_for_each(|n| need(plan, place, n))?;
    for port in &p.ports {
        let place = place.part(gate::AT_PORT_OF, &port.name);
        named(&place, &port.name)?;
        point(&place, port.at)?;
        heading(&place, port.direction)?;
        length(&place.at(gate::AT_HEIGHT), port.height, -10_000.0, 100_000.0)?;
        length(&place.at(gate::AT_WIDTH), port.width, 0.0, REACH_MM)?;
    }
    if let Some(d) = p.delay {
        within(&place.at(gate::AT_DELAY_LEAST), d.least.to_s(), SECONDS, 0.0, 1.0e6)?;
        within(&place.at(gate::AT_DELAY_MOST), d.most.to_s(), SECONDS, d.least.to_s(), 1.0e6)?;
    }
    Ok(())
}

fn need(plan: &Plan, place: &Place<'_>, n: &Need) -> Checked {
    if plan.stock.kind(n.kind).is_none() {
        return Err(unknown(place, KIND, n.kind.0.into()));
    }
    if plan.colour(n.colour).is_none() {
        return Err(unknown(place, COLOUR, n.colour.0.into()));
    }
    Ok(())
}
