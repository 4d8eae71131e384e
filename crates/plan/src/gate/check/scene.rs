//! Surfaces, sections and source pictures.

use super::{Checked, heading, length, named, outline, short, within};
use crate::refusal::Refusal;
use crate::scene::{Picture, Surface};

pub(in crate::gate) fn surface(s: &Surface) -> Checked {
    let place = format!("surface {}", short(&s.name));
    named("surface, name", &s.name)?;
    if s.id.0 == 0 {
        return Err(Refusal::new(place, "id 0", "is the floor", "Give an id of 1 or more."));
    }
    length(&format!("{place}, height"), s.height, 0.0, 100_000.0)?;
    let slope = format!("{place}, slope");
    within(&slope, s.slope.rise.to_deg(), "°", 0.0, 45.0)?;
    heading(&slope, s.slope.uphill)?;
    outline(&place, &s.outline)
}

pub(in crate::gate) fn section_name(text: &str) -> Checked {
    named("section, name", text)
}

pub(in crate::gate) fn picture(p: &Picture) -> Checked {
    let place = format!("picture {}", short(&p.name));
    named("picture, name", &p.name)?;
    if p.name.contains(['/', '\\']) || p.name == ".." || p.name == "." {
        return Err(Refusal::new(place, "its name", "leads to a folder", "Give the bare file name."));
    }
    let hex = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
    if p.sha256.len() != 64 || !p.sha256.bytes().all(hex) {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(&p.sha256)),
            "is not a SHA-256 in lower-case hex",
            "Import the picture again.",
        ));
    }
    within(&format!("{place}, width"), p.width.into(), " pixels", 1.0, 100_000.0)?;
    within(&format!("{place}, height"), p.height.into(), " pixels", 1.0, 100_000.0)
}
