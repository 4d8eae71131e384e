//! How right a field is: difference cell by cell, difference as seen, and changes along the lanes.

use colour::{EyeBlur, FieldWanted};
use plan::{EMPTY, Item, ItemId, Plan};

use crate::error::DeskError;
use crate::matching::{eye, wanted_field};
use crate::pace::{Hours, hours_for};
use crate::palette::Choice;
use crate::pictures::{PictureBank, PictureSource};

/// How right a field is, and what it asks of those who lay it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FieldMeasure {
    /// Which field.
    pub item: ItemId,
    /// Pieces.
    pub pieces: u64,
    /// Runs of one colour over all lanes; a skip ends a run.
    pub runs: u64,
    /// Changes of colour over all lanes.
    pub changes: u64,
    /// Mean runs a lane.
    pub runs_per_lane: f64,
    /// Mean CIEDE2000 cell by cell; 0 without a picture.
    pub difference: f64,
    /// Mean CIEDE2000 after the blur of the eye; 0 without a picture.
    pub difference_seen: f64,
    /// True when single pieces are seen from the wished distance.
    pub seen_singly: bool,
    /// True when there is a picture to compare with.
    pub has_picture: bool,
    /// Net person-hours to lay it.
    pub hours: Hours,
}

/// Measures cells in picture order, given as palette indices of `field`.
pub(crate) fn measure(item: ItemId, field: &FieldWanted, cells: &[u16], eye: &EyeBlur) -> FieldMeasure {
    let lanes = match field.runs_along {
        colour::Axis::Cols => field.rows,
        colour::Axis::Rows => field.cols,
    };
    let pieces = cells.iter().filter(|&&c| c != colour::EMPTY).count() as u64;
    let runs = colour::runs(field, cells);
    FieldMeasure {
        item,
        pieces,
        runs: runs.runs,
        changes: runs.changes,
        runs_per_lane: runs.runs as f64 / f64::from(lanes.max(1)),
        difference: colour::mean_difference(field, cells),
        difference_seen: colour::mean_difference_seen(field, cells, eye.eye),
        seen_singly: eye.seen_singly,
        has_picture: true,
        hours: hours_for(pieces, runs.changes),
    }
}

/// Measures a field of the plan as it is laid; `None` when the item is not a field.
pub fn measure_field(
    plan: &Plan,
    item: &Item,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<Option<FieldMeasure>, DeskError> {
    let Some(field) = item.field() else { return Ok(None) };
    let choice = Choice::of(plan, &[field.kind], &[item.id]);
    let Some(wanted) = wanted_field(plan, field, &choice, bank, source, &|_| true)? else {
        return Ok(Some(plain(item)));
    };
    let map = field.frame.map();
    let index = |c: u16| {
        if c == EMPTY {
            colour::EMPTY
        } else {
            choice.index(field.kind, plan::ColourId(c)).unwrap_or(colour::EMPTY)
        }
    };
    let largest = field.cells.as_slice().iter().copied().max().unwrap_or(0);
    let table: Vec<u16> = (0..=largest).map(index).collect();
    let cells: Vec<u16> =
        map.to_picture(field.cells.as_slice()).into_iter().map(|c| table[usize::from(c)]).collect();
    Ok(Some(measure(item.id, &wanted, &cells, &eye(field))))
}

/// A field without a picture still has pieces, runs and hours.
fn plain(item: &Item) -> FieldMeasure {
    let Some(field) = item.field() else { unreachable!("asked for fields only") };
    let (mut runs, mut changes, mut pieces) = (0u64, 0u64, 0u64);
    for lane in field.cells.as_slice().chunks(field.frame.ranks.max(1) as usize) {
        let mut last = EMPTY;
        for &c in lane {
            runs += u64::from(c != EMPTY && c != last);
            changes += u64::from(c != EMPTY && last != EMPTY && c != last);
            pieces += u64::from(c != EMPTY);
            last = c;
        }
    }
    let lanes = u64::from(field.frame.lanes);
    FieldMeasure {
        item: item.id,
        pieces,
        runs,
        changes,
        runs_per_lane: runs as f64 / lanes.max(1) as f64,
        difference: 0.0,
        difference_seen: 0.0,
        seen_singly: false,
        has_picture: false,
        hours: hours_for(pieces, changes),
    }
}
