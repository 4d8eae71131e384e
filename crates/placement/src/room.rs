//! How many pieces are laid at the most: known from the plan before any memory is taken for them.

use std::collections::BTreeSet;

use plan::{Body, Field, Item, ItemId, LaneCourse, MAX_CELLS, Plan};

use crate::course::Course;
use crate::feed::feed_pieces;
use crate::turns::turn_after;

/// The most pieces that are laid of one plan. An item that does not fit beside those before it is not laid.
///
/// A piece takes 37 bytes as it is laid (twice that for a moment along a line), about as much again for what is found on
/// it, and up to 100 bytes at the peak while its fall is worked out: some 5 GB in all, which a laptop of 8 GB can give.
pub const MOST_PIECES: u64 = 30_000_000;

/// How many pieces an item asks for; for a field whose lanes fall in turn with all the turns that it might have.
pub(crate) fn wanted(plan: &Plan, item: &Item, course: Option<&Course>) -> u64 {
    match &item.body {
        Body::Field(field) => of_field(field),
        Body::Line(_) | Body::Fill(_) => course.map_or(0, |c| c.pieces() as u64),
        Body::Feed(feed) => feed_pieces(plan, item, feed),
        _ => 0,
    }
}

fn of_field(field: &Field) -> u64 {
    let turns = match field.frame.course {
        LaneCourse::InTurn => {
            u64::from(field.frame.lanes).saturating_mul(turn_after(&field.frame, 0).len() as u64)
        }
        _ => 0,
    };
    (field.cells.pieces() as u64).saturating_add(turns)
}

/// True when even alone an item asks for more than one item may have.
pub(crate) fn too_many(field: &Field) -> bool {
    field.frame.course == LaneCourse::InTurn && of_field(field) > MAX_CELLS as u64
}

/// Items that are not laid: in order of id, those that together with all that is laid before them would be more than
/// `most` pieces. `wanted` holds the number for every item, in order of id.
pub(crate) fn left_out(wanted: impl Iterator<Item = (ItemId, u64)>, most: u64) -> BTreeSet<ItemId> {
    let mut laid = 0u64;
    let mut out = BTreeSet::new();
    for (id, count) in wanted {
        match laid.checked_add(count).filter(|&sum| sum <= most) {
            Some(sum) => laid = sum,
            None => {
                out.insert(id);
            }
        }
    }
    out
}
