//! Surfaces, sections and source pictures.

use sayings::{gate, say};

use super::{Checked, DEGREES, PIXELS, heading, length, named, no_id, outline, within};
use crate::place::{Place, quoted};
use crate::refusal::Refusal;
use crate::scene::{Picture, Surface};

pub(in crate::gate) fn surface(s: &Surface) -> Checked {
    let place = Place::named(gate::AT_SURFACE_OF, &s.name);
    named(&Place::of(gate::AT_SURFACE).at(gate::AT_NAME), &s.name)?;
    if s.id.0 == 0 {
        return Err(no_id(&place, say!(gate::ID_FLOOR)));
    }
    length(&place.at(gate::AT_HEIGHT), s.height, 0.0, 100_000.0)?;
    let slope = place.at(gate::AT_SLOPE);
    within(&slope, s.slope.rise.to_deg(), DEGREES, 0.0, 45.0)?;
    heading(&slope, s.slope.uphill)?;
    outline(&place, &s.outline)
}

pub(in crate::gate) fn section_name(text: &str) -> Checked {
    named(&Place::of(gate::AT_SECTION).at(gate::AT_NAME), text)
}

pub(in crate::gate) fn picture(p: &Picture) -> Checked {
    let place = Place::named(gate::AT_PICTURE_OF, &p.name);
    named(&Place::of(gate::AT_PICTURE).at(gate::AT_NAME), &p.name)?;
    if p.name.contains(['/', '\\']) || p.name == ".." || p.name == "." {
        let (problem, next) = (say!(gate::FOLDER_PROBLEM), say!(gate::FOLDER_NEXT));
        return Err(Refusal::new(place, say!(gate::FOLDER), problem, next));
    }
    let hex = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
    if p.sha256.len() != 64 || !p.sha256.bytes().all(hex) {
        return Err(Refusal::new(place, quoted(&p.sha256), say!(gate::SHA), say!(gate::SHA_NEXT)));
    }
    within(&place.at(gate::AT_WIDTH), p.width.into(), PIXELS, 1.0, 100_000.0)?;
    within(&place.at(gate::AT_HEIGHT), p.height.into(), PIXELS, 1.0, 100_000.0)
}
