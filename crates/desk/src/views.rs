//! Pictures of a field: its source, as laid, standing and fallen.

use colour::{Eye, FieldDrawing, FieldGeometry, Raster, Side};
use plan::{EMPTY, Field, Plan, SeenAs};
use units::Angle;

use crate::error::DeskError;
use crate::palette::{faces, linear};
use crate::pictures::{PictureBank, PictureSource};

/// What of a field is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum View {
    /// The plain colour of each piece.
    Laid,
    /// Standing, from straight above.
    Above,
    /// Standing, from the eye point of the field's wish, or from behind the entry.
    Standing,
    /// Standing, from another eye point.
    StandingFrom(plan::Eye),
    /// Fallen, from above.
    Fallen,
}

/// The eye that is taken when none was chosen: somebody who stands 6 m behind the entry (common practice).
const USUAL_EYE: plan::Eye = plan::Eye {
    distance: units::Length::mm(6_000.0),
    height: units::Length::mm(1_600.0),
    bearing: Angle::deg(180.0),
};

/// The size and places of a field's pieces.
pub(crate) fn field_geometry(plan: &Plan, field: &Field) -> FieldGeometry {
    let kind = plan.stock.kind(field.kind).cloned().unwrap_or_else(|| plan::Kind::usual(field.kind));
    FieldGeometry {
        thickness_mm: kind.thickness.to_mm(),
        width_mm: kind.width.to_mm(),
        height_mm: kind.height.to_mm(),
        pitch_along_mm: field.frame.pitch_along.to_mm(),
        pitch_across_mm: field.frame.pitch_across.to_mm(),
    }
}

/// The plan's way of looking as the colour crate's.
pub(crate) fn seen_as(seen: &SeenAs) -> colour::View {
    match seen {
        SeenAs::Laid => colour::View::Laid,
        SeenAs::Above => colour::View::Above,
        SeenAs::Fallen => colour::View::Fallen,
        SeenAs::Standing { eye } => colour::View::Standing(eye_point(eye)),
    }
}

fn eye_point(eye: &plan::Eye) -> Eye {
    let side = match eye.bearing.to_deg().rem_euclid(360.0) {
        b if (45.0..135.0).contains(&b) => Side::Left,
        b if (135.0..225.0).contains(&b) => Side::Entry,
        b if (225.0..315.0).contains(&b) => Side::Right,
        _ => Side::FarEnd,
    };
    Eye { side, distance_mm: eye.distance.to_mm(), height_mm: eye.height.to_mm() }
}

fn view_of(field: &Field, view: View) -> colour::View {
    match view {
        View::Laid => colour::View::Laid,
        View::Above => colour::View::Above,
        View::Fallen => colour::View::Fallen,
        View::Standing => match &field.wish.seen_as {
            SeenAs::Standing { eye } => colour::View::Standing(eye_point(eye)),
            _ => colour::View::Standing(eye_point(&USUAL_EYE)),
        },
        View::StandingFrom(eye) => colour::View::Standing(eye_point(&eye)),
    }
}

/// The most pixels that a drawing gets along its longer side.
const LONGEST: f64 = 4_096.0;

/// Draws a field with `cells` (its own when `None`), `width` pixels wide; less where it would grow too tall.
pub fn draw_field(
    plan: &Plan,
    field: &Field,
    cells: Option<&plan::Cells>,
    view: View,
    width: u32,
) -> Result<Raster, DeskError> {
    let map = field.frame.map();
    let (cols, rows) = map.picture_size();
    let colours = &plan.stock.colours;
    let largest = colours.last().map_or(0, |c| usize::from(c.id.0));
    let mut table = vec![colour::EMPTY; largest + 1];
    for (i, c) in colours.iter().enumerate() {
        table[usize::from(c.id.0)] = i as u16;
    }
    let of = |c: u16| if c == EMPTY { colour::EMPTY } else { table[usize::from(c)] };
    let ids = map.to_picture(cells.unwrap_or(&field.cells).as_slice());
    let indices: Vec<u16> = ids.into_iter().map(of).collect();
    let pieces: Vec<_> = colours.iter().map(faces).collect();
    let drawing = FieldDrawing {
        cells: &indices,
        cols,
        rows,
        fall: fall(field.frame.fall),
        pieces: &pieces,
        geometry: field_geometry(plan, field),
        floor: linear(plan.hall.floor),
        view: view_of(field, view),
        px_per_mm: scale(field, width),
    };
    colour::render(&drawing).map_err(|e| DeskError::no_match(e.said()))
}

/// The picture of a field, cut and fitted to it, `width` pixels wide; `None` without a picture.
pub fn draw_source(
    plan: &Plan,
    field: &Field,
    width: u32,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<Option<Raster>, DeskError> {
    let (w, h) = extent(field);
    let scale = scale(field, width);
    let size = (((w * scale).round() as u32).max(1), ((h * scale).round() as u32).max(1));
    let Some(cells) = bank.laid(plan, field, size, source, &|_| true)? else { return Ok(None) };
    Ok(Some(raster(&cells)))
}

/// The whole picture that a field takes its part from, uncut and as it is, its longer side `longest` pixels; `None`
/// without a picture.
pub fn draw_whole(
    plan: &Plan,
    field: &Field,
    longest: u32,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<Option<Raster>, DeskError> {
    let longest = f64::from(longest).clamp(1.0, LONGEST);
    let cells = bank.whole(plan, field, longest as u32, source)?;
    Ok(cells.map(|cells| raster(&cells)))
}

fn raster(cells: &colour::Cells) -> Raster {
    let mut rgba = Vec::with_capacity(cells.wanted.len() * 4);
    for (colour, empty) in cells.wanted.iter().zip(&cells.empty) {
        let c = colour.to_srgb8();
        rgba.extend([c.r, c.g, c.b, if *empty { 0 } else { 255 }]);
    }
    Raster { width: cells.cols, height: cells.rows, rgba }
}

/// Width and height of the upright picture on the floor, in mm.
fn extent(field: &Field) -> (f64, f64) {
    let (columns, rows) = field.frame.map().picture_size();
    let (w, h) = field.frame.cell_size();
    (w * f64::from(columns), h * f64::from(rows))
}

fn scale(field: &Field, width: u32) -> f64 {
    let (w, h) = extent(field);
    (f64::from(width.max(1)) / w).min(LONGEST / h).min(LONGEST / w)
}

fn fall(fall: geometry::FallInPicture) -> colour::FallInPicture {
    match fall {
        geometry::FallInPicture::Right => colour::FallInPicture::Right,
        geometry::FallInPicture::Up => colour::FallInPicture::Up,
        geometry::FallInPicture::Left => colour::FallInPicture::Left,
        geometry::FallInPicture::Down => colour::FallInPicture::Down,
    }
}
