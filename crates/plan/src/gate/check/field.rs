//! Fields: their grid, picture, wish and cells.

use sayings::{Given, Saying, Unit, gate, say};
use units::Length;

use super::{COLOUR, Checked, KIND, PICTURE, PLAIN, heading, length, unknown, within};
use crate::cells::{CellMask, Cells, EMPTY};
use crate::document::Plan;
use crate::field::{Field, FieldFrame, MatchWish, PictureUse, SeenAs};
use crate::gate::{MAX_CELLS, colours_in};
use crate::ids::{ColourId, KindId};
use crate::place::Place;
use crate::refusal::Refusal;
use crate::stock::Kind;

pub(super) fn field(plan: &Plan, place: &Place<'_>, f: &Field) -> Checked {
    frame(plan, place, f.kind, &f.frame)?;
    if let Some(p) = &f.picture {
        picture_use(plan, place, p)?;
    }
    wish(plan, place, &f.wish)?;
    cells(plan, place, f, &f.cells)?;
    mask(place, f, &f.by_hand)
}

pub(in crate::gate) fn frame(plan: &Plan, place: &Place<'_>, kind: KindId, f: &FieldFrame) -> Checked {
    let Some(kind) = plan.stock.kind(kind) else {
        return Err(unknown(place, KIND, kind.0.into()));
    };
    for (what, n) in [(gate::AT_LANES, f.lanes), (gate::AT_RANKS, f.ranks)] {
        if n == 0 {
            let (problem, next) = (say!(gate::NOTHING_TO_LAY), say!(gate::NOTHING_TO_LAY_NEXT));
            return Err(Refusal::new(place.at(what), 0_u32, problem, next));
        }
    }
    let cells = u64::from(f.lanes) * u64::from(f.ranks);
    if cells > MAX_CELLS as u64 {
        return Err(Refusal::new(
            place,
            say!(gate::N_GRID, lanes = f.lanes, ranks = f.ranks),
            say!(gate::FIELD_FULL, cells = cells, most = MAX_CELLS),
            say!(gate::FIELD_FULL_NEXT),
        ));
    }
    pitches(place, kind, f)
}

pub(super) fn pitches(place: &Place<'_>, kind: &Kind, f: &FieldFrame) -> Checked {
    pitch(place, gate::AT_PITCH_ALONG, f.pitch_along, Room::Thick(kind))?;
    pitch(place, gate::AT_PITCH_ACROSS, f.pitch_across, Room::Wide(kind))?;
    length(&place.at(gate::AT_STAGGER), f.stagger, 0.0, f.pitch_along.to_mm())
}

/// What a distance from piece to piece must have room for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Room<'a> {
    /// A piece seen from the side.
    Thick(&'a Kind),
    /// A piece seen from the front.
    Wide(&'a Kind),
    /// Nothing stands there.
    None,
}

pub(super) fn pitch(place: &Place<'_>, what: Saying<0>, pitch: Length, room: Room<'_>) -> Checked {
    let place = place.at(what);
    length(&place, pitch, 0.5, 20_000.0)?;
    let mm = |length: Length| Given::new(length.to_mm(), Unit::Mm);
    let (piece, problem) = match room {
        Room::Thick(kind) if pitch < kind.thickness => {
            (kind.thickness, say!(gate::NO_ROOM_THICK, size = mm(kind.thickness)))
        }
        Room::Wide(kind) if pitch < kind.width => {
            (kind.width, say!(gate::NO_ROOM_WIDE, size = mm(kind.width)))
        }
        _ => return Ok(()),
    };
    Err(Refusal::new(place, mm(pitch), problem, say!(gate::NO_ROOM_NEXT, size = mm(piece))))
}

pub(in crate::gate) fn picture_use(plan: &Plan, place: &Place<'_>, p: &PictureUse) -> Checked {
    if plan.picture(p.picture).is_none() {
        return Err(unknown(place, PICTURE, p.picture.0));
    }
    within(&place.at(gate::AT_CONTRAST), p.contrast, PLAIN, -1.0, 1.0)?;
    let Some(c) = p.crop else { return Ok(()) };
    let inside = [c.left, c.top, c.right, c.bottom].iter().all(|v| (0.0..=1.0).contains(v));
    if inside && c.left < c.right && c.top < c.bottom {
        return Ok(());
    }
    let share = |value| Given::new(value, Unit::None);
    Err(Refusal::new(
        place.at(gate::AT_CROP),
        say!(
            gate::CROP_VALUE,
            left = share(c.left),
            top = share(c.top),
            right = share(c.right),
            bottom = share(c.bottom)
        ),
        say!(gate::CROP),
        say!(gate::CROP_NEXT),
    ))
}

pub(in crate::gate) fn wish(plan: &Plan, place: &Place<'_>, w: &MatchWish) -> Checked {
    length(&place.at(gate::AT_SEEN_FROM), w.seen_from, 100.0, 1.0e6)?;
    within(&place.at(gate::AT_FEWER), w.fewer_changes, PLAIN, 0.0, 5.0)?;
    within(&place.at(gate::AT_WEIGHT), w.weight.into(), PLAIN, 1.0, 100.0)?;
    if let SeenAs::Standing { eye } = w.seen_as {
        length(&place.at(gate::AT_EYE_DISTANCE), eye.distance, 100.0, 1.0e6)?;
        length(&place.at(gate::AT_EYE_HEIGHT), eye.height, 50.0, 1.0e5)?;
        heading(&place.at(gate::AT_EYE_BEARING), eye.bearing)?;
    }
    for c in w.allowed.iter().flatten() {
        if plan.colour(*c).is_none() {
            return Err(unknown(place, COLOUR, c.0.into()));
        }
    }
    Ok(())
}

pub(in crate::gate) fn cells(plan: &Plan, place: &Place<'_>, f: &Field, cells: &Cells) -> Checked {
    size(place, f, cells.len())?;
    colours_in(cells).iter().try_for_each(|c| cell_colour(plan, place, c.0))
}

pub(in crate::gate) fn mask(place: &Place<'_>, f: &Field, mask: &CellMask) -> Checked {
    size(place, f, mask.len())
}

fn size(place: &Place<'_>, f: &Field, len: usize) -> Checked {
    if len == f.frame.len() {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        say!(gate::N_CELLS, n = len),
        say!(gate::CELLS_DIFFER, lanes = f.frame.lanes, ranks = f.frame.ranks),
        say!(gate::CELLS_DIFFER_NEXT, n = f.frame.len()),
    ))
}

pub(in crate::gate) fn cell_colour(plan: &Plan, place: &Place<'_>, colour: u16) -> Checked {
    if colour == EMPTY || plan.colour(ColourId(colour)).is_some() {
        return Ok(());
    }
    Err(unknown(place, COLOUR, colour.into()))
}
