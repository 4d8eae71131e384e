//! Placement, network, fall and touch map at the desk: kept while they hold, made again when the plan changes.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::sync::Arc;

use desk::{Author, Desk};
use fall::{Ask, Built, Network};
use geometry::Point;
use placement::Placement;
use plan::{Command, Item};
use units::Angle;

fn me() -> Author {
    Author("Ines".into())
}

fn example(folder: &tempfile::TempDir) -> Arc<Desk> {
    let example = desk::example_plan().unwrap();
    Desk::create(&folder.path().join("event.standfast"), &example.plan).unwrap()
}

fn shift(item: &Item, east: f64) -> Command {
    let at = Point::new(item.at.x + east, item.at.y);
    Command::MoveItem { id: item.id, at, heading: item.heading + Angle::deg(3.0) }
}

#[test]
fn results_are_made_once_and_again_after_a_change() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    assert!(Arc::ptr_eq(&desk.placement(), &desk.placement()));
    assert!(Arc::ptr_eq(&desk.network(), &desk.network()));
    let (fall, report, touch) =
        (desk.fall(&Ask::default()).unwrap(), desk.fall_report(), desk.touch(&Built::default()));
    assert!(Arc::ptr_eq(&fall.fall, &desk.fall(&Ask::default()).unwrap().fall));
    assert!(Arc::ptr_eq(&report.report, &desk.fall_report().report));
    assert!(Arc::ptr_eq(&touch.map, &desk.touch(&Built::default()).map));
    let item = desk.snapshot().plan.items[0].clone();
    desk.apply(&me(), "Move", shift(&item, 5_000.0)).unwrap();
    let after = desk.fall(&Ask::default()).unwrap();
    assert!(!Arc::ptr_eq(&fall.fall, &after.fall));
    assert_eq!(after.woven.scene.snapshot.change, fall.woven.scene.snapshot.change + 1);
    assert!(!Arc::ptr_eq(&touch.map, &desk.touch(&Built::default()).map));
}

#[test]
fn what_is_brought_up_to_date_equals_what_is_made_anew() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    desk.network();
    for step in 0..4 {
        let items = desk.snapshot().plan.items.clone();
        desk.apply(&me(), "Move", shift(&items[step % items.len()], 40.0 * (step + 1) as f64)).unwrap();
        // Two changes between two looks are brought up to date together.
        if step == 1 {
            continue;
        }
        let woven = desk.woven();
        let plan = &woven.scene.snapshot.plan;
        let fresh = Placement::of(plan);
        let pairs = woven.scene.placement.items().iter().zip(fresh.items());
        assert!(pairs.clone().count() == fresh.items().len());
        assert!(pairs.into_iter().all(|(a, b)| a.item == b.item && a.pieces == b.pieces), "step {step}");
        let anew = Network::of(plan, &fresh);
        for state in (0..2 * anew.pieces()).step_by(7) {
            assert!(anew.edges(state).eq(woven.network.edges(state)), "step {step}, state {state}");
        }
    }
}

#[test]
fn a_search_for_gaps_that_is_stopped_or_whose_plan_changes_proposes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let desk = example(&folder);
    let over = |id: desk::JobId| {
        let start = std::time::Instant::now();
        loop {
            let state = desk.job(id).unwrap();
            if state.over {
                return state;
            }
            assert!(start.elapsed().as_secs() < 120, "the job never ended: {state:?}");
            std::thread::sleep(std::time::Duration::from_millis(2));
        }
    };
    // The network of the example is made first, so that the search has not begun when it is stopped.
    let stopped = desk.start_gaps(works::Aim::Gaps(7)).unwrap();
    assert!(desk.stop_job(stopped));
    let state = over(stopped);
    assert!(state.stopped && state.proposed.is_none() && state.trouble.is_none(), "{state:?}");
    desk.network();
    let id = desk.start_gaps(works::Aim::Gaps(7)).unwrap();
    let item = desk.snapshot().plan.items[0].clone();
    desk.apply(&me(), "Move", shift(&item, 5_000.0)).unwrap();
    // It may have ended before the change: then what it tells is of the plan before it.
    let state = over(id);
    match (state.proposed, state.trouble) {
        (Some(made), None) => assert_eq!(made.change + 1, desk.snapshot().change),
        (None, Some((code, _))) => assert_eq!(code, "changed"),
        other => panic!("{other:?}"),
    }
    let made = over(desk.start_gaps(works::Aim::Gaps(7)).unwrap()).proposed.unwrap();
    assert_eq!(made.change, desk.snapshot().change);
    assert!(!made.advice.proposals.is_empty() && made.advice.proposals.len() <= 7, "{:?}", made.advice);
    // The example has gaps of its own, which are closed among them.
    let own: usize = desk.snapshot().plan.items.iter().map(|i| i.gaps.len()).sum();
    assert!(own > 0);
    assert_eq!(made.closing.len(), own + made.advice.proposals.len());
    assert_eq!(made.closing.iter().filter(|c| c.proposed).count(), made.advice.proposals.len());
}
