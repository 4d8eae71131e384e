//! Starts and stoppers.

use sayings::gate;

use super::{Checked, SECONDS, length, within};
use crate::gate::REACH_MM;
use crate::place::Place;
use crate::trigger::{Start, Stopper};

pub(super) fn start(place: &Place<'_>, s: &Start) -> Checked {
    length(&place.at(gate::AT_WIDTH), s.width, 0.1, REACH_MM)?;
    within(&place.at(gate::AT_AFTER), s.after.to_s(), SECONDS, 0.0, 1.0e6)
}

pub(super) fn stopper(place: &Place<'_>, s: &Stopper) -> Checked {
    length(&place.at(gate::AT_THICKNESS), s.thickness, 0.1, 100_000.0)?;
    length(&place.at(gate::AT_WIDTH), s.width, 0.1, 100_000.0)?;
    length(&place.at(gate::AT_HEIGHT), s.height, 0.1, 100_000.0)
}
