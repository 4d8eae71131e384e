//! The open plan: changes in the order of arrival, on disk before they are acknowledged.
//!
//! Whoever changes the plan puts a request in the queue and then takes the office's lock. The first to get it
//! serves all that wait at that moment: each is applied in turn and all go to disk in one commit, so that many
//! tablets cost no more syncs than one. Nobody gets an answer before the disk has it.

use std::collections::{BTreeMap, VecDeque};
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, RwLock};

use plan::{Command, Plan, Touched};
use sayings::{Arg, Said, doing, refusing, say};
use store::{Act, KnownKeys, NewEntry, OnceKey, Options, Store, StoreError};

use crate::again;
use crate::copied::Copies;
use crate::derived::Derived;
use crate::error::{Back, DeskError};
use crate::jobs::{JobId, JobKind, JobState, Jobs, Made, StopFlag};
use crate::label::Label;
use crate::matching::{MatchAsk, Outcome, prepare, run};
use crate::physics::Makers;
use crate::pictures::PictureBank;
use crate::snapshot::Snapshot;

/// Who asks, as it stands in the journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Author(pub String);

/// A way to make the command of a change from the plan as it is when its turn comes.
pub type Draft = Box<dyn FnOnce(&Plan) -> Result<(Label, Command), DeskError> + Send>;

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
    /// What was done.
    pub label: Label,
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
    queue: Mutex<VecDeque<Asked>>,
    inner: Mutex<Inner>,
    pub(crate) keys: KnownKeys,
    snapshot: RwLock<Arc<Snapshot>>,
    pub(crate) derived: Mutex<Derived>,
    pub(crate) makers: Makers,
    pub(crate) bank: PictureBank,
    jobs: Jobs,
    variants: Mutex<BTreeMap<VariantId, VariantState>>,
    pub(crate) copies: Mutex<Copies>,
    listeners: Mutex<Vec<Listener>>,
}

struct Inner {
    store: Option<Store>,
    /// What the file had to say when it was opened, and what has happened to it since.
    notes: Vec<String>,
    at: String,
    file: String,
    /// The plan as it was when the project was closed, for those who still look.
    last: Arc<Snapshot>,
    answers: BTreeMap<u64, Answer>,
}

/// Variants that are kept, oldest first to go.
const VARIANTS: usize = 12;

impl Desk {
    /// Makes a new project file with this plan and opens it.
    pub fn create(path: &Path, plan: &Plan) -> Result<Arc<Self>, DeskError> {
        let store = Store::create(path, plan, &now(), &Options::default())?;
        Ok(Self::around(path, store, Vec::new()))
    }

    /// Opens a project file. What the file has to say is in the snapshot's notes.
    pub fn open(path: &Path) -> Result<Arc<Self>, DeskError> {
        let opened = Store::open(path, &Options::default())?;
        Ok(Self::around(path, opened.store, opened.notes.iter().map(ToString::to_string).collect()))
    }

    fn around(path: &Path, store: Store, notes: Vec<String>) -> Arc<Self> {
        let file = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        let at = store.undo_steps().iter().chain(store.redo_steps()).map(|s| s.at.clone()).max();
        let keys = store.known_keys();
        let mut inner = Inner {
            store: Some(store),
            notes,
            at: at.unwrap_or_default(),
            file,
            last: Arc::default(),
            answers: BTreeMap::new(),
        };
        inner.look_again();
        Arc::new(Self {
            queue: Mutex::default(),
            snapshot: RwLock::new(Arc::clone(&inner.last)),
            inner: Mutex::new(inner),
            keys,
            derived: Mutex::default(),
            makers: Makers::default(),
            bank: PictureBank::new(),
            jobs: Jobs::default(),
            variants: Mutex::default(),
            copies: Mutex::default(),
            listeners: Mutex::default(),
        })
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
        self.submit_under(who, None, request)
    }

    /// The same under a key, by which [`Desk::earlier`] finds the change again. Whoever sends a request anew looks there first.
    pub fn submit_under(&self, who: &Author, once: Option<OnceKey>, request: Request) -> Answer {
        let ticket = NEXT_TICKET.fetch_add(1, Ordering::Relaxed);
        lock(&self.queue).push_back(Asked { ticket, who: who.clone(), once, request });
        let mut inner = lock(&self.inner);
        if let Some(answer) = inner.answers.remove(&ticket) {
            return answer;
        }
        let group: Vec<_> = lock(&self.queue).drain(..).collect();
        let receipts = inner.serve(group);
        self.show(&mut inner, &receipts);
        let answer = inner.answers.remove(&ticket);
        // Still under the lock, so that listeners hear of changes in their order.
        receipts.into_iter().for_each(|r| self.tell(&News::Changed(r)));
        answer.expect("whoever gets the lock first serves everything in the queue, its own request too")
    }

    /// Lets everybody see the plan as the file has it now.
    fn show(&self, inner: &mut Inner, receipts: &[Receipt]) {
        inner.look_again();
        // Both under one lock: nobody may keep a result of the old plan as one of the new.
        let mut derived = lock(&self.derived);
        receipts.iter().for_each(|r| derived.forget(&r.touched));
        *self.snapshot.write().unwrap_or_else(|e| e.into_inner()) = Arc::clone(&inner.last);
    }

    /// Does something with the file that leaves the plan as it is, but not what is told beside it: how far undo goes.
    pub(crate) fn with_history<T>(
        &self,
        work: impl FnOnce(&mut Store) -> Result<T, DeskError>,
    ) -> Result<T, DeskError> {
        let mut inner = lock(&self.inner);
        let done = work(inner.store.as_mut().ok_or_else(closed)?);
        self.show(&mut inner, &[]);
        done
    }

    /// Applies a change that was worked out beforehand.
    pub fn apply(
        &self,
        who: &Author,
        label: impl Into<Label>,
        command: Command,
    ) -> Result<Receipt, DeskError> {
        let label = label.into();
        self.submit(who, Request::Change(Box::new(move |_| Ok((label, command)))))
    }

    /// Starts matching fields. With `lay` the result is laid at once; otherwise it is kept as a variant.
    pub fn start_match(self: &Arc<Self>, who: &Author, ask: MatchAsk, lay: bool) -> Result<JobId, DeskError> {
        let snapshot = self.snapshot();
        let names: Vec<_> =
            ask.items.iter().filter_map(|&i| snapshot.plan.item(i)).map(|i| Arg::from(&i.name)).collect();
        let who = who.clone();
        self.start_job(
            JobKind::Match,
            say!(doing::MATCHING, names = Arg::List(names)),
            move |desk, id, flag| {
                let (variant, stopped) = desk.match_now(&who, &ask, lay, id, flag)?;
                Ok(Made::Variant(variant, stopped))
            },
        )
    }

    /// Lets work run as a job on a thread of its own.
    pub(crate) fn start_job(
        self: &Arc<Self>,
        kind: JobKind,
        what: Said,
        work: impl FnOnce(&Self, JobId, &StopFlag) -> Result<Made, DeskError> + Send + 'static,
    ) -> Result<JobId, DeskError> {
        let Some((id, flag)) = self.jobs.begin(kind, what) else {
            return Err(DeskError::Busy(Box::new(say!(refusing::JOBS))));
        };
        let desk = Arc::clone(self);
        let whole = move || {
            let made = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(&desk, id, &flag)));
            let failed = || DeskError::Busy(Box::new(say!(refusing::JOB_FAILED)));
            let made = made.unwrap_or_else(|_| Err(failed()));
            if let Some(state) = desk.jobs.end(id, made) {
                desk.tell(&News::Job(state));
            }
        };
        let started = std::thread::Builder::new().name("job".into()).spawn(whole);
        started.map_err(|e| {
            let why = Box::new(say!(refusing::NO_ROOM, why = e.to_string()));
            self.jobs.end(id, Err(DeskError::Busy(why.clone())));
            DeskError::Busy(why)
        })?;
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

    pub(crate) fn move_job(&self, id: JobId, change: impl FnOnce(&mut JobState)) {
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
        let variant = self.variant(id).ok_or_else(|| {
            let what = say!(refusing::WHAT_VARIANT, id = id.to_string());
            DeskError::missing(what, say!(refusing::MISSING_VARIANT))
        })?;
        let receipt = self.lay(who, &variant.outcome)?;
        if let Some(v) = lock(&self.variants).get_mut(&id) {
            v.laid = true;
        }
        Ok(receipt)
    }

    /// Lays a match.
    pub fn lay(&self, who: &Author, outcome: &Outcome) -> Result<Receipt, DeskError> {
        let outcome = outcome.clone();
        self.submit(who, Request::Change(Box::new(move |plan| Ok(again::lay(plan, &outcome)))))
    }

    /// Writes a checked copy of the project to another file.
    pub fn backup(&self, to: &Path) -> Result<(), DeskError> {
        self.with_store(|store| Ok(store.backup(to).map(drop)?))
    }

    /// Closes the project: stops all jobs and leaves one file. Changes after it are refused.
    pub fn close(&self) -> Result<(), DeskError> {
        self.jobs.stop_all();
        match lock(&self.inner).store.take() {
            Some(store) => Ok(store.close()?),
            None => Ok(()),
        }
    }

    pub(crate) fn with_store<T>(
        &self,
        work: impl FnOnce(&mut Store) -> Result<T, DeskError>,
    ) -> Result<T, DeskError> {
        match lock(&self.inner).store.as_mut() {
            Some(store) => work(store),
            None => Err(closed()),
        }
    }

    fn tell(&self, news: &News) {
        lock(&self.listeners).iter().for_each(|l| l(news));
    }
}

static NEXT_TICKET: AtomicU64 = AtomicU64::new(1);

/// A request in the queue.
struct Asked {
    ticket: u64,
    who: Author,
    once: Option<OnceKey>,
    request: Request,
}

/// A request on its way to the disk.
struct Waiting {
    ticket: u64,
    entry: NewEntry,
    /// What undo and redo would find empty is said in the desk's own words.
    nothing: Option<Back>,
}

impl Inner {
    /// Makes the snapshot of the plan as the store has it now.
    fn look_again(&mut self) {
        let Some(store) = &self.store else { return };
        self.last = Arc::new(Snapshot {
            plan: Arc::new(store.plan().clone()),
            change: store.last_acknowledged(),
            at: self.at.clone(),
            undo: store.undo_steps().last().map(|s| Label::of_kept(&s.label)),
            redo: store.redo_steps().last().map(|s| Label::of_kept(&s.label)),
            notes: self.notes.clone(),
            writable: store.read_only().is_none(),
            file: self.file.clone(),
            project: store.project(),
        });
    }

    /// Serves a group and leaves an answer for every ticket. Hands back the receipts of what is on disk.
    fn serve(&mut self, group: Vec<Asked>) -> Vec<Receipt> {
        let at = now();
        let mut receipts = Vec::new();
        let mut waiting = Vec::new();
        // Drafts are made from the plan as it will be when their turn comes; for most groups that is the store's own.
        let mut ahead: Option<Plan> = None;
        for Asked { ticket, who, once, request } in group {
            let nothing = match request {
                Request::Change(_) => None,
                Request::Undo => Some(Back::Undo),
                Request::Redo => Some(Back::Redo),
            };
            if nothing.is_some() {
                // What undo leads to is known once everything before it is done.
                receipts.extend(self.commit(std::mem::take(&mut waiting), &at));
                ahead = None;
            }
            let drafted = match request {
                Request::Undo => Ok((Label::default(), Act::Undo)),
                Request::Redo => Ok((Label::default(), Act::Redo)),
                Request::Change(draft) => self.draft(draft, &mut ahead, !waiting.is_empty()),
            };
            match drafted {
                Ok((label, act)) => {
                    let entry = NewEntry { at: at.clone(), who: who.0, label: label.kept(), act, once };
                    waiting.push(Waiting { ticket, entry, nothing });
                }
                Err(e) => {
                    self.answers.insert(ticket, Err(e));
                }
            }
            if nothing.is_some() {
                receipts.extend(self.commit(std::mem::take(&mut waiting), &at));
            }
        }
        receipts.extend(self.commit(waiting, &at));
        receipts
    }

    fn draft(
        &self,
        draft: Draft,
        ahead: &mut Option<Plan>,
        others_wait: bool,
    ) -> Result<(Label, Act), DeskError> {
        let Some(store) = &self.store else { return Err(closed()) };
        if !others_wait {
            *ahead = None;
        }
        let plan = ahead.as_ref().unwrap_or(store.plan());
        let (label, command) = draft(plan)?;
        let mut next = plan.clone();
        // A refusal is said by the store when the command's turn comes.
        if next.apply(&command).is_ok() {
            *ahead = Some(next);
        }
        Ok((label, Act::Do(command)))
    }

    fn commit(&mut self, waiting: Vec<Waiting>, at: &str) -> Vec<Receipt> {
        if waiting.is_empty() {
            return Vec::new();
        }
        let entries: Vec<NewEntry> = waiting.iter().map(|w| w.entry.clone()).collect();
        let given = self.store.as_ref().map_or(0, |s| s.plan().fresh_id());
        let written = match self.store.as_mut() {
            Some(store) => {
                store.commit(&entries).map_err(|e: StoreError| say!(refusing::FILE, why = e.to_string()))
            }
            None => Err(closed_words()),
        };
        match written {
            Ok(receipt) => self.acknowledge(waiting, receipt, at, given),
            Err(why) => {
                for w in waiting {
                    self.answers.insert(w.ticket, Err(DeskError::NotSaved(Box::new(why.clone()))));
                }
                Vec::new()
            }
        }
    }

    fn acknowledge(
        &mut self,
        waiting: Vec<Waiting>,
        written: store::Receipt,
        at: &str,
        mut given: u32,
    ) -> Vec<Receipt> {
        let mut receipts = Vec::new();
        for (w, outcome) in waiting.into_iter().zip(written.outcomes) {
            let answer = match (outcome, w.nothing) {
                (Ok(done), _) => {
                    let added = largest_new(&done.command, given);
                    given = given.max(added.map_or(0, |id| id + 1));
                    self.at = at.to_owned();
                    let receipt = Receipt {
                        change: done.seq,
                        at: at.to_owned(),
                        label: Label::of_kept(&done.label),
                        touched: done.applied.touched,
                        added,
                    };
                    receipts.push(receipt.clone());
                    Ok(receipt)
                }
                (Err(_), Some(what)) if self.nothing_to(what) => Err(DeskError::NothingTo(what)),
                (Err(refusal), _) => Err(DeskError::Refused(refusal)),
            };
            self.answers.insert(w.ticket, answer);
        }
        receipts
    }

    fn nothing_to(&self, what: Back) -> bool {
        let Some(store) = &self.store else { return true };
        let stack = if what == Back::Undo { store.undo_steps() } else { store.redo_steps() };
        stack.is_empty()
    }
}

/// The largest id in a command that puts something with an id not given before.
fn largest_new(command: &Command, given: u32) -> Option<u32> {
    let id = match command {
        Command::Together { steps } => return steps.iter().filter_map(|s| largest_new(s, given)).max(),
        Command::PutItem { item } => item.id.0,
        Command::PutPicture { picture } => picture.id.0,
        Command::PutLot { lot } => lot.id.0,
        Command::PutGear { gear } => gear.id.0,
        Command::PutSection { section } => section.id.0,
        Command::PutSurface { surface } => surface.id.0,
        Command::PutColour { colour } => colour.id.0.into(),
        Command::PutKind { kind } => kind.id.0.into(),
        _ => return None,
    };
    (id >= given).then_some(id)
}

fn closed_words() -> Said {
    say!(refusing::CLOSED)
}

fn closed() -> DeskError {
    DeskError::NotSaved(Box::new(closed_words()))
}

/// Today's date in UTC, `2026-05-01`, for what is printed.
pub fn today() -> String {
    now().chars().take(10).collect()
}

/// The time for the journal. The desk may read the clock; everything below it may not.
fn now() -> String {
    humantime::format_rfc3339_seconds(std::time::SystemTime::now()).to_string()
}

pub(crate) fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // A panic in one request must not lock everybody out: the data is consistent between statements.
    mutex.lock().unwrap_or_else(|e| e.into_inner())
}
