//! Fields: their grid, picture, wish and cells.

use units::Length;

use super::{Checked, heading, length, unknown, within};
use crate::cells::{CellMask, Cells, EMPTY};
use crate::document::Plan;
use crate::field::{Field, FieldFrame, MatchWish, PictureUse, SeenAs};
use crate::gate::{MAX_CELLS, colours_in};
use crate::ids::{ColourId, KindId};
use crate::refusal::Refusal;
use crate::stock::Kind;

pub(super) fn field(plan: &Plan, place: &str, f: &Field) -> Checked {
    frame(plan, place, f.kind, &f.frame)?;
    if let Some(p) = &f.picture {
        picture_use(plan, place, p)?;
    }
    wish(plan, place, &f.wish)?;
    cells(plan, place, f, &f.cells)?;
    mask(place, f, &f.by_hand)
}

pub(in crate::gate) fn frame(plan: &Plan, place: &str, kind: KindId, f: &FieldFrame) -> Checked {
    let Some(kind) = plan.stock.kind(kind) else {
        return Err(unknown(place, "kind", kind.0.into()));
    };
    for (what, n) in [("lanes", f.lanes), ("ranks", f.ranks)] {
        if n == 0 {
            let place = format!("{place}, {what}");
            return Err(Refusal::new(place, "0", "leaves nothing to lay", "Give 1 or more."));
        }
    }
    let cells = u64::from(f.lanes) * u64::from(f.ranks);
    if cells > MAX_CELLS as u64 {
        return Err(Refusal::new(
            place,
            format!("{} lanes x {} ranks", f.lanes, f.ranks),
            format!("are {cells} cells, more than the {MAX_CELLS} of one field"),
            "Split the picture over several fields.",
        ));
    }
    pitches(place, kind, f)
}

pub(super) fn pitches(place: &str, kind: &Kind, f: &FieldFrame) -> Checked {
    pitch(place, "pitch along the fall", f.pitch_along, kind.thickness, "thick")?;
    pitch(place, "pitch between lanes", f.pitch_across, kind.width, "wide")?;
    length(&format!("{place}, stagger"), f.stagger, 0.0, f.pitch_along.to_mm())
}

pub(super) fn pitch(place: &str, what: &str, pitch: Length, piece: Length, word: &str) -> Checked {
    let place = format!("{place}, {what}");
    length(&place, pitch, 0.5, 20_000.0)?;
    if pitch >= piece {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{} mm", pitch.to_mm()),
        format!("has no room for a piece, which is {} mm {word}", piece.to_mm()),
        format!("Use at least {} mm.", piece.to_mm()),
    ))
}

pub(in crate::gate) fn picture_use(plan: &Plan, place: &str, p: &PictureUse) -> Checked {
    if plan.picture(p.picture).is_none() {
        return Err(unknown(place, "picture", p.picture.0));
    }
    within(&format!("{place}, contrast"), p.contrast, "", -1.0, 1.0)?;
    let Some(c) = p.crop else { return Ok(()) };
    let inside = [c.left, c.top, c.right, c.bottom].iter().all(|v| (0.0..=1.0).contains(v));
    if inside && c.left < c.right && c.top < c.bottom {
        return Ok(());
    }
    Err(Refusal::new(
        format!("{place}, crop"),
        format!("{}, {} to {}, {}", c.left, c.top, c.right, c.bottom),
        "is not a part of the picture",
        "Give shares from 0 to 1, left before right and top before bottom.",
    ))
}

pub(in crate::gate) fn wish(plan: &Plan, place: &str, w: &MatchWish) -> Checked {
    length(&format!("{place}, seen from"), w.seen_from, 100.0, 1.0e6)?;
    within(&format!("{place}, fewer changes"), w.fewer_changes, "", 0.0, 5.0)?;
    within(&format!("{place}, importance"), w.weight.into(), "", 1.0, 100.0)?;
    if let SeenAs::Standing { eye } = w.seen_as {
        length(&format!("{place}, eye distance"), eye.distance, 100.0, 1.0e6)?;
        length(&format!("{place}, eye height"), eye.height, 50.0, 1.0e5)?;
        heading(&format!("{place}, eye bearing"), eye.bearing)?;
    }
    for c in w.allowed.iter().flatten() {
        if plan.colour(*c).is_none() {
            return Err(unknown(place, "colour", c.0.into()));
        }
    }
    Ok(())
}

pub(in crate::gate) fn cells(plan: &Plan, place: &str, f: &Field, cells: &Cells) -> Checked {
    size(place, f, cells.len())?;
    colours_in(cells).iter().try_for_each(|c| cell_colour(plan, place, c.0))
}

pub(in crate::gate) fn mask(place: &str, f: &Field, mask: &CellMask) -> Checked {
    size(place, f, mask.len())
}

fn size(place: &str, f: &Field, len: usize) -> Checked {
    if len == f.frame.len() {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{len} cells"),
        format!("do not fill {} lanes x {} ranks", f.frame.lanes, f.frame.ranks),
        format!("Give {} cells.", f.frame.len()),
    ))
}

pub(in crate::gate) fn cell_colour(plan: &Plan, place: &str, colour: u16) -> Checked {
    if colour == EMPTY || plan.colour(ColourId(colour)).is_some() {
        return Ok(());
    }
    Err(unknown(place, "colour", colour.into()))
}
