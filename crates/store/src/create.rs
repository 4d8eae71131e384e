//! Makes a new project file: whole under another name first, then renamed into place.

use std::io;
use std::path::Path;

use plan::Plan;
use rusqlite::Connection;

use crate::chain;
use crate::disk::Disk;
use crate::error::StoreError;
use crate::promise::beside;
use crate::schema::{self, APPLICATION_ID, WHOLE, Way};
use crate::snapshot::Snapshot;

const DOING: &str = "making the project";

/// Makes a closed project file at a resolved path where no file is.
pub(crate) fn create(
    disk: &dyn Disk,
    path: &Path,
    plan: &Plan,
    now: &str,
    max_pages: Option<u32>,
) -> Result<(), StoreError> {
    let first = Snapshot::new(0, &[0; 32], plan);
    first.plan().map_err(|what| StoreError::BadPlan { path: path.to_path_buf(), what })?;
    must_be_free(disk, path)?;
    no_leftovers(disk, path)?;
    let part = beside(path, ".part");
    clear_part(disk, &part)?;
    let made = fill(disk, &part, plan, now, max_pages);
    if let Err(e) = made {
        // Half a file under another name is nobody's; that it cannot be removed is the smaller trouble.
        let _ = clear_part(disk, &part);
        return Err(StoreError::from_sqlite(path, DOING, &e));
    }
    must_be_free(disk, path)?;
    disk.rename(&part, path).map_err(|e| StoreError::from_io(path, DOING, &e))
}

/// Refuses when any file has this name.
fn must_be_free(disk: &dyn Disk, path: &Path) -> Result<(), StoreError> {
    match disk.look(path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(e) => Err(StoreError::from_io(path, DOING, &e)),
        Ok(_) => Err(StoreError::Exists { path: path.to_path_buf(), what: "is not overwritten".into() }),
    }
}

/// Refuses when journal files of an earlier file of this name are left: they would be taken for the new one's.
pub(crate) fn no_leftovers(disk: &dyn Disk, path: &Path) -> Result<(), StoreError> {
    for ending in ["-wal", "-journal"] {
        let left = beside(path, ending);
        if disk.look(&left).is_ok() {
            let what = "holds changes of a project of this name that is not here any more".into();
            return Err(StoreError::Exists { path: left, what });
        }
    }
    Ok(())
}

/// Takes away what an earlier try has left under the passing name.
pub(crate) fn clear_part(disk: &dyn Disk, part: &Path) -> Result<(), StoreError> {
    for ending in ["-wal", "-journal", ""] {
        let file = beside(part, ending);
        disk.remove(&file).map_err(|e| StoreError::from_io(&file, "removing a half-made file", &e))?;
    }
    Ok(())
}

fn fill(
    disk: &dyn Disk,
    part: &Path,
    plan: &Plan,
    now: &str,
    max_pages: Option<u32>,
) -> rusqlite::Result<()> {
    let db = schema::connect(disk, part, Way::New, max_pages)?;
    db.pragma_update(None, "page_size", 4096)?;
    db.execute_batch("BEGIN EXCLUSIVE")?;
    write_all(&db, plan, now)?;
    db.execute_batch("COMMIT")?;
    db.close().map_err(|(_, e)| e)
}

fn write_all(db: &Connection, plan: &Plan, now: &str) -> rusqlite::Result<()> {
    db.pragma_update(None, "application_id", APPLICATION_ID)?;
    db.pragma_update(None, "user_version", WHOLE)?;
    schema::make_tables(db)?;
    let first = serde_json::to_vec(plan).expect("a plan holds nothing that JSON cannot");
    let project = chain::genesis(now, &chain::of(&first));
    for (key, value) in
        [("project", chain::hex(&project).as_str()), ("created", now), ("last", "0"), ("state", "closed")]
    {
        schema::set_meta(db, key, value)?;
    }
    Snapshot::new(0, &project, plan).insert(db)
}
