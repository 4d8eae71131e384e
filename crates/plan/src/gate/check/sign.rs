//! Notes, dimensions and places for cameras.

use sayings::{Given, Unit, gate, say};

use super::{Checked, DEGREES, length, point, unprintable, within};
use crate::gate::MAX_NOTE;
use crate::place::{Place, quoted};
use crate::refusal::Refusal;
use crate::sign::{Camera, Dimension, Note};

pub(super) fn note(place: &Place<'_>, note: &Note) -> Checked {
    let place = place.at(gate::AT_TEXT);
    if note.text.trim().is_empty() {
        return Err(Refusal::new(place, quoted(""), say!(gate::EMPTY), say!(gate::EMPTY_TEXT)));
    }
    let signs = note.text.chars().count();
    if signs > MAX_NOTE {
        return Err(Refusal::new(
            place,
            say!(gate::N_TEXT, n = signs),
            say!(gate::NOTE_LONG),
            say!(gate::SIGNS_NEXT, n = MAX_NOTE),
        ));
    }
    // A note may have lines; all else that cannot be printed is kept out.
    match note.text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t')) {
        None => Ok(()),
        Some(c) => {
            Err(Refusal::new(place, unprintable(c), say!(gate::UNPRINTABLE), say!(gate::UNPRINTABLE_TEXT)))
        }
    }
}

pub(super) fn dimension(place: &Place<'_>, d: &Dimension) -> Checked {
    point(&place.at(gate::AT_OTHER_END), d.to)?;
    if d.length().to_mm() > 0.0 {
        return Ok(());
    }
    Err(Refusal::new(place, Given::new(0.0, Unit::Mm), say!(gate::DIMENSION), say!(gate::DIMENSION_NEXT)))
}

pub(super) fn camera(place: &Place<'_>, c: &Camera) -> Checked {
    length(&place.at(gate::AT_HEIGHT), c.height, 0.0, 100_000.0)?;
    point(&place.at(gate::AT_LOOK), c.look)?;
    length(&place.at(gate::AT_LOOK_HEIGHT), c.look_height, -10_000.0, 100_000.0)?;
    within(&place.at(gate::AT_VIEW), c.field_of_view.to_deg(), DEGREES, 1.0, 170.0)?;
    if c.look.x != 0.0 || c.look.y != 0.0 || c.look_height != c.height {
        return Ok(());
    }
    Err(Refusal::new(place, say!(gate::CAMERA), say!(gate::CAMERA_PROBLEM), say!(gate::CAMERA_NEXT)))
}
