//! Reads the plan and its history out of a file, checks the chain, and says how far it is whole.

use std::path::Path;

use guards::Guard;
use plan::{Command, Plan};
use rusqlite::Connection;

use crate::chain::{self, Hash};
use crate::error::StoreError;
use crate::forget;
use crate::journal::{COMMAND_FORMAT, Entry, SELECT, Stacks, Verb};
use crate::once::Keys;
use crate::schema;
use crate::snapshot::Snapshot;

/// What a file holds.
#[derive(Debug)]
pub(crate) struct Loaded {
    pub(crate) plan: Plan,
    pub(crate) stacks: Stacks,
    /// Under which keys the last changes were asked for.
    pub(crate) keys: Keys,
    /// The last change that is whole.
    pub(crate) last: u64,
    /// Its hash.
    pub(crate) hash: Hash,
    /// When it was made.
    pub(crate) last_at: String,
    /// The project: where its chain begins.
    pub(crate) project: Hash,
    /// The last change according to the file itself.
    pub(crate) said_last: u64,
    /// The newest stored state from which the plan was replayed.
    pub(crate) stored_at: u64,
    /// The last change that was forgotten; 0 while the history is whole.
    pub(crate) first: u64,
    pub(crate) damage: Option<Damage>,
    /// Hash of the entry that the small file beside the project names, if it is there.
    pub(crate) promised_hash: Option<Hash>,
}

/// Bytes that are not as they were written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Damage {
    pub(crate) what: String,
    /// The plan has every change up to the last; only its past is damaged.
    pub(crate) plan_whole: bool,
}

/// True for errors that come from the bytes of the file rather than from the disk or the system.
pub(crate) fn is_damage(error: &rusqlite::Error) -> bool {
    use rusqlite::{Error, ErrorCode as Code};
    match error {
        Error::SqliteFailure(e, _) | Error::SqlInputError { error: e, .. } => {
            matches!(e.code, Code::DatabaseCorrupt | Code::NotADatabase | Code::TooBig | Code::Unknown)
        }
        Error::FromSqlConversionFailure(..)
        | Error::IntegralValueOutOfRange(..)
        | Error::InvalidColumnType(..)
        | Error::Utf8Error(..)
        | Error::QueryReturnedNoRows => true,
        _ => false,
    }
}

/// Where a walk along the chain stands.
pub(crate) struct Walk {
    pub(crate) plan: Plan,
    pub(crate) stacks: Stacks,
    pub(crate) seq: u64,
    pub(crate) hash: Hash,
    at: String,
    promised_hash: Option<Hash>,
    /// It goes no further than this.
    until: u64,
}

/// Loads the file. `promised` is the number kept beside it, whose entry's hash is handed back for comparison.
///
/// With `from_start` the stored states are not used: everything is replayed.
pub(crate) fn load(
    db: &Connection,
    path: &Path,
    promised: Option<u64>,
    from_start: bool,
) -> Result<Loaded, StoreError> {
    let failed = |e: &rusqlite::Error| StoreError::from_sqlite(path, "reading the project", e);
    let begin = damaged(forget::beginning(db)).map_err(|e| failed(&e))?;
    let first = begin.flatten().unwrap_or_default();
    let (base, plan, mut damage) = newest_state(db, path, |n| n == first.seq || !from_start)?;
    if begin.is_none() {
        damage.get_or_insert(past("where its history begins cannot be read"));
    }
    let base_chain = base.chain.as_slice().try_into().unwrap_or([0; 32]);
    let project = match damaged(schema::meta(db, "project")).map_err(|e| failed(&e))? {
        Some(Some(text)) => chain::from_hex(&text),
        _ => None,
    };
    if project.is_none() {
        damage.get_or_insert(past("the project's own number cannot be read"));
    }
    let said = damaged(schema::meta(db, "last")).map_err(|e| failed(&e))?.flatten();
    let said_last = said.and_then(|text| text.parse().ok());
    if said_last.is_none() {
        damage.get_or_insert(past("the number of the last change cannot be read"));
    }
    let start = match first.seq {
        _ if base.seq == first.seq => base_chain,
        0 => project.unwrap_or([0; 32]),
        _ => first.hash,
    };
    let mut walk = Walk::new(plan.clone(), first.seq, start);
    let mut broken = walk.along(db, &base, base_chain, promised).map_err(|e| failed(&e))?;
    if broken.is_none() && walk.seq < base.seq {
        broken = Some(format!("changes {} to {} are missing from the history", walk.seq + 1, base.seq));
    }
    if let Some(what) = broken {
        if walk.seq >= base.seq {
            damage = Some(Damage { what, plan_whole: false });
        } else {
            // The past is damaged, but the stored state is whole and the chain goes on from it.
            walk = Walk::new(plan, base.seq, base_chain);
            let again = walk.along(db, &base, base_chain, promised).map_err(|e| failed(&e))?;
            let plan_whole = again.is_none();
            damage =
                Some(Damage { what: again.map_or(what.clone(), |a| format!("{what}, and {a}")), plan_whole });
        }
    }
    if said_last.is_some_and(|n| n < walk.seq) {
        damage.get_or_insert(past("the number of the last change is not that of the last entry"));
    }
    let keys = damaged(Keys::read(db, walk.seq)).map_err(|e| failed(&e))?;
    Ok(Loaded {
        plan: walk.plan,
        stacks: walk.stacks,
        // A key that cannot be read costs nothing but the second of two changes, which can be taken back.
        keys: keys.unwrap_or_default(),
        last: walk.seq,
        hash: walk.hash,
        last_at: walk.at,
        project: project.unwrap_or([0; 32]),
        said_last: said_last.unwrap_or(0),
        stored_at: base.seq,
        first: first.seq,
        damage,
        promised_hash: walk.promised_hash,
    })
}

fn past(what: &str) -> Damage {
    Damage { what: what.into(), plan_whole: true }
}

/// `None` for values that cannot be read because the file is damaged.
pub(crate) fn damaged<T>(result: rusqlite::Result<T>) -> rusqlite::Result<Option<T>> {
    match result {
        Ok(value) => Ok(Some(value)),
        Err(e) if is_damage(&e) => Ok(None),
        Err(e) => Err(e),
    }
}

/// The newest stored state of those wanted that is whole, and what is wrong with newer ones.
pub(crate) fn newest_state(
    db: &Connection,
    path: &Path,
    wanted: impl Fn(u64) -> bool,
) -> Result<(Snapshot, Plan, Option<Damage>), StoreError> {
    let failed = |e: &rusqlite::Error| StoreError::from_sqlite(path, "reading the stored states", e);
    let mut damage = None;
    let numbers = Snapshot::numbers(db).map_err(|e| failed(&e))?;
    for seq in numbers.into_iter().filter(|&n| wanted(n)) {
        let read = damaged(Snapshot::read(db, seq)).map_err(|e| failed(&e))?.flatten();
        let plan = match &read {
            Some(snapshot) if snapshot.seq == seq && snapshot.chain.len() == 32 => snapshot.plan(),
            _ => Err(format!("the stored state after change {seq} cannot be read")),
        };
        match (read, plan) {
            (Some(snapshot), Ok(plan)) => return Ok((snapshot, plan, damage)),
            (_, Err(what)) => damage = damage.or(Some(past(&what))),
            (None, Ok(_)) => {}
        }
    }
    let what = damage.map_or_else(|| "it holds no stored state of the plan".into(), |d: Damage| d.what);
    Err(StoreError::Damaged { path: path.to_path_buf(), what })
}

impl Walk {
    fn new(plan: Plan, seq: u64, hash: Hash) -> Self {
        Self {
            plan,
            stacks: Stacks::default(),
            seq,
            hash,
            at: String::new(),
            promised_hash: None,
            until: i64::MAX as u64,
        }
    }

    /// Goes from a stored state to a change, applying every entry on the way. Says what is wrong where that does not work.
    pub(crate) fn between(
        db: &Connection,
        (from, plan): (&Snapshot, Plan),
        until: u64,
    ) -> rusqlite::Result<Result<Self, String>> {
        let chain = from.chain.as_slice().try_into().unwrap_or([0; 32]);
        let mut walk = Self { until, ..Self::new(plan, from.seq, chain) };
        let wrong = walk.along(db, from, chain, None)?;
        Ok(match wrong {
            None if walk.seq == until => Ok(walk),
            None => Err(format!("change {until} is missing from the history")),
            Some(what) => Err(what),
        })
    }

    /// Follows the entries after its place to their end, applying those after the stored state.
    /// Stops at the first that is not as it was written and says what is wrong there.
    fn along(
        &mut self,
        db: &Connection,
        base: &Snapshot,
        base_chain: Hash,
        promised: Option<u64>,
    ) -> rusqlite::Result<Option<String>> {
        if promised == Some(self.seq) {
            self.promised_hash = Some(self.hash);
        }
        let mut query = db.prepare(&format!("{SELECT} WHERE seq BETWEEN ?1 AND ?2 ORDER BY seq"))?;
        let mut rows = query.query([self.seq + 1, self.until])?;
        loop {
            let next = match rows.next() {
                Ok(None) => return Ok(None),
                Ok(Some(row)) => Entry::from_row(row),
                Err(e) => Err(e),
            };
            let entry = match next {
                Ok(entry) => entry,
                Err(e) if is_damage(&e) => {
                    return Ok(Some(format!("change {} cannot be read", self.seq + 1)));
                }
                Err(e) => return Err(e),
            };
            if let Err(what) = self.take(&entry, base.seq) {
                return Ok(Some(what));
            }
            if promised == Some(self.seq) {
                self.promised_hash = Some(self.hash);
            }
            if self.seq == base.seq && self.hash != base_chain && Guard::HashChain.stands() {
                self.seq -= 1;
                return Ok(Some(format!(
                    "the stored state after change {} belongs to another change",
                    base.seq
                )));
            }
        }
    }

    fn take(&mut self, entry: &Entry, stored: u64) -> Result<(), String> {
        let n = self.seq + 1;
        if entry.seq != n {
            return Err(format!("change {n} is missing from the history"));
        }
        let own = entry.own_hash();
        if Guard::HashChain.stands() && (entry.prev_hash != self.hash || entry.hash != own) {
            return Err(format!("change {n} has other bytes than were written"));
        }
        let verb = Verb::from_word(&entry.verb).ok_or_else(|| format!("change {n} is of an unknown sort"))?;
        if entry.format > COMMAND_FORMAT {
            return Err(format!("change {n} has format {}, which this program does not know", entry.format));
        }
        if n > stored {
            let command: Command = serde_json::from_slice(&entry.command)
                .map_err(|e| format!("change {n} is no command ({e})"))?;
            self.plan.apply(&command).map_err(|e| format!("change {n} does not fit the plan ({e})"))?;
        }
        self.stacks.follow(verb, entry.step());
        self.seq = n;
        self.hash = own;
        self.at.clone_from(&entry.at);
        Ok(())
    }
}
