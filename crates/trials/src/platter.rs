//! The simulated disk itself: files with what is synchronised and what is not, faults, and the power cut.

use std::collections::{BTreeMap, BTreeSet};
use std::io;

use crate::rng::Rng;

/// What a power cut keeps or loses as one: the sector of usual disks.
const SECTOR: usize = 512;

/// What goes wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// The call fails as by a bad disk.
    Error,
    /// The call fails since there is no room.
    Full,
    /// The power goes: this call and all later ones fail until [`Platter::restart`].
    Cut,
}

/// When something goes wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fault {
    /// What.
    pub trouble: Trouble,
    /// At the n-th call that counts, from 0.
    pub at: u64,
    /// At all later ones too.
    pub for_ever: bool,
    /// Only calls that order the disk count: synchronise, rename, remove.
    pub only_order: bool,
    /// Reading calls count too.
    pub reads_too: bool,
}

/// A sort of call.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Call {
    Read,
    Write,
    Order,
}

#[derive(Debug, Clone)]
enum Pending {
    Write { offset: usize, bytes: Vec<u8> },
    Cut(usize),
}

#[derive(Debug, Clone, Default)]
struct Inode {
    now: Vec<u8>,
    synced: Vec<u8>,
    pending: Vec<Pending>,
    /// Holders of a lock: handle and level.
    locks: BTreeMap<u64, i32>,
}

/// A change of the folder that is not synchronised yet.
#[derive(Debug, Clone)]
enum NameOp {
    Put(String, u64),
    Remove(String),
}

/// A disk in memory.
#[derive(Debug, Default)]
pub(crate) struct Platter {
    names: BTreeMap<String, u64>,
    durable: BTreeMap<String, u64>,
    log: Vec<NameOp>,
    inodes: BTreeMap<u64, Inode>,
    next: u64,
    /// Counts restarts; handles of an earlier life are dead.
    pub(crate) life: u64,
    dead: bool,
    fault: Option<Fault>,
    counted: u64,
    /// Bytes that fit; `None` for as many as are written.
    room: Option<u64>,
}

impl Platter {
    /// Sets what goes wrong next, and begins to count.
    pub(crate) fn set_fault(&mut self, fault: Option<Fault>) {
        self.fault = fault;
        self.counted = 0;
    }

    /// How many calls have counted since the fault was set.
    pub(crate) fn counted(&self) -> u64 {
        self.counted
    }

    pub(crate) fn is_dead(&self) -> bool {
        self.dead
    }

    pub(crate) fn set_room(&mut self, room: Option<u64>) {
        self.room = room;
    }

    pub(crate) fn used(&self) -> u64 {
        self.names.values().filter_map(|id| self.inodes.get(id)).map(|i| i.now.len() as u64).sum()
    }

    /// Asks whether a call goes wrong. A write that the power cut strikes may still reach the disk in part.
    pub(crate) fn call(&mut self, call: Call) -> Option<Trouble> {
        if self.dead {
            return Some(Trouble::Cut);
        }
        let fault = self.fault?;
        let counts = match call {
            Call::Read => fault.reads_too,
            Call::Write => !fault.only_order,
            Call::Order => true,
        };
        if !counts {
            return None;
        }
        let n = self.counted;
        self.counted += 1;
        if n == fault.at || (fault.for_ever && n > fault.at) {
            self.dead |= fault.trouble == Trouble::Cut;
            return Some(fault.trouble);
        }
        None
    }

    pub(crate) fn find(&self, name: &str) -> Option<u64> {
        self.names.get(name).copied()
    }

    pub(crate) fn names(&self) -> Vec<String> {
        self.names.keys().cloned().collect()
    }

    pub(crate) fn make(&mut self, name: &str) -> u64 {
        self.next += 1;
        let id = self.next;
        self.inodes.insert(id, Inode::default());
        self.names.insert(name.to_owned(), id);
        self.log.push(NameOp::Put(name.to_owned(), id));
        id
    }

    pub(crate) fn remove(&mut self, name: &str) -> bool {
        let there = self.names.remove(name).is_some();
        if there {
            self.log.push(NameOp::Remove(name.to_owned()));
        }
        there
    }

    pub(crate) fn rename(&mut self, from: &str, to: &str) -> bool {
        let Some(id) = self.names.remove(from) else { return false };
        self.names.insert(to.to_owned(), id);
        // One step of the folder's own journal: the new name replaces what had it, and the old one goes.
        self.log.push(NameOp::Put(to.to_owned(), id));
        self.log.push(NameOp::Remove(from.to_owned()));
        true
    }

    pub(crate) fn bytes(&self, id: u64) -> &[u8] {
        self.inodes.get(&id).map_or(&[], |i| &i.now)
    }

    /// Puts bytes in place as if they had always been there.
    pub(crate) fn plant(&mut self, name: &str, bytes: Vec<u8>) {
        let id = self.make(name);
        self.log.clear();
        self.durable.clone_from(&self.names);
        self.inodes.insert(id, Inode { now: bytes.clone(), synced: bytes, ..Inode::default() });
    }

    pub(crate) fn write(&mut self, id: u64, offset: usize, bytes: &[u8]) -> io::Result<()> {
        let used = if self.room.is_some() { self.used() } else { 0 };
        let Some(inode) = self.inodes.get_mut(&id) else { return Ok(()) };
        let end = offset + bytes.len();
        let grows = end.saturating_sub(inode.now.len()) as u64;
        if grows > 0 && self.room.is_some_and(|room| used + grows > room) {
            return Err(io::ErrorKind::StorageFull.into());
        }
        put(&mut inode.now, offset, bytes);
        inode.pending.push(Pending::Write { offset, bytes: bytes.to_vec() });
        Ok(())
    }

    pub(crate) fn truncate(&mut self, id: u64, len: usize) {
        if let Some(inode) = self.inodes.get_mut(&id) {
            inode.now.resize(len, 0);
            inode.pending.push(Pending::Cut(len));
        }
    }

    /// Makes a file's bytes durable, and its name with all that happened in the folder before.
    pub(crate) fn sync(&mut self, id: u64) {
        if let Some(inode) = self.inodes.get_mut(&id) {
            for pending in inode.pending.drain(..) {
                match pending {
                    Pending::Write { offset, bytes } => put(&mut inode.synced, offset, &bytes),
                    Pending::Cut(len) => inode.synced.resize(len, 0),
                }
            }
        }
        let named = self.log.iter().rposition(|op| matches!(op, NameOp::Put(_, n) if *n == id));
        if let Some(last) = named {
            self.settle_names(last + 1);
        }
    }

    /// Makes everything in the folder durable.
    pub(crate) fn sync_folder(&mut self) {
        self.settle_names(self.log.len());
    }

    fn settle_names(&mut self, count: usize) {
        for op in self.log.drain(..count) {
            match op {
                NameOp::Put(name, id) => {
                    self.durable.insert(name, id);
                }
                NameOp::Remove(name) => {
                    self.durable.remove(&name);
                }
            }
        }
    }

    /// The power comes back. Of what was not synchronised a random part is there, in a random order.
    pub(crate) fn restart(&mut self, rng: &mut Rng) {
        let keep = [0, 10, 50, 90, 100][rng.below(5) as usize];
        let garbage = if rng.percent(30) { 20 } else { 0 };
        let names = rng.below(self.log.len() as u64 + 1) as usize;
        self.settle_names(names);
        self.log.clear();
        self.names.clone_from(&self.durable);
        let alive: BTreeSet<u64> = self.names.values().copied().collect();
        self.inodes.retain(|id, _| alive.contains(id));
        for inode in self.inodes.values_mut() {
            let mut parts: Vec<Pending> =
                std::mem::take(&mut inode.pending).into_iter().flat_map(sectors).collect();
            parts.retain(|_| rng.percent(keep));
            // On most disks what is kept arrives in its order; on some it does not.
            if rng.percent(50) {
                rng.shuffle(&mut parts);
            }
            for part in parts {
                match part {
                    Pending::Write { offset, mut bytes } => {
                        if rng.percent(garbage) {
                            bytes.iter_mut().for_each(|b| *b = rng.next() as u8);
                        }
                        put(&mut inode.synced, offset, &bytes);
                    }
                    Pending::Cut(len) => inode.synced.resize(len, 0),
                }
            }
            inode.now.clone_from(&inode.synced);
            inode.locks.clear();
        }
        self.life += 1;
        self.dead = false;
        self.fault = None;
    }

    /// Takes a lock of SQLite's levels (1 shared, 2 reserved, 3 pending, 4 exclusive); false when others stand in the way.
    pub(crate) fn lock(&mut self, id: u64, handle: u64, level: i32) -> bool {
        let Some(inode) = self.inodes.get_mut(&id) else { return true };
        let others = inode.locks.iter().filter(|(h, _)| **h != handle).map(|(_, l)| *l).max().unwrap_or(0);
        let free = match level {
            1 => others < 3,
            2 | 3 => others < 2,
            _ => others == 0,
        };
        if free {
            inode.locks.insert(handle, level);
        }
        free
    }

    pub(crate) fn unlock(&mut self, id: u64, handle: u64, level: i32) {
        if let Some(inode) = self.inodes.get_mut(&id) {
            if level == 0 {
                inode.locks.remove(&handle);
            } else {
                inode.locks.insert(handle, level);
            }
        }
    }

    pub(crate) fn reserved(&self, id: u64) -> bool {
        self.inodes.get(&id).is_some_and(|i| i.locks.values().any(|l| *l >= 2))
    }
}

fn put(to: &mut Vec<u8>, offset: usize, bytes: &[u8]) {
    let end = offset + bytes.len();
    if to.len() < end {
        to.resize(end, 0);
    }
    to[offset..end].copy_from_slice(bytes);
}

/// A write cut at the borders of sectors.
fn sectors(pending: Pending) -> Vec<Pending> {
    let Pending::Write { mut offset, bytes } = pending else { return vec![pending] };
    let mut parts = Vec::new();
    let mut rest = bytes.as_slice();
    while !rest.is_empty() {
        let (part, later) = rest.split_at((SECTOR - offset % SECTOR).min(rest.len()));
        parts.push(Pending::Write { offset, bytes: part.to_vec() });
        offset += part.len();
        rest = later;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_power_cut_keeps_what_was_synchronised_and_may_lose_the_rest() {
        let (mut lost, mut kept) = (0, 0);
        for seed in 0..200 {
            let mut disk = Platter::default();
            let id = disk.make("a");
            disk.write(id, 0, b"first").unwrap();
            disk.sync(id);
            disk.write(id, 0, b"later").unwrap();
            disk.restart(&mut Rng::new(seed, 0));
            match disk.bytes(disk.find("a").unwrap()) {
                b"first" => lost += 1,
                b"later" => kept += 1,
                garbled => assert_eq!(garbled.len(), 5),
            }
        }
        assert!(lost > 50 && kept > 50, "{lost} {kept}");
    }

    #[test]
    fn a_name_that_was_never_synchronised_may_vanish() {
        let vanished = |seed| {
            let mut disk = Platter::default();
            disk.make("a");
            disk.restart(&mut Rng::new(seed, 0));
            disk.find("a").is_none()
        };
        assert!((0..50).any(vanished) && !(0..50).all(vanished));
    }
}
