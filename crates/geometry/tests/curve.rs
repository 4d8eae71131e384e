//! Curves against closed forms, at their joins, and under mirrors, turns and shifts.

use geometry::{Curve, CurveBuilder, Point, Vector};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};
use units::{Angle, maths};

fn origin() -> CurveBuilder {
    CurveBuilder::start(Point::new(0.0, 0.0), Angle::deg(0.0))
}

fn close(a: Point, b: Point, slack: f64) -> bool {
    a.minus(b).length() <= slack
}

#[test]
fn a_circle_closes_and_has_its_closed_form_everywhere() {
    let circle = origin().arc(100.0, Angle::deg(360.0)).build();
    assert!((circle.length() - 200.0 * PI).abs() < 1e-9);
    for i in 0..=36 {
        let phi = f64::from(i) * TAU / 36.0;
        let (p, t) = circle.at(100.0 * phi);
        let (sin, cos) = maths::sin_cos(phi);
        assert!(close(p, Point::new(100.0 * sin, 100.0 - 100.0 * cos), 1e-9), "{p:?}");
        assert!((t.x - cos).abs() < 1e-12 && (t.y - sin).abs() < 1e-12);
        assert!((circle.curvature(100.0 * phi) - 0.01).abs() < 1e-15);
    }
    let right = origin().arc(100.0, Angle::deg(-90.0)).build();
    assert!(close(right.end().0, Point::new(100.0, -100.0), 1e-9));
    assert_eq!(right.end().1, Vector { x: 0.0, y: -1.0 });
    assert!(right.curvature(10.0) < 0.0);
}

/// The radius at angle phi is r0 + ring phi / 2 pi, and the path is the radius' growth off square to it.
#[test]
fn a_spiral_keeps_its_rings_apart_and_begins_along_the_path() {
    let (r0, ring) = (60.0, 40.0);
    for left in [true, false] {
        let spiral = origin().spiral(r0, ring, 6.0, left).build();
        assert!(close(spiral.at(0.0).0, Point::new(0.0, 0.0), 1e-12));
        assert!((spiral.at(0.0).1.x - 1.0).abs() < 1e-12);
        let g = ring / TAU;
        let width = maths::hypot(r0, g);
        let side = if left { 1.0 } else { -1.0 };
        let centre = Point::new(-r0 * g / width, side * r0 * r0 / width);
        for i in 0..200 {
            let s = spiral.length() * f64::from(i) / 199.0;
            let (p, t) = spiral.at(s);
            let out = p.minus(centre);
            let r = out.length();
            // s as a function of r: the closed form between both radii.
            let form = |r: f64| {
                let u = r / g;
                let root = (1.0 + u * u).sqrt();
                0.5 * g * (u * root + maths::ln(u + root))
            };
            assert!((form(r) - form(r0) - s).abs() < 1e-7, "s {s}");
            let slope = out.times(1.0 / r).dot(t);
            assert!((slope - g / maths::hypot(r, g)).abs() < 1e-9);
        }
        let r_end = spiral.end().0.minus(centre).length();
        assert!((r_end - (r0 + 6.0 * ring)).abs() < 1e-8);
    }
}

#[test]
fn a_spiral_inwards_through_its_middle_stays_finite() {
    let spiral = origin().spiral(100.0, -50.0, 4.0, true).build();
    for (p, t) in spiral.sample(1.0) {
        assert!(p.x.is_finite() && p.y.is_finite() && (t.length() - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_smooth_curve_passes_through_its_points_and_looks_like_the_circle_they_are_on() {
    let on_circle = |deg: f64| {
        let (s, c) = Angle::deg(deg).sin_cos();
        Point::new(500.0 * s, 500.0 - 500.0 * c)
    };
    let points: Vec<Point> = (1..=18).map(|i| on_circle(f64::from(i) * 20.0)).collect();
    let curve = origin().through(&points).build();
    let mut least = vec![f64::INFINITY; points.len()];
    for (p, _) in curve.sample(0.25) {
        let off = p.minus(Point::new(0.0, 500.0)).length() - 500.0;
        assert!(off.abs() < 0.05, "{off}");
        for (least, q) in least.iter_mut().zip(&points) {
            *least = least.min(p.minus(*q).length());
        }
    }
    assert!(least.iter().all(|d| *d < 0.13), "{least:?}");
    assert!((curve.length() - 1000.0 * PI).abs() < 0.1, "{}", curve.length());
}

#[test]
fn a_last_leg_arrives_wherever_it_has_to_go() {
    for x in [-3000.0, -100.0, -1.0, 0.0, 1.0, 100.0, 3000.0] {
        for y in [-1000.0, -26.0, 0.0, 0.5, 26.0, 1000.0] {
            for heading in [0.0, 37.0, 90.0, 100.5, 179.9, 180.0, 271.0] {
                let curve = origin().straight(10.0).lead_to(Point::new(x, y), Angle::deg(heading)).build();
                let (sin, cos) = Angle::deg(heading).sin_cos();
                let before = curve.at(curve.length() * (1.0 - 1e-13));
                let slack = 1e-6;
                assert!(close(before.0, Point::new(x, y), slack), "{x} {y} {heading}: {before:?}");
                assert!(
                    (before.1.x - cos).abs() < slack && (before.1.y - sin).abs() < slack,
                    "{x} {y} {heading}"
                );
                steps_are_even(&curve, 0.05, heading);
            }
        }
    }
}

/// Direction turns little in a little step: no corner anywhere, the joins among them.
fn steps_are_even(curve: &Curve, step: f64, label: f64) {
    let count = ((curve.length() / step) as usize).min(20_000);
    let pitch = curve.length() / count as f64;
    let mut last = curve.at(0.0);
    for now in curve.positions(count + 1, 0.0, pitch) {
        let went = now.0.minus(last.0).length();
        assert!(went <= pitch * (1.0 + 1e-9) + 1e-8, "{label}: a step of {pitch} went {went}");
        assert!(now.1.dot(last.1) > 0.8, "{label}: corner at {:?}", now.0);
        last = now;
    }
}

/// Where a path has to turn back close by, it does so by loops of 100 mm or more, which pieces can be laid along.
#[test]
fn a_way_back_to_a_place_close_by_takes_wide_turns() {
    for (x, y) in [(10.0, 0.0), (50.0, 20.0), (-30.0, 5.0)] {
        let curve = CurveBuilder::start(Point::new(0.0, 0.0), Angle::ZERO)
            .lead_to(Point::new(x, y), Angle::deg(180.0))
            .build();
        let tightest = (0..1_000).map(|i| curve.curvature(curve.length() * f64::from(i) / 1_000.0).abs());
        let tightest = tightest.fold(0.0, f64::max);
        assert!(tightest <= 0.01 + 1e-9, "{x} {y}: radius {} mm", 1.0 / tightest);
    }
}

#[test]
fn a_target_that_is_the_end_adds_nothing() {
    let curve = origin().straight(100.0).lead_to(Point::new(100.0, 0.0), Angle::deg(0.0)).build();
    assert_eq!(curve.length(), 100.0);
    let ahead = origin().straight(100.0).lead_to(Point::new(250.0, 0.0), Angle::deg(0.0)).build();
    assert_eq!(ahead.length(), 250.0);
}

#[test]
fn legs_without_length_and_numbers_that_are_none_leave_no_trace() {
    let curve = origin()
        .straight(0.0)
        .arc(0.0, Angle::deg(90.0))
        .spiral(0.0, 0.0, 5.0, true)
        .through(&[])
        .straight(f64::NAN)
        .straight(7.0)
        .build();
    assert_eq!(curve.length(), 7.0);
    assert_eq!(curve.end().0, Point::new(0.0, 7.0));
    let none = origin().build();
    assert_eq!((none.length(), none.at(5.0).0), (0.0, Point::new(5.0, 0.0)));
    assert_eq!(none.sample(1.0).count(), 1);
    let same = origin().through(&[Point::new(0.0, 0.0), Point::new(5.0, 0.0), Point::new(5.0, 0.0)]).build();
    assert!((same.length() - 5.0).abs() < 1e-9);
}

#[test]
fn off_its_ends_a_curve_carries_on_straight() {
    let curve = origin().arc(100.0, Angle::deg(90.0)).build();
    assert_eq!(curve.at(-15.0).0, Point::new(-15.0, 0.0));
    let (p, t) = curve.at(curve.length() + 15.0);
    assert!(close(p, Point::new(100.0, 115.0), 1e-9) && t == Vector { x: 0.0, y: 1.0 });
}

#[test]
fn positions_in_order_are_the_same_as_one_by_one() {
    let curve = mixed(200.0, 80.0, 40.0, &[Point::new(900.0, 300.0), Point::new(1200.0, -200.0)]);
    let count = (curve.length() / 15.0) as usize + 5;
    for (i, one) in curve.positions(count, -20.0, 15.0).enumerate() {
        assert_eq!(one, curve.at(-20.0 + i as f64 * 15.0));
    }
    // Backwards too.
    for (i, one) in curve.positions(count, curve.length(), -15.0).enumerate() {
        assert_eq!(one, curve.at(curve.length() + i as f64 * -15.0));
    }
}

#[test]
fn the_tightest_place_is_found_across_legs() {
    let curve = origin().straight(100.0).arc(80.0, Angle::deg(-30.0)).arc(200.0, Angle::deg(90.0)).build();
    let (s, bend) = curve.tightest(5.0);
    assert!((bend + 1.0 / 80.0).abs() < 1e-12 && (100.0..=142.0).contains(&s));
}

fn mixed(straight: f64, radius: f64, turn: f64, points: &[Point]) -> Curve {
    origin()
        .straight(straight)
        .arc(radius, Angle::deg(turn))
        .spiral(radius, 30.0, 1.3, turn > 0.0)
        .through(points)
        .lead_to(Point::new(-500.0, 100.0), Angle::deg(turn))
        .build()
}

fn spots() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec((-4000.0..4000.0f64, -4000.0..4000.0f64).prop_map(|(x, y)| Point::new(x, y)), 0..6)
}

proptest! {
    #[test]
    fn a_step_along_never_goes_further_than_its_length(
        straight in 0.0..1000.0f64, radius in 30.0..800.0f64, turn in -300.0..300.0f64, points in spots(),
    ) {
        let curve = mixed(straight, radius, turn, &points);
        let step = 2.0;
        let count = (curve.length() / step) as usize;
        let mut last = curve.at(0.0).0;
        for (i, (p, t)) in curve.positions(count, 0.0, step).enumerate().skip(1) {
            let went = p.minus(last).length();
            prop_assert!(went <= step + 1e-6, "went {went}");
            prop_assert!((t.length() - 1.0).abs() < 1e-9);
            // The chord of a bend k is shorter than the step by k^2 step^3 / 24.
            let s = i as f64 * step;
            let bend = [s - step, s - 0.5 * step, s].map(|s| curve.curvature(s).abs());
            let bend = bend.into_iter().fold(0.0, f64::max);
            if bend < 0.01 {
                prop_assert!(went >= step * (1.0 - 1e-3), "went {went} of {step} at bend {bend}");
            }
            last = p;
        }
    }

    #[test]
    fn a_mirrored_turned_and_shifted_path_is_the_same_path(
        straight in 0.0..1000.0f64, radius in 30.0..800.0f64, turn in -300.0..300.0f64, points in spots(),
        heading in 0.0..360.0f64, east in -1e5..1e5f64,
    ) {
        let curve = mixed(straight, radius, turn, &points);
        let flip: Vec<Point> = points.iter().map(|p| Point::new(p.x, -p.y)).collect();
        let mirrored = origin()
            .straight(straight)
            .arc(radius, Angle::deg(-turn))
            .spiral(radius, 30.0, 1.3, turn <= 0.0)
            .through(&flip)
            .lead_to(Point::new(-500.0, -100.0), Angle::deg(-turn))
            .build();
        let (sin, cos) = Angle::deg(heading).sin_cos();
        let put = |p: Point| Point::new(east + cos * p.x - sin * p.y, sin * p.x + cos * p.y);
        let moved: Vec<Point> = points.iter().map(|p| put(*p)).collect();
        let turned = CurveBuilder::start(put(Point::new(0.0, 0.0)), Angle::deg(heading))
            .straight(straight)
            .arc(radius, Angle::deg(turn))
            .spiral(radius, 30.0, 1.3, turn > 0.0)
            .through(&moved)
            .lead_to(put(Point::new(-500.0, 100.0)), Angle::deg(turn + heading))
            .build();
        prop_assert!((curve.length() - mirrored.length()).abs() < 1e-4);
        prop_assert!((curve.length() - turned.length()).abs() < 1e-4);
        for i in 0..50 {
            let s = curve.length() * f64::from(i) / 50.0;
            let (p, m, t) = (curve.at(s).0, mirrored.at(s).0, turned.at(s).0);
            prop_assert!(close(m, Point::new(p.x, -p.y), 1e-4));
            prop_assert!(close(t, put(p), 1e-4));
        }
    }

    #[test]
    fn whatever_goes_in_only_finite_places_come_out(
        numbers in prop::collection::vec(prop_oneof![
            Just(0.0), Just(1e7), Just(-1e7), Just(1e300), Just(f64::NAN), Just(f64::INFINITY), Just(1e-300),
            -1e7..1e7f64, -100.0..100.0f64,
        ], 12),
    ) {
        let n = &numbers;
        let curve = CurveBuilder::start(Point::new(n[0], n[1]), Angle::deg(n[2]))
            .straight(n[3])
            .arc(n[4], Angle::deg(n[5]))
            .spiral(n[6], n[7], n[8], n[9] > 0.0)
            .through(&[Point::new(n[10], n[11]), Point::new(n[11], n[3])])
            .lead_to(Point::new(n[8], n[4]), Angle::deg(n[6]))
            .build();
        prop_assert!(curve.length().is_finite() && curve.length() >= 0.0);
        for i in 0..=20 {
            let s = curve.length() * f64::from(i) / 20.0;
            let (p, t) = curve.at(s);
            prop_assert!(p.x.is_finite() && p.y.is_finite() && t.x.is_finite() && t.y.is_finite(), "{s}");
            prop_assert!(curve.curvature(s).is_finite());
        }
    }
}

/// Around a corner to a place close behind it: the last point turns for both sides, so that nowhere is it tighter than a
/// circle of a third of the shorter way. Left to itself the path would set out for the target from the corner only.
#[test]
fn a_curve_through_a_corner_goes_on_to_its_target_without_a_kink() {
    let corner = [Point::new(0.0, 700.0)];
    let (target, east) = (Point::new(200.0, 700.0), Angle::ZERO);
    let north = || CurveBuilder::start(Point::new(0.0, 0.0), Angle::deg(90.0));
    let radius = |path: CurveBuilder| 1.0 / path.build().tightest(1.0).1.abs();
    let tightest = radius(north().through_to(&corner, target, east));
    let kinked = radius(north().through(&corner).lead_to(target, east));
    assert!(tightest > 66.0, "a radius of {tightest} mm");
    assert!(kinked < tightest / 2.0, "{kinked} mm against {tightest} mm");
    // Without points it is the last leg alone, and a point at the target is no point of its own.
    let alone = north().lead_to(target, east).build();
    assert_eq!(north().through_to(&[], target, east).build(), alone);
    let (end, along) = north().through_to(&[corner[0], target], target, east).build().end();
    assert!(end.minus(target).length() < 1e-6 && along.y.abs() < 1e-6, "{end:?} {along:?}");
}
