//! Notes, dimensions and places for cameras.

use super::{Checked, length, point, within};
use crate::gate::MAX_NOTE;
use crate::refusal::Refusal;
use crate::sign::{Camera, Dimension, Note};

pub(super) fn note(place: &str, note: &Note) -> Checked {
    let place = format!("{place}, text");
    if note.text.trim().is_empty() {
        return Err(Refusal::new(place, "\"\"", "is empty", "Write something, or take the note away."));
    }
    let signs = note.text.chars().count();
    if signs > MAX_NOTE {
        return Err(Refusal::new(
            place,
            format!("a text of {signs} signs"),
            "is too long for a note",
            format!("Use at most {MAX_NOTE}."),
        ));
    }
    // A note may have lines; all else that cannot be printed is kept out.
    match note.text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t')) {
        None => Ok(()),
        Some(c) => Err(Refusal::new(
            place,
            format!("the sign U+{:04X}", c as u32),
            "cannot be printed",
            "Leave it out of the text.",
        )),
    }
}

pub(super) fn dimension(place: &str, d: &Dimension) -> Checked {
    point(&format!("{place}, other end"), d.to)?;
    if d.length().to_mm() > 0.0 {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        "0 mm",
        "is no distance that could be shown",
        "Set its other end somewhere else.",
    ))
}

pub(super) fn camera(place: &str, c: &Camera) -> Checked {
    length(&format!("{place}, height"), c.height, 0.0, 100_000.0)?;
    point(&format!("{place}, what it looks at"), c.look)?;
    length(&format!("{place}, height of what it looks at"), c.look_height, -10_000.0, 100_000.0)?;
    within(&format!("{place}, field of view"), c.field_of_view.to_deg(), "°", 1.0, 170.0)?;
    if c.look.x != 0.0 || c.look.y != 0.0 || c.look_height != c.height {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        "its own place",
        "is what it looks at, so that it has no direction",
        "Let it look somewhere else.",
    ))
}
