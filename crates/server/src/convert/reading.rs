//! How a field is called, lane by lane or rank by rank.

use plan::{Field, Item};
use sayings::{Said, say, telling};
use sheets::{Compass, FallSeen, ReadOptions, ReadUnit, Seat, Unit};

use super::count;
use super::said::said;
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
    let side = side(item, options);
    wire::ReadPlan {
        item: item.id.0,
        name: item.name.clone(),
        units: amount,
        unit,
        side: side.to_string(),
        side_said: said(&side),
        first: units.first().map_or(1, |unit| unit.index + 1),
        change: count(change),
    }
}

/// Where the builder sits, how the fall runs before them, and where they start.
fn side(item: &Item, options: &ReadOptions) -> Said {
    let seat = Seat::new(item.heading, options);
    let fall = match seat.fall {
        FallSeen::LeftToRight => say!(telling::SEAT_LEFT_TO_RIGHT),
        FallSeen::RightToLeft => say!(telling::SEAT_RIGHT_TO_LEFT),
        FallSeen::Away => say!(telling::SEAT_AWAY),
        FallSeen::Towards => say!(telling::SEAT_TOWARDS),
    };
    let start = match (seat.start.is_far(), seat.start.is_left()) {
        (true, true) => say!(telling::SEAT_FAR_LEFT),
        (true, false) => say!(telling::SEAT_FAR_RIGHT),
        (false, true) => say!(telling::SEAT_NEAR_LEFT),
        (false, false) => say!(telling::SEAT_NEAR_RIGHT),
    };
    say!(
        telling::SEAT,
        sits = compass(seat.sits()),
        looks = compass(seat.looks()),
        fall = fall,
        start = start,
        corner = compass(seat.corner())
    )
}

fn compass(point: Compass) -> Said {
    match point {
        Compass::North => say!(telling::COMPASS_N),
        Compass::NorthEast => say!(telling::COMPASS_NE),
        Compass::East => say!(telling::COMPASS_E),
        Compass::SouthEast => say!(telling::COMPASS_SE),
        Compass::South => say!(telling::COMPASS_S),
        Compass::SouthWest => say!(telling::COMPASS_SW),
        Compass::West => say!(telling::COMPASS_W),
        Compass::NorthWest => say!(telling::COMPASS_NW),
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
