//! Pictures: fields as they look, cells as numbers, and new source pictures.

use colour::Raster;
use desk::{View, draw_field};
use plan::{Cells, Field, Plan};
use serde::Deserialize;
use units::{Angle, Length};

use crate::answer::{Answer, Keep, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::said::sentences;
use crate::convert::{count, refusal, saved_now};
use crate::handlers::field;
use crate::wire;
use sayings::{refusing, say};

/// Pixels a column of the picture, at most.
const SCALE: f64 = 32.0;

/// What an address of a picture may say beside its path.
#[derive(Debug, Deserialize)]
struct ViewQuery {
    /// The look that the address was made for; an address with it may be kept for ever.
    look: Option<String>,
    /// Pixels a column of the picture.
    scale: Option<f64>,
    /// For `standing`, instead of the wished eye point: distance and height in mm and bearing in degrees, apart by commas.
    eye: Option<String>,
}

/// `GET /api/field/{id}/view/{view}.png`.
pub(crate) fn field_view(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    let (item, field) = field(&snapshot.plan, ask.number("id", "")?)?;
    let query: ViewQuery = ask.query()?;
    let width = width(field, query.scale);
    let none = || Refusal::absent(say!(refusing::NO_PICTURE));
    let raster = match ask.part("view", ".png")? {
        "source" => app.desk.draw_source(item.id, width).map_err(refusal)?.ok_or_else(none)?,
        "whole" => app.desk.draw_whole(item.id, width).map_err(refusal)?.ok_or_else(none)?,
        name => draw(&snapshot.plan, field, None, view(name, &query)?, width)?,
    };
    let current = query.look.is_some_and(|look| look == crate::convert::state::look(&snapshot.plan, field));
    Ok(png(&raster)?.keep(if current { Keep::Ever } else { Keep::No }))
}

/// `GET /api/field/{id}/cells.bin`: colour ids lane by lane, rank 0 first; unsigned 16 bit, low byte first.
pub(crate) fn cells(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    let (_, field) = field(&snapshot.plan, ask.number("id", "")?)?;
    let bytes: Vec<u8> = field.cells.as_slice().iter().flat_map(|cell| cell.to_le_bytes()).collect();
    let query: ViewQuery = ask.query()?;
    let current = query.look.is_some_and(|look| look == crate::convert::state::look(&snapshot.plan, field));
    Ok(Answer::new("application/octet-stream", bytes).keep(if current { Keep::Ever } else { Keep::No }))
}

/// `GET /api/field/{id}/by-hand.bin`: one byte a cell in the same order, 1 where it was set by hand.
pub(crate) fn by_hand(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    let (_, field) = field(&snapshot.plan, ask.number("id", "")?)?;
    let bytes: Vec<u8> = field.by_hand.as_slice().iter().map(|&hand| u8::from(hand)).collect();
    Ok(Answer::new("application/octet-stream", bytes).keep(Keep::No))
}

/// `GET /api/variant/{id}/{item}/{view}.png`.
pub(crate) fn variant_view(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = ask.number("id", "")?;
    let item = ask.number("item", "")?;
    let variant = app.desk.variant(id).ok_or_else(|| super::matching::no_variant(id))?;
    let found = variant.outcome.cells.iter().find(|(own, _)| own.0 == item);
    let (_, cells) = found.ok_or_else(|| {
        Refusal::absent(say!(refusing::VARIANT_FIELD, id = id.to_string(), item = item.to_string()))
    })?;
    let snapshot = app.desk.snapshot();
    let (owner, field) = field(&snapshot.plan, item)?;
    if cells.len() != field.cells.len() {
        return Err(Refusal::absent(say!(refusing::VARIANT_GRID, name = &owner.name, id = id.to_string())));
    }
    let query: ViewQuery = ask.query()?;
    let view = view(ask.part("view", ".png")?, &query)?;
    png(&draw(&snapshot.plan, field, Some(cells), view, width(field, query.scale))?)
}

/// `POST /api/pictures`.
pub(crate) fn add(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let added = app.desk.add_picture(&ask.author(), &file_name(ask)?, &ask.body).map_err(refusal)?;
    Answer::json(&wire::PictureAdded {
        picture: count(added.picture.0),
        width: added.width,
        height: added.height,
        notes: added.notes.iter().map(ToString::to_string).collect(),
        notes_said: sentences(&added.notes),
        saved: saved_now(&added.receipt),
    })
}

/// `POST /api/pictures/kept`: the bytes of a picture that a change to come shows.
pub(crate) fn keep(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let (fresh, notes) = app.desk.keep_fresh(&file_name(ask)?, &ask.body).map_err(refusal)?;
    Answer::json(&wire::PictureKept {
        shows: wire::FreshPicture { name: fresh.name, sha256: fresh.sha256 },
        width: fresh.width,
        height: fresh.height,
        notes: notes.iter().map(ToString::to_string).collect(),
        notes_said: sentences(&notes),
    })
}

/// The name of the file that is sent.
fn file_name(ask: &Ask) -> Result<String, Refusal> {
    let name = ask.headers.get("x-file-name").and_then(|name| name.to_str().ok()).and_then(decoded);
    name.ok_or_else(|| Refusal::bad("name", say!(refusing::NO_FILE_NAME)))
}

fn view(name: &str, query: &ViewQuery) -> Result<View, Refusal> {
    Ok(match name {
        "standing" if query.eye.is_some() => View::StandingFrom(eye(query.eye.as_deref().unwrap_or(""))?),
        "laid" => View::Laid,
        "above" => View::Above,
        "standing" => View::Standing,
        "fallen" => View::Fallen,
        _ => return Err(Refusal::absent(say!(refusing::NO_VIEW))),
    })
}

/// An eye point from an address.
fn eye(text: &str) -> Result<plan::Eye, Refusal> {
    let mut parts = text.split(',').map(|part| part.parse::<f64>().ok());
    let mut part = |least: f64, most: f64| parts.next().flatten().filter(|v| (least..=most).contains(v));
    let found = (part(100.0, 1e6), part(50.0, 1e5), part(-360.0, 360.0));
    let (Some(distance), Some(height), Some(bearing)) = found else {
        return Err(Refusal::bad("eye", say!(refusing::EYE, text = text)));
    };
    Ok(plan::Eye { distance: Length::mm(distance), height: Length::mm(height), bearing: Angle::deg(bearing) })
}

fn width(field: &Field, scale: Option<f64>) -> u32 {
    let (columns, _) = field.frame.map().picture_size();
    let scale = scale.filter(|scale| scale.is_finite()).unwrap_or(1.0).clamp(0.01, SCALE);
    // The desk keeps the longer side within its own bound.
    (f64::from(columns) * scale).clamp(1.0, 100_000.0) as u32
}

fn draw(
    plan: &Plan,
    field: &Field,
    cells: Option<&Cells>,
    view: View,
    width: u32,
) -> Result<Raster, Refusal> {
    draw_field(plan, field, cells, view, width).map_err(refusal)
}

fn png(raster: &Raster) -> Result<Answer, Refusal> {
    let bytes = colour::to_png(raster).map_err(|_| Refusal::inside(say!(refusing::INSIDE_PNG)))?;
    Ok(Answer::new("image/png", bytes))
}

/// Undoes percent-encoding; nothing when what comes out is no text.
fn decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let mut digit = || char::from(rest.next()?).to_digit(16);
            bytes.push((digit()? * 16 + digit()?) as u8);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok().filter(|name| !name.is_empty())
}

#[cfg(test)]
mod tests {
    use super::decoded;

    #[test]
    fn a_file_name_comes_through_percent_encoding() {
        assert_eq!(decoded("M%C3%BChle%20am%20Bach.png").as_deref(), Some("Mühle am Bach.png"));
        assert_eq!(decoded("mill.png").as_deref(), Some("mill.png"));
        for bad in ["", "%", "%4", "%zz", "%ff", "%+1"] {
            assert_eq!(decoded(bad), None, "{bad}");
        }
    }
}
