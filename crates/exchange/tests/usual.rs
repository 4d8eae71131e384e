//! What a text plan means where it leaves a value out, and which word is which part of a hall.

use exchange::read_text_plan;
use plan::{Body, FeedWay, HallPartKind, Plan};

const TEXT: &str = r#"format = 1
name = "Usual"

[hall]
name = "Larkmeadow Hall"

[[hall.part]]
is = "door"
name = "North"
outline = [["0 cm", "0 cm"], ["90 cm", "0 cm"], ["0 cm", "90 cm"]]

[[hall.part]]
is = "exit"
name = "South"
outline = [["0 mm", "0 mm"], ["900 mm", "0 mm"], ["0 mm", "900 mm"]]

[[kind]]
id = 1
name = "Standard"
thickness = "7.5 mm"
width = "24 mm"
height = "48 mm"
mass = "8.5 g"

[[item]]
is = "field"
name = "Mill"
at = ["0 mm", "0 mm"]
heading = "0 deg"
kind = "Standard"
lanes = 1
ranks = 2
pitch_along = "15 mm"
pitch_across = "40 mm"
fall = "right"

[item.cells]
lanes = ["S2"]

[[item]]
is = "line"
name = "Brook"
at = ["0 mm", "0 mm"]
heading = "0 deg"
kind = "Standard"
lanes = 2
pitch = "15 mm"
colours = "S"
leg = [{ straight = "1 m" }]

[[item]]
is = "feed"
name = "Lead"
at = ["0 mm", "0 mm"]
heading = "0 deg"
of = "Mill"
way = "beside"
side = "left"
kind = "Standard"
colour = "S"
"#;

fn plan() -> Plan {
    let stock = b"name,code,hex,count\nSky,S,#7cbde6,50\n";
    read_text_plan(TEXT, Some(stock), &mut |_| None).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn doors_and_exits_are_what_they_are_called_and_90_cm_are_900_mm() {
    let hall = plan().hall;
    let parts: Vec<_> = hall.parts.iter().map(|p| (p.name.as_str(), p.is)).collect();
    assert_eq!(parts, [("North", HallPartKind::Door), ("South", HallPartKind::Exit)]);
    assert_eq!(hall.parts[0].outline, hall.parts[1].outline);
}

#[test]
fn lanes_of_a_line_lie_26_mm_apart_unless_said_otherwise() {
    let plan = plan();
    let Some(Body::Line(line)) = plan.item_by_name("Brook").map(|i| &i.body) else { panic!("a line") };
    assert!((line.pitch_across.to_mm() - 26.0).abs() < 1e-9);
}

/// The case of which 80 of 80 lanes fell on both floors: 45°, a gap of 16 mm, a poke of 6 mm (own rigid-body runs).
#[test]
fn a_feed_beside_the_line_is_the_one_that_was_measured_best_unless_said_otherwise() {
    let plan = plan();
    let Some(Body::Feed(feed)) = plan.item_by_name("Lead").map(|i| &i.body) else { panic!("a feed") };
    let FeedWay::Beside { turn, gap, poke, .. } = feed.way else { panic!("{:?}", feed.way) };
    assert_eq!((turn.to_deg(), gap.to_mm(), poke.to_mm()), (45.0, 16.0, 6.0));
}
