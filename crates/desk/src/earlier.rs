//! What was made under a key, told once more to somebody who heard no answer.

use plan::Command;
use store::{Made, MadeEntry, OnceKey};

use crate::error::DeskError;
use crate::label::Label;
use crate::office::Desk;

/// A change that was made earlier. Of one that was forgotten since, only the number is known.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Earlier {
    /// Its number in the journal.
    pub change: u64,
    /// When it came on disk, UTC; empty when forgotten.
    pub at: String,
    /// What was done; empty when forgotten.
    pub label: Label,
    /// The largest id that it gave, if it gave one.
    pub added: Option<u32>,
    /// Ids of the items that it added, in order.
    pub items: Vec<u32>,
}

impl Desk {
    /// The change that was made under a key, since the program started or before.
    pub fn earlier(&self, key: &OnceKey) -> Result<Option<Earlier>, DeskError> {
        // Nearly all keys are new: none of those waits for the store, so that many are written at once.
        if self.keys.change(key).is_none() {
            return Ok(None);
        }
        let made = self.with_store(|store| Ok(store.made_under(key)?))?;
        Ok(made.map(|Made { seq, entry }| match entry {
            Some(entry) => told(seq, entry),
            None => Earlier { change: seq, ..Earlier::default() },
        }))
    }
}

fn told(change: u64, entry: MadeEntry) -> Earlier {
    let mut removed = Vec::new();
    removes(&entry.inverse, &mut removed);
    // What takes a change back goes through its steps from the last to the first.
    let items = removed.iter().rev().filter(|gone| gone.item).map(|gone| gone.id).collect();
    let added = removed.iter().map(|gone| gone.id).max();
    Earlier { change, at: entry.at, label: Label::of_kept(&entry.label), added, items }
}

/// Something that a command removes, and so something that its inverse adds.
struct Gone {
    id: u32,
    item: bool,
}

fn removes(command: &Command, gone: &mut Vec<Gone>) {
    let id = match command {
        Command::Together { steps } => return steps.iter().for_each(|step| removes(step, gone)),
        Command::RemoveItem { id } => return gone.push(Gone { id: id.0, item: true }),
        Command::RemovePicture { id } => id.0,
        Command::RemoveLot { id } => id.0,
        Command::RemoveGear { id } => id.0,
        Command::RemoveSection { id } => id.0,
        Command::RemoveSurface { id } => id.0,
        Command::RemoveColour { id } => id.0.into(),
        Command::RemoveKind { id } => id.0.into(),
        _ => return,
    };
    gone.push(Gone { id, item: false });
}
