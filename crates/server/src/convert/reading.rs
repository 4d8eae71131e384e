//! How a field is called, lane by lane or rank by rank.

use plan::{Field, Item};
use sheets::{Compass, FallSeen, ReadOptions, ReadUnit, Seat, Unit};

use super::count;
use crate::wire;

/// How a field is read.
pub(crate) fn plan_of(
    item: &Item,
    field: &Field,
    options: &ReadOptions,
    units: &[ReadUnit],
    change: u64,
) -> wire::ReadPlan {
    let (amount, unit) = match options.unit {
        Unit::Lane => (field.frame.lanes, wire::ReadUnit::Lane),
        Unit::Rank => (field.frame.ranks, wire::ReadUnit::Rank),
    };
    wire::ReadPlan {
        item: item.id.0,
        name: item.name.clone(),
        units: amount,
        unit,
        side: side(item, options),
        first: units.first().map_or(1, |unit| unit.index + 1),
        change: count(change),
    }
}

/// Where the builder sits, how the fall runs before them, and where they start.
fn side(item: &Item, options: &ReadOptions) -> String {
    let seat = Seat::new(item.heading, options);
    let fall = match seat.fall {
        FallSeen::LeftToRight => "from your left to your right",
        FallSeen::RightToLeft => "from your right to your left",
        FallSeen::Away => "away from you",
        FallSeen::Towards => "towards you",
    };
    let far = if seat.start.is_far() { "far" } else { "near" };
    let hand = if seat.start.is_left() { "left" } else { "right" };
    format!(
        "Sit in the {} and look {}; the fall runs {fall}. Start at the {far} {hand}, the {} corner.",
        compass(seat.sits()),
        compass(seat.looks()),
        compass(seat.corner())
    )
}

fn compass(point: Compass) -> &'static str {
    match point {
        Compass::North => "north",
        Compass::NorthEast => "north-east",
        Compass::East => "east",
        Compass::SouthEast => "south-east",
        Compass::South => "south",
        Compass::SouthWest => "south-west",
        Compass::West => "west",
        Compass::NorthWest => "north-west",
    }
}

/// The unit with this printed number, and its neighbours in the order of calling.
pub(crate) fn lane(units: &[ReadUnit], number: u32) -> Option<wire::ReadLane> {
    let at = units.iter().position(|unit| unit.index.checked_add(1) == Some(number))?;
    let unit = &units[at];
    let mut laid = 0;
    let calls = unit.calls.iter().map(|call| {
        if call.colour.is_some() {
            laid += call.count;
        }
        wire::Call {
            colour: call.colour.map_or(0, |colour| colour.0),
            count: call.count,
            laid,
            from: call.done - call.count + 1,
        }
    });
    Some(wire::ReadLane {
        number,
        calls: calls.collect(),
        places: unit.cells,
        total: unit.pieces,
        next: units.get(at + 1).map(|unit| unit.index + 1),
        before: at.checked_sub(1).map(|at| units[at].index + 1),
    })
}
