//! Damaged bytes: flipped and cut in the project and in its journal file.

use store::{Store, StoreError};

use crate::Failed;
use crate::cuts::{NAME, options};
use crate::judge::is_said;
use crate::model::{Course, Model, NOW, start};
use crate::rng::Rng;
use crate::sim::SimDisk;

/// Changes in the images.
const CHANGES: u64 = 60;

/// The files of one project at two moments.
#[derive(Debug)]
pub struct Images {
    model: Model,
    closed: Vec<u8>,
    open: Vec<u8>,
    wal: Vec<u8>,
    promise: Vec<u8>,
}

impl Images {
    /// Makes the files of a project of 60 entries, as they are while it is open and once it is closed.
    ///
    /// # Errors
    /// When the project cannot be made.
    pub fn make(seed: u64) -> Result<Self, Failed> {
        let disk = SimDisk::new();
        let options = options(&disk);
        let path = disk.path(NAME);
        let mut model = Model::new(start());
        let mut store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
        for n in 0..CHANGES {
            let entry = Course(seed).entry(n);
            model.follow(&entry);
            store.commit(&[entry]).map_err(|e| e.to_string())?;
        }
        store.put_picture(&[7; 9000]).map_err(|e| e.to_string())?;
        let bytes = |name| disk.bytes(name).ok_or(format!("{name} is not there"));
        let (open, wal) = (bytes(NAME)?, bytes("river.standfast-wal")?);
        store.close().map_err(|e| e.to_string())?;
        Ok(Self { model, closed: bytes(NAME)?, open, wal, promise: bytes("river.standfast-last")? })
    }
}

/// Damages one of the files and opens the project: it opens to a true earlier state or is refused in words,
/// and whenever an acknowledged change is missing, that is said.
///
/// # Errors
/// When a loss was not said or a state is shown that never was.
pub fn damaged_bytes(images: &Images, seed: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 6);
    let disk = SimDisk::new();
    let mut wal = images.wal.clone();
    let closed = rng.percent(50);
    let mut main = if closed { images.closed.clone() } else { images.open.clone() };
    let what = match (closed, rng.below(4)) {
        (false, 0) => cut(&mut wal, "journal file", &mut rng),
        (false, 1 | 2) => flip(&mut wal, "journal file", &mut rng),
        (true, 0) => cut(&mut main, "closed project", &mut rng),
        (_, _) => flip(&mut main, if closed { "closed project" } else { "open project" }, &mut rng),
    };
    disk.plant(NAME, main);
    if !closed {
        disk.plant("river.standfast-wal", wal);
    }
    disk.plant("river.standfast-last", images.promise.clone());
    looked_at(&disk, images).map_err(|why| format!("{what}: {why}"))
}

fn cut(bytes: &mut Vec<u8>, name: &str, rng: &mut Rng) -> String {
    let at = rng.below(bytes.len() as u64) as usize;
    bytes.truncate(at);
    format!("{name} cut at byte {at}")
}

fn flip(bytes: &mut [u8], name: &str, rng: &mut Rng) -> String {
    // Once in a while several bits, as when a block goes bad.
    let count = if rng.percent(80) { 1 } else { 1 + rng.below(64) };
    let mut what = format!("{name}, bits flipped at");
    for _ in 0..count {
        // Half of them among the first pages, where the structure is.
        let reach = if rng.percent(50) { bytes.len() as u64 } else { 8192.min(bytes.len() as u64) };
        let (at, bit) = (rng.below(reach) as usize, rng.below(8));
        bytes[at] ^= 1 << bit;
        what += &format!(" {at}.{bit}");
    }
    what
}

fn looked_at(disk: &std::sync::Arc<SimDisk>, images: &Images) -> Result<(), Failed> {
    let options = options(disk);
    let opened = match Store::open(&disk.path(NAME), &options) {
        Ok(opened) => opened,
        Err(StoreError::Damaged { .. } | StoreError::NotOurs { .. } | StoreError::Newer { .. }) => {
            return Ok(());
        }
        Err(e) => return Err(format!("refused in the wrong words: {e}")),
    };
    let (store, said) = (&opened.store, is_said(&opened.notes));
    let last = store.last_acknowledged();
    let Some(state) = images.model.states.get(last as usize) else {
        return Err(format!("it ends at change {last}, which never was"));
    };
    if store.plan() != state {
        return Err(format!("the plan after change {last} is another; notes {:?}", opened.notes));
    }
    let missing = last != images.model.last();
    let entries =
        store.history(0..=u64::MAX).map(|h| h.into_iter().map(|e| (e.label, e.verb)).collect::<Vec<_>>());
    let history_whole = entries.is_ok_and(|e| e[..] == images.model.entries[..]);
    let depth_whole = (store.undo_steps().len(), store.redo_steps().len()) == images.model.depth();
    if (missing || !history_whole || !depth_whole) && !said {
        return Err(format!(
            "it ends at change {last} of {}, and nothing was said: {:?}",
            images.model.last(),
            opened.notes
        ));
    }
    if store.read_only().is_some() {
        let copy = disk.path("rest.standfast");
        store.save_copy(&copy, NOW).map_err(|e| format!("saving the rest: {e}"))?;
        let rest = Store::open(&copy, &options).map_err(|e| format!("the rest: {e}"))?;
        if rest.store.plan() != state {
            return Err("the rest is another plan".into());
        }
    }
    Ok(())
}
