//! Opens a project file: looks before touching, checks everything, and tells what is amiss.

use std::path::Path;
use std::sync::Arc;

use guards::Guard;

use crate::disk::{Disk, OsDisk};
use crate::error::StoreError;
use crate::load::{self, Damage, Loaded};
use crate::migrate;
use crate::note::OpenNote;
use crate::probe::{self, Probed};
use crate::promise::{self, Kept, Promise, beside, promise_path};
use crate::schema::{self, APPLICATION_ID};
use crate::session::Session;
use crate::store::Store;

/// How a project is kept.
#[derive(Debug, Clone)]
pub struct Options {
    /// The disk it is on.
    pub disk: Arc<dyn Disk>,
    /// After how many changes the whole plan is stored again. More makes opening slower and the file smaller;
    /// 256 by default, which replays in well under a second.
    pub snapshot_every: u64,
    /// The most pages of 4096 bytes that the file may have; `None` for as many as the disk holds.
    pub max_pages: Option<u32>,
}

impl Default for Options {
    fn default() -> Self {
        Self { disk: Arc::new(OsDisk), snapshot_every: 256, max_pages: None }
    }
}

/// An open project and what the user should know about it.
#[derive(Debug)]
pub struct Opened {
    /// The project.
    pub store: Store,
    /// Remarks, the most serious first.
    pub notes: Vec<OpenNote>,
}

/// Opens the project for writing, or for reading only where that is all that can be done.
pub(crate) fn open(given: &Path, options: &Options) -> Result<Opened, StoreError> {
    let disk = options.disk.clone();
    let probed = probe::probe(&*disk, given)?;
    let why = if probed.look.read_only {
        Some("the file is marked as not to be written".to_owned())
    } else {
        disk.may_write(&probed.path).err().map(|e| format!("it cannot be written ({e})"))
    };
    let facts = Facts::of(&*disk, &probed);
    let path = probed.path.clone();
    if why.is_none() {
        let session = Session::in_place(disk.clone(), probed.path, probed.claim, options.max_pages);
        match session.and_then(|s| open_session(s, &facts, options, None)) {
            Err(StoreError::ReadOnly { .. }) => {}
            other => return other,
        }
        let probed = probe::probe(&*disk, &path)?;
        let session = Session::on_copy(disk, probed.path, probed.claim)?;
        return open_session(session, &facts, options, Some("its folder cannot be written".into()));
    }
    let session = Session::on_copy(disk, probed.path, probed.claim)?;
    open_session(session, &facts, options, why)
}

/// What was to be seen of the file before SQLite opened it.
pub(crate) struct Facts {
    wal_there: bool,
    kept: Kept,
}

impl Facts {
    pub(crate) fn of(disk: &dyn Disk, probed: &Probed) -> Self {
        Self {
            wal_there: disk.look(&beside(&probed.path, "-wal")).is_ok(),
            kept: if Guard::SidecarCheck.stands() {
                promise::read(disk, &probed.path)
            } else {
                Kept::Nothing
            },
        }
    }

    /// The number beside the file.
    pub(crate) fn promised(&self) -> Option<u64> {
        match self.kept {
            Kept::Promise(promise) => Some(promise.seq),
            Kept::Nothing | Kept::Unreadable => None,
        }
    }
}

fn open_session(
    session: Session,
    facts: &Facts,
    options: &Options,
    why_read_only: Option<String>,
) -> Result<Opened, StoreError> {
    let Inside { format, in_wal_mode, pages } = check_inside(&session, "quick_check")?;
    let migrated = match format < schema::WHOLE && pages.is_none() {
        true => Some(migrate::migrate(&session, format)?),
        false => None,
    };
    let mut loaded = load::load(session.db()?, &session.path, facts.promised(), false)?;
    if let Some(what) = pages {
        loaded.damage.get_or_insert(Damage { what, plan_whole: true });
    }
    let was_closed = load_state(&session)? != "open";
    let mut notes = remarks(&session, facts, &loaded, !was_closed && in_wal_mode);
    let why = loaded.damage.as_ref().map(|d| d.what.clone()).or_else(|| why_read_only.clone());
    if why.is_none() {
        if in_wal_mode {
            // What is shown is on the disk: what a dying program had written but not synchronised is made so.
            session.fold_in("taking over its journal file")?;
        }
        if !notes.iter().any(OpenNote::is_serious) {
            // From here on a loss is noticed. That it cannot be written is said with the first change.
            let _ = promise_what_is_there(&session, facts, &loaded);
        }
        mark_open(&session, was_closed, in_wal_mode)?;
    }
    notes.extend(why_read_only.map(|why| OpenNote::ReadOnly { why }));
    notes.extend(migrated.filter(|_| !session.is_copy()));
    let store = Store::new(session, loaded, why, options.snapshot_every);
    Ok(Opened { store, notes })
}

/// Writes the number beside the file where it is not there yet.
fn promise_what_is_there(session: &Session, facts: &Facts, loaded: &Loaded) -> std::io::Result<()> {
    let promise = Promise { project: loaded.project, seq: loaded.last, hash: loaded.hash };
    if facts.kept == Kept::Promise(promise) {
        return Ok(());
    }
    promise::write(&*session.disk, &session.path, &promise)?;
    promise::write_other(&*session.disk, &session.path, &promise)
}

/// What SQLite says of a file, once it has put it right from its journal.
pub(crate) struct Inside {
    pub(crate) format: u32,
    /// The file is in the mode of daily work: its latest changes are, or were, in the journal file beside it.
    pub(crate) in_wal_mode: bool,
    /// What is wrong with the pages, if anything.
    pub(crate) pages: Option<String>,
}

/// Checks the version once more, the tables and the pages.
pub(crate) fn check_inside(session: &Session, how: &str) -> Result<Inside, StoreError> {
    let db = session.db()?;
    let path = &session.path;
    let failed = |e: &rusqlite::Error| session.failed("reading its head", e);
    let application: u32 =
        db.pragma_query_value(None, "application_id", |r| r.get(0)).map_err(|e| failed(&e))?;
    let format: u32 = db.pragma_query_value(None, "user_version", |r| r.get(0)).map_err(|e| failed(&e))?;
    let mode: String = db.pragma_query_value(None, "journal_mode", |r| r.get(0)).map_err(|e| failed(&e))?;
    probe::check_format(path, format)?;
    if application != APPLICATION_ID {
        let what = "its head and its journal do not agree".into();
        return Err(StoreError::Damaged { path: path.clone(), what });
    }
    if let Some(what) = schema::strange_table(db, format.min(schema::FORMAT)).map_err(|e| failed(&e))? {
        return Err(StoreError::NotOurs { path: path.clone(), what: format!("{what}, or was damaged") });
    }
    let rows = db.prepare(&format!("PRAGMA {how}(3)")).and_then(|mut query| {
        query.query_map([], |r| r.get::<_, String>(0))?.collect::<rusqlite::Result<Vec<_>>>()
    });
    let pages = match rows {
        Ok(rows) if rows == ["ok"] => None,
        Ok(rows) => Some(format!("its pages do not fit together ({})", rows.join("; ").replace('\n', " "))),
        Err(e) if load::is_damage(&e) => Some("its pages cannot all be read".into()),
        Err(e) => return Err(session.failed("checking its pages", &e)),
    };
    // A file that may be written, but says in its head that only another SQLite may write it: a damaged head.
    let closed_to_us = db.is_readonly(rusqlite::MAIN_DB).map_err(|e| failed(&e))?;
    let pages = pages.or_else(|| closed_to_us.then(|| "its head says that it may not be written".into()));
    Ok(Inside { format, in_wal_mode: mode == "wal", pages })
}

pub(crate) fn load_state(session: &Session) -> Result<String, StoreError> {
    match schema::meta(session.db()?, "state") {
        Ok(state) => Ok(state.unwrap_or_default()),
        Err(e) if load::is_damage(&e) => Ok(String::new()),
        Err(e) => Err(session.failed("reading its state", &e)),
    }
}

pub(crate) fn remarks(session: &Session, facts: &Facts, loaded: &Loaded, left_open: bool) -> Vec<OpenNote> {
    let ends_at = loaded.last;
    let kept = match facts.kept {
        Kept::Promise(p) if p.project == loaded.project => Some(p),
        _ => None,
    };
    let mut notes = Vec::new();
    let promised = kept.map_or(0, |p| p.seq).max(loaded.said_last);
    if promised > ends_at {
        notes.push(OpenNote::Lost { ends_at, ends_when: loaded.last_at.clone(), promised });
    }
    if let Some(Damage { what, plan_whole }) = &loaded.damage {
        notes.push(OpenNote::Damaged { what: what.clone(), ends_at, plan_whole: *plan_whole });
    }
    if let (Some(Promise { seq, hash, .. }), Some(there)) = (kept, loaded.promised_hash)
        && hash != there
    {
        notes.push(OpenNote::OtherHistory { at: seq });
    }
    let all_there = kept.is_some_and(|p| p.seq == ends_at && p.hash == loaded.hash);
    if left_open && !facts.wal_there && !all_there {
        notes.push(OpenNote::WithoutWal { ends_at });
    } else if left_open && notes.is_empty() {
        notes.push(OpenNote::NotClosed { ends_at });
    }
    if facts.kept == Kept::Unreadable {
        notes.push(OpenNote::PromiseUnreadable { path: promise_path(&session.path) });
    }
    notes
}

/// Notes in the file itself that it is open, before anything else is written, and starts the journal file.
///
/// A copy of the project alone, without the journal file, then shows that something may have stayed behind.
fn mark_open(session: &Session, was_closed: bool, in_wal_mode: bool) -> Result<(), StoreError> {
    let doing = "marking it as open";
    let db = session.db()?;
    let mark =
        |db: &rusqlite::Connection| if was_closed { schema::set_meta(db, "state", "open") } else { Ok(()) };
    let done =
        db.execute_batch("BEGIN EXCLUSIVE").and_then(|()| mark(db)).and_then(|()| db.execute_batch("COMMIT"));
    done.map_err(|e| session.failed(doing, &e))?;
    if !schema::journal_mode(db, "WAL").map_err(|e| session.failed(doing, &e))? {
        let what = "SQLite cannot keep a journal file here".into();
        return Err(StoreError::Disk { path: session.path.clone(), doing: doing.into(), what });
    }
    // A first look opens the journal file now, so that what is wrong with it is said here.
    db.query_row("SELECT count(*) FROM meta", [], |_| Ok(())).map_err(|e| session.failed(doing, &e))?;
    if was_closed && in_wal_mode {
        // The mark stands in the journal file only; a copy of the project alone must show it too.
        session.fold_in(doing)?;
    }
    Ok(())
}
