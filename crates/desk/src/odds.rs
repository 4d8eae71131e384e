//! How sure the fall is: many falls with chance, tried in the background.

use std::sync::Arc;
use std::sync::atomic::{AtomicU16, Ordering};

use fall::Odds;
use geometry::Point;
use placement::PieceId;

use crate::error::DeskError;
use crate::jobs::{JobId, JobKind, Made, StopFlag};
use crate::office::{Desk, lock};
use crate::physics::Woven;
use sayings::{doing, refusing, say};

/// What many falls of one state of the plan showed.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// The change of the plan that fell.
    pub change: u64,
    /// The seed of the chance; the same one gives the same answer.
    pub seed: u64,
    /// What the falls showed.
    pub odds: Odds,
    /// Where they stopped most often.
    pub stops: Vec<Stop>,
}

/// A place where falls stopped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// The piece at which they did.
    pub piece: PieceId,
    /// Its number over all items.
    pub number: u32,
    /// Where it stands.
    pub at: Point,
    /// In how many of the falls.
    pub runs: u32,
}

impl Desk {
    /// Starts trying the fall `runs` times, with all gaps closed. It ends when the plan changes.
    pub fn start_odds(self: &Arc<Self>, runs: u32, seed: u64) -> Result<JobId, DeskError> {
        let what = say!(doing::TRYING, n = runs);
        self.start_job(JobKind::Odds, what, move |desk, id, flag| {
            desk.odds_now(runs, seed, id, flag).map(Made::Tried)
        })
    }

    fn odds_now(&self, runs: u32, seed: u64, job: JobId, flag: &StopFlag) -> Result<Arc<Tried>, DeskError> {
        let woven = self.woven();
        if let Some(known) = self.kept(&woven, |p| p.tried_with(runs, seed)) {
            return Ok(known);
        }
        let age = lock(&self.derived).age;
        if !self.is_now(&woven) {
            return Err(DeskError::Changed);
        }
        let changed = || lock(&self.derived).age != age;
        let told = AtomicU16::new(0);
        self.move_job(job, |s| s.stage = "falls".into());
        let keep_on = |share: f64| {
            let now = (share.clamp(0.0, 1.0) * 1_000.0) as u16;
            // A report for every hundredth is enough for the eye and keeps the socket quiet.
            if now / 10 > told.fetch_max(now, Ordering::Relaxed) / 10 {
                self.move_job(job, |s| s.permille = s.permille.max(now));
            }
            !flag.is_set() && !changed()
        };
        let odds = own_threads()?
            .install(|| fall::odds(&woven.scene.snapshot.plan, &woven.network, runs, seed, &keep_on));
        let odds = odds.ok_or_else(|| if flag.is_set() { DeskError::Stopped } else { DeskError::Changed })?;
        let tried = Arc::new(tried(&woven, seed, odds));
        self.keep(&woven, |p| p.remember_tried(&tried));
        Ok(tried)
    }
}

/// Threads of a job's own: what the pages ask meanwhile does not wait behind it.
pub(crate) fn own_threads() -> Result<rayon::ThreadPool, DeskError> {
    let pool = rayon::ThreadPoolBuilder::new().build();
    pool.map_err(|e| DeskError::Busy(Box::new(say!(refusing::NO_ROOM, why = e.to_string()))))
}

fn tried(woven: &Woven, seed: u64, odds: Odds) -> Tried {
    let stop = |&(piece, runs): &(PieceId, u32)| {
        let pieces = woven.network.pieces_of(piece.item)?;
        let local = pieces.find(piece)?;
        let number = woven.network.index().first(piece.item)? + u32::try_from(local).ok()?;
        Some(Stop { piece, number, at: Point::new(pieces.x[local], pieces.y[local]), runs })
    };
    let stops = odds.stops.iter().filter_map(stop).collect();
    Tried { change: woven.scene.snapshot.change, seed, odds, stops }
}
