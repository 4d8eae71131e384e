//! What the values of a plan mean: where an item stands as built, what a gap leaves out, how a bridge climbs.
//!
//! All expected values are worked out by hand from the definitions.

use geometry::Point;
use plan::*;
use units::{Angle, Length};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn item(body: Body) -> Item {
    Item {
        id: ItemId(1),
        name: "Sluice".into(),
        at: Point::new(100.0, 200.0),
        heading: Angle::deg(90.0),
        surface: SurfaceId(0),
        section: None,
        built: None,
        gaps: Vec::new(),
        locked: false,
        group: None,
        body,
    }
}

fn stopper() -> Body {
    Body::Stopper(Stopper { thickness: mm(10.0), width: mm(40.0), height: mm(48.0), fixed: true })
}

fn near(a: Point, b: Point) -> bool {
    (a.x - b.x).abs() < 1e-9 && (a.y - b.y).abs() < 1e-9
}

/// 3 mm east and 5 mm north of the drawing, turned by 90° more: what lay 1 mm ahead of it then lies west of it.
#[test]
fn an_item_stands_where_and_as_it_was_built() {
    let mut item = item(stopper());
    assert_eq!(item.stands(), item.frame());
    item.built = Some(AsBuilt { east: mm(3.0), north: mm(5.0), turn: Angle::deg(90.0) });
    assert!(near(item.stands().origin, Point::new(103.0, 205.0)), "{:?}", item.stands());
    assert!(near(item.stands().at(1.0, 0.0), Point::new(102.0, 205.0)), "{:?}", item.stands());
    assert!((item.bearing().to_deg() - 180.0).abs() < 1e-9);
    assert!(near(item.frame().origin, Point::new(100.0, 200.0)), "the drawing stays");
}

/// Heading north it takes its thickness from south to north and its width from west to east.
#[test]
fn a_stopper_stands_across_its_heading_centred_on_its_place() {
    let outline = item(stopper()).outline().expect("a stopper takes floor");
    let (x, y): (Vec<f64>, Vec<f64>) = outline.iter().map(|p| (p.x, p.y)).unzip();
    let span = |v: &[f64]| v.iter().fold((f64::MAX, f64::MIN), |s, &v| (s.0.min(v), s.1.max(v)));
    let ((west, east), (south, north)) = (span(&x), span(&y));
    assert!((west - 80.0).abs() < 1e-9 && (east - 120.0).abs() < 1e-9, "{west} to {east}");
    assert!((south - 195.0).abs() < 1e-9 && (north - 205.0).abs() < 1e-9, "{south} to {north}");
}

#[test]
fn a_gap_leaves_out_just_its_count_of_ranks_from_the_first() {
    let gap = SafetyGap { first: 10, count: 3, stopper: false };
    let out: Vec<u32> = (0..20).filter(|&r| gap.leaves_out(r)).collect();
    assert_eq!(out, [10, 11, 12]);
    assert_eq!(gap.for_people(), (11, 13));
    assert!(SafetyGap { first: u32::MAX, count: u32::MAX, stopper: false }.leaves_out(u32::MAX));
}

/// 75 mm in steps of 7.5 mm are 10; one tenth of a millimetre more takes an eleventh. Two pieces on each step at 15 mm
/// are a flight of 300 mm.
#[test]
fn a_bridge_takes_as_many_steps_as_its_height_needs_and_a_flight_holds_all_their_pieces() {
    let bridge = Bridge {
        from: mm(0.0),
        deck: mm(600.0),
        height: mm(75.0),
        thickness: mm(12.0),
        step: mm(7.5),
        per_step: 2,
    };
    assert_eq!(bridge.steps(), 10);
    assert_eq!(Bridge { height: mm(75.1), ..bridge }.steps(), 11);
    assert_eq!(Bridge { height: mm(5.0), ..bridge }.steps(), 1);
    assert!((bridge.flight(mm(15.0)).to_mm() - 300.0).abs() < 1e-9);
}

#[test]
fn a_clear_gap_and_the_thickness_of_a_piece_make_the_pitch() {
    let pitch = |spacing: Spacing| spacing.pitch(mm(7.5)).to_mm();
    assert!((pitch(Spacing::Gap { gap: mm(12.0) }) - 19.5).abs() < 1e-9);
    assert!((pitch(Spacing::Pitch { pitch: mm(15.0) }) - 15.0).abs() < 1e-9);
}

fn shifted(at: Point, heading: f64, turn: f64, (east, north): (f64, f64), about: Point) -> Item {
    let mut plan = Plan::new("start");
    let item = Item { at, heading: Angle::deg(heading), ..item(stopper()) };
    plan.apply(&Command::PutItem { item: Box::new(item) }).expect("a stopper is taken");
    let which = Which::Items(vec![ItemId(1)]);
    let shift = Command::Shift { which, east: mm(east), north: mm(north), turn: Angle::deg(turn), about };
    plan.apply(&shift).expect("within reach");
    plan.items.remove(0)
}

/// A quarter turn to the left takes what lies 30 mm east of the point to 30 mm north of it, and one that heads east to
/// the north; the move comes after the turn.
#[test]
fn a_shift_turns_to_the_left_about_its_point_and_then_moves() {
    let about = Point::new(100.0, 200.0);
    let turned = shifted(Point::new(130.0, 200.0), 0.0, 90.0, (5.0, -7.0), about);
    assert!(near(turned.at, Point::new(105.0, 223.0)), "{:?}", turned.at);
    assert!((turned.heading.to_deg() - 90.0).abs() < 1e-9);
    let moved = shifted(Point::new(0.1, 0.2), 33.0, 0.0, (12.0, -4.0), about);
    assert_eq!((moved.at, moved.heading), (Point::new(0.1 + 12.0, 0.2 - 4.0), Angle::deg(33.0)));
}

/// 1 m from the point, 0.2° are 1000 sin 0.2° = 3.490651 mm to the left and 1000 (1 - cos 0.2°) = 0.006092 mm back
/// (calculated by hand from the series of sine and cosine).
#[test]
fn a_small_turn_moves_by_the_arc() {
    let turned = shifted(Point::new(1000.0, 0.0), 0.0, 0.2, (0.0, 0.0), Point::new(0.0, 0.0));
    assert!((turned.at.y - 3.490651).abs() < 1e-6 && (turned.at.x - (1000.0 - 0.006092)).abs() < 1e-6);
}

/// 1 m along a plank of 5° is 1 000 sin 5° = 87.16 mm higher (calculated), whichever way it rises.
#[test]
fn a_sloping_surface_rises_from_its_lowest_corner() {
    let (sin, cos) = Angle::deg(5.0).sin_cos();
    for turn in [0.0, 90.0, 200.0] {
        let (s, c) = Angle::deg(turn).sin_cos();
        let at = |u: f64, v: f64| Point::new(3000.0 + u * c - v * s, -2000.0 + u * s + v * c);
        let surface = Surface {
            id: SurfaceId(1),
            name: "Ramp".into(),
            is: SurfaceKind::Plank,
            height: Length::mm(40.0),
            slope: Slope { rise: Angle::deg(5.0), uphill: Angle::deg(turn) },
            outline: vec![at(0.0, 0.0), at(1500.0, 0.0), at(1500.0, 300.0), at(0.0, 300.0)],
        };
        assert!((surface.height_at(at(0.0, 150.0)) - 40.0).abs() < 1e-9);
        assert!((surface.height_at(at(1000.0 * cos, 20.0)) - (40.0 + 1000.0 * sin)).abs() < 1e-9);
        assert!((surface.highest() - (40.0 + 1500.0 * sin / cos)).abs() < 1e-9);
    }
}
