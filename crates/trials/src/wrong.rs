//! Files that are not a project of this program, or not as it made them: refused at once and left as they are.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use store::{Options, Store, StoreError};

use crate::Failed;
use crate::judge::is_said;
use crate::model::{Course, NOW, start};
use crate::rng::Rng;

/// How many files there are.
pub const WRONG_FILES: u64 = 60;

/// What is expected of a file.
enum Expect {
    /// It is refused.
    Refused,
    /// It is refused, or opens with a serious remark.
    Said,
}

/// Makes the n-th wrong file, opens it, and compares every byte of its folder with before.
///
/// # Errors
/// When it is taken for a project, takes a second, or anything has changed.
pub fn wrong_file(n: u64) -> Result<(), Failed> {
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join("strange.standfast");
    let (what, expect) = make(n, &path).map_err(|e| format!("making it: {e}"))?;
    let before = contents(folder.path());
    let begun = Instant::now();
    let opened = Store::open(&path, &Options::default());
    let took = begun.elapsed();
    match (&opened, expect) {
        (Err(StoreError::Disk { what: why, .. }), _) => {
            return Err(format!("{what}: refused in the wrong words: {why}"));
        }
        (Err(e), _) if e.to_string().ends_with("strange.standfast") => {}
        (Err(e), _) => return Err(format!("{what}: the file is not named last in \"{e}\"")),
        (Ok(o), Expect::Said) if is_said(&o.notes) => {}
        (Ok(o), _) => return Err(format!("{what}: it opened, saying {:?}", o.notes)),
    }
    // A file whose end is missing is whole as far as it goes: it is said and may be worked with.
    let may_change = opened.is_ok_and(|o| o.store.read_only().is_none());
    if took > Duration::from_secs(1) {
        return Err(format!("{what}: it took {took:?}"));
    }
    if contents(folder.path()) != before && !may_change {
        return Err(format!("{what}: something in the folder has changed"));
    }
    // Checking a copy says so too, in words or in its report.
    let before = contents(folder.path());
    match Store::restore_check(&path, &Options::default()) {
        Ok(report) if report.is_whole() => Err(format!("{what}: the full check calls it whole")),
        _ if contents(folder.path()) != before => {
            Err(format!("{what}: the full check has changed something"))
        }
        _ => Ok(()),
    }
}

/// Every file of a folder with its bytes; pipes and folders by name only.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Option<Vec<u8>>> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .map(|entry| {
            let plain = entry.file_type().is_ok_and(|t| t.is_file());
            (entry.path(), plain.then(|| fs::read(entry.path()).unwrap_or_default()))
        })
        .collect()
}

/// A sound project of ten entries.
fn sound(path: &Path) -> anyhow::Result<()> {
    let mut store = Store::create(path, &start(), NOW, &Options::default())?;
    store.commit(&(0..10).map(|n| Course(1).entry(n)).collect::<Vec<_>>())?;
    store.close()?;
    fs::remove_file(store::promise_path(path))?;
    Ok(())
}

/// A sound project changed by a statement, as by somebody who wants to trick the program.
fn changed(path: &Path, sql: &str) -> anyhow::Result<()> {
    sound(path)?;
    rusqlite::Connection::open(path)?.execute_batch(sql)?;
    Ok(())
}

const HOSTILE: &[(&str, &str)] = &[
    ("a trigger", "CREATE TRIGGER t AFTER INSERT ON journal BEGIN DELETE FROM snapshot; END"),
    ("a trigger on the marks", "CREATE TRIGGER t BEFORE UPDATE ON meta BEGIN SELECT RAISE(IGNORE); END"),
    ("a view", "CREATE VIEW v AS SELECT * FROM journal"),
    (
        "a view in place of a table",
        "DROP TABLE picture; CREATE VIEW picture AS SELECT '' AS sha256, x'' AS bytes",
    ),
    ("another table", "CREATE TABLE notes (text TEXT)"),
    ("an index with an expression", "CREATE INDEX i ON journal (length(command))"),
    ("a plain index", "CREATE INDEX i ON journal (who)"),
    ("a missing table", "DROP TABLE picture"),
    ("a missing journal", "DROP TABLE journal"),
    ("a column more", "ALTER TABLE journal ADD COLUMN more TEXT"),
    ("a column renamed", "ALTER TABLE journal RENAME COLUMN who TO whom"),
    ("a default that calls a function", "ALTER TABLE meta ADD COLUMN more TEXT DEFAULT 'x'"),
    ("a table with a check", "CREATE TABLE c (x CHECK (length(x) < 9))"),
    ("a full-text table", "CREATE VIRTUAL TABLE f USING fts5(text)"),
    (
        "a table without STRICT",
        "DROP TABLE picture; CREATE TABLE picture (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL)",
    ),
    (
        "a generated column",
        "DROP TABLE picture; CREATE TABLE picture (sha256 TEXT PRIMARY KEY, bytes BLOB AS (zeroblob(9)))",
    ),
    ("statistics", "ANALYZE"),
    ("no stored state", "DELETE FROM snapshot"),
    ("stored states that are no plans", "UPDATE snapshot SET body = x'7b7d'"),
    ("stored states of another format", "UPDATE snapshot SET format = 9"),
];

const TAMPERED: &[(&str, &str)] = &[
    ("a name changed in the history", "UPDATE journal SET who = 'Nobody' WHERE seq = 2"),
    ("an entry taken out", "DELETE FROM journal WHERE seq = 3"),
    ("the last entries taken out", "DELETE FROM journal WHERE seq > 4; DELETE FROM snapshot WHERE seq > 4"),
    (
        "an entry put in",
        "INSERT INTO journal SELECT seq + 1, at, who, label, verb, format, hash, hash, command, inverse \
                         FROM journal ORDER BY seq DESC LIMIT 1",
    ),
    ("another project's number", "UPDATE meta SET value = hex(zeroblob(32)) WHERE key = 'project'"),
    ("a number of the last change too high", "UPDATE meta SET value = '4000000000' WHERE key = 'last'"),
    ("no number of the last change", "DELETE FROM meta WHERE key = 'last'"),
    ("a verb that is none", "UPDATE journal SET verb = 'drop' WHERE seq = 1"),
];

fn make(n: u64, path: &Path) -> anyhow::Result<(String, Expect)> {
    let mut rng = Rng::new(n, 10);
    let refused = |what: &str| Ok((what.to_owned(), Expect::Refused));
    let texts: &[(&str, &[u8])] = &[
        ("an empty file", b""),
        ("a single byte", b"S"),
        ("a text", b"name = \"From Spring to Sea\"\n"),
        ("the beginning of a PNG", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"),
        ("the beginning of a ZIP", b"PK\x03\x04\x14\0\0\0\x08\0"),
        ("SQLite's first bytes alone", b"SQLite format 3\0"),
        ("SQLite's first bytes in another version", b"SQLite format 4\0 and then some more of it"),
        ("zeros", &[0; 5000]),
    ];
    let n = n as usize;
    let (hostile_at, tampered_at) = (20, 20 + HOSTILE.len());
    match n {
        0..8 => {
            fs::write(path, texts[n].1)?;
            refused(texts[n].0)
        }
        8 => {
            fs::create_dir(path)?;
            refused("a folder")
        }
        9 => {
            anyhow::ensure!(Command::new("mkfifo").arg(path).status()?.success(), "mkfifo");
            refused("a pipe that nobody writes")
        }
        10 => {
            link("strange.standfast", path)?;
            refused("a link to itself")
        }
        11 => {
            link("other.standfast", path)?;
            link("strange.standfast", &path.with_file_name("other.standfast"))?;
            refused("two links in a circle")
        }
        12 => {
            link("nowhere.standfast", path)?;
            refused("a link to nothing")
        }
        13 => {
            rusqlite::Connection::open(path)?.execute_batch("CREATE TABLE recipes (name TEXT)")?;
            refused("somebody else's SQLite file")
        }
        14 => {
            rusqlite::Connection::open(path)?
                .execute_batch("PRAGMA application_id = 7; CREATE TABLE t (a)")?;
            refused("an SQLite file of another program")
        }
        15..18 => {
            let version = [store::FORMAT as i32 + 1, 99, i32::MAX][n - 15];
            changed(path, &format!("PRAGMA user_version = {version}"))?;
            refused("a newer format")
        }
        18 => {
            changed(path, "PRAGMA user_version = -1")?;
            refused("a format of -1")
        }
        19 => {
            changed(path, "PRAGMA application_id = 0")?;
            refused("a project without its mark")
        }
        _ if n < tampered_at => {
            let (what, sql) = HOSTILE[n - hostile_at];
            changed(path, sql)?;
            refused(what)
        }
        _ if n < tampered_at + TAMPERED.len() => {
            let (what, sql) = TAMPERED[n - tampered_at];
            changed(path, sql)?;
            Ok((what.to_owned(), Expect::Said))
        }
        _ => broken(n, path, &mut rng),
    }
}

/// Random bytes, and sound projects cut short.
fn broken(n: usize, path: &Path, rng: &mut Rng) -> anyhow::Result<(String, Expect)> {
    if n.is_multiple_of(2) {
        let mut bytes: Vec<u8> = (0..rng.below(20_000)).map(|_| rng.next() as u8).collect();
        if rng.percent(50) {
            // With a head that passes the first look.
            sound(path)?;
            let head = fs::read(path)?[..100].to_vec();
            bytes.splice(0..0, head);
        }
        fs::write(path, bytes)?;
        return Ok(("random bytes".into(), Expect::Refused));
    }
    sound(path)?;
    let mut bytes = fs::read(path)?;
    let at = 1 + rng.below(bytes.len() as u64 - 1) as usize;
    bytes.truncate(at);
    fs::write(path, bytes)?;
    Ok((format!("a project cut at byte {at}"), Expect::Said))
}

#[cfg(unix)]
fn link(to: &str, at: &Path) -> std::io::Result<()> {
    std::os::unix::fs::symlink(to, at)
}

#[cfg(not(unix))]
fn link(_to: &str, at: &Path) -> std::io::Result<()> {
    fs::write(at, "no links here")
}
