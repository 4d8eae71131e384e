//! Copies made while a project is in use, a second instance, and backups under load.

use std::path::Path;
use std::process::Command;

use store::{Options, Store, StoreError};

use crate::Failed;
use crate::judge::{follows, is_said, same, whole};
use crate::kills::Writer;
use crate::model::{Course, Model, NOW, start};
use crate::rng::Rng;

/// A writer in another process is at work: a second instance is refused, and copies of the file alone, or of both
/// files, made meanwhile are refused or open with a remark; they never show a state that never was.
///
/// # Errors
/// When a copy passes for whole without being so, or a second instance gets in.
pub fn copies_in_use(program: &Path, seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 8);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join("river.standfast");
    let options = Options::default();
    Store::create(&path, &start(), NOW, &options).and_then(Store::close).map_err(|e| e.to_string())?;
    let mut writer = Writer::start(program, &path, seed, 0)?;
    for _ in 0..1 + rng.below(30) {
        writer.wait_for_line()?;
    }
    match Store::open(&path, &options) {
        Err(StoreError::InUse { by: "in another program", .. }) => {}
        other => return Err(format!("a second instance: {other:?}")),
    }
    let both = rng.percent(50);
    let copy = folder.path().join("copy.standfast");
    cp(&path, &copy)?;
    if both {
        cp(&folder.path().join("river.standfast-wal"), &folder.path().join("copy.standfast-wal"))?;
    }
    drop(writer);
    match Store::open(&copy, &options) {
        Err(StoreError::Damaged { .. } | StoreError::NotOurs { .. }) => Ok(()),
        Err(e) => Err(format!("a copy is refused in the wrong words: {e}")),
        Ok(opened) => {
            if opened.notes.is_empty() || (!both && !is_said(&opened.notes)) {
                return Err(format!("a copy (both files: {both}) passes for whole: {:?}", opened.notes));
            }
            let mut model = Model::new(start());
            let mut n = 0;
            while model.last() < opened.store.last_acknowledged() {
                model.follow(&Course(seed).entry(n));
                n += 1;
            }
            if is_said(&opened.notes) {
                same("the copy's plan", opened.store.plan() == model.plan(), true)
            } else {
                follows(&opened.store, &model)
            }
        }
    }
}

/// Copies by another process: an ordinary file call of this one on an open project would drop its lock.
fn cp(from: &Path, to: &Path) -> Result<(), Failed> {
    let status = Command::new("cp").arg(from).arg(to).status().map_err(|e| format!("cp: {e}"))?;
    if status.success() { Ok(()) } else { Err(format!("cp: {status}")) }
}

/// Backups between changes: each is the project as it was at that moment, by hash and by a full check.
///
/// # Errors
/// When one is not.
pub fn backups_under_load(seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 9);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join("river.standfast");
    let options = Options { snapshot_every: 5, ..Options::default() };
    let mut store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    let mut model = Model::new(start());
    let to = folder.path().join("backup.standfast");
    for n in 0..6 + rng.below(6) {
        let group: Vec<_> = (0..3).map(|i| Course(seed).entry(n * 3 + i)).collect();
        store.commit(&group).map_err(|e| e.to_string())?;
        group.iter().for_each(|entry| {
            model.follow(entry);
        });
        if rng.percent(30) {
            store.backup(&to).map_err(|e| format!("backup: {e}"))?;
            whole(&to, &options, &model)?;
            let report = Store::restore_check(&to, &options).map_err(|e| e.to_string())?;
            same("the hash of the backup", report.content_hash, store.content_hash())?;
        }
    }
    store.close().map_err(|e| e.to_string())
}
