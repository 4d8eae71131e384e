//! From classes back to cells: which cell of a class takes which of the class's colours.

use super::{classes::Classes, transport::Plan};
use crate::problem::{Axis, CellRule, EMPTY, FieldWanted, Problem};

/// The colours cell by cell. All ways to share out the colours of a class cost the same;
/// this one gives each colour a contiguous stretch of the class's cells along the lanes.
pub(super) fn to_cells(problem: &Problem, classes: &Classes, plan: &Plan) -> Vec<Vec<u16>> {
    let mut fields: Vec<Vec<u16>> = problem.fields.iter().map(start_field).collect();
    let mut splits = plan.splits().peekable();
    for class in 0..classes.len() {
        let number = classes.field(class);
        let cells = classes.cells(class);
        match splits.next_if(|(split, _)| *split == class) {
            None => {
                let field = &mut fields[number];
                cells.iter().for_each(|&cell| field[cell as usize] = plan.main[class]);
            }
            Some((_, split)) => {
                let mut order = cells.to_vec();
                sort_along_lanes(&mut order, &problem.fields[number]);
                let mut rest = order.as_slice();
                for &(colour, amount) in split {
                    let (now, later) = rest.split_at(amount as usize);
                    now.iter().for_each(|&cell| fields[number][cell as usize] = colour);
                    rest = later;
                }
            }
        }
    }
    fields
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
