//! Changes, undo and redo, over restarts.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up its file fails")]

mod common;

use common::*;
use plan::{Command, Plan};
use store::{Act, NewEntry, OnceKey, Options, Store, Verb};

#[test]
fn a_new_project_holds_its_plan_and_no_history() {
    let folder = tempfile::tempdir().unwrap();
    let store = make(folder.path());
    assert_eq!(*store.plan(), plan());
    assert_eq!((store.last_acknowledged(), store.undo_steps(), store.redo_steps()), (0, &[][..], &[][..]));
    store.close().unwrap();
    assert_eq!(*reopen(&project(folder.path())).plan(), plan());
}

#[test]
fn one_file_is_left_when_closed_beside_the_number() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    store.commit(&[put(10)]).unwrap();
    assert!(project(folder.path()).with_extension("standfast-wal").exists());
    store.close().unwrap();
    let mut names: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["river.standfast", "river.standfast-last"]);
}

#[test]
fn undo_and_redo_work_to_both_ends_after_every_restart() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let mut states: Vec<Plan> = vec![plan()];
    let mut store = make(folder.path());
    for id in 10..16 {
        store.commit(&[put(id)]).unwrap();
        states.push(store.plan().clone());
    }
    for step in (0..6).rev() {
        store.close().unwrap();
        store = reopen(&path);
        assert_eq!(store.undo_steps().last().unwrap().label, format!("put part {}", 10 + step));
        let receipt = take(&mut store, Act::Undo);
        assert_eq!(receipt.outcomes[0].as_ref().unwrap().label, format!("put part {}", 10 + step));
        assert_eq!(*store.plan(), states[step as usize]);
    }
    assert!(store.commit(&[entry("", Act::Undo)]).unwrap().outcomes[0].is_err());
    for state in &states[1..] {
        store.close().unwrap();
        store = reopen(&path);
        take(&mut store, Act::Redo);
        assert_eq!(store.plan(), state);
    }
    assert!(store.commit(&[entry("", Act::Redo)]).unwrap().outcomes[0].is_err());
    assert_eq!(store.last_acknowledged(), 18);
    let verbs: Vec<Verb> = store.history(6..=13).unwrap().iter().map(|e| e.verb).collect();
    assert_eq!(verbs[..2], [Verb::Do, Verb::Undo]);
    assert_eq!(verbs[6..], [Verb::Undo, Verb::Redo]);
}

#[test]
fn a_new_change_clears_what_could_be_made_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    store.commit(&[put(10), put(11)]).unwrap();
    take(&mut store, Act::Undo);
    assert_eq!(store.redo_steps().len(), 1);
    store.commit(&[put(12)]).unwrap();
    assert!(store.redo_steps().is_empty());
    store.close().unwrap();
    let store = reopen(&project(folder.path()));
    assert!(store.redo_steps().is_empty());
    assert_eq!(store.undo_steps().len(), 2);
}

#[test]
fn in_a_group_a_refused_entry_does_not_stop_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let nothing = entry("remove", Act::Do(Command::RemoveItem { id: plan::ItemId(99) }));
    let receipt = store.commit(&[put(10), nothing, put(11), entry("", Act::Undo)]).unwrap();
    let taken: Vec<bool> = receipt.outcomes.iter().map(Result::is_ok).collect();
    assert_eq!(taken, [true, false, true, true]);
    assert_eq!(receipt.last, 3);
    let now = store.plan().clone();
    store.close().unwrap();
    let store = reopen(&project(folder.path()));
    assert_eq!(*store.plan(), now);
    assert_eq!(store.plan().items.len(), 1);
}

#[test]
fn what_was_made_under_a_key_is_found_after_every_restart_and_in_copies() {
    let folder = tempfile::tempdir().unwrap();
    let key = |text: &str| OnceKey::new(text).unwrap();
    let under = |text: &str, entry: NewEntry| NewEntry { once: Some(key(text)), ..entry };
    let made = |store: &Store, text: &str| {
        let made = store.made_under(&key(text)).unwrap()?;
        Some((made.seq, made.entry.map(|entry| entry.label)))
    };
    let said = |seq: u64, label: &str| Some((seq, Some(label.to_owned())));
    let mut store = make(folder.path());
    let refused = entry("remove", Act::Do(Command::RemoveItem { id: plan::ItemId(99) }));
    let group = [under("a", put(10)), under("b", refused), rename(1), under("c", rename(2))];
    store.commit(&group).unwrap();
    store.commit(&[under("d", entry("", Act::Undo))]).unwrap();
    for round in 0..3 {
        assert_eq!(made(&store, "a"), said(1, "put part 10"), "{round}");
        assert_eq!(made(&store, "b"), None, "what was refused may be asked for again");
        assert_eq!(made(&store, "c"), said(3, "rename 2"));
        assert_eq!(made(&store, "d"), said(4, "rename 2"));
        if round == 1 {
            // Without closing: what is in the journal file counts.
            drop(store);
        } else {
            store.close().unwrap();
        }
        store = Store::open(&project(folder.path()), &Options::default()).unwrap().store;
    }
    let copy = folder.path().join("copy.standfast");
    store.backup(&copy).unwrap();
    assert_eq!(made(&reopen(&copy), "c"), said(3, "rename 2"));
    // Of what was forgotten the number is known still, so that it does not count twice.
    store.forget(3).unwrap();
    for _ in 0..2 {
        assert_eq!((made(&store, "a"), made(&store, "d")), (Some((1, None)), said(4, "rename 2")));
        store.close().unwrap();
        store = reopen(&project(folder.path()));
    }
}

#[test]
fn a_dropped_store_without_close_keeps_everything() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    store.commit(&[put(10)]).unwrap();
    drop(store);
    assert_eq!(reopen(&project(folder.path())).last_acknowledged(), 1);
}

#[test]
fn opening_replays_only_what_came_after_the_last_stored_state() {
    let folder = tempfile::tempdir().unwrap();
    let options = Options { snapshot_every: 10, ..Options::default() };
    let path = project(folder.path());
    let mut store = Store::create(&path, &plan(), NOW, &options).unwrap();
    for n in 0..57 {
        store.commit(&[rename(n)]).unwrap();
    }
    let hash = store.content_hash();
    store.close().unwrap();
    let db = rusqlite::Connection::open(&path).unwrap();
    let kept: Vec<u64> = db
        .prepare("SELECT seq FROM snapshot ORDER BY seq")
        .unwrap()
        .query_map([], |r| r.get(0))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    assert_eq!(kept, [0, 50, 57]);
    drop(db);
    let report = Store::restore_check(&path, &options).unwrap();
    assert!(report.is_whole(), "{report:?}");
    assert_eq!((report.last, report.content_hash), (57, hash));
}

#[test]
fn ids_are_not_given_twice_after_undo_and_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    store.commit(&[put(40), entry("", Act::Undo)]).unwrap();
    assert_eq!(store.plan().fresh_id(), 41);
    store.close().unwrap();
    assert_eq!(reopen(&project(folder.path())).plan().fresh_id(), 41);
}

#[test]
fn the_largest_id_of_all_survives_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let last = plan::Item { id: plan::ItemId(plan::MAX_ID), ..item(10) };
    let receipt = store.commit(&[entry("last", Act::Do(Command::PutItem { item: Box::new(last) }))]).unwrap();
    assert!(receipt.outcomes[0].is_ok(), "{receipt:?}");
    store.close().unwrap();
    assert_eq!(reopen(&project(folder.path())).plan().items.len(), 1);
}

#[test]
fn numbers_survive_to_the_last_bit() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let mut odd = item(10);
    odd.at = geometry::Point::new(0.1 + 0.2, -1.0e-300);
    odd.heading = units::Angle::deg(123.456_789_012_345_67);
    store.commit(&[entry("odd", Act::Do(Command::PutItem { item: Box::new(odd) }))]).unwrap();
    let was = store.plan().items[0].clone();
    store.close().unwrap();
    let store = reopen(&project(folder.path()));
    let now = &store.plan().items[0];
    assert_eq!((now.at.x.to_bits(), now.at.y.to_bits()), (was.at.x.to_bits(), was.at.y.to_bits()));
    assert_eq!(now.heading.to_deg().to_bits(), was.heading.to_deg().to_bits());
}

/// Ten parts of a section, shifted and turned: undo brings back each bit after a restart, and redo the shifted ones.
#[test]
fn a_shifted_section_survives_undo_redo_and_restarts_to_the_last_bit() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let id = plan::SectionId(8);
    let section = plan::Section { id, name: "A".into(), lead: "Ines".into() };
    let put = |n| Command::PutItem { item: Box::new(plan::Item { section: Some(id), ..item(n) }) };
    let steps = std::iter::once(Command::PutSection { section }).chain((10..20).map(put)).collect();
    store.commit(&[entry("section", Act::Do(Command::Together { steps }))]).unwrap();
    let bits = |plan: &Plan| -> Vec<[u64; 3]> {
        let of = |i: &plan::Item| [i.at.x.to_bits(), i.at.y.to_bits(), i.heading.to_deg().to_bits()];
        plan.items.iter().map(of).collect()
    };
    let drawn = bits(store.plan());
    let shift = Command::Shift {
        which: plan::Which::Section(id),
        east: units::Length::mm(12.1),
        north: units::Length::mm(-4.7),
        turn: units::Angle::deg(0.2),
        about: geometry::Point::new(0.3, 0.7),
    };
    take(&mut store, Act::Do(shift));
    let shifted = bits(store.plan());
    assert!(drawn.iter().zip(&shifted).all(|(a, b)| a != b));
    for (act, expected) in [(None, &shifted), (Some(Act::Undo), &drawn), (Some(Act::Redo), &shifted)] {
        if let Some(act) = act {
            take(&mut store, act);
        }
        store.close().unwrap();
        store = reopen(&project(folder.path()));
        assert_eq!(bits(store.plan()), *expected);
    }
    assert_eq!(store.undo_steps().len(), 2, "one step for the whole section");
    store.close().unwrap();
    // The history, made anew from the first state, says the same.
    let report = Store::restore_check(&project(folder.path()), &Options::default()).unwrap();
    assert!(report.is_whole(), "{report:?}");
}

#[test]
fn pictures_are_kept_once_and_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let bytes: Vec<u8> = (0..300_000u32).map(|i| (i.wrapping_mul(i) >> 3) as u8).collect();
    let sha = store.put_picture(&bytes).unwrap();
    assert_eq!(store.put_picture(&bytes).unwrap(), sha);
    store.close().unwrap();
    let store = reopen(&project(folder.path()));
    assert_eq!(store.picture(&sha).unwrap(), bytes);
    assert!(store.picture("00").is_err());
    assert!(std::fs::metadata(project(folder.path())).unwrap().len() < 400_000);
}
