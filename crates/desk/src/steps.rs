//! The steps that were taken, in words, and how far each lies from where the plan is now.

use store::{Step, Store, Verb, Weight};

use crate::error::DeskError;
use crate::label::Label;
use crate::office::Desk;

/// A step, as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepRow {
    /// Its number in the journal.
    pub change: u64,
    /// When it came on disk, UTC.
    pub at: String,
    /// Who took it.
    pub who: String,
    /// What was done; for undo and redo the words of the change that they led to.
    pub label: Label,
    /// Whether it is a change, one taken back, or one made again.
    pub verb: Verb,
    /// How many undo steps lead to the plan as it was right after this step; `None` when undo does not lead there.
    pub undo: Option<usize>,
    /// How many redo steps make this step again; `None` when it was not taken back, or something came in between.
    pub redo: Option<usize>,
}

/// A part of a list of steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Steps {
    /// The rows that were asked for.
    pub rows: Vec<StepRow>,
    /// How many rows there are in all.
    pub all: u64,
    /// How many changes can be taken back.
    pub undo: usize,
    /// How many changes can be made again.
    pub redo: usize,
    /// How much the whole history holds.
    pub weight: Weight,
    /// The last change that was forgotten; 0 while the history is whole.
    pub forgotten: u64,
}

/// What would be forgotten of the history.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Older {
    /// The last of it, or what is forgotten already.
    pub upto: u64,
    /// How much it holds.
    pub weight: Weight,
}

/// Which list of steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepList {
    /// What can be made again, the farthest first, then what stands, the newest first: the way that undo and redo go.
    Course,
    /// Every entry of the journal, the newest first.
    Journal,
}

impl Desk {
    /// A part of a list of steps: at most `most` rows after the first `skip`.
    ///
    /// # Errors
    /// When the project is closed or the disk does not give its journal.
    pub fn steps(&self, list: StepList, skip: u64, most: u64) -> Result<Steps, DeskError> {
        self.with_store(|store| {
            let (rows, all) = match list {
                StepList::Course => course(store, skip, most),
                StepList::Journal => {
                    (journal(store, skip, most)?, store.last_acknowledged() - store.forgotten())
                }
            };
            Ok(Steps {
                rows,
                all,
                undo: store.undo_steps().len(),
                redo: store.redo_steps().len(),
                weight: store.weight(0..=store.last_acknowledged())?,
                forgotten: store.forgotten(),
            })
        })
    }

    /// What of the history was made before a time, UTC in the form `2026-05-01T14:03:22Z`. The last step is never among it.
    ///
    /// # Errors
    /// When the project is closed or the disk does not give its journal.
    pub fn steps_before(&self, at: &str) -> Result<Older, DeskError> {
        self.with_store(|store| {
            let last = store.last_acknowledged().saturating_sub(1);
            let upto = store.last_before(at)?.min(last).max(store.forgotten());
            Ok(Older { upto, weight: store.weight(0..=upto)? })
        })
    }

    /// Forgets the steps up to a change, and hands back how much that was: they cannot be taken back any more, and neither
    /// can this. The plan stays as it is.
    ///
    /// # Errors
    /// When the project is closed or its file could not be written. Then nothing is forgotten.
    pub fn forget_steps(&self, upto: u64) -> Result<Weight, DeskError> {
        self.with_history(|store| Ok(store.forget(upto)?))
    }
}

fn course(store: &Store, skip: u64, most: u64) -> (Vec<StepRow>, u64) {
    let (undo, redo) = (store.undo_steps(), store.redo_steps());
    let row = |step: &Step, verb, undo, redo| StepRow {
        change: step.seq,
        at: step.at.clone(),
        who: step.who.clone(),
        label: Label::of_kept(&step.label),
        verb,
        undo,
        redo,
    };
    let again = redo.iter().enumerate().map(|(i, s)| row(s, Verb::Undo, None, Some(redo.len() - i)));
    let stands = undo.iter().rev().enumerate().map(|(i, s)| row(s, Verb::Do, Some(i), None));
    let (skip, most) = (to_index(skip), to_index(most));
    (again.chain(stands).skip(skip).take(most).collect(), (undo.len() + redo.len()) as u64)
}

fn journal(store: &Store, skip: u64, most: u64) -> Result<Vec<StepRow>, DeskError> {
    let Some(end) = store.last_acknowledged().checked_sub(skip).filter(|&end| end > 0 && most > 0) else {
        return Ok(Vec::new());
    };
    // Numbers grow in both stacks, as each entry that comes onto one is the newest.
    let depth = |stack: &[Step], seq| {
        stack.binary_search_by_key(&seq, |s| s.seq).ok().map(|place| stack.len() - 1 - place)
    };
    let entries = store.history(end.saturating_sub(most - 1).max(1)..=end)?;
    let row = |e: store::HistoryEntry| StepRow {
        undo: depth(store.undo_steps(), e.seq),
        redo: depth(store.redo_steps(), e.seq).map(|depth| depth + 1),
        change: e.seq,
        at: e.at,
        who: e.who,
        label: Label::of_kept(&e.label),
        verb: e.verb,
    };
    Ok(entries.into_iter().rev().map(row).collect())
}

fn to_index(n: u64) -> usize {
    usize::try_from(n).unwrap_or(usize::MAX)
}
