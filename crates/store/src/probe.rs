//! What can be said of a file before SQLite touches it.

use std::io;
use std::path::{Path, PathBuf};

use guards::Guard;

use crate::disk::{Disk, Look, Sort};
use crate::error::StoreError;
use crate::promise::beside;
use crate::registry::{self, Claim};
use crate::schema::{self, APPLICATION_ID, FORMAT, Way};

/// Bytes of an SQLite file's head (SQLite "Database File Format", section 1.3).
const HEAD: usize = 100;

/// A file that is ours and not open in this process.
#[derive(Debug)]
pub(crate) struct Probed {
    /// Its path without links.
    pub(crate) path: PathBuf,
    /// What was seen of it.
    pub(crate) look: Look,
    /// The right to open it.
    pub(crate) claim: Claim,
}

/// Looks at a file by ordinary calls, once it is sure that this process does not have it open.
pub(crate) fn probe(disk: &dyn Disk, given: &Path) -> Result<Probed, StoreError> {
    let trouble = |e: &io::Error| cannot_look(given, e);
    let path = disk.resolve(given).map_err(|e| trouble(&e))?;
    let look = disk.look(&path).map_err(|e| trouble(&e))?;
    match look.sort {
        Sort::File => {}
        Sort::Folder => return Err(not_ours(given, "is a folder")),
        Sort::Other => return Err(not_ours(given, "is a pipe or a device")),
    }
    let Some(claim) = registry::claim(&look.identity) else {
        return Err(StoreError::InUse { path: given.to_path_buf(), by: "in this program" });
    };
    let head = disk.head(&path, HEAD).map_err(|e| trouble(&e))?;
    read_head(given, &head).or_else(|refusal| {
        // A write of the head that was cut short is put right from the journal beside it; on a copy, since
        // the file may still turn out to be somebody else's.
        match mended_head(disk, &path) {
            Some((APPLICATION_ID, format)) => check_format(given, format),
            _ => Err(refusal),
        }
    })?;
    Ok(Probed { path, look, claim })
}

/// Application id and format after SQLite has put the file right from its journal; `None` when there is none.
fn mended_head(disk: &dyn Disk, path: &Path) -> Option<(u32, u32)> {
    let has =
        |ending: &str| disk.look(&beside(path, ending)).is_ok_and(|l| l.sort == Sort::File && l.len > 0);
    if !has("-wal") && !has("-journal") {
        return None;
    }
    let folder = disk.make_scratch().ok()?;
    let head = copied_and_read(disk, path, &folder.join("project"));
    disk.remove_scratch(&folder);
    head
}

fn copied_and_read(disk: &dyn Disk, path: &Path, to: &Path) -> Option<(u32, u32)> {
    for ending in ["", "-wal", "-journal"] {
        if ending.is_empty() || disk.look(&beside(path, ending)).is_ok() {
            disk.copy(&beside(path, ending), &beside(to, ending)).ok()?;
        }
    }
    let db = schema::connect(disk, to, Way::Write, None).ok()?;
    let number = |name: &str| db.pragma_query_value(None, name, |r| r.get(0)).ok();
    Some((number("application_id")?, number("user_version")?))
}

/// The format in an SQLite head, or why the file is not ours.
fn read_head(given: &Path, head: &[u8]) -> Result<u32, StoreError> {
    if head.is_empty() {
        return Err(not_ours(given, "is empty"));
    }
    if !head.starts_with(b"SQLite format 3\0") {
        return Err(not_ours(given, "is a file of another kind"));
    }
    if head.len() < HEAD {
        return Err(StoreError::Damaged {
            path: given.to_path_buf(),
            what: "only its first bytes are left".into(),
        });
    }
    let number = |at: usize| u32::from_be_bytes([head[at], head[at + 1], head[at + 2], head[at + 3]]);
    if number(68) != APPLICATION_ID {
        return Err(not_ours(given, "belongs to another program"));
    }
    check_format(given, number(60))
}

/// Refuses formats that this program does not know.
pub(crate) fn check_format(path: &Path, found: u32) -> Result<u32, StoreError> {
    if found > FORMAT && Guard::NewerVersion.stands() {
        return Err(StoreError::Newer { path: path.to_path_buf(), found, known: FORMAT });
    }
    Ok(found)
}

fn not_ours(path: &Path, what: &str) -> StoreError {
    StoreError::NotOurs { path: path.to_path_buf(), what: what.into() }
}

fn cannot_look(path: &Path, error: &io::Error) -> StoreError {
    // ELOOP on Linux and on the BSDs; the library's own name for it is not stable yet.
    if cfg!(unix) && matches!(error.raw_os_error(), Some(40 | 62)) {
        return not_ours(path, "is a link that leads round in a circle");
    }
    match error.kind() {
        io::ErrorKind::NotFound => StoreError::Missing { path: path.to_path_buf() },
        io::ErrorKind::NotADirectory => StoreError::Missing { path: path.to_path_buf() },
        io::ErrorKind::InvalidInput | io::ErrorKind::InvalidFilename => {
            not_ours(path, "has a name that cannot be")
        }
        io::ErrorKind::PermissionDenied => not_ours(path, "may not be read by you"),
        _ => StoreError::from_io(path, "opening it", error),
    }
}
