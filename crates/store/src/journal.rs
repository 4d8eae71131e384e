//! Journal entries: what is asked for, what is stored, and the two stacks that follow from it.

use plan::{Applied, Command, Refusal};
use rusqlite::{Connection, Row};

use crate::chain::{self, Hash};
use crate::once::OnceKey;

/// Format of the JSON in which commands are stored.
pub(crate) const COMMAND_FORMAT: u32 = 1;

/// What an entry does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verb {
    /// A new change.
    Do,
    /// Takes the last change back.
    Undo,
    /// Makes the last change that was taken back again.
    Redo,
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum Act {
    /// A new change.
    Do(Command),
    /// Take the last change back.
    Undo,
    /// Make the last change that was taken back again.
    Redo,
}

/// An entry to be journalled.
#[derive(Debug, Clone, PartialEq)]
pub struct NewEntry {
    /// When it was asked for, in UTC, as text. Only shown: the order is that of the numbers.
    pub at: String,
    /// Who asked for it, may be empty.
    pub who: String,
    /// What it does, in words: "move field 7". Empty for undo and redo means the words of the change itself.
    pub label: String,
    /// What is asked for.
    pub act: Act,
    /// The key under which [`crate::Store::made_under`] finds it again, if it was given one.
    pub once: Option<OnceKey>,
}

/// An entry that is in the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Committed {
    /// Its number.
    pub seq: u64,
    /// What it does, in words.
    pub label: String,
    /// The command that was applied: for undo and redo the one that they led to.
    pub command: Command,
    /// What applying it yielded.
    pub applied: Applied,
}

/// What became of a group of entries: those taken are all in the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Receipt {
    /// The last acknowledged change.
    pub last: u64,
    /// For each entry asked for, in the same order: what was done, or why the gate refused it.
    pub outcomes: Vec<Result<Committed, Refusal>>,
    /// False when the number beside the file could not be written; the changes are safe nevertheless.
    pub promise_kept: bool,
}

/// A change that can be taken back or made again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The entry whose inverse takes the step.
    pub seq: u64,
    /// The words of the change.
    pub label: String,
    /// Who made the entry.
    pub who: String,
    /// When it was made, in UTC.
    pub at: String,
}

/// An entry of the history, as it is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HistoryEntry {
    /// Its number.
    pub seq: u64,
    /// When it was made, in UTC.
    pub at: String,
    /// Who made it.
    pub who: String,
    /// What it does, in words.
    pub label: String,
    /// Whether it is a change, taken back or made again.
    pub verb: Verb,
}

/// A change that was made earlier.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// Its number.
    pub seq: u64,
    /// What its entry holds; `None` when that was forgotten since.
    pub entry: Option<MadeEntry>,
}

/// What the entry of a change that was made earlier holds.
#[derive(Debug, Clone, PartialEq)]
pub struct MadeEntry {
    /// When it was made, in UTC.
    pub at: String,
    /// What it does, in words.
    pub label: String,
    /// The command that takes it back.
    pub inverse: Command,
}

impl Verb {
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Undo => "undo",
            Self::Redo => "redo",
        }
    }

    pub(crate) fn from_word(word: &str) -> Option<Self> {
        [Self::Do, Self::Undo, Self::Redo].into_iter().find(|v| v.word() == word)
    }
}

/// A row of the table `journal`.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub(crate) seq: u64,
    pub(crate) at: String,
    pub(crate) who: String,
    pub(crate) label: String,
    pub(crate) verb: String,
    pub(crate) format: u32,
    pub(crate) prev_hash: Vec<u8>,
    pub(crate) hash: Vec<u8>,
    pub(crate) command: Vec<u8>,
    pub(crate) inverse: Vec<u8>,
}

pub(crate) const SELECT: &str =
    "SELECT seq, at, who, label, verb, format, prev_hash, hash, command, inverse FROM journal";

impl Entry {
    pub(crate) fn from_row(r: &Row<'_>) -> rusqlite::Result<Self> {
        Ok(Self {
            seq: r.get(0)?,
            at: r.get(1)?,
            who: r.get(2)?,
            label: r.get(3)?,
            verb: r.get(4)?,
            format: r.get(5)?,
            prev_hash: r.get(6)?,
            hash: r.get(7)?,
            command: r.get(8)?,
            inverse: r.get(9)?,
        })
    }

    /// The hash over everything the entry holds, the hash of the one before it included.
    pub(crate) fn own_hash(&self) -> Hash {
        chain::of_parts(&[
            &self.prev_hash,
            &self.seq.to_le_bytes(),
            self.at.as_bytes(),
            self.who.as_bytes(),
            self.label.as_bytes(),
            self.verb.as_bytes(),
            &self.format.to_le_bytes(),
            &self.command,
            &self.inverse,
        ])
    }

    pub(crate) fn insert(&self, db: &Connection) -> rusqlite::Result<()> {
        let mut row = db.prepare_cached(
            "INSERT INTO journal (seq, at, who, label, verb, format, prev_hash, hash, command, inverse) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
        )?;
        row.execute(rusqlite::params![
            self.seq,
            self.at,
            self.who,
            self.label,
            self.verb,
            self.format,
            self.prev_hash,
            self.hash,
            self.command,
            self.inverse
        ])
        .map(drop)
    }

    pub(crate) fn step(&self) -> Step {
        Step { seq: self.seq, label: self.label.clone(), who: self.who.clone(), at: self.at.clone() }
    }
}

/// What can be taken back and made again, the next one last.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Stacks {
    pub(crate) undo: Vec<Step>,
    pub(crate) redo: Vec<Step>,
}

/// How to take back what [`Stacks::follow`] did.
#[derive(Debug)]
pub(crate) struct Followed {
    verb: Verb,
    popped: Option<Step>,
    cleared: Vec<Step>,
}

impl Stacks {
    /// Follows one entry of the journal.
    pub(crate) fn follow(&mut self, verb: Verb, step: Step) -> Followed {
        let (mut popped, mut cleared) = (None, Vec::new());
        match verb {
            Verb::Do => {
                cleared = std::mem::take(&mut self.redo);
                self.undo.push(step);
            }
            Verb::Undo => {
                popped = self.undo.pop();
                self.redo.push(step);
            }
            Verb::Redo => {
                popped = self.redo.pop();
                self.undo.push(step);
            }
        }
        Followed { verb, popped, cleared }
    }

    /// Takes the last [`Stacks::follow`] back.
    pub(crate) fn retreat(&mut self, followed: Followed) {
        match followed.verb {
            Verb::Do => {
                self.undo.pop();
                self.redo = followed.cleared;
            }
            Verb::Undo => {
                self.redo.pop();
                self.undo.extend(followed.popped);
            }
            Verb::Redo => {
                self.undo.pop();
                self.redo.extend(followed.popped);
            }
        }
    }
}
