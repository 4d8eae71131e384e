//! The tables of a project file, and how every connection to one is set up.

use std::path::Path;

use guards::Guard;
use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::{Connection, OpenFlags};

use crate::disk::Disk;

/// The SQLite application id of project files: "Stfa".
pub const APPLICATION_ID: u32 = 0x5374_6661;
/// The newest format that this program knows (SQLite's user version): that of a file whose history was shortened.
pub const FORMAT: u32 = 2;
/// The format of a file that has its whole history. Programs that do not know how a history is shortened read it as well.
pub(crate) const WHOLE: u32 = 1;

/// Tables since the first format. STRICT keeps values of the wrong type out.
pub(crate) const TABLES_0: &[&str] = &[
    "CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE journal (seq INTEGER PRIMARY KEY, at TEXT NOT NULL, who TEXT NOT NULL, label TEXT NOT NULL, \
     verb TEXT NOT NULL, format INTEGER NOT NULL, prev_hash BLOB NOT NULL, hash BLOB NOT NULL, \
     command BLOB NOT NULL, inverse BLOB NOT NULL) STRICT",
    "CREATE TABLE snapshot (seq INTEGER PRIMARY KEY, format INTEGER NOT NULL, chain BLOB NOT NULL, \
     hash BLOB NOT NULL, body BLOB NOT NULL) STRICT",
];

/// Tables that came with format 1: the pictures' bytes.
pub(crate) const TABLES_1: &[&str] =
    &["CREATE TABLE picture (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL) STRICT"];

/// The tables of a format, in the order of their making.
fn tables(format: u32) -> Vec<&'static str> {
    let later = if format >= 1 { TABLES_1 } else { &[] };
    TABLES_0.iter().chain(later).copied().collect()
}

/// Makes all tables of the current format.
pub(crate) fn make_tables(db: &Connection) -> rusqlite::Result<()> {
    tables(FORMAT).iter().try_for_each(|sql| db.execute_batch(sql))
}

/// One row of SQLite's own list of tables: type, name, table, text.
type Listed = (String, String, String, Option<String>);

fn listed(db: &Connection) -> rusqlite::Result<Vec<Listed>> {
    let mut rows = db.prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name")?;
    let row = |r: &rusqlite::Row<'_>| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?));
    rows.query_map([], row)?.collect()
}

/// The first difference between the file's tables and those of its format, as the rest of a sentence.
pub(crate) fn strange_table(db: &Connection, format: u32) -> rusqlite::Result<Option<String>> {
    let model = Connection::open_in_memory()?;
    tables(format).iter().try_for_each(|sql| model.execute_batch(sql))?;
    let (want, have) = (listed(&model)?, listed(db)?);
    if let Some((sort, name, ..)) = have.iter().find(|row| !want.contains(row)) {
        let name: String = name.chars().filter(|c| !c.is_control()).take(60).collect();
        return Ok(Some(format!("holds a {sort} \"{name}\" that the program did not make")));
    }
    Ok(want
        .iter()
        .find(|row| !have.contains(row))
        .map(|(sort, name, ..)| format!("lacks its {sort} \"{name}\"")))
}

/// How a connection is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// An existing file, to be written.
    Write,
    /// A new file.
    New,
}

/// Opens a connection that trusts nothing in the file and holds its lock until it is closed.
pub(crate) fn connect(
    disk: &dyn Disk,
    path: &Path,
    way: Way,
    max_pages: Option<u32>,
) -> rusqlite::Result<Connection> {
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if way == Way::New {
        flags |= OpenFlags::SQLITE_OPEN_CREATE;
    }
    let db = match disk.vfs() {
        Some(vfs) => Connection::open_with_flags_and_vfs(path, flags, vfs)?,
        None => Connection::open_with_flags(path, flags)?,
    };
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_TRIGGER, false)?;
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_VIEW, false)?;
    // Closing decides by itself when the journal is folded in; a crash or a failing disk must leave it alone.
    db.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    db.set_limit(Limit::SQLITE_LIMIT_LENGTH, 600 << 20)?;
    db.set_limit(Limit::SQLITE_LIMIT_ATTACHED, 0)?;
    db.busy_timeout(std::time::Duration::ZERO)?;
    // With the exclusive mode the lock stays until the connection ends, and no shared memory file is made.
    db.execute_batch(
        "PRAGMA locking_mode = EXCLUSIVE; PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; \
         PRAGMA temp_store = MEMORY; PRAGMA cache_size = -16000; PRAGMA foreign_keys = OFF;",
    )?;
    db.execute_batch(if Guard::SyncFull.stands() {
        "PRAGMA synchronous = FULL"
    } else {
        "PRAGMA synchronous = OFF"
    })?;
    if let Some(pages) = max_pages {
        db.pragma_update(None, "max_page_count", pages)?;
    }
    Ok(db)
}

/// Sets the journal mode and makes sure that it was taken.
pub(crate) fn journal_mode(db: &Connection, mode: &str) -> rusqlite::Result<bool> {
    let now: String = db.query_row(&format!("PRAGMA journal_mode = {mode}"), [], |r| r.get(0))?;
    Ok(now.eq_ignore_ascii_case(mode))
}

/// A value of the table `meta`.
pub(crate) fn meta(db: &Connection, key: &str) -> rusqlite::Result<Option<String>> {
    use rusqlite::OptionalExtension;
    db.query_row("SELECT value FROM meta WHERE key = ?1", [key], |r| r.get(0)).optional()
}

/// Sets a value of the table `meta`.
pub(crate) fn set_meta(db: &Connection, key: &str, value: &str) -> rusqlite::Result<()> {
    db.execute(
        "INSERT INTO meta (key, value) VALUES (?1, ?2) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
        [key, value],
    )
    .map(drop)
}
