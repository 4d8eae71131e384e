//! From classes back to cells: which cell of a class takes which of the class's colours.

use rayon::prelude::*;

use super::{classes::Classes, transport::Plan};
use crate::problem::{Axis, CellRule, EMPTY, FieldWanted, Problem};

/// The colours cell by cell. All ways to share out the colours of a class cost the same;
/// this one gives each colour a contiguous stretch of the class's cells along the lanes.
pub(super) fn to_cells(problem: &Problem, classes: &Classes, plan: &Plan) -> Vec<Vec<u16>> {
    let mut fields: Vec<Vec<u16>> = problem.fields.iter().map(start_field).collect();
    for (number, (cells, field)) in fields.iter_mut().zip(&problem.fields).enumerate() {
        // Each stretch of the field is written by one thread, which looks at all its classes.
        let parts = if cells.len() < 1 << 16 { 1 } else { rayon::current_num_threads().clamp(1, 8) };
        let part = cells.len().div_ceil(parts).max(1);
        cells.par_chunks_mut(part).enumerate().for_each(|(place, stretch)| {
            fill_stretch(stretch, place * part, classes, (number, field), plan);
        });
    }
    fields
}

/// Fills the cells of a field from `first` on with what the classes of the field give them.
fn fill_stretch(
    stretch: &mut [u16],
    first: usize,
    classes: &Classes,
    (number, field): (usize, &FieldWanted),
    plan: &Plan,
) {
    let mut put = |cell: u32, colour: u16| {
        // Cells before the first wrap round to beyond the last.
        if let Some(place) = stretch.get_mut((cell as usize).wrapping_sub(first)) {
            *place = colour;
        }
    };
    let range = classes.of_field(number);
    let mut splits = plan.splits(range.clone()).peekable();
    for class in range {
        let cells = classes.cells(class);
        match splits.next_if(|(split, _)| *split == class) {
            None => cells.iter().for_each(|&cell| put(cell, plan.main[class])),
            Some((_, split)) => {
                let mut order = cells.to_vec();
                sort_along_lanes(&mut order, field);
                let mut rest = order.as_slice();
                for &(colour, amount) in split {
                    let (now, later) = rest.split_at(amount as usize);
                    now.iter().for_each(|&cell| put(cell, colour));
                    rest = later;
                }
            }
        }
    }
}

fn start_field(field: &FieldWanted) -> Vec<u16> {
    field
        .cells
        .iter()
        .map(|rule| match *rule {
            CellRule::Fixed(colour) => colour,
            CellRule::Empty | CellRule::Free => EMPTY,
        })
        .collect()
}

/// Cells come in picture order, which is that of the lanes where these run along picture rows.
fn sort_along_lanes(cells: &mut [u32], field: &FieldWanted) {
    if field.runs_along == Axis::Rows {
        cells.sort_unstable_by_key(|&cell| (cell % field.cols, cell / field.cols));
    }
}
