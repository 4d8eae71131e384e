//! What flies out of curves: as far as measured, against a search over all pairs, and in touches and falls.

mod common;

use common::*;
use fall::law::Reach;
use fall::{Ask, Built, Network, run, run_outs, touch};
use geometry::Point;
use placement::Placement;
use plan::*;
use units::{Angle, Duration, Length, maths};

/// A line that runs east, turns to the left by `turn` degrees about (0, radius), and runs on; friction and clear gap.
fn curve(mu: f64, gap: f64, radius: f64, turn: f64) -> Plan {
    let mut plan = plan(mu);
    line(&mut plan, gap, radius, turn, 0.0);
    plan
}

const LEAD: f64 = 300.0;

fn line(plan: &mut Plan, gap: f64, radius: f64, turn: f64, y: f64) -> ItemId {
    let straight = Leg::Straight { length: Length::mm(LEAD) };
    let arc = Leg::Arc { radius: Length::mm(radius), turn: Angle::deg(turn) };
    let path =
        if turn == 0.0 { vec![straight.clone(), straight] } else { vec![straight.clone(), arc, straight] };
    put(plan, -LEAD, y, 0.0, Body::Line(line_of(gap, path)))
}

fn line_of(gap: f64, path: Vec<Leg>) -> Line {
    Line { spacing: Spacing::Gap { gap: Length::mm(gap) }, ..Line::plain(KindId(1), ColourId(1), path) }
}

/// A piece by itself outside of the curve, half-way round a turn by `turn`, its near face so far beyond the outer edge of the
/// line; it faces away.
fn outside(plan: &mut Plan, radius: f64, turn: f64, beyond: f64) {
    let out = turn / 2.0 - 90.0;
    let (s, c) = Angle::deg(out).sin_cos();
    let far = radius + 12.0 + beyond + 3.75;
    piece(plan, far * c, radius + far * s, out);
}

/// What a touch at the line's first piece takes of the plan.
fn taken(plan: &Plan) -> u32 {
    touch(plan, &network(plan), &Built::default()).forward[0]
}

/// `line_end.csv`: own runs of rigid bodies (rapier3d 0.36.1), the worst of eight lines each.
#[test]
fn what_stands_where_a_measured_curve_threw_pieces_counts_in_a_touch_and_nothing_farther_out() {
    let rows = rows(include_str!("data/transfers/line_end.csv"));
    let mut curves = 0;
    for r in &rows {
        let Some((turn, radius)) = r[0].strip_prefix("curve").and_then(|c| c.split_once("_R")) else {
            continue;
        };
        let (turn, radius): (f64, f64) = (turn.parse().unwrap(), radius.parse().unwrap());
        let (mu, gap, measured) = (num(r, 1), num(r, 2), num(r, 9));
        let asked = |beyond: f64| {
            let mut plan = curve(mu, gap, radius, turn);
            let alone = network(&plan).pieces();
            outside(&mut plan, radius, turn, beyond);
            (taken(&plan), alone)
        };
        let (near, alone) = asked(measured - 1.0);
        assert_eq!(near, alone + 1, "{r:?}");
        // The next measured radius may be worse than this one, so what is told is the limit.
        let told = Reach::new(mu, 1.0).outside(radius);
        assert!(told >= measured, "{r:?}");
        // Pieces that are abreast of it by a corner are turned against it, and see it nearer by so much.
        let far = radius + told + 16.0;
        let turned = maths::atan2((gap + 7.5) / 2.0 + 12.0, far);
        let nearer = far * (1.0 - maths::cos(turned)) + 12.0 * maths::sin(turned);
        assert_eq!(asked(told + nearer + 1.0).0, alone, "{r:?}");
        curves += 1;
    }
    assert_eq!(curves, 24);
}

/// What is kept of a network is searched again once a piece came within reach.
#[test]
fn what_a_network_keeps_of_it_is_that_of_the_plan_after_a_change() {
    let mut plan = curve(0.15, 7.5, 100.0, 90.0);
    let mut kept = network(&plan);
    assert!(kept.thrown(&plan).is_empty());
    outside(&mut plan, 100.0, 90.0, 20.0);
    kept.update(&plan, &Placement::of(&plan));
    assert!(!kept.thrown(&plan).is_empty());
    assert_eq!(kept.thrown(&plan), run_outs(&plan, &network(&plan)));
}

/// Nothing flies to the inside of a curve, nor from a straight line.
#[test]
fn the_inside_of_a_curve_and_the_side_of_a_straight_line_are_safe() {
    let mut plan = curve(0.15, 7.5, 100.0, 90.0);
    let alone = network(&plan).pieces();
    piece(&mut plan, 30.0, 70.0, -45.0);
    assert_eq!(taken(&plan), alone);
    let mut plan = common::plan(0.15);
    line(&mut plan, 7.5, 0.0, 0.0, 0.0);
    piece(&mut plan, 0.0, -30.0, 0.0);
    assert!(run_outs(&plan, &network(&plan)).is_empty());
}

/// A fixed block between the curve and a piece keeps it up.
#[test]
fn a_fixed_stopper_shields_what_stands_outside() {
    let mut plan = curve(0.15, 7.5, 60.0, 90.0);
    let alone = network(&plan).pieces();
    outside(&mut plan, 60.0, 90.0, 60.0);
    assert_eq!(taken(&plan), alone + 1);
    let (s, c) = Angle::deg(-45.0).sin_cos();
    let wall = Stopper {
        thickness: Length::mm(10.0),
        width: Length::mm(200.0),
        height: Length::mm(60.0),
        fixed: true,
    };
    put(&mut plan, 90.0 * c, 60.0 + 90.0 * s, -45.0, Body::Stopper(wall));
    assert_eq!(taken(&plan), alone);
}

/// Places and headings of all pieces, by number.
fn poses(placement: &Placement) -> Vec<(Point, f64)> {
    let of = |p: &placement::Placed| {
        let p = &p.pieces;
        (0..p.len()).map(|i| (Point::new(p.x[i], p.y[i]), f64::from(p.yaw[i]))).collect::<Vec<_>>()
    };
    placement.items().iter().flat_map(of).collect()
}

/// All pairs, by the corners of the pieces; pieces by themselves beside one curved line.
fn by_pairs(placement: &Placement, line: usize, mu: f64) -> Vec<(u32, u32)> {
    let poses = poses(placement);
    let corners = |(p, yaw): (Point, f64)| {
        let (s, c) = (maths::sin(yaw), maths::cos(yaw));
        [(3.75, 12.0), (3.75, -12.0), (-3.75, -12.0), (-3.75, 12.0)]
            .map(|(u, v)| Point::new(p.x + u * c - v * s, p.y + u * s + v * c))
    };
    let turns = |i: usize| i + 1 < line && (poses[i + 1].1 - poses[i].1).abs() > 1e-3;
    // Of the circle through two pieces that are turned against each other.
    let radius = |i: usize| {
        let (a, b) = (poses[i], poses[i + 1]);
        maths::hypot(b.0.x - a.0.x, b.0.y - a.0.y) / (2.0 * maths::sin((b.1 - a.1).abs() / 2.0))
    };
    let mut found = Vec::new();
    for i in 0..line {
        let of = |k: usize| if turns(k) { radius(k) } else { f64::INFINITY };
        let tightest = of(i).min(if i > 0 { of(i - 1) } else { f64::INFINITY });
        let curved = turns(i) || i > 0 && turns(i - 1);
        let before = (i.saturating_sub(14)..i).rev().take(13).any(turns);
        let after = (i..line).take(13).any(turns);
        let (p, yaw) = poses[i];
        let (s, c) = (maths::sin(yaw), maths::cos(yaw));
        for (j, at) in poses.iter().enumerate().skip(line) {
            // It turns to the left: out is on the right.
            let sides: &[f64] = if curved { &[-1.0] } else { &[-1.0, 1.0] };
            for side in sides {
                let out = |q: Point| side * ((q.y - p.y) * c - (q.x - p.x) * s);
                let along = |q: Point| (q.x - p.x) * c + (q.y - p.y) * s;
                let all = corners(*at);
                let near = all.iter().map(|q| out(*q)).fold(f64::INFINITY, f64::min) - 12.0;
                let from = all.iter().map(|q| along(*q)).fold(f64::INFINITY, f64::min);
                let to = all.iter().map(|q| along(*q)).fold(f64::NEG_INFINITY, f64::max);
                let reach = if curved {
                    Reach::new(mu, 1.0).outside(tightest)
                } else {
                    Reach::new(mu, 1.0).run_out()
                };
                let (half, off) = (7.5, 0.05);
                // What lies on the border of all this is left to either.
                if (near - reach).abs() < off
                    || near.abs() < off
                    || (from - half).abs() < off
                    || (to + half).abs() < off
                {
                    continue;
                }
                if near > 0.0 && near < reach && from < half && to > -half {
                    let ways = if curved { [true; 2] } else { [before, after] };
                    let faces = side * (maths::sin(at.1 - yaw));
                    for way in (0..2u32).filter(|w| ways[*w as usize]) {
                        let to = 2 * j as u32 + u32::from(faces < 0.0);
                        found.push((2 * i as u32 + way, to));
                        if faces.abs() < 0.5 {
                            found.push((2 * i as u32 + way, to ^ 1));
                        }
                    }
                }
            }
        }
    }
    found.sort_unstable();
    found
}

#[test]
fn small_plans_agree_with_a_search_over_all_pairs() {
    let mut seed = 7u64;
    let mut random = |n: u64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) % n
    };
    let mut pairs = 0;
    for _ in 0..60 {
        let (mu, radius) = ([0.15, 0.2, 0.3][random(3) as usize], 40.0 + random(120) as f64);
        let mut plan = curve(mu, 7.5, radius, 90.0);
        let line = network(&plan).pieces();
        for _ in 0..12 {
            let (x, y) = (random(400) as f64 - 150.0, random(400) as f64 - 150.0);
            piece(&mut plan, x, y, random(360) as f64);
        }
        let placement = Placement::of(&plan);
        let network = Network::of(&plan, &placement);
        // Only what is not hit by the line: that counts as the line itself.
        let mut hit: Vec<u32> = Vec::new();
        let mut todo: Vec<u32> = (0..2 * line).collect();
        while let Some(s) = todo.pop() {
            for to in network.edges(s).map(|e| e.to).filter(|t| t / 2 >= line) {
                if !hit.contains(&(to / 2)) {
                    hit.push(to / 2);
                    todo.extend([to, to ^ 1]);
                }
            }
        }
        let free = |pair: &(u32, u32)| !hit.contains(&(pair.1 / 2));
        let ours: Vec<_> =
            run_outs(&plan, &network).into_iter().filter(|p| p.0 / 2 < line).filter(free).collect();
        let theirs: Vec<_> = by_pairs(&placement, line as usize, mu).into_iter().filter(free).collect();
        let missing: Vec<_> = theirs.iter().filter(|p| !ours.contains(p)).collect();
        assert!(missing.is_empty(), "radius {radius} mu {mu}: {missing:?}");
        // What lies on a border may be more.
        assert!(ours.len() <= theirs.len() + 4, "radius {radius} mu {mu}: {ours:?} {theirs:?}");
        pairs += theirs.len();
    }
    assert!(pairs > 150, "{pairs}");
}

/// A plan in a mirror has the same run-outs, and so has one that is turned by a quarter and shifted by whole millimetres.
#[test]
fn mirrored_turned_and_shifted_plans_have_the_same_run_outs() {
    let make = |hand: f64, quarter: i32, shift: (f64, f64)| {
        let mut plan = curve(0.15, 7.5, 60.0, hand * 90.0);
        for (x, y, deg) in [(80.0, -20.0, 20.0), (60.0, -40.0, 110.0), (110.0, 40.0, 200.0)] {
            piece(&mut plan, x, hand * y, hand * deg);
        }
        for item in &mut plan.items {
            for _ in 0..quarter {
                item.at = Point::new(-item.at.y, item.at.x);
                item.heading = Angle::deg(item.heading.to_deg() + 90.0);
            }
            item.at = Point::new(item.at.x + shift.0, item.at.y + shift.1);
        }
        run_outs(&plan, &network(&plan))
    };
    let first = make(1.0, 0, (0.0, 0.0));
    assert!(first.len() > 8);
    assert_eq!(first, make(-1.0, 0, (0.0, 0.0)));
    assert_eq!(first, make(1.0, 1, (0.0, 0.0)));
    assert_eq!(first, make(-1.0, 3, (1_000.0, -77.0)));
}

/// A straight line that passes outside of a curve is knocked by it, so it falls surely only when it does so first.
#[test]
fn a_line_outside_of_a_curve_is_sure_only_before_the_curve_falls() {
    let surely = |curve_after: f64, other_after: f64, apart: f64| {
        let mut plan = curve(0.15, 7.5, 60.0, 90.0);
        let own = network(&plan).pieces();
        line(&mut plan, 7.5, 0.0, 0.0, -apart);
        let pieces = network(&plan).pieces();
        for (x, y, after) in [(-LEAD - 20.0, 0.0, curve_after), (-LEAD - 20.0, -apart, other_after)] {
            let body = Start { width: Length::mm(10.0), after: Duration::s(after) };
            put(&mut plan, x, y, 0.0, Body::Start(body));
        }
        let fell = |unsure_passes: bool| {
            let ask = Ask { unsure_passes, ..Ask::default() };
            run(&plan, &network(&plan), &ask, &|_| true).unwrap().fallen
        };
        (fell(false), fell(true), own, pieces)
    };
    let (sure, most, own, all) = surely(0.0, 30.0, 80.0);
    assert!(sure >= own && sure < all && most == all, "{sure} {most} of {all}");
    let (sure, most, _, all) = surely(30.0, 0.0, 80.0);
    assert_eq!((sure, most), (all, all));
    let (sure, most, _, all) = surely(0.0, 30.0, 130.0);
    assert_eq!((sure, most), (all, all));
}

/// `branch.csv`: own runs of rigid bodies (rapier3d 0.36.1), a line that splits in two, one of which goes straight on while the
/// other bends away at once. No straight one stopped and no bent one: what flies out of the bend comes after the wave.
#[test]
fn what_a_branch_throws_comes_too_late_for_the_other_as_measured() {
    let rows = rows(include_str!("data/transfers/branch.csv"));
    let (mut thrown, mut latest) = (0, 0);
    for r in &rows {
        let [mu, gap, radius, turn, apart, runs, straight, bent] =
            [0, 1, 2, 3, 4, 5, 6, 7].map(|i| num(r, i));
        assert_eq!((straight, bent), (runs, runs), "{r:?}");
        let p = gap + 7.5;
        let mut plan = plan(mu);
        let leg = |mm: f64| Leg::Straight { length: Length::mm(mm) };
        let arc = Leg::Arc { radius: Length::mm(radius), turn: Angle::deg(-turn) };
        let rest = 36.0 * p - radius * turn.to_radians();
        let bent = if rest > p { vec![leg(p / 2.0), arc, leg(rest)] } else { vec![leg(p / 2.0), arc] };
        let branches = [
            (-11.5 * p, 0.0, vec![leg(12.0 * p)]),
            (p / 2.0, apart / 2.0, vec![leg(36.0 * p)]),
            (p / 2.0, -apart / 2.0, bent),
        ];
        for (x, y, path) in branches {
            let body = line_of(gap, path);
            put(&mut plan, x, y, 0.0, Body::Line(body));
        }
        put(&mut plan, -11.5 * p, 0.0, 0.0, start(10.0));
        let network = network(&plan);
        let fell = |unsure_passes: bool| {
            run(&plan, &network, &Ask { unsure_passes, ..Ask::default() }, &|_| true).unwrap()
        };
        let (sure, most) = (fell(false), fell(true));
        assert_eq!((sure.fallen, most.fallen), (network.pieces(), network.pieces()), "{r:?}");
        // What the bend throws at the straight branch was hit by so much before what it may reach.
        for (from, to) in network.thrown(&plan) {
            let (a, b) = (most.hit_us[*from as usize / 2], most.hit_us[*to as usize / 2]);
            if from % 2 == 0 && a < b {
                thrown += 1;
                latest = latest.max(b - a);
            }
        }
    }
    println!("{thrown} {latest}");
    assert_eq!(rows.len(), 48);
    assert!(thrown > 100 && latest > 70_000, "{thrown} thrown, the latest {latest} µs before");
}
