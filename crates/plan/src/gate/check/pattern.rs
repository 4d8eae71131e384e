//! Colours of lines and fills.

use super::{Checked, at_most, unknown};
use crate::document::Plan;
use crate::gate::{MAX_COLOURS, MAX_SPREAD, MAX_STRETCHES};
use crate::line::{Pattern, Stretch};
use crate::refusal::Refusal;

pub(super) fn pattern(plan: &Plan, place: &str, pattern: &Pattern) -> Checked {
    let place = &format!("{place}, colours");
    match pattern {
        Pattern::Plain { .. } => {}
        Pattern::Repeat { stretches: s } => stretches(place, s, MAX_STRETCHES)?,
        Pattern::Spread { stretches: s } => stretches(place, s, MAX_SPREAD)?,
        Pattern::Blend { colours } => {
            at_most(place, "colours", colours.len(), MAX_COLOURS)?;
            if colours.len() < 2 {
                return Err(Refusal::new(
                    place,
                    format!("a blend of {} colours", colours.len()),
                    "has nothing to lead from and to",
                    "Give two colours or more, or one plain colour.",
                ));
            }
        }
    }
    let named = pattern.named();
    match named.into_iter().find(|c| plan.colour(*c).is_none()) {
        Some(c) => Err(unknown(place, "colour", c.0.into())),
        None => Ok(()),
    }
}

fn stretches(place: &str, stretches: &[Stretch], most: usize) -> Checked {
    at_most(place, "stretches", stretches.len(), most)?;
    if stretches.iter().any(|s| s.count > 0) {
        return Ok(());
    }
    let value = if stretches.is_empty() { "an empty pattern" } else { "a pattern of counts of 0" };
    Err(Refusal::new(
        place,
        value,
        "colours no piece",
        "Give at least one stretch with a count of 1 or more.",
    ))
}
