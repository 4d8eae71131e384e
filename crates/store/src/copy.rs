//! Copies of a project: backups that are read back before they count, rescues, and the check of a copy.

use std::io;
use std::path::{Path, PathBuf};

use rusqlite::backup::{Backup, StepResult};

use crate::chain;
use crate::create;
use crate::error::StoreError;
use crate::load;
use crate::note::OpenNote;
use crate::open::{self, Facts, Options, check_inside};
use crate::probe;
use crate::promise::{beside, promise_path};
use crate::registry;
use crate::schema::{self, Way};
use crate::session::{Session, must_not_be_open};
use crate::store::Store;

/// What a full check of a file has found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// What the event is called.
    pub name: String,
    /// The last change that is whole.
    pub last: u64,
    /// When it was made, in UTC; empty for a plan without changes.
    pub last_at: String,
    /// How many pictures are whole.
    pub pictures: u64,
    /// SHA-256 of the plan's content, 64 hex digits.
    pub content_hash: String,
    /// Everything that is wrong, each as a whole sentence.
    pub problems: Vec<String>,
    /// What the user would be told on opening it.
    pub notes: Vec<OpenNote>,
}

impl Report {
    /// True when nothing is wrong and nothing is missing.
    pub fn is_whole(&self) -> bool {
        self.problems.is_empty() && !self.notes.iter().any(OpenNote::is_serious)
    }
}

/// Copies every page of an open project into a new file and closes that.
pub(crate) fn copy_pages(session: &Session, part: &Path) -> Result<(), StoreError> {
    let failed = |e: rusqlite::Error| StoreError::from_sqlite(part, "writing a copy", &e);
    let mut to = schema::connect(&*session.disk, part, Way::New, None).map_err(failed)?;
    let step = Backup::new(session.db()?, &mut to).and_then(|copy| copy.step(-1)).map_err(failed)?;
    if step != StepResult::Done {
        return Err(StoreError::InUse { path: part.to_path_buf(), by: "in another program" });
    }
    schema::journal_mode(&to, "DELETE").map_err(failed)?;
    schema::set_meta(&to, "state", "closed").map_err(failed)?;
    to.close().map_err(|(_, e)| failed(e))
}

/// The resolved path of a copy to be made, once it is certain that nothing is destroyed by making it.
fn target(store: &Store, to: &Path) -> Result<PathBuf, StoreError> {
    let disk = &*store.session.disk;
    let path = disk.resolve(to).map_err(|e| StoreError::from_io(to, "making a copy", &e))?;
    match disk.look(&path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => {}
        Err(e) => return Err(StoreError::from_io(to, "making a copy", &e)),
        Ok(_) => {
            // Held while the other lock is tried, so that nobody in this process opens it meanwhile.
            let probed = probe::probe(disk, &path).map_err(|e| match e {
                StoreError::NotOurs { what, .. } => {
                    let what = format!("is not overwritten, since it {what}");
                    StoreError::Exists { path: to.to_path_buf(), what }
                }
                other => other,
            })?;
            create::no_leftovers(disk, &path)?;
            must_not_be_open(disk, &path)?;
            drop(probed.claim);
        }
    }
    create::no_leftovers(disk, &path)?;
    Ok(path)
}

pub(crate) fn backup(store: &Store, to: &Path) -> Result<u64, StoreError> {
    let disk = &*store.session.disk;
    let path = target(store, to)?;
    let part = beside(&path, ".part");
    create::clear_part(disk, &part)?;
    let made = copy_pages(&store.session, &part).and_then(|()| reads_back(store, &part));
    if let Err(e) = made {
        // A half copy under another name is nobody's; that it cannot be removed is the smaller trouble.
        let _ = create::clear_part(disk, &part);
        return Err(e);
    }
    put_in_place(store, &part, &path)?;
    Ok(store.last_acknowledged())
}

/// Opens the copy, replays it from its beginning and compares it with the open plan.
fn reads_back(store: &Store, part: &Path) -> Result<(), StoreError> {
    let disk = store.session.disk.clone();
    let damaged = |what: String| StoreError::Damaged { path: part.to_path_buf(), what };
    let look = disk.look(part).map_err(|e| StoreError::from_io(part, "reading the copy back", &e))?;
    let claim = registry::claim(&look.identity).ok_or_else(|| damaged("the copy is open already".into()))?;
    let session = Session::in_place(disk, part.to_path_buf(), claim, None)?;
    if let Some(what) = check_inside(&session, "integrity_check")?.pages {
        return Err(damaged(what));
    }
    let loaded = load::load(session.db()?, part, None, true)?;
    if let Some(damage) = loaded.damage {
        return Err(damaged(damage.what));
    }
    if loaded.last != store.last_acknowledged()
        || chain::content(&loaded.plan) != chain::content(store.plan())
    {
        return Err(damaged("the copy does not hold the same plan".into()));
    }
    Ok(())
}

fn put_in_place(store: &Store, part: &Path, path: &Path) -> Result<(), StoreError> {
    let disk = &*store.session.disk;
    let failed = |e: io::Error| StoreError::from_io(path, "putting the copy in place", &e);
    disk.rename(part, path).map_err(failed)?;
    // The number beside an earlier file of this name says nothing about the copy.
    disk.remove(&promise_path(path)).map_err(failed)
}

/// Makes a new project of what is whole in a damaged one: the plan as shown, and every picture that reads back.
pub(crate) fn rescue(store: &Store, to: &Path, now: &str) -> Result<u64, StoreError> {
    let disk = store.session.disk.clone();
    let path = target(store, to)?;
    let part = beside(&path, ".rescue");
    create::clear_part(&*disk, &part)?;
    let options = Options { disk: disk.clone(), ..Options::default() };
    let mut new = Store::create(&part, store.plan(), now, &options)?;
    for picture in &store.plan().pictures {
        if let Ok(bytes) = store.picture(&picture.sha256) {
            new.put_picture(&bytes)?;
        }
    }
    new.close()?;
    put_in_place(store, &part, &path)?;
    Ok(0)
}

/// The bytes of a picture, checked against their hash.
pub(crate) fn picture(session: &Session, sha: &str) -> Result<Vec<u8>, StoreError> {
    let doing = "reading a picture";
    let sql = "SELECT bytes FROM picture WHERE sha256 = ?1";
    let read = session.db()?.query_row(sql, [sha], |r| r.get::<_, Vec<u8>>(0));
    match read {
        Ok(bytes) if chain::hex(&chain::of(&bytes)) == sha => Ok(bytes),
        Ok(_) => Err(StoreError::Damaged {
            path: session.path.clone(),
            what: format!("the picture {sha} has other bytes than were written"),
        }),
        Err(rusqlite::Error::QueryReturnedNoRows) => {
            let sha = sha.chars().filter(|c| !c.is_control()).take(64).collect();
            Err(StoreError::NoPicture { path: session.path.clone(), sha })
        }
        Err(e) => Err(session.failed(doing, &e)),
    }
}

pub(crate) fn restore_check(path: &Path, options: &Options) -> Result<Report, StoreError> {
    let disk = options.disk.clone();
    let probed = probe::probe(&*disk, path)?;
    let facts = Facts::of(&*disk, &probed);
    let session = Session::on_copy(disk, probed.path, probed.claim)?;
    let mut problems = Vec::new();
    let inside = check_inside(&session, "integrity_check")?;
    problems.extend(inside.pages.map(|what| sentence(&what)));
    if inside.format < schema::WHOLE && problems.is_empty() {
        crate::migrate::migrate(&session, inside.format)?;
    }
    let left_open = inside.in_wal_mode && open::load_state(&session)? == "open";
    let quick = load::load(session.db()?, &session.path, facts.promised(), false)?;
    let notes = open::remarks(&session, &facts, &quick, left_open);
    match load::load(session.db()?, &session.path, None, true) {
        Ok(full) => {
            problems.extend(full.damage.map(|d| sentence(&d.what)));
            if full.last == quick.last && chain::content(&full.plan) != chain::content(&quick.plan) {
                problems.push("The history does not lead to the stored plan.".into());
            }
        }
        Err(StoreError::Damaged { what, .. }) => problems.push(sentence(&what)),
        Err(e) => return Err(e),
    }
    let pictures = check_pictures(&session, &quick.plan, &mut problems)?;
    Ok(Report {
        name: quick.plan.name.clone(),
        last: quick.last,
        last_at: quick.last_at,
        pictures,
        content_hash: chain::hex(&chain::content(&quick.plan)),
        problems,
        notes,
    })
}

/// Counts the pictures that are whole; adds those that are not, and those that the plan names but the file lacks.
fn check_pictures(
    session: &Session,
    plan: &plan::Plan,
    problems: &mut Vec<String>,
) -> Result<u64, StoreError> {
    let mut wanted: Vec<String> = plan.pictures.iter().map(|p| p.sha256.clone()).collect();
    let names = session.db()?.prepare("SELECT sha256 FROM picture ORDER BY sha256").and_then(|mut query| {
        query.query_map([], |r| r.get::<_, String>(0))?.collect::<rusqlite::Result<Vec<_>>>()
    });
    match names {
        Ok(names) => wanted.extend(names),
        Err(e) if load::is_damage(&e) => problems.push("The list of pictures cannot be read.".into()),
        Err(e) => return Err(session.failed("reading the list of pictures", &e)),
    }
    wanted.sort();
    wanted.dedup();
    let mut whole = 0;
    for sha in wanted {
        match picture(session, &sha) {
            Ok(_) => whole += 1,
            Err(StoreError::NoPicture { .. }) => problems.push(format!("The picture {sha} is missing.")),
            Err(StoreError::Damaged { what, .. }) => problems.push(sentence(&what)),
            Err(e) => return Err(e),
        }
    }
    Ok(whole)
}

/// A sentence with a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut signs = text.chars();
    match signs.next() {
        Some(first) => format!("{}{}.", first.to_uppercase(), signs.as_str().trim_end_matches('.')),
        None => String::new(),
    }
}
