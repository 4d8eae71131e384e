//! Brings files of older formats to the current one. The list is numbered and only ever grows.

use std::path::PathBuf;

use rusqlite::Connection;

use crate::copy::copy_pages;
use crate::create::clear_part;
use crate::error::StoreError;
use crate::note::OpenNote;
use crate::promise::beside;
use crate::schema::{self, TABLES_1, WHOLE};
use crate::session::Session;

/// One step. It runs in a transaction and sees the tables of the format before it.
struct Migration {
    /// The format that it leads to.
    to: u32,
    run: fn(&Connection) -> rusqlite::Result<()>,
}

/// In order, without gaps. A released step is never changed.
const MIGRATIONS: &[Migration] = &[
    // Format 0 kept the pictures' bytes outside the project.
    Migration { to: 1, run: |db| TABLES_1.iter().try_for_each(|sql| db.execute_batch(sql)) },
];

/// Brings an open file from an older format to the current one and keeps a copy of how it was beside it.
pub(crate) fn migrate(session: &Session, from: u32) -> Result<OpenNote, StoreError> {
    let doing = format!("bringing the project to format {WHOLE}");
    // Outside the journal mode of daily work, so that the version in the file's head is always the true one.
    schema::journal_mode(session.db()?, "DELETE").map_err(|e| session.failed(&doing, &e))?;
    let backup = if session.is_copy() { session.path.clone() } else { keep_as_it_was(session)? };
    session.transaction(&doing, |db| {
        for step in MIGRATIONS.iter().filter(|m| m.to > from) {
            (step.run)(db)?;
        }
        db.pragma_update(None, "user_version", WHOLE)
    })?;
    Ok(OpenNote::Migrated { from, to: WHOLE, backup })
}

fn keep_as_it_was(session: &Session) -> Result<PathBuf, StoreError> {
    let disk = &*session.disk;
    let free = (1..1000)
        .map(|n| if n == 1 { format!(".before-v{WHOLE}") } else { format!(".before-v{WHOLE}-{n}") })
        .map(|ending| beside(&session.path, &ending))
        .find(|path| disk.look(path).is_err());
    let Some(backup) = free else {
        let what = "there are a thousand of them".into();
        return Err(StoreError::Exists { path: beside(&session.path, &format!(".before-v{WHOLE}")), what });
    };
    let part = beside(&backup, ".part");
    clear_part(disk, &part)?;
    copy_pages(session, &part)?;
    disk.rename(&part, &backup)
        .map_err(|e| StoreError::from_io(&backup, "keeping the project as it was", &e))?;
    Ok(backup)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_numbered_without_gaps_up_to_the_current_format() {
        let numbers: Vec<u32> = MIGRATIONS.iter().map(|m| m.to).collect();
        assert_eq!(numbers, (1..=WHOLE).collect::<Vec<_>>());
    }
}
