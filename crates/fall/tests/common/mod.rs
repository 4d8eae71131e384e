//! Small plans for tests: pieces one by one, lines and fields.
#![allow(dead_code, reason = "each test file uses some of it")]

use fall::{Ask, Fall, Network, Pace, run};
use geometry::Point;
use placement::Placement;
use plan::{Body, Colour, ColourId, Field, FieldFrame, Item, ItemId, Kind, KindId, Plan, Rgb, Start};
use units::{Angle, Duration, Length};

/// A plan with the usual kind and this friction of piece on piece and on floor.
pub(crate) fn plan(mu: f64) -> Plan {
    let mut plan = Plan::new("T");
    plan.stock.kinds.push(Kind::usual(KindId(1)));
    let grey = Rgb { r: 90, g: 90, b: 90 };
    plan.stock.colours.push(Colour::plain(ColourId(1), "Grey", "G", grey));
    plan.hall.grip.piece = (mu, mu);
    plan.hall.grip.floor = (mu, mu);
    plan
}

/// Adds an item and gives its id.
pub(crate) fn put(plan: &mut Plan, x: f64, y: f64, heading: f64, body: Body) -> ItemId {
    let id = ItemId(plan.items.len() as u32 + 1);
    plan.items.push(Item {
        heading: Angle::deg(heading),
        ..Item::new(id, format!("I{}", id.0), Point::new(x, y), body)
    });
    id
}

/// A full field.
pub(crate) fn field(lanes: u32, ranks: u32, along: f64, across: f64, stagger: f64) -> Body {
    field_of(KindId(1), lanes, ranks, along, across, stagger)
}

/// A full field of a kind.
pub(crate) fn field_of(kind: KindId, lanes: u32, ranks: u32, along: f64, across: f64, stagger: f64) -> Body {
    let frame = FieldFrame {
        stagger: Length::mm(stagger),
        ..FieldFrame::new(lanes, ranks, Length::mm(along), Length::mm(across))
    };
    let mut field = Field::empty(kind, frame);
    field.cells = vec![1; frame.len()].into();
    Body::Field(field)
}

/// One piece by itself.
pub(crate) fn piece(plan: &mut Plan, x: f64, y: f64, heading: f64) -> ItemId {
    put(plan, x, y, heading, field(1, 1, 15.0, 25.0, 0.0))
}

/// A push of this width.
pub(crate) fn start(width: f64) -> Body {
    Body::Start(Start { width: Length::mm(width), after: Duration::ZERO })
}

/// The network of a plan.
pub(crate) fn network(plan: &Plan) -> Network {
    Network::of(plan, &Placement::of(plan))
}

/// The fall of a plan at the usual pace.
pub(crate) fn fall(plan: &Plan) -> Fall {
    run(plan, &network(plan), &Ask { pace: Pace::Usual, ..Ask::default() }, &|_| true)
        .expect("nobody stops it")
}

/// Rows of a table with a heading; each a list of texts.
pub(crate) fn rows(text: &str) -> Vec<Vec<String>> {
    text.lines().skip(1).map(|l| l.split(',').map(str::to_owned).collect()).collect()
}

/// A number of a row.
pub(crate) fn num(row: &[String], at: usize) -> f64 {
    row[at].parse().unwrap_or(f64::NAN)
}
