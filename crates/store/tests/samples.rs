//! Stored samples of what earlier programs wrote: every command of the journal's format, and a file of format 0.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up its file fails")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::*;
use plan::Command;
use store::{OpenNote, Options, Report, Store};

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name)
}

/// The name of a command in the journal. A new variant does not compile until it has a line here and a sample.
fn word(command: &Command) -> &'static str {
    match command {
        Command::Together { .. } => "together",
        Command::Rename { .. } => "rename",
        Command::SetHall { .. } => "set-hall",
        Command::ReplaceStock { .. } => "replace-stock",
        Command::PutKind { .. } => "put-kind",
        Command::RemoveKind { .. } => "remove-kind",
        Command::PutColour { .. } => "put-colour",
        Command::RemoveColour { .. } => "remove-colour",
        Command::PutLot { .. } => "put-lot",
        Command::RemoveLot { .. } => "remove-lot",
        Command::PutGear { .. } => "put-gear",
        Command::RemoveGear { .. } => "remove-gear",
        Command::PutSurface { .. } => "put-surface",
        Command::RemoveSurface { .. } => "remove-surface",
        Command::PutSection { .. } => "put-section",
        Command::RemoveSection { .. } => "remove-section",
        Command::PutPicture { .. } => "put-picture",
        Command::RemovePicture { .. } => "remove-picture",
        Command::PutItem { .. } => "put-item",
        Command::RemoveItem { .. } => "remove-item",
        Command::MoveItem { .. } => "move-item",
        Command::Shift { .. } => "shift",
        Command::SetFrame { .. } => "set-frame",
        Command::UsePicture { .. } => "use-picture",
        Command::SetWish { .. } => "set-wish",
        Command::Lay { .. } => "lay",
        Command::Paint { .. } => "paint",
        Command::Restore { .. } => "restore",
    }
}

const WORDS: usize = 28;

#[test]
fn every_command_of_the_first_format_reads_and_writes_as_it_was_stored() {
    // Commands that came later stand in a file of their own: what was stored is not edited.
    let text = ["commands-1.jsonl", "commands-1-shift.jsonl"].map(|f| fs::read_to_string(data(f)).unwrap());
    let mut seen = Vec::new();
    for line in text.iter().flat_map(|t| t.lines()) {
        let command: Command = serde_json::from_str(line).unwrap_or_else(|e| panic!("{e}: {line}"));
        assert_eq!(serde_json::to_string(&command).unwrap(), line);
        assert!(line.starts_with(&format!("{{\"do\":\"{}\"", word(&command))), "{line}");
        seen.push(word(&command));
    }
    seen.sort_unstable();
    seen.dedup();
    assert_eq!(seen.len(), WORDS, "a sample of every command, none missing: {seen:?}");
}

/// The commands of the first format, and after them those with the sorts of items and the commands that came later.
fn course() -> Vec<store::NewEntry> {
    let files = [
        "commands-1.jsonl",
        "commands-1-lines.jsonl",
        "commands-1-shift.jsonl",
        "commands-1-signs.jsonl",
        "commands-1-slopes.jsonl",
    ];
    let text = files.map(|f| fs::read_to_string(data(f)).unwrap());
    let lines = text.iter().flat_map(|t| t.lines());
    lines.map(|line| entry(line, store::Act::Do(serde_json::from_str(line).unwrap()))).collect()
}

/// Reads each command and writes it again, which must give the same text; the sorts of the items that are put.
fn sorts_of(text: &str) -> Vec<&'static str> {
    let mut sorts = std::collections::BTreeSet::new();
    for line in text.lines() {
        let command: Command = serde_json::from_str(line).unwrap_or_else(|e| panic!("{e}: {line}"));
        assert_eq!(serde_json::to_string(&command).unwrap(), line);
        if let Command::PutItem { item } = &command {
            sorts.insert(item.sort());
        }
    }
    sorts.into_iter().collect()
}

#[test]
fn later_sorts_of_items_read_and_write_as_they_were_stored() {
    let text = fs::read_to_string(data("commands-1-lines.jsonl")).unwrap();
    assert_eq!(sorts_of(&text), ["feed", "fill", "line", "start", "stopper"]);
    let every = ["brick", "beside", "angled", "in-line", "echelon", "half-shift", "waves", "spiral", "curls"];
    for word in every.iter().chain(&["straight", "arc", "through", "plain", "repeat", "blend", "spread"]) {
        assert!(text.contains(&format!("\"is\":\"{word}\"")), "a sample of {word}");
    }
}

#[test]
fn signs_locks_and_groups_read_and_write_as_they_were_stored() {
    let text = fs::read_to_string(data("commands-1-signs.jsonl")).unwrap();
    assert_eq!(sorts_of(&text), ["camera", "dimension", "note"]);
    assert!(text.contains("\"locked\":true") && text.contains("\"group\":"));
}

#[test]
fn slopes_read_and_write_as_they_were_stored() {
    let text = fs::read_to_string(data("commands-1-slopes.jsonl")).unwrap();
    assert_eq!(sorts_of(&text), Vec::<&str>::new());
    assert!(text.contains("\"slope\":{\"rise\":5.0,\"uphill\":90.0}"));
}

#[test]
fn the_stored_commands_in_their_order_are_a_course_that_the_gate_takes_and_undoes() {
    let folder = tempfile::tempdir().unwrap();
    let start = plan::Plan::new("Empty");
    let mut store = Store::create(&project(folder.path()), &start, NOW, &Options::default()).unwrap();
    let group = course();
    let receipt = store.commit(&group).unwrap();
    for outcome in &receipt.outcomes {
        outcome.as_ref().unwrap_or_else(|e| panic!("{e}"));
    }
    let undo: Vec<_> = group.iter().map(|_| entry("", store::Act::Undo)).collect();
    store.close().unwrap();
    let mut store = reopen(&project(folder.path()));
    assert!(store.commit(&undo).unwrap().outcomes.iter().all(Result::is_ok));
    assert_eq!(*store.plan(), start);
}

#[test]
fn a_stored_state_with_links_to_later_items_and_in_a_ring_opens_again() {
    let folder = tempfile::tempdir().unwrap();
    let start = plan::Plan::new("Empty");
    let mut store = Store::create(&project(folder.path()), &start, NOW, &Options::default()).unwrap();
    let mut group = course();
    let line = |from: u32, port: &str| {
        let text = fs::read_to_string(data("commands-1-lines.jsonl")).unwrap();
        let text = text.lines().find(|l| l.contains("\"Branch\"")).unwrap().to_owned();
        let text = text
            .replace("\"item\":31,\"port\":\"end left\"", &format!("\"item\":{from},\"port\":\"{port}\""));
        serde_json::from_str::<Command>(&text).unwrap()
    };
    let Command::PutItem { item: mut brook } = line(32, "end") else { panic!("an item") };
    brook.id = plan::ItemId(31);
    group.push(entry("ring", store::Act::Do(Command::PutItem { item: brook })));
    group.push(entry("later", store::Act::Do(line(35, "end"))));
    assert!(store.commit(&group).unwrap().outcomes.iter().all(Result::is_ok));
    let plan = store.plan().clone();
    store.close().unwrap();
    // Closing keeps a state; opening reads that one and not the history.
    let opened = Store::open(&project(folder.path()), &Options::default()).unwrap();
    assert_eq!(opened.notes, []);
    assert_eq!(*opened.store.plan(), plan);
    opened.store.close().unwrap();
    // The samples name a picture whose bytes are not there; of the changes nothing is wrong.
    let report = Store::restore_check(&project(folder.path()), &Options::default()).unwrap();
    assert_eq!(report.notes, [], "{report:?}");
}

#[test]
fn a_file_of_format_0_is_brought_to_the_current_one_and_kept_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    let old = fs::read(data("format-0.standfast")).unwrap();
    fs::write(&path, &old).unwrap();
    let opened = Store::open(&path, &Options::default()).unwrap();
    let backup = folder.path().canonicalize().unwrap().join("river.standfast.before-v1");
    assert_eq!(opened.notes, [OpenNote::Migrated { from: 0, to: 1, backup: backup.clone() }]);
    let mut store = opened.store;
    assert_eq!((store.last_acknowledged(), store.undo_steps().len()), (6, 4));
    store.put_picture(b"pixels").unwrap();
    let (items, hash) = (store.plan().items.len(), store.content_hash());
    store.close().unwrap();
    reopen(&path).close().unwrap();
    // The kept copy is still of format 0, holds the same, and comes to the current format in its turn.
    let head = fs::read(&backup).unwrap();
    assert_eq!(head[60..64], [0, 0, 0, 0]);
    let again = Store::open(&backup, &Options::default()).unwrap();
    assert!(matches!(again.notes[..], [OpenNote::Migrated { from: 0, to: 1, .. }]));
    assert_eq!((again.store.plan().items.len(), again.store.content_hash()), (items, hash));
}

/// A file as it was released, looked through and opened; it lies in the folder.
fn released(name: &str) -> (tempfile::TempDir, Report, Store) {
    let folder = tempfile::tempdir().unwrap();
    let path = project(folder.path());
    fs::copy(data(name), &path).unwrap();
    let report = Store::restore_check(&path, &Options::default()).unwrap();
    assert!(report.is_whole(), "{report:?}");
    let store = reopen(&path);
    (folder, report, store)
}

#[test]
fn a_file_of_this_format_opens_as_it_did_when_it_was_released() {
    let (_folder, report, store) = released("format-1.standfast");
    assert_eq!((store.last_acknowledged(), store.undo_steps().len(), store.redo_steps().len()), (6, 4, 1));
    assert_eq!(report.content_hash, fs::read_to_string(data("format-1.hash")).unwrap().trim());
}

#[test]
fn a_file_with_a_shortened_history_opens_as_it_did_when_it_was_released() {
    let (_folder, report, store) = released("format-2.standfast");
    assert_eq!((store.forgotten(), store.last_acknowledged()), (3, 6));
    assert_eq!((store.undo_steps().len(), store.redo_steps().len()), (1, 1));
    // The plan is that of the file of format 1 from which it was made.
    assert_eq!(report.content_hash, fs::read_to_string(data("format-1.hash")).unwrap().trim());
}
