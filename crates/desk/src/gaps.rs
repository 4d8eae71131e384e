//! Safety gaps that are proposed, and the order in which gaps are closed at the end: worked out in the background.

use std::sync::Arc;
use std::sync::atomic::{AtomicU16, Ordering};

use plan::{HallPartKind, ItemId, Plan, SafetyGap};
use works::{Advice, Aim, Risk, Wish, closing_of_plan, suggest_for, with_gaps};

use crate::error::DeskError;
use crate::jobs::{JobId, JobKind, Made, StopFlag};
use crate::odds::own_threads;
use crate::office::{Desk, lock};
use crate::physics::Woven;
use sayings::{doing, say};

/// Gaps that are proposed for one state of the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposed {
    /// The change of the plan that they are for.
    pub change: u64,
    /// The gaps, and what they save.
    pub advice: Advice,
    /// The order in which the plan's gaps and all proposed ones are closed at the end.
    pub closing: Vec<Closed>,
    /// True when no order puts fewer pieces at risk.
    pub closing_exact: bool,
    /// Some gap has a stopper in it.
    pub stoppers: bool,
    /// The hall has exits, doors or aisles.
    pub ways: bool,
}

/// A gap that is closed at the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closed {
    /// Its item.
    pub item: ItemId,
    /// The gap.
    pub gap: SafetyGap,
    /// It is proposed and not in the plan yet.
    pub proposed: bool,
    /// Pieces that hang together once it is closed.
    pub joined: u64,
}

impl Desk {
    /// Starts to look for gaps to leave. It ends when the plan changes.
    pub fn start_gaps(self: &Arc<Self>, aim: Aim) -> Result<JobId, DeskError> {
        self.start_job(JobKind::Gaps, say!(doing::PROPOSING), move |desk, id, flag| {
            desk.gaps_now(aim, id, flag).map(Made::Proposed)
        })
    }

    fn gaps_now(&self, aim: Aim, job: JobId, flag: &StopFlag) -> Result<Arc<Proposed>, DeskError> {
        let woven = self.woven();
        let age = lock(&self.derived).age;
        if !self.is_now(&woven) {
            return Err(DeskError::Changed);
        }
        let changed = || lock(&self.derived).age != age;
        let told = AtomicU16::new(0);
        self.move_job(job, |s| s.stage = "gaps".into());
        let keep_on = |share: f64| {
            let now = (share.clamp(0.0, 1.0) * 1_000.0) as u16;
            if now / 10 > told.fetch_max(now, Ordering::Relaxed) / 10 {
                self.move_job(job, |s| s.permille = s.permille.max(now));
            }
            !flag.is_set() && !changed()
        };
        let plan = &woven.scene.snapshot.plan;
        let pool = own_threads()?;
        let advice = pool.install(|| suggest_for(plan, &woven.network, (&Wish::default(), aim), &keep_on));
        let ended = || if flag.is_set() { DeskError::Stopped } else { DeskError::Changed };
        let advice = advice.ok_or_else(ended)?;
        if !keep_on(0.95) {
            return Err(ended());
        }
        Ok(Arc::new(proposed(&woven, advice)))
    }
}

fn proposed(woven: &Woven, advice: Advice) -> Proposed {
    let plan = &woven.scene.snapshot.plan;
    let then = with_gaps(plan, &advice.proposals);
    let (names, order) = closing_of_plan(&then, &woven.network, Risk::Hands);
    let closed = |(&g, &joined): (&u32, &u64)| {
        let (item, index) = names[g as usize];
        let gap = *then.item(item)?.gaps.get(index as usize)?;
        let known = plan.item(item).map_or(0, |i| i.gaps.len());
        Some(Closed { item, gap, proposed: index as usize >= known, joined })
    };
    Proposed {
        change: woven.scene.snapshot.change,
        closing: order.order.iter().zip(&order.loss).filter_map(closed).collect(),
        closing_exact: order.exact,
        stoppers: then.items.iter().flat_map(|i| &i.gaps).any(|g| g.stopper),
        ways: has_ways(plan),
        advice,
    }
}

/// Whether there is anything that must stay free.
fn has_ways(plan: &Plan) -> bool {
    let way = |is| matches!(is, HallPartKind::Exit | HallPartKind::Aisle | HallPartKind::Door);
    plan.hall.parts.iter().any(|p| way(p.is))
}
