//! Fields without pieces, and cells that should show the picture but have no piece.

use plan::{EMPTY, Field, Item, ItemId, Plan};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};

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
        Some(_) => say!(found::EMPTY_MATCH),
        None => say!(found::EMPTY_CHOOSE),
    };
    Finding {
        code: "field-empty",
        severity: Severity::Should,
        place: Place::item(item),
        message: say!(found::EMPTY, item = &item.name),
        hint,
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
        message: say!(found::UNFILLED, n = gaps, item = &item.name),
        hint: say!(found::UNFILLED_HINT),
        mend: None,
    })
}
