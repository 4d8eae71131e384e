//! How well an answer fits: differences cell by cell and as seen, and colour changes along the lanes.

use rayon::prelude::*;

use crate::{
    blur::Blur,
    difference::{ciede2000, ciede2000_textbook},
    problem::{Axis, CellRule, EMPTY, FieldWanted, Problem},
    spaces::Linear,
};

/// Mean CIEDE2000 between wanted and given colours over the cells that have a piece; 0 if there are none.
///
/// `cells` has one colour a cell, or [`EMPTY`].
pub fn mean_difference(field: &FieldWanted, cells: &[u16]) -> f64 {
    let looks: Vec<_> = field.palette.iter().map(|c| c.to_lab()).collect();
    mean_over(field, cells, |cell, colour| ciede2000(field.wanted[cell].to_lab(), looks[colour]))
}

/// Mean CIEDE2000 over the cells that have a piece after both pictures are blurred in linear light by
/// `sigma` cells along x and y; a sigma of 0 blurs nothing.
///
/// Only the difference of the two pictures is blurred and the rest of the light made up for at the borders,
/// so that the world around a field, and cells without a piece, count as what is wanted there.
pub fn mean_difference_seen(field: &FieldWanted, cells: &[u16], sigma: [f64; 2]) -> f64 {
    let blur = Blur::new(field.cols, field.rows, sigma);
    let mut wanted: Vec<[f32; 3]> = field.wanted.iter().map(|c| c.0).collect();
    let mut given: Vec<[f32; 3]> = field
        .wanted
        .iter()
        .zip(cells)
        .map(|(wanted, &colour)| match field.palette.get(usize::from(colour)) {
            Some(piece) if colour != EMPTY => piece.0,
            _ => wanted.0,
        })
        .collect();
    let mut spare = Vec::new();
    blur.apply(&mut wanted, &mut spare);
    blur.apply(&mut given, &mut spare);
    let lab = |light: [f32; 3], cell: usize| Linear(light.map(|v| v / blur.rest(cell))).to_lab();
    mean_over(field, cells, |cell, _| ciede2000(lab(wanted[cell], cell), lab(given[cell], cell)))
}

/// The mean over cells with a piece; sums run row by row and then down, so that threads change nothing.
fn mean_over(field: &FieldWanted, cells: &[u16], difference: impl Fn(usize, usize) -> f64 + Sync) -> f64 {
    let cols = (field.cols as usize).max(1);
    let rows: Vec<(f64, u64)> = cells
        .par_chunks(cols)
        .enumerate()
        .map(|(row, colours)| {
            let mut sum = (0.0, 0);
            for (col, &colour) in colours.iter().enumerate() {
                if usize::from(colour) < field.palette.len() {
                    sum.0 += difference(row * cols + col, usize::from(colour));
                    sum.1 += 1;
                }
            }
            sum
        })
        .collect();
    let (sum, count) = rows.iter().fold((0.0, 0), |(s, n), row| (s + row.0, n + row.1));
    if count == 0 { 0.0 } else { sum / count as f64 }
}

/// Sum over all cells of weight x round(1000 x CIEDE2000) of any answer: what [`match_exact`](crate::match_exact) makes least.
///
/// Wanted colours are rounded to 8-bit sRGB as there. `cells` has per field one colour a cell, or [`EMPTY`].
pub fn sum_of_differences(problem: &Problem, cells: &[Vec<u16>]) -> i64 {
    let of_field = |(field, cells): (&FieldWanted, &Vec<u16>)| {
        let looks: Vec<_> = field.palette.iter().map(|c| c.to_lab()).collect();
        let of_cell = |(wanted, &colour): (&Linear, &u16)| {
            let Some(look) = looks.get(usize::from(colour)) else { return 0 };
            let wanted = wanted.to_srgb8().to_lab();
            // The textbook form settles what the fast one leaves in doubt, so that both sums agree to the unit.
            (1000.0 * ciede2000_textbook(wanted, *look)).round() as i64 * i64::from(field.weight)
        };
        field.wanted.par_iter().zip(cells.par_iter()).map(of_cell).sum::<i64>()
    };
    problem.fields.iter().zip(cells).map(of_field).sum()
}

/// Runs and colour changes of one field.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Runs {
    /// Stretches of one colour along the lanes; a gap ends a run.
    pub runs: u64,
    /// Pairs of neighbours in a lane that both have a piece, of different colours.
    pub changes: u64,
    /// Lanes with at least one piece.
    pub lanes: u64,
}

/// Counts the runs along the lanes of a field.
pub fn runs(field: &FieldWanted, cells: &[u16]) -> Runs {
    let (lanes, length) = match field.runs_along {
        Axis::Cols => (field.rows, field.cols),
        Axis::Rows => (field.cols, field.rows),
    };
    let mut found = Runs::default();
    for lane in 0..lanes as usize {
        let mut last = EMPTY;
        let mut any = false;
        for place in 0..length as usize {
            let cell = match field.runs_along {
                Axis::Cols => lane * field.cols as usize + place,
                Axis::Rows => place * field.cols as usize + lane,
            };
            let colour = cells[cell];
            if colour != EMPTY {
                any = true;
                found.runs += u64::from(colour != last);
                found.changes += u64::from(colour != last && last != EMPTY);
            }
            last = colour;
        }
        found.lanes += u64::from(any);
    }
    found
}

/// Whether an answer keeps the rules of a field: right length, empty and hand-set cells as they are, allowed colours only.
pub(crate) fn keeps_rules(field: &FieldWanted, cells: &[u16]) -> bool {
    let kept = |(rule, &colour): (&CellRule, &u16)| match *rule {
        CellRule::Empty => colour == EMPTY,
        CellRule::Fixed(fixed) => colour == fixed,
        CellRule::Free => field.allowed.get(usize::from(colour)).copied().unwrap_or(false),
    };
    cells.len() == field.cells.len() && field.cells.iter().zip(cells).all(kept)
}
