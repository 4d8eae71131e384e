//! Neighbours found through buckets against a plain search.

use geometry::{Buckets, Point};
use proptest::prelude::*;

fn plain(points: &[(f64, f64)], x: f64, y: f64, reach: f64) -> Vec<u32> {
    let near = |p: &(f64, f64)| (p.0 - x) * (p.0 - x) + (p.1 - y) * (p.1 - y) <= reach * reach;
    (0..points.len()).filter(|&i| near(&points[i])).map(|i| i as u32).collect()
}

fn columns(points: &[(f64, f64)]) -> (Vec<f64>, Vec<f64>) {
    points.iter().copied().unzip()
}

proptest! {
    #[test]
    fn neighbours_are_those_of_a_plain_search(
        points in prop::collection::vec(
            prop_oneof![(0.0..300.0f64, 0.0..300.0f64), (-1e7..1e7f64, -1e7..1e7f64), Just((5.0, 5.0))], 0..200),
        reach in 0.0..120.0f64,
        cell in prop_oneof![Just(0.0), 1.0..100.0f64],
    ) {
        let (xs, ys) = columns(&points);
        let buckets = Buckets::new(&xs, &ys, cell);
        let mut pairs = Vec::new();
        for (i, &(x, y)) in points.iter().enumerate() {
            let mut found = Vec::new();
            buckets.near(x, y, reach, |j| found.push(j));
            found.sort_unstable();
            let expected = plain(&points, x, y, reach);
            pairs.extend(expected.iter().filter(|&&j| j > i as u32).map(|&j| (i as u32, j)));
            prop_assert_eq!(found, expected);
        }
        let mut found = Vec::new();
        let whole = buckets.pairs(reach, |i, j| {
            found.push((i, j));
            true
        });
        found.sort_unstable();
        prop_assert!(whole);
        prop_assert_eq!(found, pairs);
    }
}

proptest! {
    #[test]
    fn those_in_a_rectangle_are_those_of_a_plain_search(
        points in prop::collection::vec(
            prop_oneof![(0.0..300.0f64, 0.0..300.0f64), (-1e7..1e7f64, -1e7..1e7f64), Just((5.0, 5.0))], 0..200),
        corner in (-50.0..300.0f64, -50.0..300.0f64),
        size in (-1.0..200.0f64, -1.0..200.0f64),
        cell in prop_oneof![Just(0.0), 1.0..100.0f64],
    ) {
        let (xs, ys) = columns(&points);
        let buckets = Buckets::new(&xs, &ys, cell);
        let (low, high) = (Point::new(corner.0, corner.1), Point::new(corner.0 + size.0, corner.1 + size.1));
        let inside = |p: &(f64, f64)| {
            (low.x..=high.x).contains(&p.0) && (low.y..=high.y).contains(&p.1)
        };
        let expected: Vec<u32> =
            (0..points.len()).filter(|&i| inside(&points[i])).map(|i| i as u32).collect();
        let mut found = Vec::new();
        let whole = buckets.within_while(low, high, |i| {
            found.push(i);
            true
        });
        found.sort_unstable();
        prop_assert!(whole);
        prop_assert_eq!(&found, &expected);
        let mut seen = 0;
        let ended = !buckets.within_while(low, high, |_| { seen += 1; seen < 2 });
        prop_assert_eq!((ended, seen), (expected.len() > 1, expected.len().min(2)));
    }
}

#[test]
fn far_places_and_odd_numbers_cost_no_memory() {
    let xs = [0.0f32, 1e7, -1e7, f32::NAN, 1e30, f32::INFINITY, 3.0];
    let ys = [0.0f32, 1e7, 1e7, 0.0, -1e30, 0.0, 4.0];
    let buckets = Buckets::new(&xs, &ys, 1.0);
    let mut found = Vec::new();
    buckets.near(0.0, 0.0, 5.0, |i| found.push(i));
    found.sort_unstable();
    assert_eq!(found, [0, 6]);
    found.clear();
    buckets.near(1e30, -1e30, 1e25, |i| found.push(i));
    assert_eq!(found, [4]);
    assert_eq!(buckets.len(), 7);
}

#[test]
fn many_in_one_place_can_be_stopped() {
    let same = vec![7.0; 100_000];
    let buckets = Buckets::new(&same, &same, 10.0);
    let mut count = 0;
    let whole = buckets.pairs(1.0, |_, _| {
        count += 1;
        count < 1_000
    });
    assert!(!whole && count == 1_000);
}
