//! Shortening the history: the plan after a change becomes the beginning, and the entries up to it are forgotten.
//!
//! Numbers and the chain of hashes go on as before: the first entry that is kept names the hash of the last one that was
//! forgotten, and that hash is kept with the plan from which the history begins now. All of it is one transaction, so
//! that a program that dies in the middle leaves the whole history or the shortened one.

use plan::Plan;
use rusqlite::Connection;

use crate::chain::{self, Hash};
use crate::error::StoreError;
use crate::journal::Stacks;
use crate::load::{self, Walk};
use crate::schema;
use crate::session::Session;
use crate::snapshot::Snapshot;

/// How much entries of the history hold.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Weight {
    /// How many entries.
    pub steps: u64,
    /// What they hold, bytes: each change, how it is taken back, and its words.
    pub bytes: u64,
}

/// The last change that was forgotten; 0 and no hash while the history is whole.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Beginning {
    pub(crate) seq: u64,
    pub(crate) hash: Hash,
}

/// Where the history of a file begins; `None` inside when it is whole, and an error of the bytes when that cannot be read.
pub(crate) fn beginning(db: &Connection) -> rusqlite::Result<Option<Beginning>> {
    let Some(text) = schema::meta(db, "begins")? else { return Ok(None) };
    let read = text.split_once(' ').and_then(|(seq, hash)| {
        let seq = seq.parse().ok().filter(|seq| *seq > 0)?;
        Some(Beginning { seq, hash: chain::from_hex(hash)? })
    });
    read.map(Some).ok_or(rusqlite::Error::QueryReturnedNoRows)
}

/// The plan after a change as the state with which a history begins, and the stacks that follow from the entries after it.
///
/// The entries after it must lead from there to the plan as it is, bit by bit: else nothing may be forgotten.
pub(crate) fn prepare(
    session: &Session,
    upto: u64,
    (plan, last, hash): (&Plan, u64, &Hash),
) -> Result<(Snapshot, Stacks), StoreError> {
    let db = session.db()?;
    let failed = |e: rusqlite::Error| session.failed("reading the history", &e);
    let damaged = |what: String| StoreError::Damaged { path: session.path.clone(), what };
    let (base, base_plan, _) = load::newest_state(db, &session.path, |n| n <= upto)?;
    let to = Walk::between(db, (&base, base_plan), upto).map_err(failed)?.map_err(damaged)?;
    let begin = Snapshot::new(upto, &to.hash, &to.plan);
    // As it will be read when the project is opened the next time.
    let read = begin.plan().map_err(damaged)?;
    let on = Walk::between(db, (&begin, read), last).map_err(failed)?.map_err(damaged)?;
    if on.plan != *plan || on.hash != *hash {
        return Err(damaged("its history does not lead to the plan".into()));
    }
    Ok((begin, on.stacks))
}

/// Forgets everything up to the state with which the history begins now.
pub(crate) fn cut(db: &Connection, begin: &Snapshot) -> rusqlite::Result<()> {
    begin.put(db)?;
    db.execute("DELETE FROM snapshot WHERE seq < ?1", [begin.seq])?;
    db.execute("DELETE FROM journal WHERE seq <= ?1", [begin.seq])?;
    let hash: Hash = begin.chain.as_slice().try_into().unwrap_or([0; 32]);
    schema::set_meta(db, "begins", &format!("{} {}", begin.seq, chain::hex(&hash)))?;
    db.pragma_update(None, "user_version", schema::FORMAT)
}

/// How much the entries of a range hold.
pub(crate) fn weight(db: &Connection, first: u64, end: u64) -> rusqlite::Result<Weight> {
    // Lengths stand at the head of a row, so that no command is read for them.
    let sql = "SELECT count(*), coalesce(sum(length(command) + length(inverse) + length(CAST(label AS BLOB))), 0) \
               FROM journal WHERE seq BETWEEN ?1 AND ?2";
    let end = end.min(i64::MAX as u64);
    db.query_row(sql, [first, end], |r| Ok(Weight { steps: r.get(0)?, bytes: r.get(1)? }))
}

/// The last entry before the first one that was made at or after a time; `None` when none was.
pub(crate) fn before(db: &Connection, at: &str) -> rusqlite::Result<Option<u64>> {
    let first: Option<u64> =
        db.query_row("SELECT min(seq) FROM journal WHERE at >= ?1", [at], |r| r.get(0))?;
    Ok(first.map(|seq| seq - 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{Act, NewEntry};
    use crate::open::Options;
    use crate::store::Store;
    use plan::Command;

    #[test]
    fn nothing_is_prepared_where_the_entries_lead_to_another_plan() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("river.standfast");
        let mut store = Store::create(&path, &Plan::new("River"), "now", &Options::default()).unwrap();
        for name in ["Brook", "Stream"] {
            let act = Act::Do(Command::Rename { name: name.into() });
            let entry =
                NewEntry { at: "now".into(), who: String::new(), label: String::new(), act, once: None };
            store.commit(&[entry]).unwrap();
        }
        let db = store.session.db().unwrap();
        let hash =
            db.query_row("SELECT hash FROM journal WHERE seq = 2", [], |r| r.get::<_, Hash>(0)).unwrap();
        let prepared = |plan: &Plan, hash: &Hash| prepare(&store.session, 1, (plan, 2, hash)).is_ok();
        assert!(prepared(&Plan::new("Stream"), &hash));
        assert!(!prepared(&Plan::new("Sea"), &hash));
        assert!(!prepared(&Plan::new("Stream"), &[7; 32]));
    }
}
