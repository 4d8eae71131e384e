//! Lays a picture onto the cells of a field: area average in linear light, cells not square.

mod spans;

use std::sync::LazyLock;

use rayon::prelude::*;

use crate::grid_error::{GridError, check_cells, check_length};
use crate::picture::{Picture, Pixels, Turn};
use crate::problem::{Flow, Progress, Report, Stage};
use crate::spaces::{Linear, decode_channel, decode8, encode_channel};
use spans::{Span, Stretch, mirrored, spans};

/// A cut-out of a picture in fractions of its upright width and height, 0 at the left and top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CropRect {
    /// Left edge, 0 to 1.
    pub left: f64,
    /// Top edge, 0 to 1.
    pub top: f64,
    /// Right edge, 0 to 1.
    pub right: f64,
    /// Bottom edge, 0 to 1.
    pub bottom: f64,
}

impl CropRect {
    /// The whole picture.
    pub const WHOLE: Self = Self { left: 0.0, top: 0.0, right: 1.0, bottom: 1.0 };
}

/// How a picture meets a field of another shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Fit {
    /// Fills the field and loses what sticks out, the same on both sides. Circles stay round.
    #[default]
    Fill,
    /// Fills the field and is pulled out of shape.
    Stretch,
    /// Shows all of the picture and leaves cells empty on two sides. Circles stay round.
    Within,
}

/// The cells that a picture is laid onto; columns and rows are those of the upright picture.
#[derive(Debug, Clone, PartialEq)]
pub struct CellGrid {
    /// Cells across.
    pub cols: u32,
    /// Cells down.
    pub rows: u32,
    /// Width of a cell in millimetres.
    pub cell_w_mm: f64,
    /// Height of a cell in millimetres.
    pub cell_h_mm: f64,
    /// The part of the picture to use; all of it if `None`.
    pub crop: Option<CropRect>,
    /// How the picture meets the field.
    pub fit: Fit,
    /// -1 (all one grey) to 1 (four times the slope about middle grey), 0 leaves the picture alone.
    pub contrast: f32,
    /// -1 (black) to 1 (white), added to the sRGB values, 0 leaves the picture alone.
    pub brightness: f32,
}

impl CellGrid {
    /// Cells of the given size in millimetres, filled by the whole picture, nothing else changed.
    pub fn new(cols: u32, rows: u32, cell_w_mm: f64, cell_h_mm: f64) -> Self {
        Self {
            cols,
            rows,
            cell_w_mm,
            cell_h_mm,
            crop: None,
            fit: Fit::default(),
            contrast: 0.0,
            brightness: 0.0,
        }
    }
}

/// What each cell should show; cell (column, row) is at `row * cols + column`, row 0 at the top.
#[derive(Debug, Clone, PartialEq)]
pub struct Cells {
    /// Cells across.
    pub cols: u32,
    /// Cells down.
    pub rows: u32,
    /// The wanted colour; black where the cell lies wholly outside the picture.
    pub wanted: Vec<Linear>,
    /// Whether the cell stays without a piece: less than half of it is covered by the picture.
    pub empty: Vec<bool>,
}

/// Lays `picture` onto the cells of `grid`.
///
/// Each cell gets the mean of the picture under it in linear light, every pixel weighed by its exact
/// covered part and its alpha. A picture with fewer pixels than cells is taken as made of flat
/// pixels: cells inside one pixel get its colour, nothing is smoothed. With as many pixels as cells
/// and square cells the colours pass unchanged. The result does not depend on the number of threads.
///
/// # Errors
/// [`GridError`] for grids without cells, lengths that are not positive, an empty cut-out, or if
/// `report` asks to stop. It hears of [`Stage::Picture`] about fifty times.
pub fn to_cells(picture: &Picture, grid: &CellGrid, report: Report<'_>) -> Result<Cells, GridError> {
    check_cells(grid.cols, grid.rows)?;
    check_length("cell width", grid.cell_w_mm)?;
    check_length("cell height", grid.cell_h_mm)?;
    lay(picture, grid, report)
}

/// [`to_cells`] for a grid that is known to be sound, of any number of cells.
pub(crate) fn lay(picture: &Picture, grid: &CellGrid, report: Report<'_>) -> Result<Cells, GridError> {
    let (x, y) = upright_spans(picture, grid)?;
    let turn = picture.turn();
    let x = if flips_x(turn) { mirrored(x, picture.width() as usize) } else { x };
    let y = if flips_y(turn) { mirrored(y, picture.height() as usize) } else { y };
    let swap = turn.swaps_sides();
    let (outer, inner) = if swap { (&x, &y) } else { (&y, &x) };
    let means = means(picture, outer, inner, report)?;
    let mut cells = Cells {
        cols: grid.cols,
        rows: grid.rows,
        wanted: Vec::with_capacity(means.len()),
        empty: Vec::with_capacity(means.len()),
    };
    let tone = Tone::of(grid);
    for row in 0..grid.rows as usize {
        for col in 0..grid.cols as usize {
            let (o, i) = if swap { (col, row) } else { (row, col) };
            let mean = &means[o * inner.len() + i];
            cells.wanted.push(tone.apply(mean.colour));
            cells.empty.push(mean.cover < 0.5);
        }
    }
    Ok(cells)
}

/// The pixels under each column and each row of cells, upright.
fn upright_spans(picture: &Picture, grid: &CellGrid) -> Result<(Vec<Span>, Vec<Span>), GridError> {
    let crop = grid.crop.unwrap_or(CropRect::WHOLE);
    let CropRect { left, top, right, bottom } = crop;
    let inside = |a: f64, b: f64| a.is_finite() && b.is_finite() && a.max(0.0) < b.min(1.0);
    if !inside(left, right) || !inside(top, bottom) {
        return Err(GridError::Crop { left, right, top, bottom });
    }
    let (w, h) = (f64::from(picture.width()), f64::from(picture.height()));
    let x = Stretch { from: left.max(0.0) * w, to: right.min(1.0) * w };
    let y = Stretch { from: top.max(0.0) * h, to: bottom.min(1.0) * h };
    let (frame_x, frame_y) = frame(x, y, grid);
    Ok((spans(frame_x, x, grid.cols), spans(frame_y, y, grid.rows)))
}

/// The stretch of the picture that the whole field covers, across and down.
fn frame(x: Stretch, y: Stretch, grid: &CellGrid) -> (Stretch, Stretch) {
    let (w, h) = (x.to - x.from, y.to - y.from);
    let field = (f64::from(grid.cols) * grid.cell_w_mm) / (f64::from(grid.rows) * grid.cell_h_mm);
    let excess = w / (h * field);
    // Rounding must not turn a field of the picture's own shape into one with slivers.
    if grid.fit == Fit::Stretch || (excess - 1.0).abs() < 1e-9 {
        return (x, y);
    }
    let about = |s: Stretch, length: f64| {
        let middle = (s.from + s.to) / 2.0;
        Stretch { from: middle - length / 2.0, to: middle + length / 2.0 }
    };
    // The picture is wider than the field if `excess` is above 1.
    if (excess > 1.0) == (grid.fit == Fit::Fill) {
        (about(x, h * field), y)
    } else {
        (x, about(y, w / field))
    }
}

fn flips_x(turn: Turn) -> bool {
    matches!(turn, Turn::MirrorX | Turn::Half | Turn::Clockwise | Turn::TransposeHalf)
}

fn flips_y(turn: Turn) -> bool {
    matches!(turn, Turn::MirrorY | Turn::Half | Turn::CounterClockwise | Turn::TransposeHalf)
}

/// The mean of a cell.
#[derive(Debug, Clone, Copy)]
struct Mean {
    colour: Linear,
    /// Covered part of the cell times mean alpha, 0 to 1.
    cover: f64,
}

/// Sums over pixels: red, green and blue times weight and alpha, and weight times alpha.
type Sums = [f64; 4];

/// Linear light of every 16-bit sRGB value, in single precision as everywhere else.
static LINEAR16: LazyLock<Vec<f32>> =
    LazyLock::new(|| (0..=u16::MAX).map(|v| decode_channel(f64::from(v) / 65_535.0) as f32).collect());

/// Linear light of every 8-bit sRGB value.
static LINEAR8: LazyLock<Vec<f32>> = LazyLock::new(|| (0..=u8::MAX).map(decode8).collect());

/// How often progress is reported, about.
const REPORTS: usize = 50;

/// The means of all cells, one outer span after another; spans count stored pixels.
fn means(
    picture: &Picture,
    outer: &[Span],
    inner: &[Span],
    report: Report<'_>,
) -> Result<Vec<Mean>, GridError> {
    let width = picture.stored_size().0 as usize;
    match picture.pixels() {
        Pixels::Rgb8(v) => Source::<_, 3> { samples: v, width, light: &LINEAR8 }.means(outer, inner, report),
        Pixels::Rgba8(v) => Source::<_, 4> { samples: v, width, light: &LINEAR8 }.means(outer, inner, report),
        Pixels::Rgb16(v) => {
            Source::<_, 3> { samples: v, width, light: &LINEAR16 }.means(outer, inner, report)
        }
        Pixels::Rgba16(v) => {
            Source::<_, 4> { samples: v, width, light: &LINEAR16 }.means(outer, inner, report)
        }
    }
}

/// Stored samples with `N` to a pixel, and what they mean in linear light.
struct Source<'a, T, const N: usize> {
    samples: &'a [T],
    width: usize,
    light: &'a [f32],
}

impl<T: Copy + Into<usize> + Sync, const N: usize> Source<'_, T, N> {
    fn means(&self, outer: &[Span], inner: &[Span], report: Report<'_>) -> Result<Vec<Mean>, GridError> {
        let mut means = Vec::with_capacity(outer.len() * inner.len());
        for batch in outer.chunks(outer.len().div_ceil(REPORTS)) {
            let rows: Vec<Vec<Mean>> = batch.par_iter().map(|span| self.row_of_means(span, inner)).collect();
            means.extend(rows.into_iter().flatten());
            let done = means.len() as f64 / (outer.len() * inner.len()) as f64;
            if report(Progress { stage: Stage::Picture, done }) == Flow::Stop {
                return Err(GridError::Stopped);
            }
        }
        Ok(means)
    }

    /// The cells along one outer span. Sums run in a fixed order, whatever the threads do.
    fn row_of_means(&self, outer: &Span, inner: &[Span]) -> Vec<Mean> {
        let mut sums = vec![[0.0; 4]; inner.len()];
        for (i, weight) in outer.weights.iter().enumerate() {
            let start = (outer.first + i) * self.width * N;
            let row = &self.samples[start..start + self.width * N];
            for (sum, span) in sums.iter_mut().zip(inner) {
                let along = self.sum_along(row, span);
                for k in 0..4 {
                    sum[k] += weight * along[k];
                }
            }
        }
        let full = if N == 4 { (self.light.len() - 1) as f64 } else { 1.0 };
        inner.iter().zip(sums).map(|(span, sum)| mean(sum, span.length * outer.length * full)).collect()
    }

    fn sum_along(&self, row: &[T], span: &Span) -> Sums {
        let pixels = row[span.first * N..].chunks_exact(N);
        let mut sums = [0.0; 4];
        for (pixel, weight) in pixels.zip(&span.weights) {
            let weight = if N == 4 { weight * pixel[3].into() as f64 } else { *weight };
            for k in 0..3 {
                sums[k] += weight * f64::from(self.light[pixel[k].into()]);
            }
            sums[3] += weight;
        }
        sums
    }
}

fn mean(sums: Sums, whole: f64) -> Mean {
    if sums[3] <= 0.0 {
        return Mean { colour: Linear([0.0; 3]), cover: 0.0 };
    }
    let colour = Linear([0, 1, 2].map(|k| (sums[k] / sums[3]) as f32));
    Mean { colour, cover: sums[3] / whole }
}

/// Contrast and brightness, applied to sRGB values because these are even steps for the eye.
struct Tone {
    slope: f64,
    lift: f64,
}

impl Tone {
    fn of(grid: &CellGrid) -> Self {
        let within = |v: f32| if v.is_nan() { 0.0 } else { f64::from(v.clamp(-1.0, 1.0)) };
        let contrast = within(grid.contrast);
        // Four times the slope turns all but the middle quarter into black or white; no source.
        let slope = if contrast > 0.0 { 1.0 + 3.0 * contrast } else { 1.0 + contrast };
        Self { slope, lift: within(grid.brightness) }
    }

    fn apply(&self, colour: Linear) -> Linear {
        if self.slope == 1.0 && self.lift == 0.0 {
            return colour;
        }
        Linear(colour.0.map(|v| {
            let value = (encode_channel(f64::from(v)) - 0.5) * self.slope + 0.5 + self.lift;
            decode_channel(value.clamp(0.0, 1.0)) as f32
        }))
    }
}
