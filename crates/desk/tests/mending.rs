//! Mends at the desk: what they are for is gone afterwards, and undo brings the plan back as it was.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use desk::{Author, Desk, Request};
use geometry::Point;
use plan::*;
use units::Length;

fn me() -> Author {
    Author("Ines".into())
}

/// A line with a spike in its smooth curve, and a second one that leads on from its end.
fn plan() -> Plan {
    let mut plan = Plan::new("T");
    let grey = Rgb { r: 90, g: 90, b: 90 };
    let colour = Colour::plain(ColourId(1), "Grey", "G", grey);
    for command in [Command::PutKind { kind: Kind::usual(KindId(1)) }, Command::PutColour { colour }] {
        plan.apply(&command).unwrap();
    }
    let line = |path: Vec<Leg>, from: Option<Link>| {
        Body::Line(Line { from, ..Line::plain(KindId(1), ColourId(1), path) })
    };
    let points = [(300.0, 0.0), (325.0, 50.0), (350.0, 0.0), (600.0, 0.0)].map(|p| Point::new(p.0, p.1));
    let spike = line(vec![Leg::Through { points: points.to_vec() }], None);
    let on = Link { item: ItemId(1), port: "end".into() };
    let tail = line(vec![Leg::Straight { length: Length::mm(300.0) }], Some(on));
    for (id, name, body) in [(1, "River", spike), (2, "Brook", tail)] {
        let item = Item::new(ItemId(id), name, Point::new(2_000.0, 2_000.0), body);
        plan.apply(&Command::PutItem { item: Box::new(item) }).unwrap();
    }
    plan
}

#[test]
fn a_turn_of_a_smooth_curve_is_eased_and_undo_brings_it_back() {
    let folder = tempfile::tempdir().unwrap();
    let desk = Desk::create(&folder.path().join("event.standfast"), &plan()).unwrap();
    let bytes = |desk: &Desk| serde_json::to_vec(&desk.snapshot().plan.items).unwrap();
    let before = bytes(&desk);
    let found = desk.findings().unwrap();
    let tight = found.list.iter().position(|f| f.code == "turn-tight" && f.mend.is_some()).unwrap();
    desk.mend(&me(), tight + 1, found.snapshot.change).unwrap();
    let left = desk.findings().unwrap();
    assert!(left.list.iter().all(|f| f.code != "turn-tight"), "{:?}", left.list);
    assert_ne!(bytes(&desk), before);
    desk.submit(&me(), Request::Undo).unwrap();
    assert_eq!(bytes(&desk), before);
    // The network that a mend is tried with stays that of the plan.
    let woven = desk.woven();
    let fresh = fall::Network::of(&woven.scene.snapshot.plan, &woven.scene.placement);
    assert_eq!(fall::report(&woven.scene.snapshot.plan, &fresh), *desk.fall_report().report);
}
