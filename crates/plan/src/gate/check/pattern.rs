//! Colours of lines and fills.

use sayings::{gate, say};

use super::{COLOUR, Checked, at_most, unknown};
use crate::document::Plan;
use crate::gate::{MAX_COLOURS, MAX_SPREAD, MAX_STRETCHES};
use crate::line::{Pattern, Stretch};
use crate::place::Place;
use crate::refusal::Refusal;

pub(super) fn pattern(plan: &Plan, place: &Place<'_>, pattern: &Pattern) -> Checked {
    let place = &place.at(gate::AT_COLOURS);
    match pattern {
        Pattern::Plain { .. } => {}
        Pattern::Repeat { stretches: s } => stretches(place, s, MAX_STRETCHES)?,
        Pattern::Spread { stretches: s } => stretches(place, s, MAX_SPREAD)?,
        Pattern::Blend { colours } => {
            at_most(place, gate::N_COLOURS, colours.len(), MAX_COLOURS)?;
            if colours.len() < 2 {
                return Err(Refusal::new(
                    place,
                    say!(gate::BLEND, n = colours.len()),
                    say!(gate::BLEND_PROBLEM),
                    say!(gate::BLEND_NEXT),
                ));
            }
        }
    }
    let named = pattern.named();
    match named.into_iter().find(|c| plan.colour(*c).is_none()) {
        Some(c) => Err(unknown(place, COLOUR, c.0.into())),
        None => Ok(()),
    }
}

fn stretches(place: &Place<'_>, stretches: &[Stretch], most: usize) -> Checked {
    at_most(place, gate::N_STRETCHES, stretches.len(), most)?;
    if stretches.iter().any(|s| s.count > 0) {
        return Ok(());
    }
    let value = if stretches.is_empty() { say!(gate::PATTERN_EMPTY) } else { say!(gate::PATTERN_ZEROS) };
    Err(Refusal::new(place, value, say!(gate::PATTERN), say!(gate::PATTERN_NEXT)))
}
