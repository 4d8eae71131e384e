//! The open plan: changes in the order of arrival, on disk before they are acknowledged.
//!
//! Whoever changes the plan puts a request in the queue and then takes the office's lock. The first to get it
//! serves all that wait at that moment: each is applied in turn and all go to disk in one commit, so that many
//! tablets cost no more syncs than one. Nobody gets an answer before the disk has it.

use std::collections::{BTreeMap, VecDeque};
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, RwLock};

use plan::{Applied, Cells, Command, ItemId, Picture, PictureId, Plan, Touched};
use store::{EntryKind, NewEntry, Step, Store};

use crate::derived::Derived;
use crate::error::DeskError;
use crate::jobs::{JobId, JobState, Jobs, StopFlag};
use crate::matching::{MatchAsk, Outcome, prepare, run};
use crate::pictures::{PictureBank, PictureSource};
use crate::snapshot::Snapshot;

/// Who asks, as it stands in the journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Author(pub String);

/// A way to make the command of a change from the plan as it is when its turn comes.
pub type Draft = Box<dyn FnOnce(&Plan) -> Result<(String, Command), DeskError> + Send>;

/// What is asked of the office.
pub enum Request {
    /// A change. Its label says what is done: "Move Mill".
    Change(Draft),
    /// Take the last change back.
    Undo,
    /// Bring back what was taken back last.
    Redo,
}

/// What an acknowledged change yields.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    /// Its number in the journal.
    pub change: u64,
    /// When it came on disk, UTC.
    pub at: String,
    /// What was done, in words.
    pub label: String,
    /// What it touched.
    pub touched: Touched,
    /// The largest id that it gave, if it gave one.
    pub added: Option<u32>,
}

/// What listeners hear.
#[derive(Debug, Clone, PartialEq)]
pub enum News {
    /// The plan changed.
    Changed(Receipt),
    /// A job moved on.
    Job(JobState),
}

/// A variant's id, counted from 1.
pub type VariantId = u32;

/// A match that can be looked at and laid.
#[derive(Debug, Clone, PartialEq)]
pub struct VariantState {
    /// Its id.
    pub id: VariantId,
    /// The match.
    pub outcome: Arc<Outcome>,
    /// True once it was laid.
    pub laid: bool,
}

type Listener = Box<dyn Fn(&News) + Send + Sync>;
type Answer = Result<Receipt, DeskError>;

/// An open project: its plan, its file, and everything derived from it.
pub struct Desk {
    queue: Mutex<VecDeque<(u64, Author, Request)>>,
    inner: Mutex<Inner>,
    snapshot: RwLock<Arc<Snapshot>>,
    pub(crate) derived: Mutex<Derived>,
    pub(crate) bank: PictureBank,
    jobs: Jobs,
    variants: Mutex<BTreeMap<VariantId, VariantState>>,
    listeners: Mutex<Vec<Listener>>,
}

struct Inner {
    plan: Plan,
    store: Option<Store>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    notes: Vec<String>,
    change: u64,
    at: String,
    writable: bool,
    file: String,
    answers: BTreeMap<u64, Answer>,
}

/// Variants that are kept, oldest first to go.
const VARIANTS: usize = 12;

impl Desk {
    /// Makes a new project file with this plan and opens it.
    pub fn create(path: &Path, plan: &Plan) -> Result<Arc<Self>, DeskError> {
        Store::create(path, plan, &now())?.close()?;
        Self::open(path)
    }

    /// Opens a project file. What the file has to say is in the snapshot's notes.
    pub fn open(path: &Path) -> Result<Arc<Self>, DeskError> {
        let opened = Store::open(path)?;
        let inner = Inner {
            plan: opened.plan,
            writable: opened.store.is_writable(),
            store: Some(opened.store),
            undo: opened.undo,
            redo: opened.redo,
            notes: opened.notes.iter().map(ToString::to_string).collect(),
            change: opened.last,
            at: opened.last_at,
            file: path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default(),
            answers: BTreeMap::new(),
        };
        let snapshot = RwLock::new(Arc::new(inner.snapshot()));
        Ok(Arc::new(Self {
            queue: Mutex::default(),
            inner: Mutex::new(inner),
            snapshot,
            derived: Mutex::default(),
            bank: PictureBank::new(),
            jobs: Jobs::default(),
            variants: Mutex::default(),
            listeners: Mutex::default(),
        }))
    }

    /// The plan at the last change on disk.
    pub fn snapshot(&self) -> Arc<Snapshot> {
        Arc::clone(&self.snapshot.read().unwrap_or_else(|e| e.into_inner()))
    }

    /// Hears of every change and every job from now on. The listener must not wait.
    pub fn listen(&self, listener: impl Fn(&News) + Send + Sync + 'static) {
        lock(&self.listeners).push(Box::new(listener));
    }

    /// Serves a request; comes back when it is on disk or refused.
    pub fn submit(&self, who: &Author, request: Request) -> Answer {
        let ticket = NEXT_TICKET.fetch_add(1, Ordering::Relaxed);
        lock(&self.queue).push_back((ticket, who.clone(), request));
        let mut inner = lock(&self.inner);
        if let Some(answer) = inner.answers.remove(&ticket) {
            return answer;
        }
        let group: Vec<_> = lock(&self.queue).drain(..).collect();
        let receipts = inner.serve(group);
        {
            // Both under one lock: nobody may keep a result of the old plan as one of the new.
            let mut derived = lock(&self.derived);
            receipts.iter().for_each(|r| derived.forget(&r.touched));
            *self.snapshot.write().unwrap_or_else(|e| e.into_inner()) = Arc::new(inner.snapshot());
        }
        let answer = inner.answers.remove(&ticket);
        // Still under the lock, so that listeners hear of changes in their order.
        receipts.into_iter().for_each(|r| self.tell(&News::Changed(r)));
        answer.expect("whoever gets the lock first serves everything in the queue, its own request too")
    }

    /// Applies a change that was worked out beforehand.
    pub fn apply(&self, who: &Author, label: &str, command: Command) -> Result<Receipt, DeskError> {
        let label = label.to_owned();
        self.submit(who, Request::Change(Box::new(move |_| Ok((label, command)))))
    }

    /// Puts a picture into the project. Hands back its id, its size and what was done to it.
    pub fn add_picture(&self, who: &Author, name: &str, bytes: &[u8]) -> Result<AddedPicture, DeskError> {
        let error = |error| DeskError::Picture { name: name.to_owned(), error };
        let decoded =
            colour::decode_picture(bytes, &colour::PictureLimits::default()).map_err(error)?;
        let (width, height) = decoded.upright_size();
        let notes = decoded.notes.iter().map(ToString::to_string).collect();
        drop(decoded);
        let sha256 = self.with_store(|store| Ok(store.put_blob(bytes)?))?;
        let name = bare_name(name);
        let label = format!("Add picture {name}");
        let receipt = self.submit(
            who,
            Request::Change(Box::new(move |plan| {
                let id = PictureId(plan.fresh_id());
                Ok((label, Command::PutPicture { picture: Picture { id, name, sha256, width, height } }))
            })),
        )?;
        let picture = PictureId(receipt.added.unwrap_or_default());
        Ok(AddedPicture { picture, width, height, notes, receipt })
    }

    /// Starts matching fields. With `lay` the result is laid at once; otherwise it is kept as a variant.
    pub fn start_match(self: &Arc<Self>, who: &Author, ask: MatchAsk, lay: bool) -> Result<JobId, DeskError> {
        let snapshot = self.snapshot();
        let names: Vec<_> =
            ask.items.iter().filter_map(|&i| snapshot.plan.item(i)).map(|i| i.name.clone()).collect();
        let Some((id, flag)) = self.jobs.begin(format!("Matching {}", names.join(", "))) else {
            return Err(DeskError::Match(
                "Four matches are running already. Wait for one to end, or stop it.".into(),
            ));
        };
        let (desk, who) = (Arc::clone(self), who.clone());
        let work = move || {
            let made = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
                desk.match_now(&who, &ask, lay, id, &flag)
            }));
            let made = made.unwrap_or_else(|_| {
                Err(DeskError::Match("The match failed inside. Nothing was changed; the plan is safe.".into()))
            });
            desk.move_job(id, |s| {
                s.over = true;
                match made {
                    Ok((variant, stopped)) => {
                        s.variant = Some(variant);
                        s.stopped = stopped;
                    }
                    Err(DeskError::Stopped) => s.stopped = true,
                    Err(e) => s.trouble = Some((e.code().to_owned(), e.to_string())),
                }
            });
        };
        std::thread::Builder::new()
            .name("match".into())
            .spawn(work)
            .map_err(|e| DeskError::Match(format!("The machine has no room for another job: {e}.")))?;
        Ok(id)
    }

    fn match_now(
        &self,
        who: &Author,
        ask: &MatchAsk,
        lay: bool,
        job: JobId,
        flag: &StopFlag,
    ) -> Result<(VariantId, bool), DeskError> {
        let snapshot = self.snapshot();
        self.move_job(job, |s| s.stage = "pictures".into());
        let prepared = prepare(&snapshot.plan, ask, &self.bank, self, &|_| !flag.is_set())?;
        let mut told = ("", 0u16);
        let outcome = run(&prepared, &mut |p| {
            let now = (crate::matching::stage_word(p.stage), (p.done.clamp(0.0, 1.0) * 1_000.0) as u16);
            // A report for every hundredth is enough for the eye and keeps the socket quiet.
            if now.0 != told.0 || now.1 >= told.1 + 10 {
                told = now;
                self.move_job(job, |s| (s.stage, s.permille) = (now.0.into(), now.1));
            }
            if flag.is_set() { colour::Flow::Stop } else { colour::Flow::Go }
        })?;
        let stopped = outcome.stopped;
        let id = self.keep_variant(outcome);
        if lay && !stopped {
            self.use_variant(who, id)?;
        }
        Ok((id, stopped))
    }

    /// How a job stands.
    pub fn job(&self, id: JobId) -> Option<JobState> {
        self.jobs.state(id)
    }

    /// Asks a job to stop; false when there is none with this id.
    pub fn stop_job(&self, id: JobId) -> bool {
        self.jobs.stop(id)
    }

    fn move_job(&self, id: JobId, change: impl FnOnce(&mut JobState)) {
        if let Some(state) = self.jobs.update(id, change) {
            self.tell(&News::Job(state));
        }
    }

    fn keep_variant(&self, outcome: Outcome) -> VariantId {
        let mut variants = lock(&self.variants);
        let id = variants.keys().next_back().map_or(1, |last| last + 1);
        variants.insert(id, VariantState { id, outcome: Arc::new(outcome), laid: false });
        while variants.len() > VARIANTS {
            variants.pop_first();
        }
        id
    }

    /// A kept variant.
    pub fn variant(&self, id: VariantId) -> Option<VariantState> {
        lock(&self.variants).get(&id).cloned()
    }

    /// Forgets a variant; false when there is none with this id.
    pub fn drop_variant(&self, id: VariantId) -> bool {
        lock(&self.variants).remove(&id).is_some()
    }

    /// Lays a kept variant.
    pub fn use_variant(&self, who: &Author, id: VariantId) -> Result<Receipt, DeskError> {
        let variant = self.variant(id).ok_or_else(|| DeskError::Missing {
            what: format!("Variant {id}"),
            next: "Match again; only the last twelve are kept.".into(),
        })?;
        let cells: Vec<(ItemId, Cells)> = variant.outcome.cells.clone();
        let receipt = self.submit(
            who,
            Request::Change(Box::new(move |plan| {
                let names: Vec<_> =
                    cells.iter().filter_map(|(i, _)| plan.item(*i)).map(|i| i.name.clone()).collect();
                let steps = cells.into_iter().map(|(id, cells)| Command::Lay { id, cells }).collect();
                Ok((format!("Lay {}", names.join(", ")), Command::Together { steps }))
            })),
        )?;
        if let Some(v) = lock(&self.variants).get_mut(&id) {
            v.laid = true;
        }
        Ok(receipt)
    }

    /// Writes a checked copy of the project to another file.
    pub fn backup(&self, to: &Path) -> Result<(), DeskError> {
        self.with_store(|store| Ok(store.backup(to)?))
    }

    /// Closes the project: stops all jobs and leaves one file. Changes after it are refused.
    pub fn close(&self) -> Result<(), DeskError> {
        self.jobs.stop_all();
        match lock(&self.inner).store.take() {
            Some(store) => Ok(store.close()?),
            None => Ok(()),
        }
    }

    fn with_store<T>(&self, work: impl FnOnce(&mut Store) -> Result<T, DeskError>) -> Result<T, DeskError> {
        match lock(&self.inner).store.as_mut() {
            Some(store) => work(store),
            None => Err(closed()),
        }
    }

    fn tell(&self, news: &News) {
        lock(&self.listeners).iter().for_each(|l| l(news));
    }
}

impl PictureSource for Desk {
    fn picture_bytes(&self, sha256: &str) -> Result<Vec<u8>, DeskError> {
        self.with_store(|store| Ok(store.blob(sha256)?))
    }
}

/// A picture that was put into the project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddedPicture {
    /// Its id.
    pub picture: PictureId,
    /// Upright width in pixels.
    pub width: u32,
    /// Upright height in pixels.
    pub height: u32,
    /// What was done to it.
    pub notes: Vec<String>,
    /// The change that put it there.
    pub receipt: Receipt,
}

static NEXT_TICKET: AtomicU64 = AtomicU64::new(1);

/// A request that was applied but is not on disk yet, with what takes it back should the disk refuse.
struct Pending {
    ticket: u64,
    entry: NewEntry,
    touched: Touched,
    added: Option<u32>,
    moved: Moved,
}

/// What happened to the stacks of undo and redo.
enum Moved {
    /// A step was pushed to undo; these were on redo.
    Did(Vec<Step>),
    /// The step moved from undo to redo.
    Undid(Step),
    /// The step moved from redo to undo.
    Redid(Step),
}

impl Inner {
    fn snapshot(&self) -> Snapshot {
        Snapshot {
            plan: Arc::new(self.plan.clone()),
            change: self.change,
            at: self.at.clone(),
            undo: self.undo.last().map(|s| s.label.clone()),
            redo: self.redo.last().map(|s| s.label.clone()),
            notes: self.notes.clone(),
            writable: self.writable,
            file: self.file.clone(),
        }
    }

    /// Applies a group, commits it once, and leaves an answer for every ticket. Hands back the receipts.
    fn serve(&mut self, group: Vec<(u64, Author, Request)>) -> Vec<Receipt> {
        let at = now();
        let mut pending = Vec::with_capacity(group.len());
        for (ticket, who, request) in group {
            match self.stage(ticket, who, &at, request) {
                Ok(p) => pending.push(p),
                Err(e) => {
                    self.answers.insert(ticket, Err(e));
                }
            }
        }
        if pending.is_empty() {
            return Vec::new();
        }
        let entries: Vec<NewEntry> = pending.iter().map(|p| p.entry.clone()).collect();
        let written = match self.store.as_mut() {
            Some(store) => store.commit(&entries, &self.plan).map_err(DeskError::from),
            None => Err(closed()),
        };
        match written {
            Ok(last) => self.acknowledge(pending, last, at),
            Err(e) => {
                self.take_back(pending, &e);
                Vec::new()
            }
        }
    }

    fn acknowledge(&mut self, pending: Vec<Pending>, last: u64, at: String) -> Vec<Receipt> {
        let first = last + 1 - pending.len() as u64;
        (self.change, self.at) = (last, at);
        let mut receipts = Vec::with_capacity(pending.len());
        for (change, p) in (first..).zip(pending) {
            let receipt = Receipt {
                change,
                at: self.at.clone(),
                label: p.entry.label,
                touched: p.touched,
                added: p.added,
            };
            receipts.push(receipt.clone());
            self.answers.insert(p.ticket, Ok(receipt));
        }
        receipts
    }

    /// The disk refused: the plan and the stacks go back to what the disk has, newest first.
    fn take_back(&mut self, pending: Vec<Pending>, error: &DeskError) {
        for p in pending.into_iter().rev() {
            self.plan.apply(&p.entry.inverse).expect("an inverse of a change just applied is always taken");
            match p.moved {
                Moved::Did(redo) => {
                    self.undo.pop();
                    self.redo = redo;
                }
                Moved::Undid(step) => {
                    self.redo.pop();
                    self.undo.push(step);
                }
                Moved::Redid(step) => {
                    self.undo.pop();
                    self.redo.push(step);
                }
            }
            self.answers.insert(p.ticket, Err(DeskError::NotSaved(error.to_string())));
        }
    }

    fn stage(&mut self, ticket: u64, who: Author, at: &str, request: Request) -> Result<Pending, DeskError> {
        let given = self.plan.fresh_id();
        let (kind, label, command, moved, applied) = match request {
            Request::Change(draft) => {
                let (label, command) = draft(&self.plan)?;
                let applied = self.plan.apply(&command)?;
                let step = Step { label: label.clone(), command: command.clone(), inverse: applied.inverse.clone() };
                self.undo.push(step);
                (EntryKind::Do, label, command, Moved::Did(std::mem::take(&mut self.redo)), applied)
            }
            Request::Undo => {
                let step = self.undo.last().cloned().ok_or(DeskError::NothingTo("undo"))?;
                let applied = self.plan.apply(&step.inverse)?;
                self.undo.pop();
                self.redo.push(turned(&step, &applied));
                (EntryKind::Undo, step.label.clone(), step.inverse.clone(), Moved::Undid(step), applied)
            }
            Request::Redo => {
                let step = self.redo.last().cloned().ok_or(DeskError::NothingTo("redo"))?;
                let applied = self.plan.apply(&step.command)?;
                self.redo.pop();
                self.undo.push(Step { inverse: applied.inverse.clone(), ..step.clone() });
                (EntryKind::Redo, step.label.clone(), step.command.clone(), Moved::Redid(step), applied)
            }
        };
        let Applied { inverse, touched } = applied;
        let entry = NewEntry { at: at.to_owned(), who: who.0, label, kind, command, inverse };
        let added = (self.plan.fresh_id() > given).then(|| self.plan.fresh_id() - 1);
        Ok(Pending { ticket, entry, touched, added, moved })
    }
}

/// The step as it waits on the redo stack: what brings the change back, and what takes it back again.
fn turned(step: &Step, undone: &Applied) -> Step {
    Step { label: step.label.clone(), command: undone.inverse.clone(), inverse: step.inverse.clone() }
}

fn closed() -> DeskError {
    DeskError::NotSaved("The project is closed. Open it again.".into())
}

/// A picture's file name without the folders that some browsers and all command lines give.
fn bare_name(name: &str) -> String {
    let bare = name.rsplit(['/', '\\']).next().unwrap_or(name).trim();
    let clean: String = bare.chars().filter(|c| !c.is_control()).take(200).collect();
    if clean.is_empty() || clean == "." || clean == ".." { "picture".into() } else { clean }
}

/// The time for the journal. The desk may read the clock; everything below it may not.
fn now() -> String {
    humantime::format_rfc3339_seconds(std::time::SystemTime::now()).to_string()
}

pub(crate) fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // A panic in one request must not lock everybody out: the data is consistent between statements.
    mutex.lock().unwrap_or_else(|e| e.into_inner())
}
