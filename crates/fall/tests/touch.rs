//! The touch map against plain searches, closed forms and values that were found apart from the program.

#[path = "common/nets.rs"]
mod nets;

use std::collections::BTreeSet;

use fall::{Graph, TouchMap, touch_graph};
use nets::{Net, Numbers};

/// A search by hand: a set of pieces and nothing else in common with the map.
fn by_hand(first: &[u32], to: &[u32], from: &[u32]) -> u32 {
    let (mut seen, mut pieces) = (vec![false; first.len()], BTreeSet::new());
    let mut stack = from.to_vec();
    while let Some(s) = stack.pop() {
        if !std::mem::replace(&mut seen[s as usize], true) {
            pieces.insert(s / 2);
            stack.extend(&to[first[s as usize] as usize..first[s as usize + 1] as usize]);
        }
    }
    pieces.len() as u32
}

fn map(net: &Net, soft: &[bool]) -> (TouchMap, Vec<u32>, Vec<u32>) {
    let (first, to) = net.rows();
    let stands = vec![true; net.pieces as usize];
    (touch_graph(Graph { first: &first, to: &to }, &stands, soft), first, to)
}

fn check(net: &Net, pieces: impl Iterator<Item = u32>, soft: &[bool]) {
    let (map, first, to) = map(net, soft);
    assert!(map.exact);
    for p in pieces {
        let i = p as usize;
        assert_eq!(map.forward[i], by_hand(&first, &to, &[2 * p]), "piece {p} forward");
        assert_eq!(map.back[i], by_hand(&first, &to, &[2 * p + 1]), "piece {p} back");
        let both = if soft.get(i) == Some(&true) {
            by_hand(&first, &to, &[2 * p, 2 * p + 1])
        } else {
            map.forward[i].max(map.back[i])
        };
        assert_eq!(map.most[i], both, "piece {p} at the most");
    }
}

#[test]
fn every_state_of_random_networks_equals_a_search_by_hand() {
    for seed in 0..600 {
        let pieces = 2 + (seed % 40) as u32;
        let edges = (seed as usize * 7) % (4 * pieces as usize);
        let net = nets::any(pieces, edges, seed);
        check(&net, 0..pieces, &[]);
        // At most 64 pieces are searched one by one, so all these stay exact whatever their chains are like.
        check(&net, 0..pieces, &vec![true; pieces as usize]);
    }
}

#[test]
fn every_piece_of_small_plans_equals_a_search_by_hand() {
    for seed in 0..12 {
        let net = nets::plan_like(600, seed);
        check(&net, 0..net.pieces, &[]);
    }
}

#[test]
fn soft_touches_of_plans_with_splits_and_joins_equal_a_search_by_hand() {
    for seed in 0..12 {
        let mut net = Net::default();
        let trunk = net.line(40).1;
        let (a, b) = (net.line(30 + seed), net.line(50));
        net.both(trunk, a.0);
        net.both(trunk, b.0);
        let last = net.line(20);
        net.both(a.1, last.0);
        net.both(b.1, last.0);
        // A ring at the end and a field beside it.
        net.both(last.1, last.0 + 3);
        let field = net.lanes(4, 9);
        net.both(b.0 + 7, field.0);
        check(&net, 0..net.pieces, &vec![true; net.pieces as usize]);
    }
}

#[test]
fn big_networks_equal_searches_from_two_hundred_states() {
    let net = nets::plan_like(120_000, 5);
    let mut numbers = Numbers(9);
    let picked: Vec<u32> = (0..200).map(|_| numbers.below(net.pieces as usize) as u32).collect();
    check(&net, picked.into_iter(), &[]);
}

#[test]
fn brick_fields_equal_searches_and_the_triangle_is_exact() {
    let mut net = Net::default();
    let feed = net.line(50).1;
    let field = net.brick(41, 40);
    net.both(feed, field.0 + 20);
    let mut numbers = Numbers(3);
    let picked: Vec<u32> = (0..200).map(|_| numbers.below(net.pieces as usize) as u32).collect();
    check(&net, picked.into_iter(), &[]);
    // Pushed at one piece of the first rank, 20 ranks of a shifted field fall as 1 + 2 + … + 20 = 210 (arithmetic).
    let mut field = Net::default();
    let (first, _) = field.brick(41, 20);
    assert_eq!(map(&field, &[]).0.forward[(first + 20) as usize], 210);
}

#[test]
fn where_both_sides_always_fall_the_count_is_the_connected_part() {
    let mut numbers = Numbers(77);
    let mut net = Net { pieces: 400, ..Net::default() };
    let mut root: Vec<usize> = (0..400).collect();
    fn find(root: &mut [usize], mut p: usize) -> usize {
        while root[p] != p {
            root[p] = root[root[p]];
            p = root[p];
        }
        p
    }
    for p in 0..400 {
        net.edges.push((2 * p, 2 * p + 1));
        net.edges.push((2 * p + 1, 2 * p));
    }
    for _ in 0..330 {
        let (a, b) = (numbers.below(400), numbers.below(400));
        net.edges.push((2 * a as u32, 2 * b as u32));
        net.edges.push((2 * b as u32, 2 * a as u32));
        let (a, b) = (find(&mut root, a), find(&mut root, b));
        root[a] = b;
    }
    let map = map(&net, &[]).0;
    for p in 0..400 {
        let own = find(&mut root, p);
        let size = (0..400).filter(|&q| find(&mut root, q) == own).count() as u32;
        assert_eq!((map.forward[p], map.back[p]), (size, size));
    }
}

/// `tests/data/gaps.json`, "reach": directed graphs with what falls after each node, found with another program
/// (networkx) apart from this one.
#[test]
fn reach_equals_the_values_found_with_another_program() {
    let text = include_str!("data/gaps.json");
    let data: serde_json::Value = serde_json::from_str(text).unwrap();
    let cases = data["reach"].as_array().unwrap();
    assert!(cases.len() >= 2);
    for case in cases {
        let number = |v: &serde_json::Value| v.as_u64().unwrap() as u32;
        let mut net = Net { pieces: number(&case["n"]), ..Net::default() };
        for edge in case["edges"].as_array().unwrap() {
            net.edges.push((2 * number(&edge[0]), 2 * number(&edge[1])));
        }
        let falls: Vec<u32> = case["falls"].as_array().unwrap().iter().map(number).collect();
        let map = map(&net, &[]).0;
        assert_eq!(map.forward, falls);
        assert!(map.back.iter().all(|&c| c == 1));
    }
}

#[test]
fn the_worst_come_first_and_every_piece_has_its_class() {
    let mut net = Net::default();
    net.line(1_200);
    net.line(5);
    let map = map(&net, &[]).0;
    assert_eq!(map.worst(2), vec![(0, 1_200), (1_199, 1_200)]);
    assert_eq!(map.worst(0), vec![]);
    assert_eq!(map.classes(), [5, 0, 798, 402, 0]);
    assert_eq!(
        [1, 9, 10, 99, 100, 999, 1_000, 9_999, 10_000].map(fall::touch_class),
        [0, 0, 1, 1, 2, 2, 3, 3, 4]
    );
}

#[test]
fn the_counts_are_the_same_for_any_number_of_threads() {
    let net = nets::plan_like(20_000, 8);
    let one = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| map(&net, &[]).0)
    };
    assert_eq!(one(1), one(2));
    assert_eq!(one(1), one(8));
}

#[test]
fn a_field_too_big_for_columns_says_estimate_and_searches_the_worst() {
    let mut net = Net::default();
    let feed = net.line(200).1;
    let field = net.brick(700, 500);
    net.both(feed, field.0 + 350);
    let (map, first, to) = map(&net, &[]);
    assert!(!map.exact, "350 000 pieces of one touching field are beyond the limit");
    let worst = map.worst(5);
    assert_eq!(worst.len(), 5);
    for (p, count) in worst {
        let hand = by_hand(&first, &to, &[2 * p]).max(by_hand(&first, &to, &[2 * p + 1]));
        assert_eq!(count, hand);
    }
    let mut numbers = Numbers(1);
    let (mut squares, n) = (0.0, 60);
    for _ in 0..n {
        let p = numbers.below(net.pieces as usize);
        let hand = by_hand(&first, &to, &[2 * p as u32]);
        let off = f64::from(map.forward[p]) / f64::from(hand) - 1.0;
        squares += off * off;
    }
    let error = (squares / f64::from(n)).sqrt();
    println!("relative error of the estimate: {:.1} %", 100.0 * error);
    assert!(error < 0.30, "{error}");
}
