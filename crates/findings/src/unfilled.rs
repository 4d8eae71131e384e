//! Fields without pieces, and cells that should show the picture but have no piece.

use plan::{EMPTY, Field, Item, ItemId, Plan};

use crate::finding::{Finding, Place, Severity, so_many};

/// `covered` holds, per field, which cells its picture covers. Cells that were emptied by hand are meant so.
pub(crate) fn check(plan: &Plan, covered: &[(ItemId, Vec<bool>)], found: &mut Vec<Finding>) {
    for item in &plan.items {
        let Some(field) = item.field() else { continue };
        if field.cells.pieces() == 0 {
            found.push(without_pieces(item, field));
        } else if let Some((_, covered)) = covered.iter().find(|(id, _)| *id == item.id) {
            found.extend(with_gaps(item, field, covered));
        }
    }
}

fn without_pieces(item: &Item, field: &Field) -> Finding {
    let hint = match field.picture {
        Some(_) => "Match its picture, or paint its cells.",
        None => "Choose a picture and match it, or paint its cells.",
    };
    Finding {
        code: "field-empty",
        severity: Severity::Should,
        place: Place::item(item),
        message: format!("{} has no pieces yet.", item.name),
        hint: hint.into(),
        mend: None,
    }
}

fn with_gaps(item: &Item, field: &Field, covered: &[bool]) -> Option<Finding> {
    let cells = field.cells.as_slice().iter().zip(field.by_hand.as_slice()).zip(covered);
    let gaps = cells.filter(|((c, by_hand), covered)| **c == EMPTY && !**by_hand && **covered).count() as u64;
    (gaps > 0).then(|| Finding {
        code: "cells-unfilled",
        severity: Severity::Should,
        place: Place::item(item),
        message: format!(
            "{} of {} should show the picture but have no piece.",
            so_many(gaps, "cell", "cells"),
            item.name
        ),
        hint: "Match the picture again, or empty them by hand if they are meant to stay empty.".into(),
        mend: None,
    })
}
