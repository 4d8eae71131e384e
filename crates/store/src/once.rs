//! Keys under which changes were asked for: what is sent again counts once, after a restart too.
//!
//! A key stands in the table of marks under its change's number and is written in the change's own transaction, so that
//! it is there exactly when the change is. Programs that know nothing of keys read such a file and leave them alone.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, PoisonError, RwLock};

use rusqlite::Connection;

use crate::schema;

/// Whoever asks for a change may choose a key for it, one that nobody chooses twice. It has 1 to 64 signs: letters,
/// digits and hyphens of ASCII.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct OnceKey(String);

impl OnceKey {
    /// Signs of a key at the most.
    pub const LONGEST: usize = 64;

    /// The key, or `None` when it has other signs, none, or too many.
    pub fn new(text: &str) -> Option<Self> {
        let sign = |b: u8| b.is_ascii_alphanumeric() || b == b'-';
        let good = (1..=Self::LONGEST).contains(&text.len()) && text.bytes().all(sign);
        good.then(|| Self(text.to_owned()))
    }

    /// The key as it was given.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Keys are kept for so many changes: more than browsers send again after a connection was lost.
const KEPT: u64 = 4_096;

/// Under which keys the last changes were made, for those who must not wait until the store has written somebody else's.
#[derive(Debug, Clone, Default)]
pub struct KnownKeys(Arc<RwLock<HashMap<OnceKey, u64>>>);

impl KnownKeys {
    /// The number of the change that was made under a key, once it is on the disk.
    pub fn change(&self, key: &OnceKey) -> Option<u64> {
        self.0.read().unwrap_or_else(PoisonError::into_inner).get(key).copied()
    }

    fn with<T>(&self, work: impl FnOnce(&mut HashMap<OnceKey, u64>) -> T) -> T {
        work(&mut self.0.write().unwrap_or_else(PoisonError::into_inner))
    }
}

/// The keys of the last changes.
#[derive(Debug, Default)]
pub(crate) struct Keys {
    by_change: BTreeMap<u64, OnceKey>,
    pub(crate) known: KnownKeys,
    /// The file holds keys of changes after its last one, whose numbers are given anew.
    strays: bool,
}

impl Keys {
    /// Reads the keys of the last changes; what is no key of one of them is left out.
    pub(crate) fn read(db: &Connection, last: u64) -> rusqlite::Result<Self> {
        let sql = "SELECT key, value FROM meta WHERE key GLOB 'once *' AND length(value) <= ?1";
        let mut rows = db.prepare(sql)?;
        let mut rows = rows.query([OnceKey::LONGEST])?;
        let mut keys = Self::default();
        while let Some(row) = rows.next()? {
            let (mark, key): (String, String) = (row.get(0)?, row.get(1)?);
            let change = mark.strip_prefix("once ").and_then(|n| n.parse().ok());
            keys.strays |= change.is_some_and(|n: u64| n > last);
            let change = change.filter(|&n| n <= last && last - n < KEPT);
            if let (Some(change), Some(key)) = (change, OnceKey::new(&key)) {
                keys.add(change, key);
            }
        }
        Ok(keys)
    }

    /// Writes the keys of the changes from `first` to `last`, within their transaction, and removes those that are so old
    /// that nobody sends them again.
    pub(crate) fn write(
        &self,
        db: &Connection,
        new: &[(u64, OnceKey)],
        (first, last): (u64, u64),
    ) -> rusqlite::Result<()> {
        if self.strays {
            take_away_after(db, first - 1)?;
        }
        for (change, key) in new {
            schema::set_meta(db, &mark(*change), key.as_str())?;
        }
        for change in self.by_change.range(..oldest(last)).map(|(change, _)| change) {
            db.execute("DELETE FROM meta WHERE key = ?1", [mark(*change)])?;
        }
        Ok(())
    }

    /// Takes over what has been written.
    pub(crate) fn written(&mut self, new: Vec<(u64, OnceKey)>, last: u64) {
        self.strays = false;
        new.into_iter().for_each(|(change, key)| self.add(change, key));
        while let Some(first) = self.by_change.first_entry().filter(|first| *first.key() < oldest(last)) {
            let (change, key) = first.remove_entry();
            // A key that was chosen twice stands for the later change.
            self.known.with(|known| {
                if known.get(&key) == Some(&change) {
                    known.remove(&key);
                }
            });
        }
    }

    fn add(&mut self, change: u64, key: OnceKey) {
        self.known.with(|known| known.insert(key.clone(), change));
        self.by_change.insert(change, key);
    }
}

/// Removes the keys of changes that were never acknowledged.
pub(crate) fn take_away_after(db: &Connection, last: u64) -> rusqlite::Result<()> {
    let sql = "DELETE FROM meta WHERE key GLOB 'once *' AND CAST(substr(key, 6) AS INTEGER) > ?1";
    db.execute(sql, [last]).map(drop)
}

/// The first change whose key is still kept.
fn oldest(last: u64) -> u64 {
    (last + 1).saturating_sub(KEPT)
}

/// The name in the table of marks.
fn mark(change: u64) -> String {
    format!("once {change}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(n: u64) -> OnceKey {
        OnceKey::new(&format!("key-{n}")).unwrap()
    }

    fn file() -> Connection {
        let db = Connection::open_in_memory().unwrap();
        schema::make_tables(&db).unwrap();
        db
    }

    fn marks(db: &Connection) -> u64 {
        db.query_row("SELECT count(*) FROM meta WHERE key GLOB 'once *'", [], |r| r.get(0)).unwrap()
    }

    #[test]
    fn a_key_has_1_to_64_letters_digits_and_hyphens() {
        let longest = "a".repeat(64);
        for good in ["a", "0f-Z9", longest.as_str()] {
            assert_eq!(OnceKey::new(good).unwrap().as_str(), good);
        }
        let long = "a".repeat(65);
        for bad in ["", " ", "a b", "é", "a\n", "a'", long.as_str()] {
            assert_eq!(OnceKey::new(bad), None, "{bad:?}");
        }
    }

    #[test]
    fn the_keys_of_the_last_changes_stay_in_memory_and_file_alike() {
        let db = file();
        let mut keys = Keys::default();
        // Every third change has none.
        let keyed = |n: u64| !n.is_multiple_of(3);
        for last in 1..=2 * KEPT {
            let new: Vec<_> = keyed(last).then(|| (last, key(last))).into_iter().collect();
            keys.write(&db, &new, (last, last)).unwrap();
            keys.written(new, last);
        }
        let read = Keys::read(&db, 2 * KEPT).unwrap();
        for n in 1..=2 * KEPT {
            let want = (n > KEPT && keyed(n)).then_some(n);
            assert_eq!((keys.known.change(&key(n)), read.known.change(&key(n))), (want, want), "{n}");
        }
        assert_eq!(marks(&db), (KEPT + 1..=2 * KEPT).filter(|&n| keyed(n)).count() as u64);
    }

    #[test]
    fn what_is_no_key_of_a_change_is_left_out() {
        let db = file();
        let long = "a".repeat(65);
        let strange = [
            ("once 2", "with a space"),
            ("once 3", long.as_str()),
            ("once x", "no-number"),
            ("once -1", "below-all"),
            ("once 99999999999999999999", "beyond-all"),
            ("onces 4", "another-mark"),
            ("once 5", "good"),
        ];
        for (mark, value) in strange {
            schema::set_meta(&db, mark, value).unwrap();
        }
        let keys = Keys::read(&db, 8).unwrap();
        let good = OnceKey::new("good").unwrap();
        assert_eq!((keys.by_change.len(), keys.known.change(&good)), (1, Some(5)));
    }

    #[test]
    fn a_key_beyond_the_last_change_does_not_come_to_stand_for_the_next_one() {
        let db = file();
        for n in [8, 9, 10] {
            schema::set_meta(&db, &mark(n), key(n).as_str()).unwrap();
        }
        let mut keys = Keys::read(&db, 8).unwrap();
        assert_eq!((keys.known.change(&key(8)), keys.known.change(&key(9))), (Some(8), None));
        // Change 9 has no key of its own.
        keys.write(&db, &[(10, key(20))], (9, 10)).unwrap();
        keys.written(vec![(10, key(20))], 10);
        for keys in [&keys, &Keys::read(&db, 10).unwrap()] {
            let found = [8, 9, 10, 20].map(|n| keys.known.change(&key(n)));
            assert_eq!(found, [Some(8), None, None, Some(10)]);
        }
        assert!(!keys.strays && marks(&db) == 2);
    }

    #[test]
    fn keys_of_what_was_never_acknowledged_are_taken_away() {
        let db = file();
        for n in [9, 10, 11, 100] {
            schema::set_meta(&db, &mark(n), "k").unwrap();
        }
        take_away_after(&db, 10).unwrap();
        assert_eq!(marks(&db), 2);
        assert_eq!(schema::meta(&db, "once 10").unwrap().as_deref(), Some("k"));
    }
}
