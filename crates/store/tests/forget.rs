//! Shortening the history: what stays is the plan, bit by bit, and every later step; what went is gone for good.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up its file fails")]

mod common;

use common::*;
use store::{Act, NewEntry, Options, Store, Weight};

/// A project of thirty changes, some of them taken back and made again: entries 1 to 34.
fn long(folder: &std::path::Path) -> Store {
    let mut store = make(folder);
    (10..36).for_each(|id| drop(store.commit(&[put(id)]).unwrap()));
    for act in [Act::Undo, Act::Undo, Act::Redo, Act::Undo] {
        take(&mut store, act);
    }
    (40..43).for_each(|id| drop(store.commit(&[put(id)]).unwrap()));
    take(&mut store, Act::Undo);
    store
}

fn labels(steps: &[store::Step]) -> Vec<String> {
    steps.iter().map(|s| s.label.clone()).collect()
}

#[test]
fn the_plan_and_every_later_step_stay_as_they_are_over_a_restart() {
    // Also where an undo and a redo are kept whose changes are forgotten.
    for upto in [1, 20, 25, 26, 27, 28, 29, 30, 33] {
        let folder = tempfile::tempdir().unwrap();
        let path = project(folder.path());
        let mut store = long(folder.path());
        let (plan, hash, last) = (store.plan().clone(), store.content_hash(), store.last_acknowledged());
        let (undo, redo) = (labels(store.undo_steps()), labels(store.redo_steps()));
        assert_eq!((last, store.forgotten()), (34, 0));
        let all = store.weight(1..=last).unwrap();
        let gone = store.forget(upto).unwrap();
        assert_eq!((gone.steps, store.forgotten()), (upto, upto));
        let left = store.weight(1..=last).unwrap();
        assert_eq!(Weight { steps: gone.steps + left.steps, bytes: gone.bytes + left.bytes }, all);
        for again in 0..2 {
            assert_eq!(
                (store.plan(), store.content_hash(), store.last_acknowledged()),
                (&plan, hash.clone(), last)
            );
            assert!(
                undo.ends_with(&labels(store.undo_steps())) && redo.ends_with(&labels(store.redo_steps()))
            );
            assert_eq!(store.history(1..=last).unwrap().first().unwrap().seq, upto + 1);
            if again == 0 {
                store.close().unwrap();
                let report = Store::restore_check(&path, &Options::default()).unwrap();
                assert!(report.is_whole(), "{upto}: {report:?}");
                store = reopen(&path);
                assert_eq!(store.forgotten(), upto);
            }
        }
        // To both ends of what is left and back.
        let (back, on) = (store.undo_steps().len(), store.redo_steps().len());
        (0..back).for_each(|_| drop(take(&mut store, Act::Undo)));
        assert!(store.commit(&[entry("", Act::Undo)]).unwrap().outcomes[0].is_err());
        (0..back).for_each(|_| drop(take(&mut store, Act::Redo)));
        assert_eq!((store.content_hash(), store.redo_steps().len()), (hash, on));
        store.commit(&[put(90)]).unwrap();
        let copy = folder.path().join("copy.standfast");
        store.backup(&copy).unwrap();
        assert_eq!(*reopen(&copy).plan(), *store.plan());
    }
}

#[test]
fn the_last_entry_always_stays_and_a_second_shortening_goes_on_from_the_first() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let mut store = long(folder.path());
    assert_eq!(store.forget(0).unwrap(), Weight::default());
    store.forget(12).unwrap();
    assert_eq!(store.forget(12).unwrap(), Weight::default());
    store.close().unwrap();
    let mut store = reopen(&path);
    assert_eq!(store.forget(u64::MAX).unwrap().steps, 21);
    assert_eq!((store.forgotten(), store.last_at()), (33, NOW));
    store.close().unwrap();
    let store = reopen(&path);
    assert_eq!((store.forgotten(), store.last_acknowledged(), store.last_at()), (33, 34, NOW));
}

#[test]
fn the_file_grows_smaller_and_stored_states_come_and_go_as_before() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let options = Options { snapshot_every: 5, ..Options::default() };
    let mut store = Store::create(&path, &plan(), NOW, &options).unwrap();
    let size = || std::fs::metadata(&path).unwrap().len();
    for n in 0..300 {
        store.commit(&[put(10 + n % 7), rename(n as usize)]).unwrap();
    }
    store.close().unwrap();
    let before = size();
    let mut store = Store::open(&path, &options).unwrap().store;
    store.forget(590).unwrap();
    (0..30).for_each(|n| drop(store.commit(&[rename(1000 + n)]).unwrap()));
    store.close().unwrap();
    assert!(size() * 2 < before, "{} of {before} bytes are left", size());
    // The state with which the history begins is there still: all of it is replayed from there.
    let report = Store::restore_check(&path, &options).unwrap();
    assert!(report.is_whole(), "{report:?}");
    let opened = Store::open(&path, &options).unwrap();
    assert_eq!((opened.notes.len(), opened.store.plan().name.as_str()), (0, "Name 1029"));
    assert_eq!((opened.store.forgotten(), opened.store.undo_steps().len()), (590, 40));
}

#[test]
fn what_is_older_than_a_time_ends_before_the_first_entry_of_that_time() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    for (id, day) in [(10, 1), (11, 3), (12, 2), (13, 4)] {
        let at = format!("2026-05-0{day}T12:00:00Z");
        store.commit(&[NewEntry { at, ..put(id) }]).unwrap();
    }
    // A clock that went back makes nothing older: the order is that of the numbers.
    for (at, last) in
        [("2026-05-01T00:00:00Z", 0), ("2026-05-02T00:00:00Z", 1), ("2026-05-04T00:00:00Z", 3), ("2027", 4)]
    {
        assert_eq!(store.last_before(at).unwrap(), last, "{at}");
    }
}

#[test]
fn a_history_that_does_not_lead_to_the_plan_is_not_shortened() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let mut store = long(folder.path());
    store.close().unwrap();
    let db = rusqlite::Connection::open(&path).unwrap();
    db.execute("UPDATE journal SET who = 'Somebody' WHERE seq = 7", []).unwrap();
    drop(db);
    store = Store::open(&path, &Options::default()).unwrap().store;
    assert!(store.forget(20).is_err());
    assert_eq!(store.forgotten(), 0);
}
