//! Whole falls: triangles in fields, order along lines, reach, sizes, and the same bits for plans that are alike.

mod common;

use common::*;
use fall::{Ask, Network, STANDS_US, run};
use placement::Placement;
use plan::{Item, ItemId, Kind, KindId};
use units::{Angle, Length};

/// 20 x 20 pieces at a gap of 20 mm, 1 mm and 6 mm apart in ranks shifted by half a lane: 210 of 400 in rigid-body runs
/// (`field.csv`), 1 + 2 + … + 20 by counting.
#[test]
fn a_staggered_field_pushed_at_one_piece_fells_the_triangle_of_210() {
    for across in [25.0, 30.0] {
        let mut p = plan(0.3);
        // Ranks run along the fall; every second rank is half a lane over, so lay each rank as its own item.
        for rank in 0..20u32 {
            let shift = if rank % 2 == 1 { across / 2.0 } else { 0.0 };
            put(&mut p, f64::from(rank) * 27.5, shift - 10.0 * across, 0.0, field(21, 1, 27.5, across, 0.0));
        }
        put(&mut p, -27.5, 0.0, 0.0, start(10.0));
        let f = fall(&p);
        assert_eq!(f.fallen, 210, "{across}");
    }
}

#[test]
fn a_field_in_line_pushed_at_one_piece_fells_only_its_lane() {
    let mut p = plan(0.3);
    put(&mut p, 0.0, 0.0, 0.0, field(20, 20, 27.5, 25.0, 0.0));
    put(&mut p, -20.0, 5.0 * 25.0, 0.0, start(10.0));
    let f = fall(&p);
    assert_eq!(f.fallen, 20);
    // A bar over all lanes fells all of them.
    put(&mut p, -20.0, 9.5 * 25.0, 0.0, start(600.0));
    assert_eq!(fall(&p).fallen, 400);
}

#[test]
fn times_grow_along_a_line_and_each_piece_is_felled_by_the_one_before() {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 0.0, field(1, 500, 15.0, 25.0, 0.0));
    put(&mut p, -12.0, 0.0, 0.0, start(10.0));
    let f = fall(&p);
    assert_eq!(f.fallen, 500);
    assert_eq!(f.from[0], u32::MAX);
    for i in 1..500 {
        assert!(f.hit_us[i] > f.hit_us[i - 1]);
        assert_eq!((f.from[i], f.way[i]), (i as u32 - 1, 0));
    }
    // 15 mm pitch at mu 0.2: 1.04 m/s in the model between its rows at 6 and 8 mm (`data/train_speed.csv`).
    let speed = 400.0 * 15.0 / ((f.hit_us[499] - f.hit_us[99]) as f64) * 1e3;
    assert!((speed - 1.038).abs() < 0.01, "{speed}");
}

#[test]
fn a_piece_beyond_reach_is_never_hit() {
    for (gap, hit) in [(47.0, true), (47.5, false), (48.0, false), (60.0, false)] {
        let mut p = plan(0.2);
        piece(&mut p, 0.0, 0.0, 0.0);
        piece(&mut p, gap + 7.5, 0.0, 0.0);
        put(&mut p, -10.0, 0.0, 0.0, start(10.0));
        assert_eq!(fall(&p).fallen == 2, hit, "{gap}");
    }
}

#[test]
fn doubled_sizes_double_nothing_but_times_by_the_square_root_of_two() {
    let times = |k: f64| {
        let mut p = plan(0.2);
        let mut kind = Kind::usual(KindId(2));
        (kind.height, kind.width, kind.thickness) =
            (Length::mm(48.0 * k), Length::mm(24.0 * k), Length::mm(7.5 * k));
        p.stock.kinds.push(kind);
        put(&mut p, 0.0, 0.0, 30.0, field_of(KindId(2), 3, 200, 20.0 * k, 26.0 * k, 0.0));
        put(&mut p, 0.0, 0.0, 30.0, start(10.0));
        fall(&p).hit_us
    };
    let (one, two) = (times(1.0), times(2.0));
    assert!(one.iter().filter(|t| **t < STANDS_US).count() == 200);
    for (a, b) in one.iter().zip(&two).filter(|(a, _)| **a < STANDS_US && **a > 0) {
        assert!((*b as f64 / *a as f64 - 2.0f64.sqrt()).abs() < 1e-3, "{a} {b}");
    }
}

#[test]
fn the_same_bits_with_one_two_and_eight_threads() {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 12.0, field(60, 90, 15.0, 25.0, 7.5));
    put(&mut p, 400.0, -300.0, 100.0, field(40, 90, 14.0, 26.0, 0.0));
    put(&mut p, 0.0, 0.0, 12.0, start(200.0));
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| {
            let n: Network = network(&p);
            let edges: Vec<_> = (0..2 * n.pieces()).map(|s| n.edges(s).collect::<Vec<_>>()).collect();
            let f = run(&p, &n, &Ask { seed: Some(7), ..Ask::default() }, &|_| true).unwrap();
            (edges, f)
        })
    };
    let one = with(1);
    assert!(one.1.fallen > 100);
    assert_eq!(one, with(2));
    assert_eq!(one, with(8));
}

/// Turned by quarter turns, mirrored (about an axis, with lanes renumbered) and shifted by whole millimetres.
#[test]
fn turned_mirrored_and_shifted_plans_fall_in_the_same_microseconds() {
    let place = |turn: f64, mirror: bool, east: f64, north: f64| {
        let mut p = plan(0.2);
        let m = if mirror { -1.0 } else { 1.0 };
        let mut at = |u: f64, v: f64, a: f64, body| {
            let v = m * v;
            let (s, c) = units::Angle::deg(turn).sin_cos();
            put(&mut p, east + u * c - v * s, north + u * s + v * c, turn + m * a, body)
        };
        // A line of single pieces that bends, splits in two and runs into the side of another.
        let (mut u, mut v, mut a) = (0.0f64, 0.0f64, 0.0f64);
        for i in 0..60 {
            at(u, v, a, field(1, 1, 15.0, 25.0, 0.0));
            if (10..30).contains(&i) {
                a += 4.5;
            }
            let (s, c) = units::Angle::deg(a).sin_cos();
            (u, v) = (u + 16.0 * c, v + 16.0 * s);
        }
        for k in 0..8 {
            for side in [-15.0, 15.0] {
                at(u + side, v + 16.0 * f64::from(k), a, field(1, 1, 15.0, 25.0, 0.0));
            }
        }
        at(-10.0, 0.0, 0.0, start(10.0));
        let f = fall(&p);
        (f.hit_us, f.from, f.way)
    };
    let plain = place(0.0, false, 0.0, 0.0);
    assert!(plain.0.iter().all(|t| *t < STANDS_US), "{plain:?}");
    for turn in [0.0, 90.0, 180.0, 270.0] {
        for mirror in [false, true] {
            for (east, north) in [(0.0, 0.0), (12_345.0, -678.0)] {
                assert_eq!(place(turn, mirror, east, north), plain, "{turn} {mirror} {east}");
            }
        }
    }
}

#[test]
fn an_update_gives_what_a_new_network_gives() {
    let mut p = plan(0.2);
    for i in 0..6 {
        put(&mut p, f64::from(i) * 310.0, 0.0, 0.0, field(10, 20, 15.0, 25.0, 0.0));
    }
    put(&mut p, -10.0, 112.0, 0.0, start(300.0));
    let mut placement = Placement::of(&p);
    let mut n = Network::of(&p, &placement);
    assert_eq!(run(&p, &n, &Ask::default(), &|_| true).unwrap().fallen, 1200);
    let mut commands = Vec::new();
    for (id, east) in [(3u32, 40.0), (5, -7.0), (3, 0.0)] {
        let at = geometry::Point::new(f64::from(id - 1) * 310.0 + east, 0.0);
        commands.push(plan::Command::MoveItem { id: ItemId(id), at, heading: Angle::ZERO });
    }
    let second = p.item(ItemId(2)).unwrap().clone();
    let added = Item { id: ItemId(p.fresh_id().max(20)), at: geometry::Point::new(2.0, 260.0), ..second };
    commands.push(plan::Command::RemoveItem { id: ItemId(2) });
    commands.push(plan::Command::PutItem { item: Box::new(added) });
    commands.push(plan::Command::MoveItem {
        id: ItemId(4),
        at: geometry::Point::new(310.0, 3.0),
        heading: Angle::ZERO,
    });
    for command in commands {
        let applied = p.apply(&command).unwrap();
        placement.update(&p, &applied.touched);
        n.update(&p, &placement);
        let fresh = Network::of(&p, &placement);
        assert_eq!(n.pieces(), fresh.pieces());
        for s in 0..2 * n.pieces() {
            assert!(n.edges(s).eq(fresh.edges(s)), "{s} after {command:?}");
        }
        assert_eq!(n.starts(), fresh.starts());
    }
}

/// The same pieces as one item and as an item each must fell the same: the two are searched in different ways.
#[test]
fn one_item_and_an_item_for_each_piece_have_the_same_edges() {
    let mut one = plan(0.2);
    put(&mut one, 0.0, 0.0, 0.0, field(5, 12, 15.0, 25.0, 7.5));
    let mut each = plan(0.2);
    for lane in 0..5 {
        for rank in 0..12 {
            let x = f64::from(rank) * 15.0 + if lane % 2 == 1 { 7.5 } else { 0.0 };
            piece(&mut each, x, f64::from(lane) * 25.0, 0.0);
        }
    }
    let (a, b) = (network(&one), network(&each));
    for s in 0..2 * a.pieces() {
        let mut ea: Vec<_> = a.edges(s).map(|e| (e.to, e.delay_us)).collect();
        let mut eb: Vec<_> = b.edges(s).map(|e| (e.to, e.delay_us)).collect();
        ea.sort_unstable();
        eb.sort_unstable();
        assert_eq!(ea, eb, "{s}");
    }
}

/// Edges of small random plans against every pair and triple of their pieces taken alone: an edge of the whole is one
/// of the pair, and one that is missing is hidden by some third piece.
#[test]
fn small_random_plans_agree_with_a_search_over_all_pairs() {
    let mut seed = 7u64;
    let mut next = |most: f64| {
        seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (seed >> 33) as f64 / (1u64 << 31) as f64 * most
    };
    let mut edges = 0;
    for _ in 0..16 {
        let at: Vec<(f64, f64, f64)> = (0..9)
            .map(|_| (next(110.0), next(70.0), (next(8.0).floor() * 45.0 + next(40.0) - 20.0)))
            .collect();
        let of = |which: &[usize]| {
            let mut p = plan(0.3);
            which.iter().for_each(|i| {
                piece(&mut p, at[*i].0, at[*i].1, at[*i].2);
            });
            let n = network(&p);
            let all = (0..2 * n.pieces()).map(|s| n.edges(s).map(|e| e.to).collect::<Vec<_>>());
            all.collect::<Vec<_>>()
        };
        let whole = of(&(0..9).collect::<Vec<_>>());
        for i in 0..9 {
            for j in (0..9).filter(|j| *j != i) {
                let pair = of(&[i, j]);
                for way in 0..2 {
                    let in_pair = pair[way].iter().map(|t| t % 2).next();
                    let in_whole = whole[2 * i + way].iter().find(|t| **t as usize / 2 == j).map(|t| t % 2);
                    edges += u32::from(in_whole.is_some());
                    if in_pair != in_whole {
                        assert!(in_whole.is_none(), "{i} {j} {way}");
                        let hidden = (0..9)
                            .filter(|k| *k != i && *k != j)
                            .any(|k| !of(&[i, j, k])[way].iter().any(|t| *t / 2 == 1));
                        // Two others together may hide what neither hides alone.
                        let mut together = false;
                        for k in (0..9).filter(|k| *k != i && *k != j) {
                            for l in (k + 1..9).filter(|l| *l != i && *l != j) {
                                together |= !of(&[i, j, k, l])[way].iter().any(|t| *t / 2 == 1);
                            }
                        }
                        assert!(hidden || together, "{i} {j} {way}");
                    }
                }
            }
        }
    }
    assert!(edges > 40, "{edges}");
}

/// What chains of hits reach, found forward with a stack and, apart from that, by sweeping over all edges until
/// nothing changes; and what the wave leaves standing is what neither reaches.
#[test]
fn two_ways_of_finding_what_is_reached_agree_on_the_unfed_parts() {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 0.0, field(30, 40, 15.0, 25.0, 0.0));
    put(&mut p, 620.0, 100.0, 5.0, field(10, 40, 15.0, 25.0, 7.5));
    put(&mut p, 0.0, 900.0, 0.0, field(10, 40, 15.0, 25.0, 0.0));
    put(&mut p, -10.0, 200.0, 0.0, start(300.0));
    let n = network(&p);
    let reached = n.reached(true);
    let mut sweep = vec![0u8; reached.len()];
    n.starts().iter().flat_map(|s| &s.states).for_each(|s| sweep[*s as usize] = 1);
    loop {
        let before = sweep.clone();
        for s in (0..sweep.len() as u32).rev().filter(|s| before[*s as usize] == 1) {
            n.edges(s).for_each(|e| sweep[e.to as usize] = 1);
        }
        if sweep == before {
            break;
        }
    }
    assert_eq!(reached, sweep);
    let f = fall(&p);
    for i in 0..n.pieces() as usize {
        let any = reached[2 * i] + reached[2 * i + 1] > 0;
        assert_eq!(any, f.hit_us[i] != STANDS_US, "{i}");
    }
    assert!(f.fallen > 400 && f.fallen < n.pieces());
}
