//! Cells drawn by hand, from runs to the command that sets them.

use desk::DeskError;
use plan::{CellChange, CellMask, Command, Field, Item, ItemId, Plan, Refusal};
use sayings::{Said, doing, gate, say};

use super::change::{Drafted, done, known_field};
use crate::wire::{DrawnWith, StrokeDraft};

/// Cells above which a stroke is kept as the whole field: the journal writes that in runs.
const MANY: usize = 4_096;

/// The cells of runs, ascending. `len` is the number of cells of the field, `place` its name.
fn unroll(runs: &[u32], len: usize, place: &str) -> Result<Vec<usize>, DeskError> {
    let mut cells = Vec::new();
    let mut at = 0_usize;
    for pair in runs.chunks(2) {
        let [skip, take] = [pair[0] as usize, pair.get(1).map_or(0, |&take| take as usize)];
        let from = at.saturating_add(skip);
        at = from.saturating_add(take);
        if at > len {
            return Err(DeskError::Refused(Refusal::new(
                say!(gate::AT_ITEM_OF, name = place),
                say!(gate::CELL, n = at - 1),
                say!(gate::CELL_OUTSIDE, n = len),
                say!(gate::CELLS_NEXT),
            )));
        }
        cells.extend(from..at);
    }
    Ok(cells)
}

/// The cells of runs as a mask of a field.
pub(crate) fn mask(plan: &Plan, id: ItemId, runs: &[u32]) -> Result<CellMask, DeskError> {
    let (item, field) = known_field(plan, id)?;
    let mut bits = vec![false; field.cells.len()];
    for i in unroll(runs, bits.len(), &item.name)? {
        bits[i] = true;
    }
    Ok(bits.into())
}

/// The step that draws strokes.
pub(super) fn draw(plan: &Plan, id: ItemId, with: DrawnWith, strokes: &[StrokeDraft]) -> Drafted {
    let (item, field) = known_field(plan, id)?;
    let mut changes = Vec::new();
    let now = field.cells.as_slice();
    for stroke in strokes {
        let change = |i: usize| CellChange {
            index: i as u32,
            colour: stroke.colour.unwrap_or(now[i]),
            by_hand: stroke.colour.is_some(),
        };
        changes.extend(unroll(&stroke.runs, now.len(), &item.name)?.into_iter().map(change));
    }
    if changes.is_empty() {
        return Err(DeskError::Refused(Refusal::new(
            say!(gate::AT_ITEM_OF, name = &item.name),
            say!(gate::STROKE),
            say!(gate::STROKE_PROBLEM),
            say!(gate::STROKE_NEXT),
        )));
    }
    done(label(plan, item, with, strokes, changes.len()), command(id, field, changes))
}

fn command(id: ItemId, field: &Field, changes: Vec<CellChange>) -> Command {
    if changes.len() <= MANY {
        return Command::Paint { id, cells: changes };
    }
    let (mut cells, mut by_hand) = (field.cells.clone(), field.by_hand.clone());
    let (colours, marks) = (cells.make_mut(), by_hand.make_mut());
    for change in changes {
        let i = change.index as usize;
        (colours[i], marks[i]) = (change.colour, change.by_hand);
    }
    Command::Restore { id, cells, by_hand }
}

fn label(plan: &Plan, item: &Item, with: DrawnWith, strokes: &[StrokeDraft], cells: usize) -> Said {
    let name = &item.name;
    if strokes.iter().all(|stroke| stroke.colour.is_none()) {
        return say!(doing::RELEASE, n = cells, name = name);
    }
    let what = match with {
        DrawnWith::Brush => say!(doing::DRAW, n = cells, name = name),
        DrawnWith::Line => say!(doing::DRAW_LINE, n = cells, name = name),
        DrawnWith::Rectangle => say!(doing::DRAW_RECTANGLE, n = cells, name = name),
        DrawnWith::Fill => say!(doing::FILL, n = cells, name = name),
        DrawnWith::Replace => say!(doing::REPLACE, n = cells, name = name),
        DrawnWith::Stamp => say!(doing::STAMP, n = cells, name = name),
        DrawnWith::Selection => say!(doing::SET_CHOSEN, n = cells, name = name),
    };
    match strokes {
        [StrokeDraft { colour: Some(0), .. }] => say!(doing::WITH_NONE, what = what),
        [StrokeDraft { colour: Some(id), .. }] => match plan.colour(plan::ColourId(*id)) {
            Some(colour) => say!(doing::WITH, what = what, colour = &colour.name),
            None => what,
        },
        _ => what,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_are_cells_left_out_and_taken_in_turn() {
        assert_eq!(unroll(&[2, 3, 1, 1], 8, "Town").unwrap(), [2, 3, 4, 6]);
        assert_eq!(unroll(&[0, 8], 8, "Town").unwrap().len(), 8);
        assert_eq!(unroll(&[3], 8, "Town").unwrap(), Vec::<usize>::new());
        for wrong in [&[0, 9][..], &[9, 0], &[4, 4, 0, 1], &[u32::MAX, u32::MAX, u32::MAX]] {
            let said = unroll(wrong, 8, "Town").unwrap_err().to_string();
            assert!(said.contains("Town") && said.contains("8 cells"), "{said}");
        }
    }
}
