//! Power cuts: at a random call during a course of changes, and at every ordering call of each larger step.

use std::sync::Arc;

use store::{Options, Store};

use crate::Failed;
use crate::judge::{Stand, follows, judge, same, to_both_ends};
use crate::model::{Course, Model, NOW, start};
use crate::platter::{Fault, Trouble};
use crate::rng::Rng;
use crate::sim::SimDisk;

pub(crate) const NAME: &str = "river.standfast";

pub(crate) fn options(disk: &Arc<SimDisk>) -> Options {
    Options { disk: disk.clone(), snapshot_every: 7, ..Options::default() }
}

/// A power cut at a random call of a course of changes, closing and opening in between; then another in the recovery.
///
/// # Errors
/// When a promise was not kept.
pub fn power_cut(seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 1);
    let disk = SimDisk::new();
    let options = options(&disk);
    let path = disk.path(NAME);
    let store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    let at = rng.below(160);
    disk.set_fault(Some(Fault {
        trouble: Trouble::Cut,
        at,
        for_ever: true,
        only_order: false,
        reads_too: false,
    }));
    let mut stand = Stand::new(Model::new(start()));
    course(&disk, store, seed, &mut stand, &mut rng);
    disk.restart(&mut rng);
    // Half of the time the power goes again while the project is being opened.
    if rng.percent(50) {
        let at = rng.below(8);
        disk.set_fault(Some(Fault {
            trouble: Trouble::Cut,
            at,
            for_ever: true,
            only_order: false,
            reads_too: false,
        }));
        if let Ok(opened) = Store::open(&path, &options) {
            drop(opened);
        }
        disk.restart(&mut rng);
    }
    let store = judge(&path, &options, &stand)?;
    let model = if store.last_acknowledged() == stand.acked.last() { stand.acked } else { stand.under_way };
    to_both_ends(store, &path, &options, &model)
}

/// Makes changes until the power goes. What was acknowledged is in `stand`.
fn course(disk: &Arc<SimDisk>, store: Store, seed: u64, stand: &mut Stand, rng: &mut Rng) {
    let course = Course(seed);
    let mut store = Some(store);
    let mut n = 0;
    while !disk.is_dead() && n < 400 {
        let Some(open) = store.as_mut() else { return };
        let group: Vec<_> = (0..1 + rng.below(4)).map(|i| course.entry(n + i)).collect();
        n += group.len() as u64;
        let mut after = stand.acked.clone();
        group.iter().for_each(|entry| {
            after.follow(entry);
        });
        stand.under_way = after;
        if open.commit(&group).is_ok() {
            stand.acked = stand.under_way.clone();
        }
        if rng.percent(10) {
            // Closing loses nothing, whether it works or not.
            store = store.take().and_then(|s| s.close().ok()).and_then(|()| reopen(disk));
        }
    }
}

fn reopen(disk: &Arc<SimDisk>) -> Option<Store> {
    Store::open(&disk.path(NAME), &options(disk)).ok().map(|o| o.store)
}

/// The larger steps of a project's life.
#[derive(Debug, Clone, Copy)]
enum Step {
    Create,
    Close,
    Backup,
    BackupOver,
    SaveCopy,
    Migrate,
}

/// A file of format 0, as it is kept among the samples of the store.
const FORMAT_0: &[u8] = include_bytes!("../../store/tests/data/format-0.standfast");

/// Cuts the power at every synchronisation, rename and removal of each larger step, with a few damages each;
/// hands back how many cuts there were.
///
/// # Errors
/// When neither the old nor the new file is whole, or the project itself is not.
pub fn cuts_in_steps(seed: u64, damages: u64) -> Result<u64, Failed> {
    let mut cuts = 0;
    for step in [Step::Create, Step::Close, Step::Backup, Step::BackupOver, Step::SaveCopy, Step::Migrate] {
        let calls = cut_in_step(step, u64::MAX, seed)?;
        for at in 0..=calls {
            for damage in 0..damages {
                let seed = seed.wrapping_mul(1000).wrapping_add(damage);
                cut_in_step(step, at, seed)
                    .map_err(|why| format!("{step:?}, cut at {at}, damage {damage}: {why}"))?;
                cuts += 1;
            }
        }
    }
    Ok(cuts)
}

/// One step with a cut at the n-th ordering call; hands back how many such calls it made.
fn cut_in_step(step: Step, at: u64, seed: u64) -> Result<u64, Failed> {
    let mut rng = Rng::new(seed, 2);
    let disk = SimDisk::new();
    let options = options(&disk);
    let path = disk.path(NAME);
    let model = prepare(&disk, step, seed)?;
    let store = match step {
        Step::Create | Step::Migrate => None,
        _ => reopen(&disk),
    };
    let cut = Fault { trouble: Trouble::Cut, at, for_ever: true, only_order: true, reads_too: false };
    disk.set_fault(Some(cut));
    let copy = disk.path("copy.standfast");
    let done = match (step, store) {
        (Step::Create, _) => Store::create(&path, &start(), NOW, &options).map(drop),
        (Step::Migrate, _) => Store::open(&path, &options).map(drop),
        (Step::Close, Some(store)) => store.close(),
        (Step::Backup | Step::BackupOver, Some(store)) => store.backup(&copy).map(drop),
        (Step::SaveCopy, Some(store)) => store.save_copy(&copy, NOW).map(drop),
        (_, None) => return Err("it did not open before the step".into()),
    };
    let calls = disk.counted();
    if at == u64::MAX {
        done.map_err(|e| format!("the step without a cut: {e}"))?;
    }
    disk.restart(&mut rng);
    check_after(step, &disk, &model, done_whole(at, calls))?;
    Ok(calls)
}

fn done_whole(at: u64, calls: u64) -> bool {
    at >= calls
}

/// What is on the disk before the step; hands back the model of the project.
fn prepare(disk: &Arc<SimDisk>, step: Step, seed: u64) -> Result<Model, Failed> {
    let options = options(disk);
    let path = disk.path(NAME);
    let mut model = Model::new(start());
    match step {
        Step::Create => return Ok(model),
        Step::Migrate => {
            disk.plant(NAME, FORMAT_0.to_vec());
            return Ok(model);
        }
        _ => {}
    }
    let mut store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    if matches!(step, Step::BackupOver) {
        store.backup(&disk.path("copy.standfast")).map_err(|e| e.to_string())?;
    }
    let group: Vec<_> = (0..20).map(|n| Course(seed).entry(n)).collect();
    store.commit(&group).map_err(|e| e.to_string())?;
    group.iter().for_each(|entry| {
        model.follow(entry);
    });
    store.close().map_err(|e| e.to_string())?;
    Ok(model)
}

fn check_after(step: Step, disk: &Arc<SimDisk>, model: &Model, done: bool) -> Result<(), Failed> {
    let options = options(disk);
    let path = disk.path(NAME);
    let copy = disk.path("copy.standfast");
    match step {
        Step::Create => match disk.bytes(NAME) {
            None if !done => {
                // Nothing is in the way of trying again.
                Store::create(&path, &start(), NOW, &options)
                    .map(drop)
                    .map_err(|e| format!("trying again: {e}"))
            }
            None => Err("the new project is not there".into()),
            Some(_) => judge(&path, &options, &Stand::new(model.clone())).map(drop),
        },
        Step::Migrate => {
            let store = Store::open(&path, &options).map_err(|e| format!("after migration: {e}"))?.store;
            same("the last change", store.last_acknowledged(), 6)?;
            store.close().map_err(|e| e.to_string())?;
            // The copy of how it was: whole, wherever it has its name.
            let Some(kept) = disk.bytes("river.standfast.before-v1") else {
                return if disk.bytes(NAME).is_some_and(|b| b[63] == 1) {
                    Err("migrated without a copy of how it was".into())
                } else {
                    Ok(())
                };
            };
            same("the format of the kept copy", kept[60..64].to_vec(), vec![0, 0, 0, 0])?;
            let kept = disk.path("river.standfast.before-v1");
            let store = Store::open(&kept, &options).map_err(|e| format!("the kept copy: {e}"))?.store;
            same("the last change of the kept copy", store.last_acknowledged(), 6)
        }
        _ => {
            let store = judge(&path, &options, &Stand::new(model.clone()))?;
            if matches!(step, Step::Close) {
                return to_both_ends(store, &path, &options, model);
            }
            if disk.bytes("copy.standfast").is_none() {
                let lost = done || matches!(step, Step::BackupOver);
                return if lost { Err("the copy is not there".into()) } else { Ok(()) };
            }
            let opened = Store::open(&copy, &options).map_err(|e| format!("the copy: {e}"))?;
            if let Some(note) = opened.notes.first() {
                return Err(format!("the copy says \"{note}\""));
            }
            let old = matches!(step, Step::BackupOver) && !done && opened.store.last_acknowledged() == 0;
            if old { follows(&opened.store, &Model::new(start())) } else { follows(&opened.store, model) }
        }
    }
}
