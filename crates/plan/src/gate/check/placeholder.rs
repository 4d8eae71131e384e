//! Placeholders: size, needs, ports and delay.

use super::{Checked, heading, length, name, named, point, short, unknown, within};
use crate::document::Plan;
use crate::gate::REACH_MM;
use crate::item::{Need, Placeholder};

pub(super) fn placeholder(plan: &Plan, place: &str, p: &Placeholder) -> Checked {
    length(&format!("{place}, length"), p.length, 1.0, REACH_MM)?;
    length(&format!("{place}, width"), p.width, 1.0, REACH_MM)?;
    length(&format!("{place}, height"), p.height, 0.0, 100_000.0)?;
    within(&format!("{place}, hours"), p.hours.to_h(), " h", 0.0, 100_000.0)?;
    name(&format!("{place}, who"), &p.who)?;
    p.needs.iter().try_for_each(|n| need(plan, place, n))?;
    for port in &p.ports {
        let place = format!("{place}, port {}", short(&port.name));
        named(&place, &port.name)?;
        point(&place, port.at)?;
        heading(&place, port.direction)?;
        length(&format!("{place}, height"), port.height, -10_000.0, 100_000.0)?;
        length(&format!("{place}, width"), port.width, 0.0, REACH_MM)?;
    }
    if let Some(d) = p.delay {
        within(&format!("{place}, least delay"), d.least.to_s(), " s", 0.0, 1.0e6)?;
        within(&format!("{place}, longest delay"), d.most.to_s(), " s", d.least.to_s(), 1.0e6)?;
    }
    Ok(())
}

fn need(plan: &Plan, place: &str, n: &Need) -> Checked {
    if plan.stock.kind(n.kind).is_none() {
        return Err(unknown(place, "kind", n.kind.0.into()));
    }
    if plan.colour(n.colour).is_none() {
        return Err(unknown(place, "colour", n.colour.0.into()));
    }
    Ok(())
}
