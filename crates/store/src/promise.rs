//! The number of the last acknowledged change, kept in a small file beside the project.
//!
//! A damaged journal ends early without a word: SQLite takes the good part for the whole. This file remembers what
//! was promised, so that the difference is noticed when the project is opened. It is written after each commit and
//! before the change is acknowledged: it may lag behind the project file by what was never acknowledged,
//! and it never leads. It is a receipt, not a part of the project: without it the project is complete.
//!
//! Two slots are written in turn, each in a sector of its own, so that a write torn by a power cut leaves the other.

use std::io;
use std::path::{Path, PathBuf};

use crate::chain::{self, Hash};
use crate::disk::Disk;

/// Distance of the two slots: the largest sector of usual disks.
const SLOT: u64 = 4096;
/// Bytes of a slot that are used.
const USED: usize = 512;
const TITLE: &str = "standfast last saved change";

/// What was promised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Promise {
    /// Which project: where its chain begins.
    pub(crate) project: Hash,
    /// The last acknowledged change.
    pub(crate) seq: u64,
    /// Its hash.
    pub(crate) hash: Hash,
}

/// What the small file says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kept {
    /// There is none.
    Nothing,
    /// It cannot be read.
    Unreadable,
    /// This.
    Promise(Promise),
}

/// Where the promise of a project file is kept: its whole name with `-last` behind it.
pub fn promise_path(project: &Path) -> PathBuf {
    beside(project, "-last")
}

/// The file's whole name with something behind it.
pub(crate) fn beside(project: &Path, ending: &str) -> PathBuf {
    let mut name = project.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Writes the promise in its turn's slot and synchronises it.
pub(crate) fn write(disk: &dyn Disk, project: &Path, promise: &Promise) -> io::Result<()> {
    let slot = (promise.seq % 2) * SLOT;
    disk.write_at(&promise_path(project), slot, &encode(promise))
}

/// Writes the promise into the other slot as well, over what an earlier history may have left there.
pub(crate) fn write_other(disk: &dyn Disk, project: &Path, promise: &Promise) -> io::Result<()> {
    let slot = ((promise.seq + 1) % 2) * SLOT;
    disk.write_at(&promise_path(project), slot, &encode(promise))
}

/// Reads the highest promise that is whole.
pub(crate) fn read(disk: &dyn Disk, project: &Path) -> Kept {
    let path = promise_path(project);
    let bytes = match disk.look(&path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Kept::Nothing,
        Ok(look) if look.sort == crate::disk::Sort::File => disk.head(&path, SLOT as usize + USED),
        _ => return Kept::Unreadable,
    };
    let Ok(bytes) = bytes else { return Kept::Unreadable };
    let slots = [0, SLOT as usize].map(|at| bytes.get(at..at + USED).and_then(decode));
    match slots.into_iter().flatten().max_by_key(|p| p.seq) {
        Some(promise) => Kept::Promise(promise),
        None => Kept::Unreadable,
    }
}

fn check(body: &str) -> String {
    chain::hex(&chain::of(body.as_bytes()))
}

fn encode(promise: &Promise) -> Vec<u8> {
    let Promise { project, seq, hash } = promise;
    let body = format!("{TITLE}\nproject {}\nchange {seq}\nhash {}\n", chain::hex(project), chain::hex(hash));
    let mut text = format!("{body}check {}\n", check(&body)).into_bytes();
    text.resize(USED - 1, b' ');
    text.push(b'\n');
    text
}

fn decode(bytes: &[u8]) -> Option<Promise> {
    let text = std::str::from_utf8(bytes).ok()?;
    let (body, rest) = text.split_at(text.find("check ")?);
    if rest.strip_prefix("check ")?.trim_end() != check(body) {
        return None;
    }
    let mut lines = body.lines();
    (lines.next()? == TITLE).then_some(())?;
    let project = chain::from_hex(lines.next()?.strip_prefix("project ")?)?;
    let seq = lines.next()?.strip_prefix("change ")?.parse().ok()?;
    let hash = chain::from_hex(lines.next()?.strip_prefix("hash ")?)?;
    Some(Promise { project, seq, hash })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::disk::OsDisk;

    fn promise(seq: u64) -> Promise {
        Promise { project: [1; 32], seq, hash: [seq as u8; 32] }
    }

    #[test]
    fn the_highest_whole_slot_counts() {
        let folder = tempfile::tempdir().unwrap();
        let project = folder.path().join("river.standfast");
        assert_eq!(read(&OsDisk, &project), Kept::Nothing);
        for seq in [7, 8, 9] {
            write(&OsDisk, &project, &promise(seq)).unwrap();
            assert_eq!(read(&OsDisk, &project), Kept::Promise(promise(seq)));
        }
        // The write of 9 torn in its slot (odd): 8 still stands.
        OsDisk.write_at(&promise_path(&project), SLOT + 60, b"????").unwrap();
        assert_eq!(read(&OsDisk, &project), Kept::Promise(promise(8)));
        OsDisk.write_at(&promise_path(&project), 60, b"????").unwrap();
        assert_eq!(read(&OsDisk, &project), Kept::Unreadable);
    }
}
