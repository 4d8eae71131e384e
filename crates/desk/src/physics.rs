//! Where the pieces stand, what topples what, how it falls and what a touch takes: made once for each state of the plan.
//!
//! Every result carries the snapshot that it was made from, so that nobody mixes two states of the plan. Long work
//! looks from time to time whether the plan has gone on, and ends when it has.

use std::sync::{Arc, Mutex};

use fall::{Ask, Built, Fall, Network, Report, TouchMap};
use placement::Placement;
use plan::{ItemId, Touched};
use works::Present;

use crate::error::DeskError;
use crate::odds::Tried;
use crate::office::{Desk, lock};
use crate::snapshot::Snapshot;

/// Falls and touch maps that are kept for one state of the plan; each is asked for in a few ways only.
const KEPT: usize = 6;

/// The plan at one change and where its pieces stand.
#[derive(Debug, Clone)]
pub struct Scene {
    /// The plan.
    pub snapshot: Arc<Snapshot>,
    /// Its pieces.
    pub placement: Arc<Placement>,
}

/// A scene and what topples what in it.
#[derive(Debug, Clone)]
pub struct Woven {
    /// The scene.
    pub scene: Arc<Scene>,
    /// The network.
    pub network: Arc<Network>,
}

/// A fall and what it was made from.
#[derive(Debug, Clone)]
pub struct FallAt {
    /// Scene and network.
    pub woven: Arc<Woven>,
    /// The fall.
    pub fall: Arc<Fall>,
}

/// The fall as a report and what it was made from.
#[derive(Debug, Clone)]
pub struct ReportAt {
    /// Scene and network.
    pub woven: Arc<Woven>,
    /// The report.
    pub report: Arc<Report>,
}

/// A touch map and what it was made from.
#[derive(Debug, Clone)]
pub struct TouchAt {
    /// Scene and network.
    pub woven: Arc<Woven>,
    /// The map.
    pub map: Arc<TouchMap>,
}

/// The safety gaps of a plan and what they were judged from.
#[derive(Debug, Clone)]
pub struct GapsAt {
    /// Scene and network.
    pub woven: Arc<Woven>,
    /// The gaps, by item and in the order of their lists.
    pub gaps: Arc<Vec<Present>>,
}

/// What still holds, and what it takes to bring the rest up to date.
#[derive(Default)]
pub(crate) struct Physics {
    /// The last placement, and what has been touched since.
    placement: Option<(Arc<Placement>, Touched)>,
    scene: Option<Arc<Scene>>,
    /// The last network; brought up to date rather than made anew.
    network: Option<Arc<Network>>,
    woven: Option<Arc<Woven>>,
    falls: Vec<(Ask, Arc<Fall>)>,
    report: Option<Arc<Report>>,
    touches: Vec<(Built, Arc<TouchMap>)>,
    gaps: Option<Arc<Vec<Present>>>,
    tried: Vec<((u32, u64), Arc<Tried>)>,
}

/// One maker at a time for each kind of result: others wait for it rather than make the same.
#[derive(Default)]
pub(crate) struct Makers {
    scene: Mutex<()>,
    network: Mutex<()>,
    fall: Mutex<()>,
    touch: Mutex<()>,
    /// Keeps findings by item from one state of the plan to the next.
    pub(crate) checker: Mutex<findings::Checker>,
}

/// Keeps a result under what was asked; the oldest one goes when there are too many.
fn remember<A, T>(kept: &mut Vec<(A, Arc<T>)>, ask: A, result: &Arc<T>) {
    if kept.len() >= KEPT {
        kept.remove(0);
    }
    kept.push((ask, Arc::clone(result)));
}

impl Physics {
    /// Drops what no longer holds and remembers what was touched.
    pub(crate) fn forget(&mut self, touched: &Touched) {
        if let Some((_, pending)) = &mut self.placement {
            pending.items.extend(&touched.items);
            pending.items.sort_unstable();
            pending.items.dedup();
            pending.stock |= touched.stock;
            pending.scene |= touched.scene;
        }
        self.scene = None;
        self.woven = None;
        self.falls.clear();
        self.report = None;
        self.touches.clear();
        self.gaps = None;
        self.tried.clear();
    }

    /// What so many falls with this seed showed, if they were tried.
    pub(crate) fn tried_with(&self, runs: u32, seed: u64) -> Option<Arc<Tried>> {
        self.tried.iter().find(|(ask, _)| *ask == (runs, seed)).map(|(_, tried)| Arc::clone(tried))
    }

    /// Keeps what falls showed.
    pub(crate) fn remember_tried(&mut self, tried: &Arc<Tried>) {
        remember(&mut self.tried, (tried.odds.runs, tried.seed), tried);
    }
}

impl Desk {
    /// Where all pieces stand; only what was touched is placed again.
    pub fn placement(&self) -> Arc<Placement> {
        Arc::clone(&self.scene().placement)
    }

    /// The plan and where all its pieces stand.
    pub fn scene(&self) -> Arc<Scene> {
        let _one = lock(&self.makers.scene);
        let (snapshot, age, last) = {
            let derived = lock(&self.derived);
            if let Some(known) = &derived.physics.scene {
                return Arc::clone(known);
            }
            (self.snapshot(), derived.age, derived.physics.placement.clone())
        };
        let placement = match last {
            None => Placement::of(&snapshot.plan),
            Some((last, touched)) => {
                let mut placement = Placement::clone(&last);
                placement.update(&snapshot.plan, &touched);
                placement
            }
        };
        let scene = Arc::new(Scene { snapshot, placement: Arc::new(placement) });
        let mut derived = lock(&self.derived);
        if derived.age == age {
            derived.physics.placement = Some((Arc::clone(&scene.placement), Touched::default()));
            derived.physics.scene = Some(Arc::clone(&scene));
        }
        scene
    }

    /// What topples what.
    pub fn network(&self) -> Arc<Network> {
        Arc::clone(&self.woven().network)
    }

    /// The scene with what topples what in it; only what was touched and its neighbours are searched again.
    pub fn woven(&self) -> Arc<Woven> {
        let _one = lock(&self.makers.network);
        if let Some(known) = &lock(&self.derived).physics.woven {
            return Arc::clone(known);
        }
        let scene = self.scene();
        let last = lock(&self.derived).physics.network.clone();
        let network = match last {
            None => Network::of(&scene.snapshot.plan, &scene.placement),
            Some(last) => {
                let mut network = Network::clone(&last);
                network.update(&scene.snapshot.plan, &scene.placement);
                network
            }
        };
        let woven = Arc::new(Woven { scene, network: Arc::new(network) });
        let mut derived = lock(&self.derived);
        derived.physics.network = Some(Arc::clone(&woven.network));
        if derived.physics.scene.as_ref().is_some_and(|now| Arc::ptr_eq(now, &woven.scene)) {
            derived.physics.woven = Some(Arc::clone(&woven));
        }
        woven
    }

    /// A fall of the plan. Stopped when the plan changes meanwhile.
    pub fn fall(&self, ask: &Ask) -> Result<FallAt, DeskError> {
        let woven = self.woven();
        let _one = lock(&self.makers.fall);
        if let Some(fall) = self.kept(&woven, |p| p.falls.iter().find(|(a, _)| a == ask).map(|f| f.1.clone()))
        {
            return Ok(FallAt { woven, fall });
        }
        let age = lock(&self.derived).age;
        let go_on = |_: f64| lock(&self.derived).age == age;
        let made = fall::run(&woven.scene.snapshot.plan, &woven.network, ask, &go_on);
        let fall = Arc::new(made.ok_or(DeskError::Stopped)?);
        self.keep(&woven, |p| remember(&mut p.falls, *ask, &fall));
        Ok(FallAt { woven, fall })
    }

    /// The fall as a report: how much falls, in what time, and what stays standing and why.
    pub fn fall_report(&self) -> ReportAt {
        let woven = self.woven();
        let _one = lock(&self.makers.fall);
        if let Some(report) = self.kept(&woven, |p| p.report.clone()) {
            return ReportAt { woven, report };
        }
        let scene = &woven.scene;
        let report = Arc::new(fall::report(&scene.snapshot.plan, &woven.network));
        self.keep(&woven, |p| p.report = Some(Arc::clone(&report)));
        ReportAt { woven, report }
    }

    /// How many pieces a touch of each piece takes, for as much as is built.
    pub fn touch(&self, built: &Built) -> TouchAt {
        self.touch_of(self.woven(), built)
    }

    /// The same when everything stands but the items that `missing` names; an item that came meanwhile stands.
    pub fn touch_without(&self, missing: &dyn Fn(ItemId) -> bool, gaps_open: bool) -> TouchAt {
        let woven = self.woven();
        let all = &woven.scene.snapshot.plan.items;
        let stand: Vec<ItemId> = all.iter().map(|item| item.id).filter(|id| !missing(*id)).collect();
        let items = (stand.len() < all.len()).then_some(stand);
        self.touch_of(woven, &Built { items, gaps_open })
    }

    fn touch_of(&self, woven: Arc<Woven>, built: &Built) -> TouchAt {
        let _one = lock(&self.makers.touch);
        let known = self.kept(&woven, |p| p.touches.iter().find(|(b, _)| b == built).map(|t| t.1.clone()));
        if let Some(map) = known {
            return TouchAt { woven, map };
        }
        let map = Arc::new(fall::touch(&woven.scene.snapshot.plan, &woven.network, built));
        self.keep(&woven, |p| remember(&mut p.touches, built.clone(), &map));
        TouchAt { woven, map }
    }

    /// Whether the safety gaps stop a fall while all of them are open.
    pub fn gaps(&self) -> GapsAt {
        let woven = self.woven();
        let _one = lock(&self.makers.touch);
        if let Some(gaps) = self.kept(&woven, |p| p.gaps.clone()) {
            return GapsAt { woven, gaps };
        }
        let gaps = Arc::new(works::present_gaps(&woven.scene.snapshot.plan, &woven.network));
        self.keep(&woven, |p| p.gaps = Some(Arc::clone(&gaps)));
        GapsAt { woven, gaps }
    }

    /// What is known for a state of the plan that still holds.
    pub(crate) fn kept<T>(&self, woven: &Arc<Woven>, look: impl FnOnce(&Physics) -> Option<T>) -> Option<T> {
        let derived = lock(&self.derived);
        let now = derived.physics.woven.as_ref().is_some_and(|now| Arc::ptr_eq(now, woven));
        if now { look(&derived.physics) } else { None }
    }

    /// Whether a scene with its network is still that of the plan.
    pub(crate) fn is_now(&self, woven: &Arc<Woven>) -> bool {
        self.kept(woven, |_| Some(())).is_some()
    }

    /// Keeps a result unless the plan has gone on meanwhile.
    pub(crate) fn keep(&self, woven: &Arc<Woven>, put: impl FnOnce(&mut Physics)) {
        let mut derived = lock(&self.derived);
        if derived.physics.woven.as_ref().is_some_and(|now| Arc::ptr_eq(now, woven)) {
            put(&mut derived.physics);
        }
    }
}
