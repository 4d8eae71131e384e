//! Compares a project with the model: the promises N1 to N4.

use std::path::Path;

use store::{Act, NewEntry, OpenNote, Options, Store};

use crate::Failed;
use crate::model::{Model, NOW};

/// The keys of so many of the last changes are looked at.
const KEYS: usize = 24;

/// What a course of changes was when it stopped.
#[derive(Debug, Clone)]
pub(crate) struct Stand {
    /// Everything acknowledged.
    pub(crate) acked: Model,
    /// The same with the group that was under way when it stopped; without one it is as `acked`.
    pub(crate) under_way: Model,
}

impl Stand {
    pub(crate) fn new(model: Model) -> Self {
        Self { under_way: model.clone(), acked: model }
    }
}

/// Whether two values are the same, or what they are.
pub(crate) fn same<T: PartialEq + std::fmt::Debug>(what: &str, have: T, want: T) -> Result<(), Failed> {
    if have == want { Ok(()) } else { Err(format!("{what}: {have:?} instead of {want:?}")) }
}

/// Opens the project after a fault and demands that nothing acknowledged is missing, nothing is half there,
/// and nothing needed to be said about a loss.
pub(crate) fn judge(path: &Path, options: &Options, stand: &Stand) -> Result<Store, Failed> {
    let opened = Store::open(path, options).map_err(|e| format!("it does not open: {e}"))?;
    if let Some(note) = opened.notes.iter().find(|n| n.is_serious()) {
        return Err(format!("it says \"{note}\", acknowledged were {} changes", stand.acked.last()));
    }
    let store = opened.store;
    let last = store.last_acknowledged();
    // N1 and N2: what was acknowledged, or that and the whole group under way.
    let model = match last {
        n if n == stand.acked.last() => &stand.acked,
        n if n == stand.under_way.last() => &stand.under_way,
        n => {
            return Err(format!(
                "it ends at {n}; acknowledged {}, under way {}",
                stand.acked.last(),
                stand.under_way.last()
            ));
        }
    };
    follows(&store, model)?;
    // A key is there exactly when its change is: what was not kept counts when it is sent again.
    for key in stand.under_way.keys.iter().skip(last as usize).flatten() {
        let made = store.made_under(key).map_err(|e| e.to_string())?;
        same("what was made under a key whose change was not kept", made, None)?;
    }
    Ok(store)
}

/// Whether plan, history and stacks are those of the model.
pub(crate) fn follows(store: &Store, model: &Model) -> Result<(), Failed> {
    let last = store.last_acknowledged();
    same("the last change", last, model.last())?;
    if store.plan() != model.plan() {
        return Err(format!("the plan after change {last} is another"));
    }
    let history = store.history(0..=u64::MAX).map_err(|e| e.to_string())?;
    let entries: Vec<_> = history.iter().map(|e| (e.label.clone(), e.verb)).collect();
    if entries != model.entries {
        return Err(format!("the history is another: {} entries", entries.len()));
    }
    if history.iter().enumerate().any(|(i, e)| e.seq != i as u64 + 1) {
        return Err("the history is not numbered in order".into());
    }
    for (i, key) in model.keys.iter().enumerate().rev().take(KEYS) {
        let Some(key) = key else { continue };
        let made = store.made_under(key).map_err(|e| e.to_string())?;
        let made = made.map(|made| (made.seq, made.entry.map(|entry| entry.label)));
        same("what was made under a key", made, Some((i as u64 + 1, Some(model.entries[i].0.clone()))))?;
    }
    same("the stacks", (store.undo_steps().len(), store.redo_steps().len()), model.depth())
}

/// N3: undo and redo work to both ends, and a full check agrees. Closes the project.
pub(crate) fn to_both_ends(
    mut store: Store,
    path: &Path,
    options: &Options,
    model: &Model,
) -> Result<(), Failed> {
    let mut model = model.clone();
    let (undo, redo) = model.depth();
    for (count, act) in [(redo, Act::Redo), (undo + redo, Act::Undo), (undo + redo, Act::Redo)] {
        let entry = NewEntry { at: NOW.into(), who: String::new(), label: String::new(), act, once: None };
        let group = vec![entry; count];
        let receipt = store.commit(&group).map_err(|e| format!("undo and redo: {e}"))?;
        if let Some(Err(refusal)) = receipt.outcomes.iter().find(|o| o.is_err()) {
            return Err(format!("undo and redo: {refusal}"));
        }
        if !group.iter().all(|entry| model.follow(entry)) {
            return Err("the model does not go to the end".into());
        }
        follows(&store, &model)?;
    }
    store.close().map_err(|e| format!("closing: {e}"))?;
    whole(path, options, &model)
}

/// A full check finds nothing wrong: pages, chain, replay = stored plan, pictures.
pub(crate) fn whole(path: &Path, options: &Options, model: &Model) -> Result<(), Failed> {
    let report = Store::restore_check(path, options).map_err(|e| format!("the full check: {e}"))?;
    if !report.is_whole() {
        return Err(format!("the full check found {:?} {:?}", report.problems, report.notes));
    }
    same("the last change in the full check", report.last, model.last())
}

/// True when the user is told that something is missing or damaged.
pub(crate) fn is_said(notes: &[OpenNote]) -> bool {
    notes.iter().any(OpenNote::is_serious)
}
