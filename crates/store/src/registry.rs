//! Which project files this process has open, so that none is opened twice.
//!
//! Locks between processes do not help here: they belong to the process, and closing any handle of a file drops
//! all of its locks on it. So a file that is open here is not even looked into a second time.

use std::collections::BTreeSet;
use std::sync::{Mutex, MutexGuard, PoisonError};

static OPEN: Mutex<BTreeSet<String>> = Mutex::new(BTreeSet::new());

fn open_files() -> MutexGuard<'static, BTreeSet<String>> {
    // The set is whole after every step, so a panic elsewhere leaves it usable.
    OPEN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The right to open one file; given back on drop.
#[derive(Debug)]
pub(crate) struct Claim(String);

/// Claims the file with this identity, or `None` when it is open in this process.
pub(crate) fn claim(identity: &str) -> Option<Claim> {
    open_files().insert(identity.to_owned()).then(|| Claim(identity.to_owned()))
}

impl Drop for Claim {
    fn drop(&mut self) {
        open_files().remove(&self.0);
    }
}
