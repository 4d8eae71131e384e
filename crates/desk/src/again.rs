//! Matching some cells of a field again while all others stay: what is held, and how the answer is laid.

use colour::{CellRule, FieldWanted};
use plan::{CellMask, Cells, ColourId, Command, EMPTY, Field, Item, ItemId, Plan};
use sayings::{doing, refusing, say};

use crate::error::DeskError;
use crate::label::Label;
use crate::matching::{MatchAsk, Outcome};
use crate::palette::Choice;

/// The cells that are matched again; `None` for all. They belong to the only field that is asked for.
pub(crate) fn chosen<'a>(
    ask: &'a MatchAsk,
    items: &[(&Item, &Field)],
) -> Result<Option<&'a CellMask>, DeskError> {
    let Some(only) = &ask.only else { return Ok(None) };
    let [(item, field)] = items else {
        return Err(DeskError::no_match(say!(refusing::MATCH_TWO_FIELDS)));
    };
    if only.len() != field.cells.len() {
        return Err(DeskError::no_match(say!(
            refusing::MATCH_OTHER_GRID,
            name = &item.name,
            cells = field.cells.len(),
            chosen = only.len()
        )));
    }
    let free = only.as_slice().iter().zip(field.by_hand.as_slice()).any(|(chosen, hand)| *chosen && !hand);
    if !free {
        return Err(DeskError::no_match(say!(refusing::MATCH_NONE_FREE, name = &item.name)));
    }
    Ok(Some(only))
}

/// Holds all cells of a field but the chosen ones at what they are now.
///
/// Where the others take more of a colour than there is, the stock is raised to what they take: that colour is left out
/// for the chosen cells, and the shortage stays as it was.
pub(crate) fn hold(wanted: &mut FieldWanted, field: &Field, only: &CellMask, choice: &mut Choice) {
    let map = field.frame.map();
    let chosen = map.to_picture(only.as_slice());
    let now = map.to_picture(field.cells.as_slice());
    for ((rule, chosen), now) in wanted.cells.iter_mut().zip(chosen).zip(now) {
        if !chosen {
            *rule = match now {
                EMPTY => CellRule::Empty,
                c => choice.index(field.kind, ColourId(c)).map_or(CellRule::Empty, CellRule::Fixed),
            };
        }
    }
    let mut taken = vec![0_u64; choice.stock.len()];
    for rule in &wanted.cells {
        if let CellRule::Fixed(colour) = *rule {
            taken[usize::from(colour)] += 1;
        }
    }
    for (stock, taken) in choice.stock.iter_mut().zip(taken) {
        *stock = (*stock).max(taken);
    }
}

/// The step that lays a match, and what it is called. Where only some cells were matched, the others are taken as they
/// are by now.
pub(crate) fn lay(plan: &Plan, outcome: &Outcome) -> (Label, Command) {
    let names: Vec<_> =
        outcome.cells.iter().filter_map(|(id, _)| plan.item(*id)).map(|item| item.name.as_str()).collect();
    let names = names.join(", ");
    let shows = outcome.shows.as_ref().zip(outcome.cells.first());
    let shown = shows.map_or_else(Vec::new, |(fresh, (id, _))| fresh.steps(plan, *id));
    let steps = outcome.cells.iter().map(|(id, cells)| Command::Lay {
        id: *id,
        cells: outcome.only.as_ref().map_or_else(|| cells.clone(), |only| only_these(plan, *id, cells, only)),
    });
    let label = match (&outcome.only, &outcome.shows) {
        (Some(only), _) => say!(doing::MATCH_AGAIN, n = only.count(), names = names),
        (None, Some(fresh)) => say!(doing::PICTURE_LAY, picture = &fresh.name, name = names),
        (None, None) => say!(doing::LAY, names = names),
    };
    (label.into(), Command::Together { steps: shown.into_iter().chain(steps).collect() })
}

fn only_these(plan: &Plan, id: ItemId, cells: &Cells, only: &CellMask) -> Cells {
    // Another grid is refused where it is laid.
    let Some(field) = plan.item(id).and_then(Item::field).filter(|f| f.cells.len() == cells.len()) else {
        return cells.clone();
    };
    let pick = |((chosen, new), now): ((&bool, &u16), &u16)| if *chosen { *new } else { *now };
    let both = only.as_slice().iter().zip(cells.as_slice()).zip(field.cells.as_slice());
    both.map(pick).collect::<Vec<_>>().into()
}
