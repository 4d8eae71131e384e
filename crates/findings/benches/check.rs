//! How long all findings of a million pieces take: from scratch, and after one item moved.
//!
//! The contact network is made beforehand and its time is told apart: `cargo bench -p findings`.
#![allow(missing_docs, reason = "a bench")]

use divan::Bencher;
use fall::Network;
use findings::{CheckInput, Checker, check};
use geometry::Point;
use placement::Placement;
use plan::*;
use units::{Angle, Duration, Length};

fn main() {
    divan::main();
}

fn item(id: u32, at: Point, body: Body) -> Item {
    Item::new(ItemId(id), format!("Item {id}"), at, body)
}

/// 125 lanes of 200 pieces, 3 m long and 3.25 m wide.
fn field() -> Body {
    let frame = FieldFrame::new(125, 200, Length::mm(15.0), Length::mm(26.0));
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![2; frame.len()].into();
    Body::Field(field)
}

/// 375 m to and fro, 7.5 m wide: 25 000 pieces or so.
fn line() -> Body {
    let mut path = Vec::new();
    for i in 0..47 {
        let turn = Angle::deg(if i % 2 == 0 { 180.0 } else { -180.0 });
        path.push(Leg::Straight { length: Length::mm(7_500.0) });
        path.push(Leg::Arc { radius: Length::mm(150.0), turn });
    }
    Body::Line(Line::plain(KindId(1), ColourId(2), path))
}

/// 40 items in 8 columns: fields, or fields and lines in turn, with a start before each.
fn plan(lines: bool) -> Plan {
    let mut plan = Plan::new("Bench");
    let grey = Rgb { r: 9, g: 9, b: 9 };
    let colour = Colour::plain(ColourId(2), "Sky", "S", grey);
    let mut steps = vec![Command::PutKind { kind: Kind::usual(KindId(1)) }, Command::PutColour { colour }];
    for i in 0..40_u32 {
        let at = Point::new(f64::from(i % 8) * 9_000.0, f64::from(i / 8) * 16_000.0);
        let body = if lines && i % 2 == 1 { line() } else { field() };
        steps.push(Command::PutItem { item: Box::new(item(100 + 2 * i, at, body)) });
        let start = Start { width: Length::mm(4_000.0), after: Duration::ZERO };
        let before = Point::new(at.x - 15.0, at.y);
        steps.push(Command::PutItem { item: Box::new(item(101 + 2 * i, before, Body::Start(start))) });
    }
    plan.apply(&Command::Together { steps }).expect("a plan that the gate takes");
    plan
}

struct Made {
    plan: Plan,
    placement: Placement,
    network: Network,
}

fn made(lines: bool) -> Made {
    let plan = plan(lines);
    let placement = Placement::of(&plan);
    let network = Network::of(&plan, &placement);
    Made { plan, placement, network }
}

#[divan::bench(args = [false, true], sample_count = 10)]
fn from_scratch(bencher: Bencher<'_, '_>, lines: bool) {
    let m = made(lines);
    bencher
        .counter(divan::counter::ItemsCount::new(m.placement.len()))
        .bench(|| check(&m.plan, &m.placement, &m.network, &CheckInput::default()));
}

#[divan::bench(args = [false, true], sample_count = 20)]
fn after_one_item_moved(bencher: Bencher<'_, '_>, lines: bool) {
    let mut m = made(lines);
    let mut checker = Checker::new();
    checker.check(&m.plan, &m.placement, &m.network, &CheckInput::default());
    let mut east = 0.0;
    // The move, the placing and the network are not counted.
    bencher
        .with_inputs(|| {
            east += 1.0;
            let id = ItemId(120);
            let old = m.plan.item(id).expect("it is there").at;
            let at = Point::new(old.x + if east % 2.0 == 0.0 { 1.0 } else { -1.0 }, old.y);
            let applied =
                m.plan.apply(&Command::MoveItem { id, at, heading: Angle::ZERO }).expect("a small move");
            m.placement.update(&m.plan, &applied.touched);
            m.network.update(&m.plan, &m.placement);
            (m.plan.clone(), m.placement.clone(), m.network.clone())
        })
        .bench_local_values(|(plan, placement, network)| {
            checker.check(&plan, &placement, &network, &CheckInput::default())
        });
}

#[divan::bench(args = [false, true], sample_count = 5)]
fn network_alone(bencher: Bencher<'_, '_>, lines: bool) {
    let m = made(lines);
    bencher.bench(|| Network::of(&m.plan, &m.placement));
}
