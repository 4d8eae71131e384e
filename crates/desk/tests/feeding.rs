//! What is told of feeds is what the fall says of them once they are laid.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use desk::{feed_steps, feed_ways};
use fall::{Network, report};
use geometry::Point;
use placement::{Advice, Means, Placement, Works};
use plan::*;
use units::{Angle, Duration, Length};

fn mm(v: f64) -> Length {
    Length::mm(v)
}

/// A field of full lanes that falls north.
fn hall(lanes: u32, along: f64, across: f64, floor: (f64, f64)) -> Plan {
    let mut plan = Plan::new("T");
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    let grey = Rgb { r: 90, g: 90, b: 90 };
    plan.stock.colours = vec![Colour::plain(ColourId(1), "Grey", "G", grey)];
    plan.hall.grip = Grip { floor, piece: floor };
    let frame = FieldFrame::new(lanes, 12, mm(along), mm(across));
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![1; frame.len()].into();
    let item = Item::new(ItemId(1), "Mill", Point::new(2_000.0, 2_000.0), Body::Field(field));
    put(&mut plan, Item { heading: Angle::deg(90.0), ..item });
    plan
}

fn put(plan: &mut Plan, item: Item) {
    plan.apply(&Command::PutItem { item: Box::new(item) }).unwrap();
}

/// Lays a way, and a line with a start that leads to each of its entries; in how many lanes pieces stand surely and at the
/// most.
fn laid(mut plan: Plan, advice: &Advice) -> (usize, usize) {
    for step in feed_steps(&plan, &plan.items[0].clone(), advice, ColourId(1)) {
        plan.apply(&step).unwrap();
    }
    let feeds: Vec<ItemId> = plan.items.iter().skip(1).map(|i| i.id).collect();
    let to: Vec<(ItemId, &str)> = match feeds.as_slice() {
        [] => vec![(ItemId(1), "lane 1")],
        _ => feeds.iter().map(|f| (*f, "entry")).collect(),
    };
    for (item, port) in to {
        let link = Link { item, port: port.into() };
        let there = placement::port(&plan, &link).unwrap();
        let (s, c) = there.heading.sin_cos();
        let at = |way: f64| Point::new(there.at.x - way * c, there.at.y - way * s);
        let field = plan.items[0].field().unwrap();
        let pitch = placement::feed_pitch(&plan, field);
        let line = Line {
            spacing: Spacing::Pitch { pitch },
            ..Line::plain(KindId(1), ColourId(1), vec![Leg::Straight { length: pitch * 24.0 }])
        };
        let start = Start { width: mm(10.0), after: Duration::ZERO };
        for (way, body) in
            [(24.0 * pitch.to_mm(), Body::Line(line)), (24.0 * pitch.to_mm() + 10.0, Body::Start(start))]
        {
            let id = ItemId(plan.fresh_id());
            let item = Item::new(id, format!("I{}", id.0), at(way), body);
            put(&mut plan, Item { heading: there.heading, ..item });
        }
    }
    let network = Network::of(&plan, &Placement::of(&plan));
    let told = report(&plan, &network);
    let stands = |unsure_passes| {
        let ask = fall::Ask { unsure_passes, ..fall::Ask::default() };
        let fall = fall::run(&plan, &network, &ask, &|_| true).unwrap();
        let field = network.pieces_of(ItemId(1)).unwrap();
        let mut lanes: Vec<u32> =
            (0..field.len()).filter(|i| fall.hit_us[*i] == fall::STANDS_US).map(|i| field.lane[i]).collect();
        lanes.dedup();
        lanes.len()
    };
    let lanes = (stands(false), stands(true));
    // Nothing else in the plan stands for another reason.
    assert!(lanes.1 > 0 || told.fallen == told.pieces, "{:?}", told.stands);
    lanes
}

/// All ways that can be laid, at several lane pitches, gaps and floors.
#[test]
fn what_is_told_of_a_way_is_what_the_fall_says_once_it_is_laid() {
    let mut told = std::collections::BTreeMap::<String, [u32; 3]>::new();
    for floor in [(0.3, 0.3), (0.15, 0.15), (0.2, 0.2), (0.25, 0.35)] {
        for along in [15.0, 17.5, 19.5, 27.5] {
            for across in [25.0, 26.0, 27.5, 30.0, 36.0, 38.5, 52.0] {
                let plan = hall(9, along, across, floor);
                for side in [Hand::Left, Hand::Right] {
                    for advice in feed_ways(&plan, &plan.items[0], side) {
                        let Some(_) = Some(()).filter(|()| advice.pieces > 0) else {
                            assert_eq!(advice.works, Works::No);
                            continue;
                        };
                        let lanes = laid(plan.clone(), &advice);
                        let fell = match lanes {
                            (0, _) => Works::Sure,
                            (_, 0) => Works::Unsure,
                            _ => Works::No,
                        };
                        assert_eq!(
                            advice.works, fell,
                            "{floor:?} {along} {across} {side:?} {advice:?}: {lanes:?} stand"
                        );
                        let name = match advice.means {
                            Means::Feed(way) => placement::way_name(&way).to_owned(),
                            Means::Course(course) => format!("{course:?}"),
                        };
                        told.entry(name).or_default()[advice.works as usize] += 1;
                    }
                }
            }
        }
    }
    println!("{told:?}");
    // Each way is among them, and none is always the same.
    assert_eq!(told.len(), 8, "{told:?}");
    for way in ["echelon", "half-shift"] {
        assert!(told[way][0] > 0 && told[way][1] > 0, "{told:?}");
    }
}

/// Measured at lanes 25 mm apart and a gap of 7.5 mm (own rigid-body runs, rapier3d 0.36.1): brick 80 of 80 lanes on both
/// floors, the echelon 79 at 0.15, the half-shift 77 there and 80 at 0.3.
#[test]
fn the_measured_floors_are_told_apart() {
    let works = |name: &str, mu: f64| {
        let plan = hall(9, 15.0, 25.0, (mu, mu));
        let ways = feed_ways(&plan, &plan.items[0], Hand::Left);
        let is = |a: &&Advice| matches!(a.means, Means::Feed(w) if placement::way_name(&w) == name);
        ways.iter().find(is).unwrap().works
    };
    assert_eq!((works("brick", 0.15), works("brick", 0.3)), (Works::Sure, Works::Sure));
    assert_eq!((works("half-shift", 0.15), works("half-shift", 0.3)), (Works::Unsure, Works::Sure));
    assert_eq!(works("echelon", 0.3), Works::Sure);
}
