//! How long somebody who drags waits for what is said of the drag: `cargo bench -p desk`.
#![allow(missing_docs, reason = "a bench")]

use std::sync::Arc;

use desk::{Desk, TryWhat};
use divan::Bencher;
use geometry::{Point, Vector};
use plan::*;
use units::Length;

fn main() {
    divan::main();
}

/// So many fields of 25 000 pieces in columns of four, 500 mm apart, each with a line of 200 pieces before it.
fn plan(fields: u32) -> Plan {
    let mut plan = Plan::new("Bench");
    let grey = Rgb { r: 9, g: 9, b: 9 };
    let colour = Colour::plain(ColourId(2), "Sky", "S", grey);
    let mut steps = vec![Command::PutKind { kind: Kind::usual(KindId(1)) }, Command::PutColour { colour }];
    for i in 0..fields {
        let at = Point::new(f64::from(i / 4) * 7_000.0, f64::from(i % 4) * 3_750.0);
        let frame = FieldFrame::new(125, 200, Length::mm(15.0), Length::mm(26.0));
        let mut field = Field::empty(KindId(1), frame);
        field.cells = vec![2; frame.len()].into();
        let put = |id, at, body| {
            let item = Item::new(ItemId(id), format!("Item {id}"), at, body);
            Command::PutItem { item: Box::new(item) }
        };
        steps.push(put(100 + 2 * i, at, Body::Field(field)));
        steps.push(put(101 + 2 * i, Point::new(at.x - 3_100.0, at.y), Body::Line(line(200.0 * 15.0))));
    }
    plan.apply(&Command::Together { steps }).expect("a plan that the gate takes");
    plan
}

fn line(length: f64) -> Line {
    Line::plain(KindId(1), ColourId(2), vec![Leg::Straight { length: Length::mm(length) }])
}

/// A desk at which everything was looked at once.
fn desk(fields: u32) -> (tempfile::TempDir, Arc<Desk>) {
    let folder = tempfile::tempdir().expect("a folder");
    let desk = Desk::create(&folder.path().join("bench.standfast"), &plan(fields)).expect("a project");
    desk.findings().expect("findings");
    (folder, desk)
}

fn drag(bencher: Bencher<'_, '_>, fields: u32, what: TryWhat, make: impl Fn(&Plan, f64) -> Item + Sync) {
    let (_folder, desk) = desk(fields);
    let mut far = 0.0;
    bencher
        .with_inputs(|| {
            far += 1.0;
            far
        })
        .bench_local_values(|far| desk.try_items(what, |plan| Ok(vec![make(plan, far)])).expect("a trial"));
}

fn moved(plan: &Plan, id: u32, far: f64) -> Item {
    plan.item(ItemId(id)).expect("it is there").moved(Vector { x: far, y: 0.0 })
}

#[divan::bench(args = [4, 40], sample_count = 20)]
fn a_line_is_dragged(bencher: Bencher<'_, '_>, fields: u32) {
    drag(bencher, fields, TryWhat::PiecesAndFindings, |plan, far| moved(plan, 103, far));
}

#[divan::bench(args = [4, 40], sample_count = 20)]
fn a_field_of_25_000_is_dragged(bencher: Bencher<'_, '_>, fields: u32) {
    drag(bencher, fields, TryWhat::PiecesAndFindings, |plan, far| moved(plan, 102, far));
}

#[divan::bench(args = [4, 40], sample_count = 20)]
fn its_pieces_alone(bencher: Bencher<'_, '_>, fields: u32) {
    drag(bencher, fields, TryWhat::Pieces, |plan, far| moved(plan, 102, far));
}

#[divan::bench(args = [4, 40], sample_count = 20)]
fn a_new_line_is_drawn_across(bencher: Bencher<'_, '_>, fields: u32) {
    drag(bencher, fields, TryWhat::PiecesAndFindings, |plan, far| {
        let id = ItemId(plan.fresh_id());
        Item::new(id, "New", Point::new(-100.0, 100.0), Body::Line(line(6_000.0 + far)))
    });
}
