//! Killing a real writer: the child says what was acknowledged, the parent compares.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use store::{Options, Store};

use crate::Failed;
use crate::judge::{follows, same, to_both_ends};
use crate::model::{Course, Model, NOW, start};
use crate::rng::Rng;

/// The first word that makes the program `soak` a writer: project, seed and first entry follow.
pub const WRITE: &str = "--write";

/// The first word that makes the program `soak` forget the history of a project, a little at a time: the project follows.
pub const FORGET: &str = "--forget";

/// A running writer. It is killed when it is dropped.
#[derive(Debug)]
pub struct Writer {
    child: Child,
    last: Option<String>,
}

impl Drop for Writer {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Writer {
    /// Starts the program `soak` as a writer on a project. It asks for one change after the other of the seed's course,
    /// beginning with entry `from`, and prints a line for each that is acknowledged.
    ///
    /// # Errors
    /// When it cannot be started.
    pub fn start(program: &Path, project: &Path, seed: u64, from: u64) -> Result<Self, Failed> {
        let mut command = Command::new(program);
        command.arg(WRITE).arg(project).arg(seed.to_string()).arg(from.to_string());
        Self::run(command)
    }

    fn run(mut command: Command) -> Result<Self, Failed> {
        let child = command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::inherit()).spawn();
        Ok(Self { child: child.map_err(|e| format!("starting the writer: {e}"))?, last: None })
    }

    /// Waits for the next line that it prints.
    ///
    /// # Errors
    /// When it ended.
    pub fn wait_for_line(&mut self) -> Result<(), Failed> {
        let out = self.child.stdout.as_mut().ok_or("the writer has no output")?;
        let (mut byte, mut line) = ([0], Vec::new());
        while out.read(&mut byte).map_err(|e| e.to_string())? == 1 {
            if byte[0] == b'\n' {
                self.last = Some(String::from_utf8_lossy(&line).into_owned());
                return Ok(());
            }
            line.push(byte[0]);
        }
        Err("the writer ended by itself".into())
    }

    /// Kills it and hands back the last line that it finished.
    fn kill(mut self) -> Result<Option<String>, Failed> {
        self.child.kill().map_err(|e| e.to_string())?;
        let out = self.child.stdout.take().ok_or("the writer has no output")?;
        let mut last = self.last.take();
        let mut lines = BufReader::new(out);
        let mut line = String::new();
        while lines.read_line(&mut line).map_err(|e| e.to_string())? > 0 {
            if line.ends_with('\n') {
                last = Some(line.trim().to_owned());
            }
            line.clear();
        }
        self.child.wait().map_err(|e| e.to_string())?;
        Ok(last)
    }
}

/// What the writer does: called by the program when its first word is [`WRITE`].
///
/// # Errors
/// When the project does not open or a change cannot be written.
pub fn write(project: PathBuf, seed: u64, from: u64) -> Result<(), store::StoreError> {
    use std::io::Write;
    let options = Options { snapshot_every: 40, ..Options::default() };
    let mut store = Store::open(&project, &options)?.store;
    let mut out = std::io::stdout();
    for n in from.. {
        let receipt = store.commit(&[Course(seed).entry(n)])?;
        if writeln!(out, "{n} {}", receipt.last).and_then(|()| out.flush()).is_err() {
            break;
        }
    }
    Ok(())
}

/// Kills the writer again and again on one project and compares after each kill.
///
/// # Errors
/// When a promise was not kept, or opening took 2 seconds or more.
pub fn kill_writer(program: &Path, seed: u64, kills: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 7);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join("river.standfast");
    let options = Options::default();
    Store::create(&path, &start(), NOW, &options).and_then(Store::close).map_err(|e| e.to_string())?;
    let (mut model, mut next) = (Model::new(start()), 0);
    for kill in 0..kills {
        let mut writer = Writer::start(program, &path, seed, next)?;
        if rng.percent(90) {
            writer.wait_for_line()?;
        }
        std::thread::sleep(Duration::from_micros(rng.below(25_000)));
        let line = writer.kill()?;
        let begun = Instant::now();
        let opened =
            Store::open(&path, &options).map_err(|e| format!("kill {kill}: it does not open: {e}"))?;
        if begun.elapsed() > Duration::from_secs(2) {
            return Err(format!("kill {kill}: opening took {:?}", begun.elapsed()));
        }
        if let Some(note) = opened.notes.iter().find(|n| n.is_serious()) {
            return Err(format!("kill {kill}: it says \"{note}\""));
        }
        let acked = line.as_deref().and_then(two_numbers);
        next = catch_up(&opened.store, &mut model, seed, next, acked)
            .map_err(|why| format!("kill {kill}: {why}"))?;
        follows(&opened.store, &model).map_err(|why| format!("kill {kill}: {why}"))?;
        if kill + 1 == kills {
            return to_both_ends(opened.store, &path, &options, &model);
        }
        opened.store.close().map_err(|e| format!("kill {kill}: closing: {e}"))?;
    }
    Ok(())
}

/// Forgets the history of a project, ten entries at a time, and prints after each what is forgotten: called by the program
/// when its first word is [`FORGET`].
///
/// # Errors
/// When the project does not open or its history cannot be shortened.
pub fn forget(project: PathBuf) -> Result<(), store::StoreError> {
    use std::io::Write;
    let mut store = Store::open(&project, &Options::default())?.store;
    let mut out = std::io::stdout();
    while store.forgotten() + 1 < store.last_acknowledged() {
        store.forget(store.forgotten() + 10)?;
        if writeln!(out, "{}", store.forgotten()).and_then(|()| out.flush()).is_err() {
            break;
        }
    }
    Ok(())
}

/// Kills a program that shortens a history, again and again, and demands after each kill that the plan and every entry that
/// was not to be forgotten are there, and that the file is whole.
///
/// # Errors
/// When something is missing that was not forgotten, or came back that was.
pub fn kill_forgetter(program: &Path, seed: u64, kills: u64) -> Result<(), Failed> {
    let mut rng = Rng::new(seed, 8);
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let path = folder.path().join("river.standfast");
    let options = Options { snapshot_every: 40, ..Options::default() };
    let mut store = Store::create(&path, &start(), NOW, &options).map_err(|e| e.to_string())?;
    let entries: Vec<_> = (0..20 * kills).map(|n| Course(seed).entry(n)).collect();
    store.commit(&entries).map_err(|e| e.to_string())?;
    let (hash, last) = (store.content_hash(), store.last_acknowledged());
    let steps = [store.undo_steps().to_vec(), store.redo_steps().to_vec()];
    store.close().map_err(|e| e.to_string())?;
    let mut least = 0;
    for kill in 0..kills {
        let named = |why: String| format!("kill {kill}: {why}");
        let mut command = Command::new(program);
        command.arg(FORGET).arg(&path);
        let mut forgetter = Writer::run(command)?;
        if rng.percent(80) {
            // Where all is forgotten it ends by itself.
            let _ = forgetter.wait_for_line();
        }
        std::thread::sleep(Duration::from_micros(rng.below(25_000)));
        let line = forgetter.kill()?;
        least = line.and_then(|n| n.parse().ok()).unwrap_or(0).max(least);
        let report = Store::restore_check(&path, &options).map_err(|e| named(e.to_string()))?;
        if !report.is_whole() {
            return Err(named(format!("{:?} {:?}", report.problems, report.notes)));
        }
        let store = Store::open(&path, &options).map_err(|e| named(e.to_string()))?.store;
        same("the last change", store.last_acknowledged(), last).map_err(named)?;
        same("the plan", store.content_hash(), hash.clone()).map_err(named)?;
        let forgotten = store.forgotten();
        if forgotten < least || forgotten >= last {
            return Err(named(format!("{forgotten} of {last} are forgotten, and {least} were said to be")));
        }
        for (was, is) in steps.iter().zip([store.undo_steps(), store.redo_steps()]) {
            let kept: Vec<_> = was.iter().filter(|step| step.seq > forgotten).cloned().collect();
            same("the steps", is.to_vec(), kept).map_err(named)?;
        }
        least = forgotten;
        store.close().map_err(|e| named(e.to_string()))?;
    }
    if least == 0 { Err("nothing was forgotten".into()) } else { Ok(()) }
}

fn two_numbers(line: &str) -> Option<(u64, u64)> {
    let (n, last) = line.split_once(' ')?;
    Some((n.parse().ok()?, last.parse().ok()?))
}

/// Follows the course to where the project ends, which is at or after what was acknowledged; the next number.
fn catch_up(
    store: &Store,
    model: &mut Model,
    seed: u64,
    mut next: u64,
    acked: Option<(u64, u64)>,
) -> Result<u64, Failed> {
    let last = store.last_acknowledged();
    if let Some((n, promised)) = acked {
        if last < promised {
            return Err(format!("it ends at change {last}, but {promised} was acknowledged"));
        }
        while next <= n {
            model.follow(&Course(seed).entry(next));
            next += 1;
        }
        if model.last() != promised {
            return Err(format!("change {promised} was acknowledged where the model has {}", model.last()));
        }
    }
    // What was under way when it was killed may be there: at most as much as was asked for and not answered.
    let mut unanswered = 0;
    while model.last() < last {
        model.follow(&Course(seed).entry(next));
        next += 1;
        unanswered += 1;
        // The writer asks for one change at a time.
        if unanswered > 1 {
            return Err(format!("it ends at change {last}, far behind what was acknowledged"));
        }
    }
    Ok(next)
}
