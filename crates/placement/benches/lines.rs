//! How long a plan of 1 000 000 pieces takes to place, from scratch and after one change: `cargo bench -p placement
//! --bench lines`.
#![allow(missing_docs, reason = "a bench has no readers of its interface")]

use divan::Bencher;
use geometry::Point;
use placement::{Placement, needs_of_all};
use plan::*;
use units::{Angle, Length};

fn main() {
    divan::main();
}

fn item(id: u32, at: Point, body: Body) -> Item {
    Item { heading: Angle::deg(f64::from(id) * 7.0), ..Item::new(ItemId(id), format!("I{id}"), at, body) }
}

fn line(id: u32, path: Vec<Leg>, from: Option<u32>) -> Item {
    let line = Line {
        from: from.map(|id| Link { item: ItemId(id), port: "end".into() }),
        colours: Pattern::Blend { colours: vec![ColourId(1), ColourId(2)] },
        ..Line::plain(KindId(1), ColourId(1), path)
    };
    item(id, Point::new(0.0, f64::from(id) * 100.0), Body::Line(line))
}

/// Ten fields of 50 000 pieces, fifty lines of 5 000 (spirals, arcs and smooth curves) and one chain of 500 lines of
/// 500 pieces.
fn plan() -> Plan {
    let mut plan = Plan::new("bench");
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    for id in 1..=10 {
        let frame = FieldFrame::new(200, 250, Length::mm(15.0), Length::mm(26.0));
        let mut field = Field::empty(KindId(1), frame);
        field.cells = vec![1; frame.len()].into();
        plan.items.push(item(id, Point::new(f64::from(id) * 9000.0, 0.0), Body::Field(field)));
    }
    for id in 11..=60 {
        let path = match id % 3 {
            0 => vec![Leg::Spiral {
                radius: Length::mm(200.0),
                ring: Length::mm(60.0),
                turns: 25.0,
                hand: Hand::Left,
            }],
            1 => vec![Leg::Arc { radius: Length::mm(5000.0), turn: Angle::deg(859.4) }],
            _ => vec![Leg::Through {
                points: (1..=50)
                    .map(|i| Point::new(f64::from(i) * 1200.0, if i % 2 == 0 { 0.0 } else { 900.0 }))
                    .collect(),
            }],
        };
        plan.items.push(line(id, path, None));
    }
    for id in 61..=560 {
        plan.items.push(line(
            id,
            vec![Leg::Straight { length: Length::mm(7500.0) }],
            (id > 61).then(|| id - 1),
        ));
    }
    plan
}

#[divan::bench]
fn from_scratch(bencher: Bencher) {
    let plan = plan();
    let pieces = Placement::of(&plan).len();
    bencher.counter(divan::counter::ItemsCount::new(pieces)).bench_local(|| Placement::of(&plan));
}

/// One line in the middle of the chain is shortened and lengthened, so that the half of it that follows is laid again.
#[divan::bench]
fn after_a_change_in_a_chain(bencher: Bencher) {
    let mut plan = plan();
    let mut placement = Placement::of(&plan);
    let touched = Touched { items: vec![ItemId(310)], ..Touched::default() };
    let mut length = 7500.0;
    bencher.bench_local(|| {
        length = 15_015.0 - length;
        let path = vec![Leg::Straight { length: Length::mm(length) }];
        if let Body::Line(line) = &mut plan.items[309].body {
            line.path = path;
        }
        placement.update(&plan, &touched);
    });
}

#[divan::bench]
fn after_a_field_was_moved(bencher: Bencher) {
    let mut plan = plan();
    let mut placement = Placement::of(&plan);
    let touched = Touched { items: vec![ItemId(5)], ..Touched::default() };
    bencher.bench_local(|| {
        plan.items[4].at.x += 1.0;
        placement.update(&plan, &touched);
    });
}

#[divan::bench]
fn needs_of_all_items(bencher: Bencher) {
    let plan = plan();
    bencher.bench_local(|| needs_of_all(&plan));
}
