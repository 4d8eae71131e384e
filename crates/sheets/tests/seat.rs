//! The reading order against where the pieces stand on the floor.
#![allow(clippy::unwrap_used, reason = "a helper of tests fails as a test does")]

mod common;

use common::{field, frame, stock};
use geometry::{Point, Vector};
use plan::{Body, Field, Item};
use proptest::prelude::*;
use sheets::*;
use units::Length;

fn compass(c: Compass) -> Vector {
    let d = std::f64::consts::FRAC_1_SQRT_2;
    let (x, y) = match c {
        Compass::North => (0.0, 1.0),
        Compass::NorthEast => (d, d),
        Compass::East => (1.0, 0.0),
        Compass::SouthEast => (d, -d),
        Compass::South => (0.0, -1.0),
        Compass::SouthWest => (-d, -d),
        Compass::West => (-1.0, 0.0),
        Compass::NorthWest => (-d, d),
    };
    Vector { x, y }
}

fn dot(a: Vector, b: Vector) -> f64 {
    a.x * b.x + a.y * b.y
}

fn inner(item: &Item) -> &Field {
    match &item.body {
        Body::Field(f) => f,
        _ => panic!("a field"),
    }
}

/// A field in which every cell has a colour of its own: cell i is colour i + 1. The pitch is square and the
/// field nearly so, so that the corner is where a word such as north-west puts it.
fn marked(heading: f64) -> Item {
    let mut f = frame(6, 6);
    f.pitch_across = f.pitch_along;
    field(1, "Marked", heading, f, (1..=36).collect())
}

/// Where the piece of colour `c` stands.
fn stands(item: &Item, c: u16) -> Point {
    let f = inner(item).frame;
    let (lane, rank) = ((c - 1) / 6, (c - 1) % 6);
    item.frame().at(f64::from(rank) * f.pitch_along.to_mm(), f64::from(lane) * f.pitch_across.to_mm())
}

fn called(units: &[ReadUnit]) -> Vec<Vec<u16>> {
    units.iter().map(|u| u.calls.iter().map(|c| c.colour.unwrap().0).collect()).collect()
}

/// Eight headings, both units, both sides, four seats, four starts: the first piece called is the one that
/// stands farthest towards the corner that the sheet names, the builder sits where it says, and the fall runs
/// as it says.
#[test]
fn the_first_piece_called_stands_in_the_corner_that_is_named() {
    let mut tried = 0;
    for heading in [0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0] {
        let item = marked(heading);
        let middle = item.frame().at(2.5 * 15.0, 2.5 * 15.0);
        for unit in [Unit::Lane, Unit::Rank] {
            for side in [Side::AsDrawn, Side::Mirrored] {
                for read_from in [ReadFrom::North, ReadFrom::East, ReadFrom::South, ReadFrom::West] {
                    for start in [Start::FarLeft, Start::FarRight, Start::NearLeft, Start::NearRight] {
                        let options = ReadOptions { unit, read_from, side, start, ..ReadOptions::default() };
                        check(&item, middle, heading, &options);
                        tried += 1;
                    }
                }
            }
        }
    }
    assert_eq!(tried, 8 * 2 * 2 * 4 * 4);
}

fn check(item: &Item, middle: Point, heading: f64, options: &ReadOptions) {
    let what = format!("{heading} {options:?}");
    let units = called(&reading(inner(item), item.heading, &stock_without_combs(), options));
    let seat = Seat::new(item.heading, options);
    let towards = |v: Vector, c: u16| dot(stands(item, c).minus(middle), v);
    let corner = compass(seat.corner());
    let first = units[0][0];
    let best = (1..=36).map(|c| towards(corner, c)).fold(f64::MIN, f64::max);
    assert!((towards(corner, first) - best).abs() < 1e-6, "{what}: {first}");
    // The unit nearest to the seat is called last when the far one is first.
    let sits = compass(seat.sits());
    let (one, other) = (towards(sits, units[0][0]), towards(sits, units[5][0]));
    assert!(options.start.is_far() == (one < other), "{what}");
    // Within a unit the calls go from the named hand to the other, across the view.
    let looks = compass(seat.looks());
    let right = Vector { x: looks.y, y: -looks.x };
    let (a, b) = (units[0][0], units[0][5]);
    assert!(options.start.is_left() == (towards(right, a) < towards(right, b)), "{what}");
    assert!((towards(looks, a) - towards(looks, b)).abs() < 1e-6, "{what}");
    // The fall as it is told.
    let (s, c) = item.heading.sin_cos();
    let fall = Vector { x: c, y: s };
    let told = match seat.fall {
        FallSeen::LeftToRight => right,
        FallSeen::RightToLeft => right.times(-1.0),
        FallSeen::Away => looks,
        FallSeen::Towards => looks.times(-1.0),
    };
    assert!((dot(fall, told) - 1.0).abs() < 1e-6, "{what}");
}

fn stock_without_combs() -> plan::Stock {
    let mut stock = stock();
    stock.gear.clear();
    stock
}

/// The seat named is taken where the lanes allow it, and the mirrored set is for the one across.
#[test]
fn the_side_that_was_asked_for_is_the_side_that_is_named() {
    let from = |heading: f64, unit, read_from, side| {
        let options = ReadOptions { unit, read_from, side, ..ReadOptions::default() };
        Seat::new(units::Angle::deg(heading), &options).sits()
    };
    for heading in [0.0, 180.0] {
        assert_eq!(from(heading, Unit::Lane, ReadFrom::South, Side::AsDrawn), Compass::South);
        assert_eq!(from(heading, Unit::Lane, ReadFrom::South, Side::Mirrored), Compass::North);
        assert_eq!(from(heading, Unit::Lane, ReadFrom::North, Side::AsDrawn), Compass::North);
        assert_eq!(from(heading, Unit::Rank, ReadFrom::West, Side::AsDrawn), Compass::West);
        // Nobody sits at the end of a lane: a quarter turn clockwise.
        assert_eq!(from(heading, Unit::Lane, ReadFrom::East, Side::AsDrawn), Compass::South);
    }
    for heading in [90.0, 270.0] {
        assert_eq!(from(heading, Unit::Lane, ReadFrom::East, Side::AsDrawn), Compass::East);
        assert_eq!(from(heading, Unit::Lane, ReadFrom::East, Side::Mirrored), Compass::West);
        assert_eq!(from(heading, Unit::Rank, ReadFrom::South, Side::AsDrawn), Compass::South);
    }
    // Off the grid the nearer side is taken and the nearest of eight points is named.
    assert_eq!(from(20.0, Unit::Lane, ReadFrom::South, Side::AsDrawn), Compass::South);
    assert_eq!(from(30.0, Unit::Lane, ReadFrom::South, Side::AsDrawn), Compass::SouthEast);
}

proptest! {
    /// Any field, any options: the calls give back every cell once, totals add up, no call is larger than a comb
    /// load and the strips are the reading in order, none deeper than the reach.
    #[test]
    fn calls_add_up_to_the_field(
        lanes in 1u32..30,
        ranks in 1u32..80,
        seed in 0u64..1000,
        heading in -400.0f64..400.0,
        teeth in 2u32..50,
        reach in 10.0f64..900.0,
        choice in 0usize..64,
    ) {
        let cells = common::cells((lanes * ranks) as usize, seed, true);
        let item = field(1, "Any", heading, frame(lanes, ranks), cells);
        let mut stock = stock();
        stock.gear[0].what = plan::GearKind::Comb { pitch: Length::mm(15.0), teeth };
        let options = ReadOptions {
            unit: [Unit::Lane, Unit::Rank][choice % 2],
            side: [Side::AsDrawn, Side::Mirrored][choice / 2 % 2],
            read_from: [ReadFrom::North, ReadFrom::East, ReadFrom::South, ReadFrom::West][choice / 4 % 4],
            start: [Start::FarLeft, Start::FarRight, Start::NearLeft, Start::NearRight][choice / 16],
            reach: Length::mm(reach),
        };
        let f = inner(&item);
        let units = reading(f, item.heading, &stock, &options);
        let (count, length, load) = match options.unit {
            Unit::Lane => (lanes, ranks, teeth),
            Unit::Rank => (ranks, lanes, u32::MAX),
        };
        prop_assert_eq!(units.len(), count as usize);
        let seat = Seat::new(item.heading, &options);
        for (i, unit) in units.iter().enumerate() {
            let index = if seat.unit_order_grows() { i as u32 } else { count - 1 - i as u32 };
            prop_assert_eq!(unit.index, index);
            let mut row: Vec<u16> = Vec::new();
            for call in &unit.calls {
                prop_assert!(call.count >= 1 && call.count <= load);
                row.resize(row.len() + call.count as usize, call.colour.map_or(0, |c| c.0));
                prop_assert_eq!(call.done as usize, row.len());
                prop_assert_eq!(call.load_ends, call.done % load == 0 && call.done < length);
            }
            if !seat.piece_order_grows() {
                row.reverse();
            }
            let cell = |k: u32| match options.unit {
                Unit::Lane => f.cells.as_slice()[(index * ranks + k) as usize],
                Unit::Rank => f.cells.as_slice()[(k * ranks + index) as usize],
            };
            let want: Vec<u16> = (0..length).map(cell).collect();
            prop_assert_eq!(unit.pieces as usize, want.iter().filter(|c| **c != 0).count());
            prop_assert_eq!(row, want);
        }
        let pitch = if options.unit == Unit::Lane { 25.0 } else { 15.0 };
        let strips = strips(f, item.heading, &stock, &options);
        prop_assert!(strips.iter().all(|s| s.units.len() == 1 || s.units.len() as f64 * pitch <= reach + 1e-6));
        let all: Vec<ReadUnit> = strips.into_iter().flat_map(|s| s.units).collect();
        prop_assert_eq!(all, units);
    }
}

/// 600 mm of reach at 25 mm between lanes: 24 lanes (600 / 25).
#[test]
fn a_strip_holds_what_the_reach_allows() {
    let f = Field::empty(plan::KindId(1), frame(100, 40));
    let options = ReadOptions::default();
    assert_eq!(units_in_strip(&f, &options), 24);
    assert_eq!(units_in_strip(&f, &ReadOptions { unit: Unit::Rank, ..options }), 40);
    assert_eq!(units_in_strip(&f, &ReadOptions { reach: Length::mm(1.0), ..options }), 1);
    assert_eq!(units_in_strip(&f, &ReadOptions { reach: Length::mm(f64::NAN), ..options }), 1);
}
