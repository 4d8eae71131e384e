//! By hand between what travels and what the plan and the desk know, so that neither leaks into the other.

pub(crate) mod arrange;
pub(crate) mod cells;
pub(crate) mod change;
pub(crate) mod columns;
pub(crate) mod draft;
pub(crate) mod feed;
mod gear;
pub(crate) mod hall;
pub(crate) mod matching;
pub(crate) mod reading;
pub(crate) mod said;
mod scene;
pub(crate) mod section;
pub(crate) mod sheets;
pub(crate) mod state;
pub(crate) mod stock;
pub(crate) mod taped;
pub(crate) mod timed;
pub(crate) mod trial;
pub(crate) mod wish;

use desk::{DeskError, Earlier, Receipt, Snapshot};
use plan::ItemId;
use sayings::{refusing, say};

use self::said::label_said;
use crate::answer::Refusal;
use crate::wire;
use axum::http::StatusCode;

/// A count as it travels; the plan's own limits keep it far below the largest.
pub(crate) fn count(n: impl TryInto<u32>) -> u32 {
    n.try_into().unwrap_or(u32::MAX)
}

/// Ids of items with commas between them, from an address; `what` names them in the refusal.
pub(crate) fn ids(list: &str, what: &str) -> Result<Vec<ItemId>, Refusal> {
    let ids: Option<Vec<_>> = list.split(',').map(|text| text.parse().map(ItemId).ok()).collect();
    ids.ok_or_else(|| Refusal::bad("query", say!(refusing::IDS, list = list, what = what)))
}

/// The last change that is on disk.
pub(crate) fn saved(snapshot: &Snapshot) -> wire::Saved {
    wire::Saved { change: count(snapshot.change), at: snapshot.at.clone(), writable: snapshot.writable }
}

/// A change that has just come on disk.
pub(crate) fn saved_now(receipt: &Receipt) -> wire::Saved {
    wire::Saved { change: count(receipt.change), at: receipt.at.clone(), writable: true }
}

/// Answer to a change.
pub(crate) fn done(receipt: Receipt) -> wire::Done {
    wire::Done {
        saved: saved_now(&receipt),
        label_said: label_said(&receipt.label),
        label: receipt.label.words().to_owned(),
        added: receipt.added,
        items: Vec::new(),
        notes: Vec::new(),
    }
}

/// The same of a change that was made before its answer was asked for again: what was noted beside it is not known any more.
pub(crate) fn done_earlier(earlier: Earlier) -> wire::Done {
    wire::Done {
        saved: wire::Saved { change: count(earlier.change), at: earlier.at, writable: true },
        label_said: label_said(&earlier.label),
        label: earlier.label.words().to_owned(),
        added: earlier.added,
        items: earlier.items,
        notes: Vec::new(),
    }
}

/// A part of the list of steps.
pub(crate) fn steps(steps: desk::Steps) -> wire::Steps {
    let row = |row: desk::StepRow| wire::StepRow {
        change: count(row.change),
        at: row.at,
        who: row.who,
        label_said: label_said(&row.label),
        label: row.label.words().to_owned(),
        did: match row.verb {
            desk::Verb::Do => wire::Did::Do,
            desk::Verb::Undo => wire::Did::Undo,
            desk::Verb::Redo => wire::Did::Redo,
        },
        undo: row.undo.map(count),
        redo: row.redo.map(count),
    };
    wire::Steps {
        rows: steps.rows.into_iter().map(row).collect(),
        all: count(steps.all),
        undo: count(steps.undo),
        redo: count(steps.redo),
        weight: weight(steps.forgotten, steps.weight),
        forgotten: count(steps.forgotten),
    }
}

/// How much steps hold, up to a change.
pub(crate) fn weight(upto: u64, weight: desk::Weight) -> wire::StepsWeight {
    wire::StepsWeight { upto: count(upto), steps: count(weight.steps), bytes: weight.bytes as f64 }
}

/// What the desk could not do.
pub(crate) fn refusal(error: DeskError) -> Refusal {
    let status = match &error {
        DeskError::Missing { .. } => StatusCode::NOT_FOUND,
        DeskError::Match(_)
        | DeskError::Busy(_)
        | DeskError::StockTooSmall(_)
        | DeskError::NothingTo(_)
        | DeskError::Changed
        | DeskError::Stopped => StatusCode::CONFLICT,
        DeskError::NotSaved(_) => StatusCode::SERVICE_UNAVAILABLE,
        DeskError::Store(_) => StatusCode::INTERNAL_SERVER_ERROR,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    Refusal::new(status, error.code(), error.said())
}
