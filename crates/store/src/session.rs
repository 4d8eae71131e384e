//! A connection to one project file, together with the right to have it open.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use rusqlite::Connection;
use rusqlite::limits::Limit;

use crate::disk::Disk;
use crate::error::StoreError;
use crate::promise::beside;
use crate::registry::Claim;
use crate::schema::{self, Way};

/// An open file. The fields are dropped in this order: the connection first, the claim last.
#[derive(Debug)]
pub(crate) struct Session {
    db: Option<Connection>,
    scratch: Option<Scratch>,
    /// The project as the user knows it, without links.
    pub(crate) path: PathBuf,
    /// The file that is really open: the project, or a scratch copy of it.
    pub(crate) file: PathBuf,
    pub(crate) disk: Arc<dyn Disk>,
    max_pages: Option<u32>,
    _claim: Claim,
}

/// A folder that goes away with its holder.
#[derive(Debug)]
struct Scratch {
    folder: PathBuf,
    disk: Arc<dyn Disk>,
}

impl Drop for Scratch {
    fn drop(&mut self) {
        self.disk.remove_scratch(&self.folder);
    }
}

impl Session {
    /// Opens the project itself.
    pub(crate) fn in_place(
        disk: Arc<dyn Disk>,
        path: PathBuf,
        claim: Claim,
        max_pages: Option<u32>,
    ) -> Result<Self, StoreError> {
        let file = path.clone();
        let mut session = Self { db: None, scratch: None, path, file, disk, max_pages, _claim: claim };
        session.connect()?;
        Ok(session)
    }

    /// Opens a scratch copy of the project and of the journal beside it.
    pub(crate) fn on_copy(disk: Arc<dyn Disk>, path: PathBuf, claim: Claim) -> Result<Self, StoreError> {
        let failed = |e: &std::io::Error| StoreError::from_io(&path, "reading a copy of it", e);
        let folder = disk.make_scratch().map_err(|e| failed(&e))?;
        let scratch = Scratch { folder: folder.clone(), disk: disk.clone() };
        let file = folder.join("project");
        for ending in ["", "-wal", "-journal"] {
            let from = beside(&path, ending);
            if ending.is_empty() || disk.look(&from).is_ok() {
                disk.copy(&from, &beside(&file, ending)).map_err(|e| failed(&e))?;
            }
        }
        let mut session =
            Self { db: None, scratch: Some(scratch), path, file, disk, max_pages: None, _claim: claim };
        session.connect()?;
        Ok(session)
    }

    /// True when a scratch copy is open instead of the project.
    pub(crate) fn is_copy(&self) -> bool {
        self.scratch.is_some()
    }

    /// Opens the connection, or opens it anew.
    pub(crate) fn connect(&mut self) -> Result<(), StoreError> {
        self.disconnect();
        let db = schema::connect(&*self.disk, &self.file, Way::Write, self.max_pages);
        self.db = Some(db.map_err(|e| self.failed("opening it", &e))?);
        Ok(())
    }

    /// Ends the connection and with it the lock.
    pub(crate) fn disconnect(&mut self) {
        self.db = None;
    }

    pub(crate) fn db(&self) -> Result<&Connection, StoreError> {
        self.db.as_ref().ok_or_else(|| StoreError::Disk {
            path: self.path.clone(),
            doing: "reading it".into(),
            what: "the file could not be opened again after an error".into(),
        })
    }

    /// Runs `work` in one transaction: all of it is in the file afterwards, or nothing.
    pub(crate) fn transaction(
        &self,
        doing: &str,
        work: impl FnOnce(&Connection) -> rusqlite::Result<()>,
    ) -> Result<(), StoreError> {
        let db = self.db()?;
        let done = db
            .execute_batch("BEGIN IMMEDIATE")
            .and_then(|()| work(db))
            .and_then(|()| db.execute_batch("COMMIT"));
        done.map_err(|e| {
            if !db.is_autocommit() {
                // If even this fails, the connection is opened anew before the next change.
                let _ = db.execute_batch("ROLLBACK");
            }
            self.failed(doing, &e)
        })
    }

    pub(crate) fn failed(&self, doing: &str, error: &rusqlite::Error) -> StoreError {
        StoreError::from_sqlite(&self.path, doing, error)
    }

    /// Gives pages that hold nothing any more back to the disk.
    pub(crate) fn give_back(&self, doing: &str) -> Result<(), StoreError> {
        let db = self.db()?;
        // What is copied may be large, and SQLite joins a file of its own for it.
        let given = db
            .set_limit(Limit::SQLITE_LIMIT_ATTACHED, 1)
            .and_then(|_| db.execute_batch("PRAGMA temp_store = FILE; VACUUM"));
        let again = db
            .set_limit(Limit::SQLITE_LIMIT_ATTACHED, 0)
            .and_then(|_| db.execute_batch("PRAGMA temp_store = MEMORY"));
        given.and(again).map_err(|e| self.failed(doing, &e))?;
        self.fold_in(doing)
    }

    /// Folds the journal file into the project and empties it.
    pub(crate) fn fold_in(&self, doing: &str) -> Result<(), StoreError> {
        let row = |r: &rusqlite::Row<'_>| Ok((r.get::<_, i64>(0)?, r.get::<_, i64>(1)?, r.get::<_, i64>(2)?));
        let (busy, pages, done) = self
            .db()?
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], row)
            .map_err(|e| self.failed(doing, &e))?;
        if busy == 0 && pages == done {
            return Ok(());
        }
        Err(StoreError::Disk {
            path: self.path.clone(),
            doing: doing.into(),
            what: format!("only {done} of {pages} pages were taken over"),
        })
    }
}

/// Opens a connection of its own to see whether anybody else has the file open; it is not changed.
pub(crate) fn must_not_be_open(disk: &dyn Disk, path: &Path) -> Result<(), StoreError> {
    let failed = |e: &rusqlite::Error| StoreError::from_sqlite(path, "looking whether it is in use", e);
    let db = schema::connect(disk, path, Way::Write, None).map_err(|e| failed(&e))?;
    db.execute_batch("BEGIN EXCLUSIVE; ROLLBACK").map_err(|e| failed(&e))
}
