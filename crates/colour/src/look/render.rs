//! Draws a field as a plan of what is seen of each cell.

use super::{Eye, Face, FieldGeometry, PieceFaces, Side, View, near_face, period, shares_at};
use crate::grid_error::{GridError, MAX_RASTER_PIXELS, check_cells, check_length};
use crate::picture::Picture;
use crate::problem::Flow;
use crate::resample::{CellGrid, Fit, lay};
use crate::spaces::{Linear, Srgb8};

/// Below this many pixels on the shorter side of a cell pieces are not drawn singly: the cell gets
/// its mixed colour, which is what the eye makes of it.
const READABLE_PX: f64 = 4.0;

/// Where the fall goes in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FallInPicture {
    /// From the left edge to the right: lanes are rows of the picture, rank 0 is column 0.
    Right,
    /// From the bottom edge to the top: lanes are columns, rank 0 is the last row.
    Up,
    /// From the right edge to the left: lanes are rows, rank 0 is the last column.
    Left,
    /// From the top edge to the bottom: lanes are columns, rank 0 is row 0.
    Down,
}

impl FallInPicture {
    /// Whether lanes are rows of the picture.
    pub fn is_level(self) -> bool {
        matches!(self, Self::Right | Self::Left)
    }

    /// Whether the fall runs against the counting of columns or rows.
    fn is_reversed(self) -> bool {
        matches!(self, Self::Left | Self::Up)
    }
}

/// A drawing: red, green, blue, alpha with 8 bits each, sRGB, in rows from the top, opaque.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raster {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Samples, `width * height * 4`.
    pub rgba: Vec<u8>,
}

/// Everything needed to draw a field.
#[derive(Debug, Clone, Copy)]
pub struct FieldDrawing<'a> {
    /// Number of the piece colour in each cell, `u16::MAX` where there is none;
    /// cell (column, row) of the picture at `row * cols + column`, row 0 at the top.
    pub cells: &'a [u16],
    /// Cells across the picture.
    pub cols: u32,
    /// Cells down the picture.
    pub rows: u32,
    /// Where the fall goes in the picture.
    pub fall: FallInPicture,
    /// The piece colours that `cells` count.
    pub pieces: &'a [PieceFaces],
    /// Size and places of the pieces.
    pub geometry: FieldGeometry,
    /// Colour of the floor.
    pub floor: Linear,
    /// What is looked at.
    pub view: View,
    /// Pixels per millimetre; the field keeps its shape.
    pub px_per_mm: f64,
}

/// Draws a field.
///
/// The drawing is a plan: each piece stays in its cell, and the parts of the cell are drawn as large
/// as they are seen. From an eye point the shares change from rank to rank with the distance.
/// After the fall each strip is drawn where its piece stood; in the hall the whole picture lies
/// farther along the fall by most of the height of a piece. A piece with no next one to lean on lies
/// flat over the empty floor before it.
/// Cells shorter than four pixels on a side get their mixed colour, averaged in linear light where
/// several share a pixel.
///
/// # Errors
/// [`GridError`] for grids without cells or with values missing, colours that are not in the list,
/// lengths that are not positive, and drawings without pixels or with too many.
pub fn render(drawing: &FieldDrawing<'_>) -> Result<Raster, GridError> {
    check(drawing)?;
    let canvas = Canvas::of(drawing)?;
    if canvas.cell_px.0.min(canvas.cell_px.1) < READABLE_PX {
        mixed(drawing, &canvas)
    } else {
        Ok(pieces(drawing, &canvas))
    }
}

fn check(d: &FieldDrawing<'_>) -> Result<(), GridError> {
    check_cells(d.cols, d.rows)?;
    if d.cells.len() as u64 != u64::from(d.cols) * u64::from(d.rows) {
        return Err(GridError::Values { cols: d.cols, rows: d.rows, got: d.cells.len() });
    }
    check_length("piece thickness", d.geometry.thickness_mm)?;
    check_length("piece width", d.geometry.width_mm)?;
    check_length("piece height", d.geometry.height_mm)?;
    check_length("pitch along the fall", d.geometry.pitch_along_mm)?;
    check_length("pitch across the fall", d.geometry.pitch_across_mm)?;
    let count = d.pieces.len();
    match d.cells.iter().find(|c| **c != u16::MAX && usize::from(**c) >= count) {
        Some(colour) => Err(GridError::Colour { colour: *colour, count }),
        None => Ok(()),
    }
}

/// Size of the drawing and of a cell in it.
struct Canvas {
    width: u32,
    height: u32,
    cell_px: (f64, f64),
}

impl Canvas {
    fn of(d: &FieldDrawing<'_>) -> Result<Self, GridError> {
        let (along, across) = (d.geometry.pitch_along_mm, d.geometry.pitch_across_mm);
        let cell_mm = if d.fall.is_level() { (along, across) } else { (across, along) };
        let cell_px = (cell_mm.0 * d.px_per_mm, cell_mm.1 * d.px_per_mm);
        let width = (f64::from(d.cols) * cell_px.0).round();
        let height = (f64::from(d.rows) * cell_px.1).round();
        let fits = width >= 1.0 && height >= 1.0 && width * height <= MAX_RASTER_PIXELS as f64;
        if !fits {
            return Err(GridError::RasterSize { width, height });
        }
        Ok(Self { width: width as u32, height: height as u32, cell_px })
    }
}

/// One pixel or more for each cell's mixed colour, or several cells to a pixel.
fn mixed(d: &FieldDrawing<'_>, canvas: &Canvas) -> Result<Raster, GridError> {
    let mut samples = Vec::with_capacity(d.cells.len() * 3);
    let ranks = Ranks::of(d);
    let floor = d.floor.to_srgb8();
    let shown: Vec<Vec<Srgb8>> = (0..ranks.classes())
        .map(|class| {
            let shares = shares_at(&d.geometry, &d.view, ranks.beyond_mm(class));
            d.pieces.iter().map(|piece| shares.mix(piece, d.floor).to_srgb8()).collect()
        })
        .collect();
    for (i, cell) in d.cells.iter().enumerate() {
        let class = ranks.class(i as u32 % d.cols, i as u32 / d.cols);
        let colour = shown[class].get(usize::from(*cell)).copied().unwrap_or(floor);
        samples.extend_from_slice(&[colour.r, colour.g, colour.b]);
    }
    let field = Picture::from_rgb8(d.cols, d.rows, samples).expect("three samples were made for each cell");
    let grid = CellGrid { fit: Fit::Stretch, ..CellGrid::new(canvas.width, canvas.height, 1.0, 1.0) };
    let averaged = lay(&field, &grid, &mut |_| Flow::Go)?;
    let rgba = averaged.wanted.iter().flat_map(|c| opaque(c.to_srgb8())).collect();
    Ok(Raster { width: canvas.width, height: canvas.height, rgba })
}

fn opaque(colour: Srgb8) -> [u8; 4] {
    [colour.r, colour.g, colour.b, u8::MAX]
}

/// Which cells lie at the same distance from the eye.
struct Ranks {
    /// Whether distance runs along picture columns (true) or rows.
    level: bool,
    /// Cells in that direction; 1 if the distance does not matter.
    count: u32,
    /// Whether cell 0 is the nearest.
    first_is_near: bool,
    pitch_mm: f64,
}

impl Ranks {
    fn of(d: &FieldDrawing<'_>) -> Self {
        let View::Standing(Eye { side, .. }) = d.view else {
            return Self { level: true, count: 1, first_is_near: true, pitch_mm: 0.0 };
        };
        let along = matches!(side, Side::Entry | Side::FarEnd);
        let level = d.fall.is_level() == along;
        let g = &d.geometry;
        Self {
            level,
            count: if level { d.cols } else { d.rows },
            first_is_near: near_is_first(d.fall, side),
            pitch_mm: if along { g.pitch_along_mm } else { g.pitch_across_mm },
        }
    }

    fn classes(&self) -> usize {
        self.count as usize
    }

    fn class(&self, col: u32, row: u32) -> usize {
        if self.count == 1 {
            return 0;
        }
        (if self.level { col } else { row }) as usize
    }

    /// How much farther from the eye than the centre of the field the cells of a class lie.
    fn beyond_mm(&self, class: usize) -> f64 {
        let from_first = (class as f64 + 0.5 - f64::from(self.count) / 2.0) * self.pitch_mm;
        if self.first_is_near { from_first } else { -from_first }
    }
}

/// Whether the column or row 0 is the one nearest to the eye.
fn near_is_first(fall: FallInPicture, side: Side) -> bool {
    match side {
        Side::Entry => !fall.is_reversed(),
        Side::FarEnd => fall.is_reversed(),
        // Looking right, the left hand is at the top (row 0); looking up, it is at column 0.
        Side::Left => matches!(fall, FallInPicture::Right | FallInPicture::Up),
        Side::Right => matches!(fall, FallInPicture::Left | FallInPicture::Down),
    }
}

/// A rectangle in a cell in shares of the pitches: along the fall from the entry side, and across
/// from the side of column or row 0. May reach beyond the cell.
#[derive(Debug, Clone, Copy)]
struct Part {
    along: (f64, f64),
    across: (f64, f64),
    face: Face,
}

fn pieces(d: &FieldDrawing<'_>, canvas: &Canvas) -> Raster {
    let floor = opaque(d.floor.to_srgb8());
    let mut raster = Raster {
        width: canvas.width,
        height: canvas.height,
        rgba: floor.repeat(canvas.width as usize * canvas.height as usize),
    };
    let ranks = Ranks::of(d);
    let parts: Vec<Vec<Part>> =
        (0..ranks.classes()).map(|class| parts_of(d, ranks.beyond_mm(class))).collect();
    for (i, cell) in d.cells.iter().enumerate() {
        let Some(piece) = d.pieces.get(usize::from(*cell)) else { continue };
        let (col, row) = (i as u32 % d.cols, i as u32 / d.cols);
        for part in &parts[ranks.class(col, row)] {
            let mut part = *part;
            if matches!(d.view, View::Fallen) {
                part.along.1 = part.along.1.max(lying_reach(d, col, row));
            }
            paint(
                &mut raster,
                &rect(d.fall, canvas, (col, row), &part),
                opaque(part.face.of(piece).to_srgb8()),
            );
        }
    }
    raster
}

/// The parts of a cell at a distance from the eye.
fn parts_of(d: &FieldDrawing<'_>, beyond_mm: f64) -> Vec<Part> {
    let (along, across) = (d.geometry.fill_along(), d.geometry.fill_across());
    let middle = |fill: f64| ((1.0 - fill) / 2.0, (1.0 + fill) / 2.0);
    match &d.view {
        View::Laid => vec![Part { along: (0.0, 1.0), across: (0.0, 1.0), face: Face::Back }],
        View::Above => vec![Part { along: middle(along), across: middle(across), face: Face::Edge }],
        View::Fallen => vec![Part { along: (0.0, 1.0), across: middle(across), face: Face::Back }],
        View::Standing(eye) => {
            let seen = period(&d.geometry, eye, beyond_mm);
            let face = near_face(eye.side, seen.passed);
            // From the near side of the cell: face, top, floor.
            let near_first = match eye.side {
                Side::Entry => true,
                Side::FarEnd => false,
                Side::Left | Side::Right => near_is_first(d.fall, eye.side),
            } != seen.passed;
            let place = |from: f64, to: f64| if near_first { (from, to) } else { (1.0 - to, 1.0 - from) };
            let face_at = place(0.0, seen.face);
            let top_at = place(seen.face, seen.face + seen.top);
            match eye.side {
                Side::Entry | Side::FarEnd => vec![
                    Part { along: face_at, across: middle(across), face },
                    Part { along: top_at, across: middle(across), face: Face::Edge },
                ],
                Side::Left | Side::Right => vec![
                    Part { along: middle(along), across: face_at, face },
                    Part { along: middle(along), across: top_at, face: Face::Edge },
                ],
            }
        }
    }
}

/// How far along the fall, in pitches from the entry side of its cell, a fallen piece lies open:
/// its whole height if nothing follows, else to the next piece.
fn lying_reach(d: &FieldDrawing<'_>, col: u32, row: u32) -> f64 {
    let height = d.geometry.height_mm / d.geometry.pitch_along_mm;
    let mut empty = 0u32;
    while f64::from(empty + 1) < height {
        match cell_ahead(d, (col, row), empty + 1) {
            Some(u16::MAX) => empty += 1,
            Some(_) => return f64::from(empty + 1),
            None => return height,
        }
    }
    if cell_ahead(d, (col, row), 1).is_some_and(|c| c != u16::MAX) { 1.0 } else { height }
}

/// The cell `steps` farther along the fall; `None` beyond the field.
fn cell_ahead(d: &FieldDrawing<'_>, place: (u32, u32), steps: u32) -> Option<u16> {
    let (col, row) = place;
    let (col, row) = match d.fall {
        FallInPicture::Right => (col.checked_add(steps)?, row),
        FallInPicture::Left => (col.checked_sub(steps)?, row),
        FallInPicture::Down => (col, row.checked_add(steps)?),
        FallInPicture::Up => (col, row.checked_sub(steps)?),
    };
    let inside = col < d.cols && row < d.rows;
    inside.then(|| d.cells[row as usize * d.cols as usize + col as usize])
}

/// Left, top, right and bottom border in pixels.
type Rect = [f64; 4];

fn rect(fall: FallInPicture, canvas: &Canvas, place: (u32, u32), part: &Part) -> Rect {
    let (from, to) = part.along;
    let along = if fall.is_reversed() { (1.0 - to, 1.0 - from) } else { (from, to) };
    let (x, y) = if fall.is_level() { (along, part.across) } else { (part.across, along) };
    let (col, row) = (f64::from(place.0), f64::from(place.1));
    let (w, h) = canvas.cell_px;
    [(col + x.0) * w, (row + y.0) * h, (col + x.1) * w, (row + y.1) * h]
}

/// Fills the pixels whose borders round into the rectangle; at least nothing, never outside.
fn paint(raster: &mut Raster, rect: &Rect, colour: [u8; 4]) {
    let clamp = |v: f64, max: u32| v.round().clamp(0.0, f64::from(max)) as usize;
    let (left, right) = (clamp(rect[0], raster.width), clamp(rect[2], raster.width));
    let (top, bottom) = (clamp(rect[1], raster.height), clamp(rect[3], raster.height));
    let stride = raster.width as usize * 4;
    for row in raster.rgba.chunks_exact_mut(stride).take(bottom).skip(top) {
        if left < right {
            row[left * 4..right * 4].as_chunks_mut::<4>().0.fill(colour);
        }
    }
}

#[cfg(test)]
mod tests;
