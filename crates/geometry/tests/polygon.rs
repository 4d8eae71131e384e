//! Outlines against closed forms and against plain search.

use geometry::{
    Frame, Point, area, bounding_box, contains, crossing, distance_to, is_simple, meet, overlap_depth,
    signed_area,
};
use proptest::prelude::*;
use units::Angle;

fn points(corners: &[(f64, f64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
}

fn rectangle(x: f64, y: f64, w: f64, h: f64, turn: f64) -> [Point; 4] {
    let f = Frame::new(Point::new(x, y), Angle::deg(turn));
    [f.at(0.0, 0.0), f.at(w, 0.0), f.at(w, h), f.at(0.0, h)]
}

/// Against closed forms: shifted squares, and a square on its corner whose corner reaches in.
#[test]
fn depth_of_overlap_is_that_of_the_closed_form() {
    let square = rectangle(0.0, 0.0, 10.0, 10.0, 0.0);
    assert_eq!(overlap_depth(&square, &rectangle(7.0, 2.0, 10.0, 10.0, 0.0)), 3.0);
    assert_eq!(overlap_depth(&square, &rectangle(10.0, 0.0, 10.0, 10.0, 0.0)), 0.0);
    assert_eq!(overlap_depth(&square, &rectangle(14.0, 0.0, 10.0, 10.0, 0.0)), -4.0);
    let diamond = rectangle(5.0, 9.0, 10.0, 10.0, 45.0);
    assert!((overlap_depth(&square, &diamond) - 1.0).abs() < 1e-12);
    // Their boxes overlap, they do not: only the axes of the diamond tell.
    let beside = rectangle(17.05, 3.0, 10.0, 10.0, 45.0);
    assert!(overlap_depth(&square, &beside) < 0.0 && overlap_depth(&beside, &square) < 0.0);
}

#[test]
fn area_and_inside_of_an_l_are_those_by_hand() {
    let l = points(&[(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (10.0, 10.0), (10.0, 30.0), (0.0, 30.0)]);
    assert_eq!(signed_area(&l), 600.0);
    let back: Vec<Point> = l.iter().rev().copied().collect();
    assert_eq!((signed_area(&back), area(&back)), (-600.0, 600.0));
    for (x, y, inside) in [
        (5.0, 5.0, true),
        (20.0, 20.0, false),
        (10.0, 20.0, true),
        (0.0, 0.0, true),
        (10.0, 10.0, true),
        (-1.0, 10.0, false),
        (5.0, 30.0, true),
        (41.0, 0.0, false),
    ] {
        assert_eq!(contains(&l, Point::new(x, y)), inside, "{x} {y}");
    }
    assert_eq!(distance_to(&l, Point::new(20.0, 14.0)), 4.0);
    assert_eq!(distance_to(&l, Point::new(43.0, -4.0)), 5.0);
    assert_eq!(bounding_box(&l), Some((Point::new(0.0, 0.0), Point::new(40.0, 30.0))));
    assert!(is_simple(&l) && is_simple(&back));
    assert!(!contains(&[], Point::new(0.0, 0.0)) && !is_simple(&[]) && area(&l[..2]) == 0.0);
}

#[test]
fn outlines_that_touch_themselves_are_not_simple() {
    for bad in [
        vec![(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)],
        vec![(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 0.0), (0.0, 10.0)],
        vec![(0.0, 0.0), (10.0, 0.0), (5.0, 0.0), (5.0, 5.0)],
        vec![(0.0, 0.0), (10.0, 0.0)],
        vec![(0.0, 0.0), (10.0, 0.0), (20.0, 0.0)],
        vec![(0.0, 0.0), (f64::NAN, 0.0), (20.0, 9.0)],
    ] {
        assert!(!is_simple(&points(&bad)), "{bad:?}");
    }
    assert!(is_simple(&points(&[(0.0, 0.0), (10.0, 0.0), (10.0, 0.0), (10.0, 9.0), (0.0, 0.0)])));
}

/// A comb of 5 000 long teeth, and the same with one tooth bent into its neighbour.
#[test]
fn ten_thousand_corners_are_looked_through() {
    let mut comb = vec![Point::new(0.0, -10.0)];
    for i in 0..5_000 {
        let x = f64::from(i) * 2.0;
        comb.push(Point::new(x + 1.0, 1e4));
        comb.push(Point::new(x + 2.0, 0.0));
    }
    comb.push(Point::new(1e4, -10.0));
    assert!(is_simple(&comb));
    comb[5_001].x += 3.0;
    assert!(!is_simple(&comb));
}

#[test]
fn straight_pieces_cross_where_they_should() {
    let p = |x, y| Point::new(x, y);
    assert_eq!(crossing(p(0.0, 0.0), p(4.0, 4.0), p(0.0, 4.0), p(4.0, 0.0)), Some(p(2.0, 2.0)));
    assert_eq!(crossing(p(0.0, 0.0), p(1.0, 1.0), p(0.0, 4.0), p(4.0, 0.0)), None);
    assert_eq!(crossing(p(0.0, 0.0), p(4.0, 0.0), p(0.0, 1.0), p(4.0, 1.0)), None);
}

#[test]
fn outlines_meet_without_a_corner_in_the_other() {
    let cross = points(&[(-9.0, 4.0), (9.0, 4.0), (9.0, 5.0), (-9.0, 5.0)]);
    let upright = points(&[(-1.0, 0.0), (1.0, 0.0), (1.0, 8.0), (-1.0, 8.0)]);
    assert!(meet(&cross, &upright) && meet(&upright, &cross));
    let within = points(&[(-0.5, 1.0), (0.5, 1.0), (0.5, 2.0), (-0.5, 2.0)]);
    assert!(meet(&within, &upright) && meet(&upright, &within) && !meet(&within, &cross));
    // In the angle of an L, within the rectangle around it.
    let angle = points(&[(0.0, 0.0), (9.0, 0.0), (9.0, 1.0), (1.0, 1.0), (1.0, 9.0), (0.0, 9.0)]);
    let beside = points(&[(2.0, 2.0), (8.0, 2.0), (8.0, 8.0), (2.0, 8.0)]);
    assert!(!meet(&angle, &beside));
}

proptest! {
    #[test]
    fn simple_is_what_testing_each_side_against_each_other_says(
        corners in prop::collection::vec((-50i32..50, -50i32..50), 3..14),
    ) {
        let outline: Vec<Point> =
            corners.iter().map(|&(x, y)| Point::new(f64::from(x), f64::from(y))).collect();
        let n = outline.len();
        let repeated = (0..n).any(|i| (0..i).any(|j| outline[i] == outline[j]));
        prop_assume!(!repeated);
        let mut simple = signed_area(&outline) != 0.0;
        for i in 0..n {
            for j in i + 2..n {
                if i == 0 && j == n - 1 {
                    continue;
                }
                let (a, b, c, d) = (outline[i], outline[(i + 1) % n], outline[j], outline[(j + 1) % n]);
                let touch = [a, b].iter().any(|p| geometry::distance_to_segment(c, d, *p) < 1e-9)
                    || [c, d].iter().any(|p| geometry::distance_to_segment(a, b, *p) < 1e-9);
                simple &= crossing(a, b, c, d).is_none() && !touch;
            }
            let (one, two) =
                (outline[(i + 1) % n].minus(outline[i]), outline[(i + 2) % n].minus(outline[(i + 1) % n]));
            simple &= !(one.cross(two) == 0.0 && one.dot(two) < 0.0);
        }
        prop_assert_eq!(is_simple(&outline), simple);
    }
}
