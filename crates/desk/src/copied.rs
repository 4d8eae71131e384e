//! What was copied: items as they were then, so that they can be set down although they were changed or taken away since.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::SystemTime;

use geometry::Vector;
use plan::{ItemId, Plan};
use sayings::{refusing, say};

use crate::arrange::{self, Arranged};
use crate::error::DeskError;
use crate::office::{Desk, lock};

/// A copy's number. It is not given again, also not after a restart.
pub type CopiedId = u64;

/// Copies that are kept, oldest first to go.
const KEPT: usize = 16;

/// Items as they were when they were copied.
#[derive(Debug)]
pub struct Copied {
    then: Arc<Plan>,
    items: Vec<ItemId>,
}

impl Copied {
    /// Works out how they are set down in a plan, displaced by so much.
    ///
    /// # Errors
    /// Says which value cannot be taken.
    pub fn paste(&self, now: &Plan, by: Vector) -> Result<Arranged, DeskError> {
        arrange::paste(now, &self.then, &self.items, by)
    }
}

/// The copies that are kept.
#[derive(Debug, Default)]
pub(crate) struct Copies(BTreeMap<CopiedId, Arc<Copied>>);

impl Desk {
    /// Keeps items as they are now, until the project is closed or many others were copied. Hands back the copy's number.
    ///
    /// # Errors
    /// Says which item is not there.
    pub fn copy(&self, items: &[ItemId]) -> Result<CopiedId, DeskError> {
        let then = Arc::clone(&self.snapshot().plan);
        let copied = Copied { items: items.to_vec(), then };
        // What could not be set down where it is now is refused here, where somebody still can choose again.
        copied.paste(&copied.then, Vector { x: 0.0, y: 0.0 })?;
        let mut copies = lock(&self.copies);
        let clock = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
        let clock = clock.map_or(0, |since| u64::try_from(since.as_micros()).unwrap_or(u64::MAX - 1));
        let id = clock.max(copies.0.keys().next_back().map_or(1, |last| last + 1));
        copies.0.insert(id, Arc::new(copied));
        while copies.0.len() > KEPT {
            copies.0.pop_first();
        }
        Ok(id)
    }

    /// What was copied under a number.
    ///
    /// # Errors
    /// When it is not kept any more.
    pub fn copied(&self, id: CopiedId) -> Result<Arc<Copied>, DeskError> {
        let found = lock(&self.copies).0.get(&id).cloned();
        found.ok_or_else(copy_gone)
    }
}

/// Why nothing can be pasted: what was copied is not kept any more.
pub fn copy_gone() -> DeskError {
    DeskError::missing(say!(refusing::WHAT_COPIED), say!(refusing::MISSING_COPIED))
}
