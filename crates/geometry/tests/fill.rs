//! Fills keep their distances, over many outlines.

use geometry::{
    Curve, CurveBuilder, FillError, Point, area, contains, curls, distance_to, double_spiral,
    inscribed_circle, least_self_distance, ring_for_count, waves,
};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI};
use units::{Angle, maths};

fn points(corners: &[(f64, f64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

/// All of it `ring` / 2 inside, no two parts nearer than `ring`; sampled every twentieth of a ring.
fn keeps_its_distances(curve: &Curve, outline: &[Point], ring: f64, turn: f64) {
    let step = ring / 20.0;
    for (p, t) in curve.sample(step) {
        assert!(contains(outline, p), "{p:?} is outside");
        let clear = distance_to(outline, p);
        assert!(clear >= 0.5 * ring - 1e-6, "{p:?} is {clear} from the outline");
        assert!((t.length() - 1.0).abs() < 1e-9);
    }
    // A half circle of radius `turn` / 2 and a sample more.
    let least = least_self_distance(curve, step, FRAC_PI_2 * turn + step);
    assert!(least >= ring - 1e-6, "{least} is nearer than {ring}");
}

#[test]
fn distance_to_itself_is_that_of_a_hairpin() {
    let hairpin = CurveBuilder::start(Point::new(0.0, 0.0), Angle::deg(0.0))
        .straight(500.0)
        .arc(40.0, Angle::deg(180.0))
        .straight(500.0)
        .build();
    let least = least_self_distance(&hairpin, 1.0, 40.0 * PI + 1.0);
    assert!((least - 80.0).abs() < 1e-6, "{least}");
    let straight = CurveBuilder::start(Point::new(0.0, 0.0), Angle::deg(30.0)).straight(900.0).build();
    assert!((least_self_distance(&straight, 1.0, 300.0) - 300.0).abs() < 1.5);
    assert_eq!(least_self_distance(&straight, 1.0, 1000.0), f64::INFINITY);
}

/// A rectangle of 1 000 x 400 with rings of 40: ten courses; turns stand 40 from the ends, so that courses between
/// turns are 920 long, and the first and last end reach 20 from the wall.
#[test]
fn waves_in_a_rectangle_have_the_length_counted_by_hand() {
    let hall = points(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 400.0), (0.0, 400.0)]);
    let curve = waves(&hall, Angle::deg(0.0), 40.0).unwrap();
    let by_hand = 10.0 * 920.0 + 2.0 * 20.0 + 9.0 * 20.0 * PI;
    assert!((curve.length() - by_hand).abs() < 1e-3, "{} against {by_hand}", curve.length());
    keeps_its_distances(&curve, &hall, 40.0, 40.0);
    let across = waves(&hall, Angle::deg(90.0), 40.0).unwrap();
    assert!((across.length() - (25.0 * 320.0 + 40.0 + 24.0 * 20.0 * PI)).abs() < 1e-3);
}

#[test]
fn waves_stay_in_one_part_of_a_parted_area_and_go_round_a_notch() {
    let l =
        points(&[(0.0, 0.0), (2000.0, 0.0), (2000.0, 600.0), (700.0, 600.0), (700.0, 1800.0), (0.0, 1800.0)]);
    for course in [0.0, 90.0, 30.0, 200.0] {
        let curve = waves(&l, Angle::deg(course), 40.0).unwrap();
        keeps_its_distances(&curve, &l, 40.0, 40.0);
        let share = curve.length() * 40.0 / area(&l);
        assert!(share > 0.6, "course {course} fills {share}");
    }
    // Across an hour-glass whose neck is too narrow: one half.
    let glass =
        points(&[(0.0, 0.0), (1000.0, 0.0), (510.0, 500.0), (1000.0, 1000.0), (0.0, 1000.0), (490.0, 500.0)]);
    let curve = waves(&glass, Angle::deg(0.0), 40.0).unwrap();
    keeps_its_distances(&curve, &glass, 40.0, 40.0);
}

/// The floor between the legs is wider than the legs, and not part of the area.
#[test]
fn waves_stay_out_of_the_mouth_of_a_horseshoe() {
    let shoe = points(&[
        (0.0, 0.0),
        (3000.0, 0.0),
        (3000.0, 2000.0),
        (2700.0, 2000.0),
        (2700.0, 300.0),
        (300.0, 300.0),
        (300.0, 2000.0),
        (0.0, 2000.0),
    ]);
    for course in [0.0, 45.0, 90.0] {
        keeps_its_distances(&waves(&shoe, Angle::deg(course), 40.0).unwrap(), &shoe, 40.0, 40.0);
    }
}

#[test]
fn curls_keep_their_distances_for_small_and_large_swings() {
    let hall = points(&[(0.0, 0.0), (2500.0, 0.0), (2500.0, 1600.0), (0.0, 1600.0)]);
    for (course, swing) in [(0.0, 3.0), (0.0, 20.0), (90.0, 60.0), (25.0, 40.0)] {
        let curve = curls(&hall, Angle::deg(course), 40.0, swing).unwrap();
        keeps_its_distances(&curve, &hall, 40.0, 40.0 * 2.0_f64.sqrt());
        let (_, bend) = curve.tightest(5.0);
        assert!(bend.abs() <= 1.0 / 20.0 + 1e-9);
    }
    assert_eq!(curls(&hall, Angle::deg(0.0), 40.0, 0.0), waves(&hall, Angle::deg(0.0), 40.0));
}

/// Half circles of 0.5, 1.5, ... rings, twice: pi ring (k + 1)^2 for k half turns beside the middle.
#[test]
fn a_double_spiral_has_the_length_of_its_half_circles() {
    let square = points(&[(0.0, 0.0), (2000.0, 0.0), (2000.0, 2000.0), (0.0, 2000.0)]);
    let curve = double_spiral(&square, 40.0).unwrap();
    let k = 23.0;
    assert!((curve.length() - PI * 40.0 * (k + 1.0) * (k + 1.0)).abs() < 1e-6, "{}", curve.length());
    keeps_its_distances(&curve, &square, 40.0, 40.0);
    // In one way and out on the other side.
    let (a, b) = (curve.start().0, curve.end().0);
    assert!((0.5 * (a.x + b.x) - 1000.0).abs() < 0.01 && (0.5 * (a.y + b.y) - 1000.0).abs() < 0.01);
}

#[test]
fn the_largest_circle_is_the_known_one() {
    // 3-4-5: radius (3 + 4 - 5) / 2, from the square corner (any textbook).
    let triangle = points(&[(0.0, 0.0), (4000.0, 0.0), (0.0, 3000.0)]);
    let (centre, radius) = inscribed_circle(&triangle);
    assert!((radius - 1000.0).abs() < 0.02, "{radius}");
    assert!(centre.minus(Point::new(1000.0, 1000.0)).length() < 1.0);
}

#[test]
fn the_number_of_pieces_is_met_from_below() {
    let hall = points(&[(0.0, 0.0), (5000.0, 0.0), (5000.0, 3000.0), (0.0, 3000.0)]);
    for pieces in [3_000, 12_000, 25_000] {
        let (ring, curve) =
            ring_for_count(pieces, 15.0, (30.0, 500.0), |ring| waves(&hall, Angle::deg(0.0), ring)).unwrap();
        let count = (curve.length() / 15.0).floor() as usize + 1;
        assert!(count <= pieces && count as f64 > 0.97 * pieces as f64, "{count} of {pieces} at {ring}");
    }
    let none = ring_for_count(10, 15.0, (30.0, 60.0), |ring| double_spiral(&hall, ring));
    assert!(matches!(none, Err(FillError::NoSuchCount { .. })));
}

#[test]
fn what_cannot_be_filled_is_said() {
    let small = points(&[(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)]);
    assert_eq!(waves(&small, Angle::deg(0.0), 40.0), Err(FillError::NoRoom { ring: 40.0 }));
    assert_eq!(double_spiral(&small, 40.0), Err(FillError::NoRoom { ring: 40.0 }));
    let bow = points(&[(0.0, 0.0), (1e3, 1e3), (1e3, 0.0), (0.0, 1e3)]);
    assert_eq!(waves(&bow, Angle::deg(0.0), 40.0), Err(FillError::NotSimple));
    for bad in [0.0, -1.0, f64::NAN, 1e9] {
        assert!(matches!(waves(&small, Angle::deg(0.0), bad), Err(FillError::BadLength { .. })));
    }
    let huge = points(&[(0.0, 0.0), (1e7, 0.0), (1e7, 1e7), (0.0, 1e7)]);
    assert_eq!(waves(&huge, Angle::deg(0.0), 1.0), Err(FillError::TooFine { ring: 1.0 }));
}

/// A star about the origin: simple whatever the radii are.
fn star() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(300.0..2500.0f64, 3..14).prop_map(|radii| {
        let step = 2.0 * PI / radii.len() as f64;
        let corner = |(i, r): (usize, &f64)| {
            let (sin, cos) = maths::sin_cos(step * i as f64 + 0.1);
            Point::new(r * cos, r * sin)
        };
        radii.iter().enumerate().map(corner).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn fills_of_any_star_keep_their_distances(
        outline in star(), course in 0.0..360.0f64, ring in 35.0..120.0f64, swing in 1.0..60.0f64,
    ) {
        let fit = |result: Result<Curve, FillError>, turn: f64| match result {
            Ok(curve) => keeps_its_distances(&curve, &outline, ring, turn),
            Err(FillError::NoRoom { .. } | FillError::NotSimple) => {}
            Err(other) => panic!("{other}"),
        };
        fit(waves(&outline, Angle::deg(course), ring), ring);
        fit(curls(&outline, Angle::deg(course), ring, swing), ring * 2.0_f64.sqrt());
        fit(double_spiral(&outline, ring), ring);
    }
}
