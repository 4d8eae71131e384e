//! The whole event "From Spring to Sea": what it holds, its flaw, its fall, and touches counted by hand.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::sync::Arc;

use desk::{Author, Desk};
use fall::Built;
use plan::{Body, FeedWay, Filling, ItemId, Leg};

fn me() -> Author {
    Author("Ines".into())
}

fn event(folder: &tempfile::TempDir) -> Arc<Desk> {
    let example = desk::example_plan().unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &example.plan).unwrap();
    for bytes in &example.pictures {
        desk.keep_picture(bytes).unwrap();
    }
    desk
}

/// Takes the mend of the finding about the planted flaw.
fn mend(desk: &Desk) {
    let found = desk.findings().unwrap();
    let flaw = found.list.iter().position(|f| f.code == "unfed" && f.mend.is_some()).unwrap();
    desk.mend(&me(), flaw + 1, found.snapshot.change).unwrap();
}

fn id(desk: &Desk, name: &str) -> ItemId {
    desk.snapshot().plan.item_by_name(name).unwrap().id
}

#[test]
fn the_event_has_all_that_a_whole_one_has() {
    let plan = desk::example_plan().unwrap().plan;
    let count = |is: &dyn Fn(&Body) -> bool| plan.items.iter().filter(|i| is(&i.body)).count();
    assert!(placement::Placement::of(&plan).len() >= 25_000);
    assert_eq!(count(&|b| matches!(b, Body::Field(_))), 6);
    assert_eq!(count(&|b| matches!(b, Body::Placeholder(_))), 2);
    assert_eq!(count(&|b| matches!(b, Body::Start(_))), 1);
    let spiral = |b: &Body| match b {
        Body::Line(l) => l.path.iter().any(|leg| matches!(leg, Leg::Spiral { .. })),
        Body::Fill(f) => matches!(f.with, Filling::Spiral),
        _ => false,
    };
    assert_eq!(count(&spiral), 2);
    assert_eq!(count(&|b| matches!(b, Body::Fill(_))), 2);
    assert_eq!(count(&|b| matches!(b, Body::Line(l) if !l.bridges.is_empty())), 1);
    let split =
        |b: &Body| matches!(b, Body::Line(l) if l.from.as_ref().is_some_and(|f| f.port == "end left"));
    assert!(count(&split) >= 5);
    let join = |b: &Body| matches!(b, Body::Line(l) if l.to.as_ref().is_some_and(|f| f.port == "start left"));
    assert_eq!(count(&join), 1);
    assert!(plan.items.iter().map(|i| i.gaps.len()).sum::<usize>() >= 10);
    let ways = |is: &dyn Fn(&FeedWay) -> bool| count(&|b| matches!(b, Body::Feed(f) if is(&f.way)));
    assert_eq!(ways(&|w| matches!(w, FeedWay::Brick { .. })), 2);
    assert_eq!(ways(&|w| matches!(w, FeedWay::Echelon { .. })), 3);
    assert_eq!(ways(&|w| matches!(w, FeedWay::HalfShift { .. })), 1);
}

#[test]
fn its_flaw_is_found_and_once_mended_everything_falls() {
    let folder = tempfile::tempdir().unwrap();
    let desk = event(&folder);
    let musts = |desk: &Desk| -> Vec<String> {
        let findings = desk.findings().unwrap();
        let musts = findings.list.iter().filter(|f| f.severity == findings::Severity::Must);
        musts.map(|f| f.message.to_string()).collect()
    };
    let told = musts(&desk);
    assert!(told[0].contains("Sail arm") && told[0].contains("away from the end of Strait"), "{told:?}");
    let before = desk.fall_report().report;
    // What cannot fall without it is the arm, its feed and the field behind it, and nothing else.
    let placement = desk.placement();
    let behind: u64 = ["Sail arm", "Sail feed", "Sail"]
        .iter()
        .map(|name| placement.item(id(&desk, name)).unwrap().pieces.len() as u64)
        .sum();
    assert_eq!(u64::from(before.pieces - before.fallen), behind);
    mend(&desk);
    assert_eq!(musts(&desk), Vec::<String>::new());
    let after = desk.fall_report().report;
    assert_eq!(after.fallen, after.pieces);
    assert!(after.stands.is_empty() && after.least_s > 30.0 && after.most_s < 180.0, "{after:?}");
}

/// Each sum was made by following the plan with a finger: a touch fells its own line up to the next open gap, backwards
/// also the trunk before a split, at a join both branches, and never a sister branch.
#[test]
fn touches_of_seven_places_are_what_a_finger_on_the_plan_counts() {
    let folder = tempfile::tempdir().unwrap();
    let desk = event(&folder);
    mend(&desk);
    let touched = desk.touch(&Built { items: None, gaps_open: true });
    let (map, network) = (&touched.map, &touched.woven.network);
    let all = |name: &str| network.pieces_of(id(&desk, name)).unwrap().len() as u32;
    // The global number of a piece of a line, its rank counted from 1 as on paper.
    let piece = |name: &str, rank: u32| (network.index().first(id(&desk, name)).unwrap() + rank - 1) as usize;

    // Between two gaps of the river (60 to 64, 180 to 184), forward and back.
    assert_eq!(map.forward[piece("River", 70)], 179 - 70 + 1);
    assert_eq!(map.back[piece("River", 70)], 70 - 65 + 1);
    // Within a stroke of the sea, between the gaps 700 to 704 and 1500 to 1504.
    assert_eq!(map.forward[piece("Sea", 1000)], 1499 - 1000 + 1);
    assert_eq!(map.back[piece("Sea", 1000)], 1000 - 705 + 1);
    // Past the last gap before a field: the rest of the line, its feed and the whole field.
    assert_eq!(map.forward[piece("Town arm", 95)], all("Town arm") - 94 + all("Town feed") + all("Town"));
    // The mill wheel passes the fall on; the road carries it from the mill up to its own first gap (30 to 34).
    let mill = all("Mill race") - 64 + all("Mill sluice") + all("Mill feed") + all("Mill") + 29;
    assert_eq!(map.forward[piece("Mill race", 65)], mill);
    // Backwards through two splits: the trunks fall, the sister branches stand.
    let trunks = all("Narrows") + all("Strait") + all("Lower river") - 64;
    assert_eq!(map.back[piece("Island north", 10)], 10 + trunks);
    // Backwards into a join: both branches fall. Just before it the southern one comes out of its curve a few millimetres
    // beside the northern one, and what it throws there may knock that one forward: the rest of the delta up to its gap
    // (40 to 44) counts as well.
    let both = all("Island north") + all("Island south");
    assert_eq!(map.back[piece("Delta", 1)], 1 + both + trunks + 38);
    // The first piece of all, with the gaps open: the spiral, and each arm up to its first gap.
    let first = all("Spring") + 59 + all("Headwater") + 69 + 59;
    assert_eq!(map.forward[piece("Spring", 1)], first);
    // The same with the gaps closed: everything.
    let closed = desk.touch(&Built { items: None, gaps_open: false });
    assert_eq!(closed.map.forward[piece("Spring", 1)], network.pieces());
}
