//! Failing calls and full disks: nothing is acknowledged, words are given, and the next try works without a restart.

use std::sync::Arc;

use store::{NewEntry, Options, Store, StoreError};

use crate::Failed;
use crate::cuts::{NAME, options};
use crate::judge::{Stand, follows, judge, to_both_ends, whole};
use crate::model::{Course, Model, NOW, start};
use crate::platter::{Fault, Trouble};
use crate::rng::Rng;
use crate::sim::SimDisk;

/// How often a change is tried again before a single fault counts as not survived.
const TRIES: usize = 3;

/// The n-th call fails, once or for ever, in a course of changes with closing and opening.
///
/// # Errors
/// When a promise was not kept, or a single fault needed a restart.
pub fn failing_call(seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 3);
    let disk = SimDisk::new();
    let options = options(&disk);
    let path = disk.path(NAME);
    let store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    let for_ever = rng.percent(30);
    let trouble = if rng.percent(25) { Trouble::Full } else { Trouble::Error };
    let fault = Fault {
        trouble,
        at: rng.below(260),
        for_ever,
        only_order: rng.percent(30),
        reads_too: rng.percent(50),
    };
    disk.set_fault(Some(fault));
    let mut stand = Stand::new(Model::new(start()));
    let mut store = Some(store);
    let course = Course(seed);
    for round in 0..12 {
        let group: Vec<_> = (0..3).map(|i| course.entry(round * 3 + i)).collect();
        let Some(open) = store.as_mut() else { break };
        match tried(open, &group, &mut stand) {
            Ok(()) => {}
            Err(_) if for_ever => break,
            Err(e) => return Err(format!("{fault:?}: no try worked: {e}")),
        }
        if round % 4 == 3 {
            store = closed_and_opened(store, &disk, for_ever).map_err(|e| format!("{fault:?}: {e}"))?;
        }
    }
    disk.set_fault(None);
    drop(store);
    let store = judge(&path, &options, &stand).map_err(|e| format!("{fault:?}: {e}"))?;
    let model = if store.last_acknowledged() == stand.acked.last() { stand.acked } else { stand.under_way };
    to_both_ends(store, &path, &options, &model).map_err(|e| format!("{fault:?}: {e}"))
}

/// Commits a group, trying again as a user would. After each failure the plan shown is the acknowledged one.
fn tried(store: &mut Store, group: &[NewEntry], stand: &mut Stand) -> Result<(), Failed> {
    let mut after = stand.acked.clone();
    group.iter().for_each(|entry| {
        after.follow(entry);
    });
    let mut why = String::new();
    for _ in 0..TRIES {
        stand.under_way = after.clone();
        match store.commit(group) {
            Ok(_) => {
                stand.acked = after;
                return Ok(());
            }
            Err(e) => {
                if !matches!(
                    e,
                    StoreError::Disk { .. } | StoreError::DiskFull { .. } | StoreError::ReadOnly { .. }
                ) {
                    return Err(format!("after a failing call: {e}"));
                }
                if store.plan() != stand.acked.plan() || store.last_acknowledged() != stand.acked.last() {
                    return Err("a change that failed is shown".into());
                }
                why = e.to_string();
            }
        }
    }
    Err(why)
}

fn closed_and_opened(
    store: Option<Store>,
    disk: &Arc<SimDisk>,
    for_ever: bool,
) -> Result<Option<Store>, Failed> {
    drop(store);
    let (path, options) = (disk.path(NAME), options(disk));
    let mut why = String::new();
    for _ in 0..TRIES {
        match Store::open(&path, &options) {
            // A single fault while looking makes it open for reading only at worst; opening again mends that.
            Ok(opened) if opened.store.read_only().is_none() => return Ok(Some(opened.store)),
            Ok(opened) => why = format!("open for reading only: {:?}", opened.notes),
            Err(e) => why = e.to_string(),
        }
    }
    if for_ever { Ok(None) } else { Err(format!("it does not open again: {why}")) }
}

/// The disk is full: nothing counts, the project still reads, and with room it goes on without a restart.
/// (That a copy elsewhere works then is tried by [`file_full`], on a real disk.)
///
/// # Errors
/// When a promise was not kept.
pub fn disk_full(seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 4);
    let disk = SimDisk::new();
    let options = options(&disk);
    let path = disk.path(NAME);
    let mut store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    let mut stand = Stand::new(Model::new(start()));
    disk.set_room(Some(disk.used() + rng.below(120_000)));
    let course = Course(seed);
    let (mut n, mut refused) = (0, 0);
    while refused < 3 {
        let group: Vec<_> = (0..1 + rng.below(5)).map(|i| course.entry(n + i)).collect();
        let before = stand.acked.last();
        match tried(&mut store, &group, &mut stand) {
            Ok(()) => n += group.len() as u64,
            Err(why) if why.contains("full") => refused += 1,
            Err(why) => return Err(format!("full disk: {why}")),
        }
        if refused > 0 && stand.acked.last() == before {
            follows(&store, &stand.acked)?;
        }
        if n > 4_000 {
            return Err("the disk never became full".into());
        }
    }
    disk.set_room(None);
    let group = vec![course.entry(n), course.entry(n + 1)];
    tried(&mut store, &group, &mut stand).map_err(|e| format!("with room again: {e}"))?;
    follows(&store, &stand.acked)?;
    store.close().map_err(|e| format!("closing: {e}"))?;
    let store = judge(&path, &options, &Stand::new(stand.acked.clone()))?;
    to_both_ends(store, &path, &options, &stand.acked)
}

/// The file may not grow any more (SQLite's own limit): as a full disk, on a real one.
///
/// # Errors
/// When a promise was not kept.
pub fn file_full(seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 5);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join(NAME);
    let roomy = Options { snapshot_every: 7, ..Options::default() };
    Store::create(&path, &start(), NOW, &roomy).and_then(Store::close).map_err(|e| e.to_string())?;
    let tight = Options { max_pages: Some(20 + rng.below(60) as u32), ..roomy.clone() };
    let mut store = Store::open(&path, &tight).map_err(|e| e.to_string())?.store;
    let mut stand = Stand::new(Model::new(start()));
    let course = Course(seed);
    let mut n = 0;
    let why = loop {
        let group: Vec<_> = (0..4).map(|i| course.entry(n + i)).collect();
        match tried(&mut store, &group, &mut stand) {
            Ok(()) => n += 4,
            Err(why) => break why,
        }
    };
    if !why.contains("disk is full") {
        return Err(why);
    }
    let copy = folder.path().join("copy.standfast");
    store.save_copy(&copy, NOW).map_err(|e| format!("saving a copy elsewhere: {e}"))?;
    whole(&copy, &roomy, &stand.acked)?;
    drop(store);
    let mut store = judge(&path, &roomy, &stand)?;
    let mut model =
        if store.last_acknowledged() == stand.acked.last() { stand.acked } else { stand.under_way };
    let entry = course.entry(n);
    store.commit(std::slice::from_ref(&entry)).map_err(|e| format!("with room again: {e}"))?;
    model.follow(&entry);
    to_both_ends(store, &path, &roomy, &model)
}
