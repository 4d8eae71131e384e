//! Long work: each job runs on a thread of its own, tells how far it is, and can be stopped.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};

use sayings::Said;

use crate::error::DeskError;
use crate::gaps::Proposed;
use crate::odds::Tried;

/// A job's id, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct JobId(pub u32);

/// What a job is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum JobKind {
    /// Matching fields to the stock.
    Match,
    /// Trying the fall many times.
    Odds,
    /// Looking for safety gaps to leave.
    Gaps,
}

/// How a job stands.
#[derive(Debug, Clone, PartialEq)]
pub struct JobState {
    /// Its id.
    pub id: JobId,
    /// What it is for.
    pub kind: JobKind,
    /// What it does: "Matching Town".
    pub what: Said,
    /// The stage, as a word.
    pub stage: String,
    /// Thousandths of the stage that are done, 0 to 1 000.
    pub permille: u16,
    /// True once it is over.
    pub over: bool,
    /// True when somebody asked it to stop.
    pub stopped: bool,
    /// Why it could not be done: a stable word and whole sentences.
    pub trouble: Option<(&'static str, Said)>,
    /// The variant that it made.
    pub variant: Option<u32>,
    /// What many falls showed.
    pub tried: Option<Arc<Tried>>,
    /// The gaps that it proposes.
    pub proposed: Option<Arc<Proposed>>,
}

/// What a job made.
pub(crate) enum Made {
    /// A variant; true when it is the best that there was when the job was stopped.
    Variant(u32, bool),
    /// What many falls showed.
    Tried(Arc<Tried>),
    /// Gaps to leave.
    Proposed(Arc<Proposed>),
}

/// Asked often by the work; set by whoever wants it to end.
#[derive(Debug, Clone, Default)]
pub struct StopFlag(Arc<AtomicBool>);

/// All jobs of a desk. Ended jobs are kept until there are too many.
#[derive(Debug, Default)]
pub struct Jobs {
    all: Mutex<BTreeMap<JobId, (JobState, StopFlag)>>,
}

/// Jobs that are remembered, ended ones first to go.
const REMEMBERED: usize = 64;

/// Jobs that may run at the same time.
pub(crate) const AT_ONCE: usize = 4;

impl StopFlag {
    /// Asks the work to end.
    pub fn stop(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it was asked to end.
    pub fn is_set(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

impl Jobs {
    fn lock(&self) -> MutexGuard<'_, BTreeMap<JobId, (JobState, StopFlag)>> {
        self.all.lock().unwrap_or_else(|e| e.into_inner())
    }

    /// A new job, or `None` when too many run already.
    pub fn begin(&self, kind: JobKind, what: Said) -> Option<(JobId, StopFlag)> {
        let mut all = self.lock();
        if all.values().filter(|(s, _)| !s.over).count() >= AT_ONCE {
            return None;
        }
        let id = JobId(all.keys().next_back().map_or(1, |last| last.0 + 1));
        let state = JobState {
            id,
            kind,
            what,
            stage: String::new(),
            permille: 0,
            over: false,
            stopped: false,
            trouble: None,
            variant: None,
            tried: None,
            proposed: None,
        };
        let flag = StopFlag::default();
        all.insert(id, (state, flag.clone()));
        while all.len() > REMEMBERED {
            let Some(old) = all.iter().find(|(_, (s, _))| s.over).map(|(id, _)| *id) else { break };
            all.remove(&old);
        }
        Some((id, flag))
    }

    /// How a job stands.
    pub fn state(&self, id: JobId) -> Option<JobState> {
        self.lock().get(&id).map(|(state, _)| state.clone())
    }

    /// Asks a job to stop; false when there is no such job.
    pub fn stop(&self, id: JobId) -> bool {
        let mut all = self.lock();
        let Some((state, flag)) = all.get_mut(&id) else { return false };
        if !state.over {
            state.stopped = true;
            flag.stop();
        }
        true
    }

    /// Asks all jobs to stop.
    pub fn stop_all(&self) {
        for (_, flag) in self.lock().values() {
            flag.stop();
        }
    }

    /// Ends a job with what it made, or with why it made nothing; hands back how it stands.
    pub(crate) fn end(&self, id: JobId, made: Result<Made, DeskError>) -> Option<JobState> {
        self.update(id, |s| {
            s.over = true;
            match made {
                Ok(Made::Variant(variant, stopped)) => (s.variant, s.stopped) = (Some(variant), stopped),
                Ok(Made::Tried(tried)) => s.tried = Some(tried),
                Ok(Made::Proposed(proposed)) => s.proposed = Some(proposed),
                Err(DeskError::Stopped) => s.stopped = true,
                Err(e) => s.trouble = Some((e.code(), e.said())),
            }
        })
    }

    /// Changes how a job stands; hands back the new state.
    pub(crate) fn update(&self, id: JobId, change: impl FnOnce(&mut JobState)) -> Option<JobState> {
        let mut all = self.lock();
        let (state, _) = all.get_mut(&id)?;
        change(state);
        Some(state.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sayings::{doing, say};

    #[test]
    fn a_job_hears_that_it_is_to_stop() {
        let jobs = Jobs::default();
        let (id, flag) = jobs.begin(JobKind::Match, say!(doing::MATCHING, names = "Mill")).unwrap();
        assert!(!flag.is_set());
        assert!(jobs.stop(id));
        assert!(flag.is_set());
        assert!(!jobs.stop(JobId(99)));
    }

    #[test]
    fn only_so_many_run_at_once() {
        let jobs = Jobs::default();
        let ids: Vec<_> = (0..AT_ONCE)
            .map(|_| jobs.begin(JobKind::Match, say!(doing::TRYING, n = 1_u32)).unwrap().0)
            .collect();
        assert!(jobs.begin(JobKind::Match, say!(doing::TRYING, n = 1_u32)).is_none());
        jobs.update(ids[0], |s| s.over = true);
        assert!(jobs.begin(JobKind::Odds, say!(doing::TRYING, n = 1_u32)).is_some());
    }
}
