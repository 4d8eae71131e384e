//! Damage, loss, copies and files that are not ours: each is said, and none destroys anything.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up its file fails")]

mod common;

use std::fs;
use std::path::Path;

use common::*;
use store::{Act, NewEntry, OnceKey, OpenNote, Options, Store, StoreError, promise_path};

fn open(path: &Path) -> Result<store::Opened, StoreError> {
    Store::open(path, &Options::default())
}

/// Changes the closed file by a statement, as damage that SQLite itself does not see.
fn tamper(path: &Path, sql: &str) {
    let db = rusqlite::Connection::open(path).unwrap();
    db.execute_batch(sql).unwrap();
}

fn filled(folder: &Path, changes: u32) -> std::path::PathBuf {
    let options = Options { snapshot_every: 4, ..Options::default() };
    let mut store = Store::create(&project(folder), &plan(), NOW, &options).unwrap();
    for id in 0..changes {
        store.commit(&[put(10 + id)]).unwrap();
    }
    store.close().unwrap();
    project(folder)
}

#[test]
fn a_project_cannot_be_opened_twice_in_one_process() {
    let folder = tempfile::tempdir().unwrap();
    let store = make(folder.path());
    let link = folder.path().join("link.standfast");
    std::os::unix::fs::symlink(store.path(), &link).unwrap();
    for path in [store.path(), &link, &folder.path().join(".").join("river.standfast")] {
        assert!(matches!(open(path), Err(StoreError::InUse { by: "in this program", .. })), "{path:?}");
    }
    drop(store);
    open(&link).unwrap();
}

#[test]
fn a_newer_format_is_refused_and_left_untouched() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 2);
    tamper(&path, "PRAGMA user_version = 3");
    let before = fs::read(&path).unwrap();
    let error = open(&path).unwrap_err();
    assert!(matches!(error, StoreError::Newer { found: 3, known: 2, .. }), "{error}");
    assert!(error.to_string().ends_with("river.standfast"), "{error}");
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn a_changed_word_in_the_history_is_said_and_the_plan_stays_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 10);
    tamper(&path, "UPDATE journal SET who = 'Nobody' WHERE seq = 3");
    let opened = open(&path).unwrap();
    let OpenNote::Damaged { what, ends_at: 10, plan_whole: true } = &opened.notes[0] else {
        panic!("{:?}", opened.notes)
    };
    assert!(what.contains("change 3"), "{what}");
    assert_eq!(opened.store.plan().items.len(), 10);
    let mut store = opened.store;
    assert!(matches!(store.commit(&[put(50)]), Err(StoreError::ReadOnly { .. })));
    let copy = folder.path().join("copy.standfast");
    store.save_copy(&copy, NOW).unwrap();
    assert_eq!(reopen(&copy).plan(), store.plan());
}

#[test]
fn a_damaged_change_after_the_last_stored_state_ends_the_plan_before_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 10);
    // The states after 8 and 10 go, so that the plan must be replayed from 0 and stops before 7.
    tamper(&path, "DELETE FROM snapshot WHERE seq > 0; UPDATE journal SET command = x'7b7d' WHERE seq = 7");
    let opened = open(&path).unwrap();
    assert!(
        opened.notes.iter().any(|n| matches!(n, OpenNote::Damaged { ends_at: 6, plan_whole: false, .. })),
        "{:?}",
        opened.notes
    );
    assert!(
        opened.notes.iter().any(|n| matches!(n, OpenNote::Lost { ends_at: 6, promised: 10, .. })),
        "{:?}",
        opened.notes
    );
    assert_eq!(opened.store.plan().items.len(), 6);
}

#[test]
fn a_head_that_forbids_writing_is_said_and_the_plan_can_be_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 3);
    let mut bytes = fs::read(&path).unwrap();
    bytes[18] = 0x41;
    fs::write(&path, &bytes).unwrap();
    let opened = open(&path).unwrap();
    assert!(matches!(opened.notes[..], [OpenNote::Damaged { plan_whole: true, .. }]), "{:?}", opened.notes);
    let copy = folder.path().join("copy.standfast");
    opened.store.save_copy(&copy, NOW).unwrap();
    assert_eq!(reopen(&copy).plan(), opened.store.plan());
    drop(opened);
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

#[test]
fn a_lost_tail_is_said_by_the_file_itself() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 10);
    fs::remove_file(promise_path(&path)).unwrap();
    tamper(&path, "DELETE FROM journal WHERE seq > 7; DELETE FROM snapshot WHERE seq > 7");
    let opened = open(&path).unwrap();
    assert_eq!(opened.notes, [OpenNote::Lost { ends_at: 7, ends_when: NOW.into(), promised: 10 }]);
    let words = opened.notes[0].to_string();
    assert!(words.contains("ends at change 7 ") && words.contains("change 10 was saved"), "{words}");
}

#[test]
fn an_older_copy_put_in_place_is_said_by_the_number_beside_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 5);
    let older = fs::read(&path).unwrap();
    let mut store = reopen(&path);
    store.commit(&[put(90), put(91), put(92)]).unwrap();
    store.close().unwrap();
    fs::write(&path, &older).unwrap();
    let opened = open(&path).unwrap();
    assert_eq!(opened.notes, [OpenNote::Lost { ends_at: 5, ends_when: NOW.into(), promised: 8 }]);
    // After the next change here the old number does not count any more.
    let mut store = opened.store;
    store.commit(&[put(95)]).unwrap();
    store.close().unwrap();
    reopen(&path).close().unwrap();
}

#[test]
fn another_course_of_the_same_project_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 5);
    let older = fs::read(&path).unwrap();
    let elsewhere = folder.path().join("elsewhere.standfast");
    fs::write(&elsewhere, &older).unwrap();
    let mut store = reopen(&path);
    store.commit(&[put(90)]).unwrap();
    store.close().unwrap();
    let mut store = reopen(&elsewhere);
    store.commit(&[put(91), put(92)]).unwrap();
    store.close().unwrap();
    fs::copy(&elsewhere, &path).unwrap();
    assert_eq!(open(&path).unwrap().notes, [OpenNote::OtherHistory { at: 6 }]);
}

#[test]
fn a_copy_without_its_journal_file_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    store.commit(&[put(10), put(11)]).unwrap();
    let copy = folder.path().join("copy.standfast");
    // Another process copies: here a child, since no ordinary call of this one may touch the open file.
    let done = std::process::Command::new("cp").arg(store.path()).arg(&copy).status().unwrap();
    assert!(done.success());
    let opened = open(&copy).unwrap();
    assert_eq!(opened.notes, [OpenNote::WithoutWal { ends_at: 0 }]);
    drop(opened);
    store.commit(&[put(12)]).unwrap();
    store.close().unwrap();
    assert_eq!(reopen(&project(folder.path())).last_acknowledged(), 3);
}

#[test]
fn a_file_marked_read_only_opens_for_reading() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 3);
    let mut rights = fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    fs::set_permissions(&path, rights).unwrap();
    let before = fs::read(&path).unwrap();
    let opened = open(&path).unwrap();
    assert!(matches!(opened.notes[..], [OpenNote::ReadOnly { .. }]), "{:?}", opened.notes);
    let mut store = opened.store;
    assert_eq!(store.plan().items.len(), 3);
    assert!(matches!(store.commit(&[put(50)]), Err(StoreError::ReadOnly { .. })));
    let copy = folder.path().join("copy.standfast");
    assert_eq!(store.save_copy(&copy, NOW).unwrap(), 3);
    store.close().unwrap();
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(reopen(&copy).last_acknowledged(), 3);
}

#[test]
fn a_backup_is_the_same_project_and_replaces_only_its_like() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = make(folder.path());
    let sha = store.put_picture(b"not really a picture").unwrap();
    store.commit(&[put(10), put(11)]).unwrap();
    let to = folder.path().join("backup.standfast");
    assert_eq!(store.backup(&to).unwrap(), 2);
    take(&mut store, Act::Undo);
    assert_eq!(store.backup(&to).unwrap(), 3);
    let report = Store::restore_check(&to, &Options::default()).unwrap();
    assert!(report.is_whole(), "{report:?}");
    assert_eq!((report.content_hash, report.pictures), (store.content_hash(), 1));
    let copy = reopen(&to);
    assert_eq!((copy.plan(), copy.project()), (store.plan(), store.project()));
    assert_eq!(copy.redo_steps().len(), 1);
    assert_eq!(copy.picture(&sha).unwrap(), b"not really a picture");
    // Open here: refused. The project itself: refused.
    assert!(matches!(store.backup(&to), Err(StoreError::InUse { .. })));
    assert!(matches!(store.backup(store.path()), Err(StoreError::InUse { .. })));
    drop(copy);
    let text = folder.path().join("notes.txt");
    fs::write(&text, "Ask Tomas about the bridge.").unwrap();
    assert!(matches!(store.backup(&text), Err(StoreError::Exists { .. })));
    assert_eq!(fs::read_to_string(&text).unwrap(), "Ask Tomas about the bridge.");
    assert!(!folder.path().join("backup.standfast.part").exists());
}

#[test]
fn making_a_project_never_replaces_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    fs::write(&path, "something").unwrap();
    let make = || Store::create(&path, &plan(), NOW, &Options::default());
    assert!(matches!(make(), Err(StoreError::Exists { .. })));
    assert_eq!(fs::read_to_string(&path).unwrap(), "something");
    fs::remove_file(&path).unwrap();
    // A journal file of a project that is gone would be taken for the new one's.
    let left = folder.path().join("river.standfast-wal");
    fs::write(&left, "left over").unwrap();
    assert!(matches!(make(), Err(StoreError::Exists { path, .. }) if path == left));
}

#[test]
fn a_full_file_refuses_and_goes_on_once_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    make(folder.path()).close().unwrap();
    let options = Options { max_pages: Some(40), ..Options::default() };
    let mut store = Store::open(&path, &options).unwrap().store;
    let key = |id: u32| OnceKey::new(&format!("key-{id}")).unwrap();
    let keyed = |id: u32| NewEntry { once: Some(key(id)), ..put(id) };
    let mut id = 10;
    let error = loop {
        let before = store.plan().clone();
        match store.commit(&[put(id), keyed(id + 1)]) {
            Ok(_) => id += 2,
            Err(e) => {
                assert_eq!(*store.plan(), before);
                break e;
            }
        }
    };
    assert!(matches!(error, StoreError::DiskFull { .. }), "{error}");
    assert!(error.may_be_tried_again());
    let (plan, last) = (store.plan().clone(), store.last_acknowledged());
    store.save_copy(&folder.path().join("copy.standfast"), NOW).unwrap();
    drop(store);
    let opened = open(&path).unwrap();
    assert!(opened.notes.iter().all(|n| !n.is_serious()), "{:?}", opened.notes);
    let mut store = opened.store;
    assert_eq!((store.plan(), store.last_acknowledged()), (&plan, last));
    assert_eq!(store.made_under(&key(id + 1)).unwrap(), None, "what was not kept may be sent again");
    assert_eq!(store.made_under(&key(id - 1)).unwrap().map(|made| made.seq), Some(last));
    store.commit(&[put(id), keyed(id + 1)]).unwrap();
    store.close().unwrap();
    let store = reopen(&path);
    assert_eq!(store.last_acknowledged(), last + 2);
    assert_eq!(store.made_under(&key(id + 1)).unwrap().map(|made| made.seq), Some(last + 2));
}

#[test]
fn damaged_picture_bytes_are_said_and_can_be_put_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = filled(folder.path(), 1);
    let mut store = reopen(&path);
    let sha = store.put_picture(b"pixels").unwrap();
    store.close().unwrap();
    tamper(&path, "UPDATE picture SET bytes = x'00'");
    let report = Store::restore_check(&path, &Options::default()).unwrap();
    assert!(!report.is_whole() && report.problems[0].contains(&sha), "{report:?}");
    let mut store = reopen(&path);
    assert!(matches!(store.picture(&sha), Err(StoreError::Damaged { .. })));
    assert_eq!(store.put_picture(b"pixels").unwrap(), sha);
    assert_eq!(store.picture(&sha).unwrap(), b"pixels");
}

#[test]
fn a_stored_plan_that_the_gate_would_refuse_is_not_shown() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let mut bad = plan();
    bad.items = vec![item(12), item(11)];
    let error = Store::create(&path, &bad, NOW, &Options::default()).unwrap_err();
    assert!(matches!(error, StoreError::BadPlan { .. }), "{error}");
    assert!(!path.exists());
}
