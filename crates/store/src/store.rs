//! The open project: takes changes, keeps them, and gives back what it holds.

use std::ops::RangeInclusive;
use std::path::Path;

use guards::Guard;
use plan::{Command, Plan, Refusal};
use sayings::{Said, gate, say};

use crate::chain::{self, Hash};
use crate::copy::{self, Report};
use crate::create;
use crate::error::StoreError;
use crate::forget::{self, Weight};
use crate::journal::{
    Act, COMMAND_FORMAT, Committed, Entry, Followed, HistoryEntry, NewEntry, Receipt, Stacks,
};
use crate::journal::{Made, MadeEntry, Step, Verb};
use crate::load::Loaded;
use crate::once::{self, Keys, KnownKeys, OnceKey};
use crate::open::{self, Opened, Options};
use crate::promise::{self, Promise};
use crate::schema;
use crate::session::Session;
use crate::snapshot::Snapshot;

/// The largest command, or inverse of one, in bytes of JSON.
pub const MAX_ENTRY: usize = 64 << 20;
/// The largest picture in bytes.
pub const MAX_PICTURE: usize = 512 << 20;
/// The plan is stored again when the entries since then have this many bytes.
const SNAPSHOT_BYTES: u64 = 16 << 20;

/// An open project. It is the one place that changes its plan.
///
/// Every call that changes it returns only when the change is on the disk. After an error nothing of the call counts:
/// plan, stacks and numbers are as before, and the next change first opens the file anew and compares it.
/// A store that is dropped closes its file as well as it can; [`Store::close`] says whether it worked.
#[derive(Debug)]
pub struct Store {
    pub(crate) session: Session,
    plan: Plan,
    stacks: Stacks,
    keys: Keys,
    last: u64,
    last_at: String,
    hash: Hash,
    project: Hash,
    read_only: Option<String>,
    damaged: bool,
    /// A write has failed: the file is opened anew and compared before the next one.
    doubtful: bool,
    /// Both slots beside the file are written at the first change, so that none is left of another history.
    promised: bool,
    stored_at: u64,
    /// The last change that was forgotten; 0 while the history is whole.
    first: u64,
    bytes_since: u64,
    snapshot_every: u64,
    closed: bool,
}

/// Entries that have been applied but not yet written.
#[derive(Default)]
struct Staged {
    rows: Vec<(Entry, Command)>,
    keys: Vec<(u64, OnceKey)>,
    followed: Vec<Followed>,
    outcomes: Vec<Result<Committed, Refusal>>,
    bytes: u64,
}

impl Store {
    /// Makes a new project with a plan to begin with, and opens it. `now` is the time in UTC, as text.
    ///
    /// The file appears whole or not at all.
    ///
    /// # Errors
    /// [`StoreError::Exists`] when a file of this name is there.
    pub fn create(path: &Path, plan: &Plan, now: &str, options: &Options) -> Result<Self, StoreError> {
        let disk = &*options.disk;
        let resolved = disk.resolve(path).map_err(|e| StoreError::from_io(path, "making the project", &e))?;
        create::create(disk, &resolved, plan, now, options.max_pages)?;
        open::open(&resolved, options).map(|opened| opened.store)
    }

    /// Opens a project.
    ///
    /// # Errors
    /// When the file is missing, not ours, of a newer format, in use, or so damaged that no plan can be read.
    /// What is amiss but leaves a plan to show is not an error: see [`Opened::notes`].
    pub fn open(path: &Path, options: &Options) -> Result<Opened, StoreError> {
        open::open(path, options)
    }

    /// Checks a project from its first byte to its last on a scratch copy: pages, chain, replay, pictures.
    ///
    /// # Errors
    /// When the file is missing, not ours, of a newer format or in use. What is wrong inside is in the report.
    pub fn restore_check(path: &Path, options: &Options) -> Result<Report, StoreError> {
        copy::restore_check(path, options)
    }

    pub(crate) fn new(
        session: Session,
        loaded: Loaded,
        read_only: Option<String>,
        snapshot_every: u64,
    ) -> Self {
        Self {
            session,
            plan: loaded.plan,
            stacks: loaded.stacks,
            keys: loaded.keys,
            last: loaded.last,
            last_at: loaded.last_at,
            hash: loaded.hash,
            project: loaded.project,
            read_only,
            damaged: loaded.damage.is_some(),
            doubtful: false,
            promised: false,
            stored_at: loaded.stored_at,
            first: loaded.first,
            bytes_since: 0,
            snapshot_every: snapshot_every.max(1),
            closed: false,
        }
    }

    /// The plan after the last acknowledged change.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The changes that can be taken back, the next one last.
    pub fn undo_steps(&self) -> &[Step] {
        &self.stacks.undo
    }

    /// The changes that can be made again, the next one last.
    pub fn redo_steps(&self) -> &[Step] {
        &self.stacks.redo
    }

    /// The number of the last acknowledged change; 0 before the first.
    pub fn last_acknowledged(&self) -> u64 {
        self.last
    }

    /// When the last acknowledged change was made, in UTC as it was given; empty before the first.
    pub fn last_at(&self) -> &str {
        &self.last_at
    }

    /// Why the project is open for reading only, or `None`.
    pub fn read_only(&self) -> Option<&str> {
        self.read_only.as_deref()
    }

    /// The project file, without links.
    pub fn path(&self) -> &Path {
        &self.session.path
    }

    /// The project's own number, 64 hex digits: the same for all copies of it.
    pub fn project(&self) -> String {
        chain::hex(&self.project)
    }

    /// SHA-256 of the plan's content, 64 hex digits. The same content has the same hash on every machine.
    pub fn content_hash(&self) -> String {
        chain::hex(&chain::content(&self.plan))
    }

    /// Applies a group of entries and writes those that the gate takes in one transaction.
    ///
    /// An entry that the gate refuses is left out; the others go on without it. When this returns `Ok`, everything
    /// taken is on the disk.
    ///
    /// # Errors
    /// When nothing could be written. Then nothing of the group counts, and it may be tried again.
    pub fn commit(&mut self, group: &[NewEntry]) -> Result<Receipt, StoreError> {
        self.may_write()?;
        let mut staged = Staged::default();
        for entry in group {
            let outcome = self.stage(entry, &mut staged)?;
            staged.outcomes.push(outcome);
        }
        let Some((newest, _)) = staged.rows.last() else {
            return Ok(Receipt { last: self.last, outcomes: staged.outcomes, promise_kept: true });
        };
        let (last, hash, at) = (newest.seq, newest.own_hash(), newest.at.clone());
        if let Err(e) = self.write(&staged, last) {
            self.doubtful = true;
            self.take_back(staged);
            return Err(e);
        }
        (self.last, self.hash, self.last_at) = (last, hash, at);
        self.keys.written(staged.keys, last);
        self.bytes_since += staged.bytes;
        let promise_kept = self.promise().is_ok();
        self.store_state_when_due();
        Ok(Receipt { last, outcomes: staged.outcomes, promise_kept })
    }

    /// Refuses when reading is all that can be done; after a failed write opens the file anew and compares.
    fn may_write(&mut self) -> Result<(), StoreError> {
        if let Some(why) = &self.read_only {
            return Err(StoreError::ReadOnly { path: self.session.path.clone(), why: why.clone() });
        }
        if !Guard::AckAfterCommit.stands() && !self.session.db()?.is_autocommit() {
            let done = self.session.db()?.execute_batch("COMMIT");
            done.map_err(|e| self.session.failed("saving", &e))?;
        }
        if self.doubtful { self.settle() } else { Ok(()) }
    }

    /// After a failed write: opens the file anew, takes away what was never acknowledged, and compares the rest.
    fn settle(&mut self) -> Result<(), StoreError> {
        let doing = "opening the file anew after an error";
        self.session.connect()?;
        let found: Option<Vec<u8>> = if self.last == 0 {
            None
        } else {
            let read =
                self.session
                    .db()?
                    .query_row("SELECT hash FROM journal WHERE seq = ?1", [self.last], |r| r.get(0));
            match read {
                Err(rusqlite::Error::QueryReturnedNoRows) => None,
                other => Some(other.map_err(|e| self.session.failed(doing, &e))?),
            }
        };
        if self.last > 0 && found.as_deref() != Some(self.hash.as_slice()) {
            let what =
                format!("after an error of the disk, change {} is not in the file any more", self.last);
            self.read_only = Some(what.clone());
            self.damaged = true;
            return Err(StoreError::Damaged { path: self.session.path.clone(), what });
        }
        let last = self.last;
        self.session.transaction(doing, |db| {
            db.execute("DELETE FROM journal WHERE seq > ?1", [last])?;
            db.execute("DELETE FROM snapshot WHERE seq > ?1", [last])?;
            once::take_away_after(db, last)?;
            schema::set_meta(db, "last", &last.to_string())
        })?;
        // Pages that a failed synchronisation left in memory only are written once more, into the project itself.
        self.session.fold_in(doing)?;
        self.doubtful = false;
        Ok(())
    }

    /// Applies one entry to the plan and prepares its row.
    fn stage(
        &mut self,
        entry: &NewEntry,
        staged: &mut Staged,
    ) -> Result<Result<Committed, Refusal>, StoreError> {
        let (verb, step, command) = match &entry.act {
            Act::Do(command) => (Verb::Do, None, command.clone()),
            Act::Undo | Act::Redo => {
                let undo = entry.act == Act::Undo;
                let stack = if undo { &self.stacks.undo } else { &self.stacks.redo };
                let Some(step) = stack.last().cloned() else {
                    return Ok(Err(nothing_left(undo)));
                };
                let command = match self.inverse_of(step.seq, staged) {
                    Ok(command) => command,
                    Err(e) => {
                        let taken = std::mem::take(staged);
                        self.take_back(taken);
                        return Err(e);
                    }
                };
                (if undo { Verb::Undo } else { Verb::Redo }, Some(step), command)
            }
        };
        let applied = match self.plan.apply(&command) {
            Ok(applied) => applied,
            Err(refusal) => return Ok(Err(refusal)),
        };
        let label = match step {
            Some(step) if entry.label.is_empty() => step.label,
            _ => entry.label.clone(),
        };
        let (command_json, inverse_json) = match (stored(&command), stored(&applied.inverse)) {
            (Ok(command), Ok(inverse)) => (command, inverse),
            (Err(refusal), _) | (_, Err(refusal)) => {
                self.plan
                    .apply(&applied.inverse)
                    .expect("the inverse of a command just applied is always taken");
                return Ok(Err(refusal));
            }
        };
        staged.bytes += (command_json.len() + inverse_json.len()) as u64;
        let (seq, prev) = match staged.rows.last() {
            Some((row, _)) => (row.seq + 1, row.hash.clone()),
            None => (self.last + 1, self.hash.to_vec()),
        };
        let mut row = Entry {
            seq,
            at: entry.at.clone(),
            who: entry.who.clone(),
            label: label.clone(),
            verb: verb.word().into(),
            format: COMMAND_FORMAT,
            prev_hash: prev,
            hash: Vec::new(),
            command: command_json,
            inverse: inverse_json,
        };
        row.hash = row.own_hash().to_vec();
        staged.keys.extend(entry.once.clone().map(|key| (seq, key)));
        staged.followed.push(self.stacks.follow(verb, row.step()));
        staged.rows.push((row, applied.inverse.clone()));
        Ok(Ok(Committed { seq, label, command, applied }))
    }

    /// The command that takes entry `seq` back.
    fn inverse_of(&self, seq: u64, staged: &Staged) -> Result<Command, StoreError> {
        match staged.rows.iter().find(|(row, _)| row.seq == seq) {
            Some((_, inverse)) => Ok(inverse.clone()),
            None => self.read(seq).map(|entry| entry.inverse),
        }
    }

    /// An entry as it stands in the file.
    fn read(&self, seq: u64) -> Result<MadeEntry, StoreError> {
        let doing = format!("reading change {seq}");
        let sql = "SELECT at, label, inverse FROM journal WHERE seq = ?1";
        let row = |r: &rusqlite::Row<'_>| Ok((r.get(0)?, r.get(1)?, r.get::<_, Vec<u8>>(2)?));
        let read = self.session.db()?.query_row(sql, [seq], row);
        let (at, label, bytes) = read.map_err(|e| self.session.failed(&doing, &e))?;
        let inverse = serde_json::from_slice(&bytes).map_err(|e| StoreError::Damaged {
            path: self.session.path.clone(),
            what: format!("{doing} did not work ({e})"),
        })?;
        Ok(MadeEntry { at, label, inverse })
    }

    /// Under which keys changes were made, to be asked by others while this one writes.
    pub fn known_keys(&self) -> KnownKeys {
        self.keys.known.clone()
    }

    /// The change that was made under a key, if it was one of the last 4 096: in this run or in an earlier one.
    ///
    /// # Errors
    /// When the disk does not give it.
    pub fn made_under(&self, key: &OnceKey) -> Result<Option<Made>, StoreError> {
        let Some(seq) = self.keys.known.change(key) else { return Ok(None) };
        let entry = if seq > self.first { Some(self.read(seq)?) } else { None };
        Ok(Some(Made { seq, entry }))
    }

    fn write(&self, staged: &Staged, last: u64) -> Result<(), StoreError> {
        let doing = format!("saving change {last}");
        let work = |db: &rusqlite::Connection| {
            staged.rows.iter().try_for_each(|(row, _)| row.insert(db))?;
            self.keys.write(db, &staged.keys, (self.last + 1, last))?;
            schema::set_meta(db, "last", &last.to_string())
        };
        if Guard::AckAfterCommit.stands() {
            return self.session.transaction(&doing, work);
        }
        let db = self.session.db()?;
        db.execute_batch("BEGIN IMMEDIATE")
            .and_then(|()| work(db))
            .map_err(|e| self.session.failed(&doing, &e))
    }

    /// Takes back what was applied but not written.
    fn take_back(&mut self, staged: Staged) {
        for followed in staged.followed.into_iter().rev() {
            self.stacks.retreat(followed);
        }
        for (_, inverse) in staged.rows.iter().rev() {
            self.plan.apply(inverse).expect("the inverse of a command just applied is always taken");
        }
    }

    /// Writes the last number beside the file.
    fn promise(&mut self) -> std::io::Result<()> {
        let promise = Promise { project: self.project, seq: self.last, hash: self.hash };
        let (disk, path) = (&*self.session.disk, &self.session.path);
        promise::write(disk, path, &promise)?;
        if !self.promised {
            promise::write_other(disk, path, &promise)?;
            self.promised = true;
        }
        Ok(())
    }

    /// Stores the whole plan again when enough has happened. That it fails loses nothing: it is tried again later.
    fn store_state_when_due(&mut self) {
        let due = self.last - self.stored_at >= self.snapshot_every || self.bytes_since >= SNAPSHOT_BYTES;
        if due && self.store_state().is_err() {
            self.doubtful = true;
        }
    }

    fn store_state(&mut self) -> Result<(), StoreError> {
        let snapshot = Snapshot::new(self.last, &self.hash, &self.plan);
        self.session.transaction("storing the plan", |db| snapshot.insert(db))?;
        self.stored_at = self.last;
        self.bytes_since = 0;
        Ok(())
    }

    /// Keeps a picture's bytes and hands back their SHA-256, 64 lower-case hex digits. The same bytes are kept once.
    ///
    /// # Errors
    /// [`StoreError::TooLarge`] above [`MAX_PICTURE`]; otherwise as [`Store::commit`].
    pub fn put_picture(&mut self, bytes: &[u8]) -> Result<String, StoreError> {
        if bytes.len() > MAX_PICTURE {
            return Err(StoreError::TooLarge {
                path: self.session.path.clone(),
                what: "The picture".into(),
                size: bytes.len() as u64,
                limit: MAX_PICTURE as u64,
            });
        }
        self.may_write()?;
        let sha = chain::hex(&chain::of(bytes));
        if self.picture(&sha).is_ok() {
            return Ok(sha);
        }
        let done = self.session.transaction("saving a picture", |db| {
            let sql = "INSERT OR REPLACE INTO picture (sha256, bytes) VALUES (?1, ?2)";
            db.execute(sql, rusqlite::params![sha, bytes]).map(drop)
        });
        self.doubtful |= done.is_err();
        done.map(|()| sha)
    }

    /// The bytes of a picture, checked against their hash.
    ///
    /// # Errors
    /// [`StoreError::NoPicture`] when it is not there, [`StoreError::Damaged`] when its bytes have changed.
    pub fn picture(&self, sha: &str) -> Result<Vec<u8>, StoreError> {
        copy::picture(&self.session, sha)
    }

    /// Entries of the history by number, in order; numbers that are not there are left out.
    ///
    /// # Errors
    /// When the disk does not give them.
    pub fn history(&self, range: RangeInclusive<u64>) -> Result<Vec<HistoryEntry>, StoreError> {
        let failed = |e: rusqlite::Error| self.session.failed("reading the history", &e);
        let end = (*range.end()).min(self.last);
        let sql = "SELECT seq, at, who, label, verb FROM journal WHERE seq BETWEEN ?1 AND ?2 ORDER BY seq";
        let mut query = self.session.db()?.prepare_cached(sql).map_err(failed)?;
        let rows = query.query_map([(*range.start()).min(i64::MAX as u64), end], |r| {
            let verb: String = r.get(4)?;
            let verb = Verb::from_word(&verb).ok_or(rusqlite::Error::QueryReturnedNoRows)?;
            Ok(HistoryEntry { seq: r.get(0)?, at: r.get(1)?, who: r.get(2)?, label: r.get(3)?, verb })
        });
        rows.and_then(Iterator::collect).map_err(failed)
    }

    /// The last change that was forgotten; 0 while the history is whole.
    pub fn forgotten(&self) -> u64 {
        self.first
    }

    /// How much the entries with these numbers hold.
    ///
    /// # Errors
    /// When the disk does not give them.
    pub fn weight(&self, range: RangeInclusive<u64>) -> Result<Weight, StoreError> {
        let weighed = forget::weight(self.session.db()?, *range.start(), *range.end());
        weighed.map_err(|e| self.session.failed("reading the history", &e))
    }

    /// The last entry of those that were all made before a time, UTC as text: what may be forgotten by age.
    ///
    /// # Errors
    /// When the disk does not give it.
    pub fn last_before(&self, at: &str) -> Result<u64, StoreError> {
        let found = forget::before(self.session.db()?, at);
        Ok(found.map_err(|e| self.session.failed("reading the history", &e))?.unwrap_or(self.last))
    }

    /// Forgets the entries up to a change, and hands back how much that was. The plan, its number and every later entry stay
    /// as they are; what was forgotten cannot be taken back any more. The last entry always stays.
    ///
    /// # Errors
    /// When it could not be written, or the entries after the change do not lead to the plan. Then nothing is forgotten.
    pub fn forget(&mut self, upto: u64) -> Result<Weight, StoreError> {
        self.may_write()?;
        let upto = upto.min(self.last.saturating_sub(1));
        if upto <= self.first {
            return Ok(Weight::default());
        }
        let gone = self.weight(self.first + 1..=upto)?;
        let (begin, stacks) = forget::prepare(&self.session, upto, (&self.plan, self.last, &self.hash))?;
        let done = self.session.transaction("shortening the history", |db| forget::cut(db, &begin));
        if let Err(e) = done {
            self.doubtful = true;
            return Err(e);
        }
        (self.first, self.stacks, self.stored_at) = (upto, stacks, self.stored_at.max(upto));
        // It is done; a disk without room for the smaller file keeps the larger one.
        self.doubtful |= self.session.give_back("giving back what the history took").is_err();
        Ok(gone)
    }

    /// Writes a complete copy of the project with its history, checks it by reading it back, and puts it in place.
    /// Hands back the number of its last change.
    ///
    /// An earlier copy of that name is replaced at once or stays as it was; a file that is not a project, or is open
    /// anywhere, is never replaced.
    ///
    /// # Errors
    /// When the copy could not be made or did not read back the same.
    pub fn backup(&self, to: &Path) -> Result<u64, StoreError> {
        copy::backup(self, to)
    }

    /// Saves the plan as a project of its own: with the history where that is whole, and otherwise with the plan
    /// and the pictures as the beginning of a new one. `now` is the time in UTC, as text.
    ///
    /// # Errors
    /// As [`Store::backup`].
    pub fn save_copy(&self, to: &Path, now: &str) -> Result<u64, StoreError> {
        if self.damaged { copy::rescue(self, to, now) } else { copy::backup(self, to) }
    }

    /// Stores the plan, folds the journal file in and closes: one file is left, and the number beside it.
    ///
    /// # Errors
    /// When the disk did not take it. Nothing acknowledged is lost then: the journal file stays beside the project.
    pub fn close(mut self) -> Result<(), StoreError> {
        self.shut()
    }

    fn shut(&mut self) -> Result<(), StoreError> {
        if self.closed {
            return Ok(());
        }
        self.closed = true;
        if self.read_only.is_none() {
            self.may_write()?;
            if self.stored_at < self.last {
                self.store_state()?;
            }
            self.session.transaction("closing", |db| schema::set_meta(db, "state", "closed"))?;
            self.session.fold_in("closing")?;
            let db = self.session.db()?;
            schema::journal_mode(db, "DELETE").map_err(|e| self.session.failed("closing", &e))?;
        }
        self.session.disconnect();
        Ok(())
    }
}

impl Drop for Store {
    fn drop(&mut self) {
        // What cannot be folded in now stays in the journal file and is read at the next opening.
        let _ = self.shut();
    }
}

/// A command as it is stored, once it is certain that it reads back the same.
fn stored(command: &Command) -> Result<Vec<u8>, Refusal> {
    let refuse = |problem: Said| {
        let (place, value) = (say!(gate::FILE), say!(gate::FILE_VALUE));
        Refusal::new(place, value, problem, say!(gate::FILE_NEXT))
    };
    let bytes =
        serde_json::to_vec(command).map_err(|e| refuse(say!(gate::FILE_TEXT, why = e.to_string())))?;
    if bytes.len() > MAX_ENTRY {
        return Err(refuse(say!(gate::FILE_LONG, n = bytes.len(), most = MAX_ENTRY)));
    }
    match serde_json::from_slice::<Command>(&bytes) {
        Ok(back) if back == *command => Ok(bytes),
        Ok(_) => Err(refuse(say!(gate::FILE_OTHER))),
        Err(e) => Err(refuse(say!(gate::FILE_BACK, why = e.to_string()))),
    }
}

fn nothing_left(undo: bool) -> Refusal {
    let (value, problem) = if undo {
        (say!(gate::HISTORY_UNDO), say!(gate::HISTORY_UNDO_PROBLEM))
    } else {
        (say!(gate::HISTORY_REDO), say!(gate::HISTORY_REDO_PROBLEM))
    };
    Refusal::new(say!(gate::HISTORY), value, problem, say!(gate::HISTORY_NEXT))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A disk may keep what it said it had not; whoever asked sends it again, and somebody else was first meanwhile.
    #[test]
    fn the_key_of_a_change_that_was_not_acknowledged_is_not_that_of_the_next_one() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("river.standfast");
        let entry = |name: &str, once: Option<&str>| NewEntry {
            at: "now".into(),
            who: String::new(),
            label: name.into(),
            act: Act::Do(Command::Rename { name: name.into() }),
            once: once.and_then(OnceKey::new),
        };
        let mut store = Store::create(&path, &Plan::new("River"), "now", &Options::default()).unwrap();
        store.commit(&[entry("Brook", Some("a"))]).unwrap();
        let mut staged = Staged::default();
        store.stage(&entry("Stream", Some("b")), &mut staged).unwrap().unwrap();
        store.write(&staged, 2).unwrap();
        store.take_back(staged);
        store.doubtful = true;
        store.commit(&[entry("Sea", None)]).unwrap();
        for _ in 0..2 {
            let made = ["a", "b"].map(|key| store.made_under(&OnceKey::new(key).unwrap()).unwrap());
            let labels = made.map(|made| made.and_then(|made| made.entry).map(|entry| entry.label));
            assert_eq!(labels, [Some("Brook".to_owned()), None]);
            assert_eq!(store.history(0..=9).unwrap().len(), 2);
            store.close().unwrap();
            store = Store::open(&path, &Options::default()).unwrap().store;
        }
    }
}
