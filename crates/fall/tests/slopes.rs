//! Lines that run straight up and down a plank, against runs of rigid bodies under tilted gravity.
//!
//! Source: `data/transfers/ramp.csv`, 198 own runs of 46 pieces of 48 x 24 x 7.5 mm square to a plank (rapier3d 0.36.1, 0.5 ms
//! with 8 iterations). The law is the train of leaning pieces with its gravity tilted, without any fit but one figure for slick
//! floors, which was taken from nine of the rows; the others are held out.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::collections::BTreeMap;

use fall::{Network, Sure, Way};
use geometry::Point;
use placement::Placement;
use plan::*;
use units::{Angle, Length};

/// Thickness of a piece, mm.
const D: f64 = 7.5;

type Row = BTreeMap<String, String>;

fn rows() -> Vec<Row> {
    let path = format!("{}/tests/data/transfers/ramp.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines();
    let names: Vec<&str> = lines.next().unwrap().split(',').collect();
    let row = |l: &str| names.iter().map(|n| (*n).to_owned()).zip(l.split(',').map(str::to_owned)).collect();
    lines.map(row).collect()
}

fn num(r: &Row, key: &str) -> f64 {
    r[key].parse().unwrap_or(f64::NAN)
}

/// A line of pieces along a plank that runs `down` so many degrees, turned on the floor plan by `turn`.
fn line(mu: f64, gap: f64, down: f64, pieces: u32, turn: f64) -> (Plan, Placement, Network) {
    let mut plan = Plan::default();
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    plan.hall.grip = Grip { floor: (mu, mu), piece: (mu, mu) };
    let uphill = Angle::deg(turn + if down > 0.0 { 180.0 } else { 0.0 });
    let corners = [(-50.0, -50.0), (3000.0, -50.0), (3000.0, 50.0), (-50.0, 50.0)];
    let (s, c) = Angle::deg(turn).sin_cos();
    plan.surfaces.push(Surface {
        id: SurfaceId(1),
        name: "Ramp".into(),
        is: SurfaceKind::Plank,
        height: Length::mm(20.0),
        slope: Slope { rise: Angle::deg(down.abs()), uphill },
        outline: corners.map(|(u, v)| Point::new(u * c - v * s, u * s + v * c)).to_vec(),
    });
    let on_plan = f64::from(pieces) * (gap + D) * Angle::deg(down).sin_cos().1;
    let body = Line {
        spacing: Spacing::Gap { gap: Length::mm(gap) },
        ..Line::plain(KindId(1), ColourId(1), vec![Leg::Straight { length: Length::mm(on_plan) }])
    };
    let item = Item::new(ItemId(1), "Line", Point::new(0.0, 0.0), Body::Line(body));
    plan.items.push(Item { heading: Angle::deg(turn), surface: SurfaceId(1), ..item });
    let placement = Placement::of(&plan);
    let network = Network::of(&plan, &placement);
    (plan, placement, network)
}

/// Rows from which the figure for slick floors was taken.
fn is_fitted(r: &Row) -> bool {
    let slope = num(r, "slope_deg_downhill_positive");
    num(r, "mu") == 0.15 && [-3.0, 3.0, 7.0].contains(&slope) && r["start_push"].starts_with("first three")
}

/// How far speeds are off, as shares.
#[derive(Default)]
struct Off {
    rows: usize,
    sum: f64,
    most: f64,
}

impl Off {
    fn add(&mut self, off: f64) {
        self.rows += 1;
        self.sum += off.abs();
        self.most = self.most.max(off.abs());
    }

    fn told(&self, what: &str) -> String {
        let (mean, most) = (100.0 * self.sum / self.rows.max(1) as f64, 100.0 * self.most);
        format!("{what}: {} rows, off {mean:.1} % on the mean, {most:.1} % at most", self.rows)
    }
}

/// Every row within what the network says of it: pieces that tip by themselves, lines that go on or die out after the push,
/// and speeds within 5 % where the hits are sure.
#[test]
fn lines_up_and_down_planks_are_reproduced_within_their_certainty() {
    let (mut fitted, mut held_out, mut unsure) = (Off::default(), Off::default(), Off::default());
    let (mut tipped, mut pushes) = (0, [0; 3]);
    let all = rows();
    assert_eq!(all.len(), 198);
    for r in &all {
        let (mu, gap) = (num(r, "mu"), num(r, "gap_mm"));
        let (slope, n) = (num(r, "slope_deg_downhill_positive"), num(r, "pieces") as u32);
        let text = format!("mu {mu} gap {gap} slope {slope} {}", r["start_push"]);
        let (_, _, network) = line(mu, gap, slope, n, 0.0);
        assert_eq!(network.pieces(), n, "{text}");
        let alone = num(r, "fell_alone_in_0.45_s") as u32;
        assert_eq!((0..n).filter(|p| network.tips(*p).is_some()).count() as u32, alone, "{text}");
        if alone > 0 {
            let way = if slope > 0.0 { Way::Forward } else { Way::Back };
            assert_eq!(network.tips(7), Some(way), "{text}");
            tipped += 1;
            continue;
        }
        let fell = num(r, "fell") as u32;
        if r["start_push"].starts_with("first piece") {
            let next = network.knocked(0, 9.0).next.first().map(|n| n.1);
            match next {
                Some(Sure::Passes) => assert_eq!(fell, n, "{text}"),
                None => assert!(fell < 4, "{text}: {fell} fell"),
                Some(Sure::Unsure) => {}
            }
            pushes[next.map_or(0, |s| 1 + s as usize)] += 1;
        }
        // Whatever goes on runs to the end.
        assert!(fell == n || fell < 4, "{text}");
        let edge = network.edges(2 * (n / 2)).next().unwrap();
        assert_eq!(edge.to, 2 * (n / 2 + 1), "{text}");
        if fell < n {
            continue;
        }
        let off = (gap + D) * 1e3 / f64::from(edge.delay_us) / num(r, "speed_m_s") - 1.0;
        if edge.sure == Sure::Unsure {
            unsure.add(off);
            continue;
        }
        assert!(off.abs() < 0.05, "{text}: {:.1} % off", 100.0 * off);
        if is_fitted(r) { fitted.add(off) } else { held_out.add(off) }
    }
    println!("{}", fitted.told("fitted"));
    println!("{}", held_out.told("held out"));
    println!("{}", unsure.told("unsure"));
    println!(
        "tip by themselves: {tipped}; after one push die out {}, go on {}, unsure {}",
        pushes[0], pushes[1], pushes[2]
    );
    // So few are left open that the law is worth asking.
    assert!(unsure.rows * 20 <= all.len() && pushes[2] <= 4 && pushes[0] >= 5);
}

/// A pitch is measured along the slope, and the foot of each piece stands on the plank (calculated).
#[test]
fn pieces_stand_on_the_plank_a_pitch_apart_along_it() {
    let (plan, placement, _) = line(0.3, 7.5, -8.0, 46, 0.0);
    let p = &placement.items()[0].pieces;
    assert_eq!(p.len(), 46);
    let (sin, cos) = Angle::deg(8.0).sin_cos();
    for i in 0..p.len() {
        assert!((p.x[i] - 15.0 * i as f64 * cos).abs() < 1e-9);
        // The plank is lowest 50 mm before the first piece, and 20 mm high there; a centre is 24 mm above the foot.
        let high = 20.0 + 50.0 * sin / cos + 15.0 * i as f64 * sin + 24.0;
        assert!((f64::from(p.z[i]) - high).abs() < 1e-3, "{} against {high}", p.z[i]);
    }
    let end = placement.ports(&plan, &plan.items[0]).into_iter().find(|p| p.name == "end").unwrap();
    assert!((end.at.x - 46.0 * 15.0 * cos).abs() < 1e-9);
    assert!((end.height - (20.0 + 50.0 * sin / cos + 46.0 * 15.0 * sin)).abs() < 1e-6);
}

/// The same ramp in another direction of the hall has the same hits.
#[test]
fn a_ramp_that_is_turned_falls_the_same() {
    for down in [-5.0, 5.0] {
        let (_, _, east) = line(0.2, 12.0, down, 20, 0.0);
        let (_, _, north) = line(0.2, 12.0, down, 20, 90.0);
        let of = |n: &Network| (0..40).map(|s| n.edges(s).collect::<Vec<_>>()).collect::<Vec<_>>();
        assert_eq!(of(&east), of(&north));
        assert!((east.slope(0) - down).abs() < 1e-6 && (east.slope(1) + down).abs() < 1e-6);
    }
}

/// Nothing was run over the bend between floor and plank, nor across a slope.
#[test]
fn bends_and_slopes_across_the_fall_are_unsure() {
    let (mut plan, _, _) = line(0.3, 7.5, -5.0, 20, 0.0);
    let mut before = plan.items[0].clone();
    (before.id, before.surface) = (ItemId(2), SurfaceId(0));
    before.at = Point::new(-20.0 * 15.0 * Angle::deg(5.0).sin_cos().1, 0.0);
    plan.items.push(before);
    plan.surfaces[0].height = Length::mm(0.0);
    plan.surfaces[0].outline.iter_mut().for_each(|p| p.x += 45.0);
    let network = Network::of(&plan, &Placement::of(&plan));
    let last = 2 * (network.pieces() - 1);
    let bend = network.edges(last).next().expect("the last piece on the floor hits the first on the plank");
    assert_eq!((bend.to, bend.sure), (0, Sure::Unsure));
    assert_eq!(network.edges(last - 2).next().map(|e| e.sure), Some(Sure::Passes));

    let (mut plan, _, _) = line(0.3, 7.5, -5.0, 20, 0.0);
    plan.surfaces[0].slope.uphill = Angle::deg(90.0);
    let network = Network::of(&plan, &Placement::of(&plan));
    assert_eq!(network.edges(10).next().map(|e| e.sure), Some(Sure::Unsure));
}

/// A network that is kept up to date has the hits of one from scratch when a plank is tilted, turned or levelled.
#[test]
fn a_tilted_plank_updates_the_network_as_from_scratch() {
    let (mut plan, mut placement, mut network) = line(0.3, 7.5, -5.0, 46, 0.0);
    for (rise, uphill) in [(3.0, 0.0), (3.0, 180.0), (0.0, 0.0), (7.3, 20.0)] {
        let mut surface = plan.surfaces[0].clone();
        surface.slope = Slope { rise: Angle::deg(rise), uphill: Angle::deg(uphill) };
        let applied = plan.apply(&Command::PutSurface { surface }).unwrap();
        placement.update(&plan, &applied.touched);
        network.update(&plan, &placement);
        let fresh = Network::of(&plan, &Placement::of(&plan));
        assert_eq!(network.pieces(), fresh.pieces());
        for s in 0..2 * fresh.pieces() {
            let of = |n: &Network| n.edges(s).collect::<Vec<_>>();
            assert_eq!(of(&network), of(&fresh), "{rise} {uphill}");
        }
    }
}

/// A gap on a slope: only what follows from the level runs is sure, and that is uphill alone. 82.5 mm surely hold on a floor
/// of 0.3 (`safety_gap.csv`, 40 of 40 runs), 22.5 mm never (0 of 40).
#[test]
fn gaps_on_slopes_hold_surely_uphill_alone() {
    for (slope, count, stopper) in
        [(5.0, 5, false), (-5.0, 5, false), (5.0, 5, true), (0.0, 5, false), (5.0, 1, false)]
    {
        let (mut plan, placement, network) = line(0.3, 7.5, slope, 46, 0.0);
        plan.items[0].gaps.push(SafetyGap { first: 20, count, stopper });
        let seen = fall::openings(&plan, &network, &fall::Built { items: None, gaps_open: true });
        assert_eq!(seen.len(), 2);
        for across in &seen {
            let down = network.slope(across.from);
            let holds = match (count, down) {
                (1, d) if d > 0.0 => fall::Holds::Not,
                (1, _) => fall::Holds::Unsure,
                (_, d) if d > 1e-9 => fall::Holds::Unsure,
                _ => fall::Holds::Surely,
            };
            assert_eq!(across.holds, holds, "slope {slope}, {count} out, stopper {stopper}, falls by {down}");
        }
        assert_eq!(placement.len(), 46);
    }
}

/// So steep that friction hardly holds, what slides downhill is followed farther than on the level (241 mm clear here).
#[test]
fn what_slides_downhill_is_followed_farther_than_on_the_level() {
    for (slope, found) in [(6.0, true), (0.0, false), (-6.0, false)] {
        let (mut plan, _, network) = line(0.15, 7.5, slope, 60, 0.0);
        plan.items[0].gaps.push(SafetyGap { first: 20, count: 17, stopper: false });
        let seen = fall::openings(&plan, &network, &fall::Built { items: None, gaps_open: true });
        assert_eq!(seen.iter().any(|a| a.from == 2 * 19), found, "{slope}");
        assert!(seen.iter().all(|a| a.holds == fall::Holds::Unsure));
    }
}

/// `ramp.csv`: where one push at the first piece died out, the fall is sure of no more than fell, and still told as possible.
#[test]
fn a_start_uphill_is_sure_of_no_more_than_what_fell() {
    let (mut died, mut went) = (0, 0);
    for r in rows().iter().filter(|r| r["start_push"].starts_with("first piece")) {
        let (mu, gap) = (num(r, "mu"), num(r, "gap_mm"));
        let (slope, n) = (num(r, "slope_deg_downhill_positive"), num(r, "pieces") as u32);
        if slope >= 0.0 || num(r, "fell_alone_in_0.45_s") > 0.0 {
            continue;
        }
        let (mut plan, placement, _) = line(mu, gap, slope, n, 0.0);
        let start = Start { width: Length::mm(10.0), after: units::Duration::ZERO };
        let item = Item::new(ItemId(2), "Push", Point::new(-5.0, 0.0), Body::Start(start));
        plan.items.push(Item { surface: SurfaceId(1), ..item });
        let network = Network::of(&plan, &placement);
        assert_eq!(network.starts()[0].states, [0], "slope {slope} gap {gap}");
        let run = |unsure_passes| {
            let ask = fall::Ask { unsure_passes, ..fall::Ask::default() };
            let fall = fall::run(&plan, &network, &ask, &|_| true).unwrap();
            let reached = network.reached(unsure_passes).iter().filter(|r| **r > 0).count() as u32;
            assert_eq!(fall.fallen, reached);
            fall.fallen
        };
        let fell = num(r, "fell") as u32;
        // Hits that are unsure themselves, as of rough pieces up tight gaps, stop what is sure as well.
        assert!(
            run(false) <= fell && run(true) == n,
            "mu {mu} gap {gap} slope {slope}: {} of {fell}",
            run(false)
        );
        if run(false) == n { went += 1 } else { died += 1 }
    }
    // Nine died out in the runs.
    assert!((9..=12).contains(&died) && went >= 24, "{died} {went}");
}

/// Three first pieces pushed together went on in all runs, two were not run.
#[test]
fn three_pushed_together_go_on_uphill() {
    for (pushed, all) in [(1, false), (2, false), (3, true)] {
        let (mut plan, placement, _) = line(0.3, 7.5, -8.0, 46, 0.0);
        for k in 0..pushed {
            let start = Start { width: Length::mm(10.0), after: units::Duration::ZERO };
            let at = Point::new(f64::from(k) * 15.0 * Angle::deg(8.0).sin_cos().1 - 5.0, 0.0);
            let item = Item::new(ItemId(2 + k), format!("Push {k}"), at, Body::Start(start));
            plan.items.push(Item { surface: SurfaceId(1), ..item });
        }
        let network = Network::of(&plan, &placement);
        let ask = fall::Ask { unsure_passes: false, ..fall::Ask::default() };
        let fall = fall::run(&plan, &network, &ask, &|_| true).unwrap();
        assert_eq!(fall.fallen == 46, all, "{pushed} pushed: {} fell", fall.fallen);
    }
}

/// Among many sloping surfaces, in whatever order their numbers stand in the plan, each item lies on its own.
#[test]
fn every_item_finds_its_own_slope_among_many() {
    let (mut plan, _, _) = line(0.3, 7.5, -5.0, 3, 0.0);
    let (surface, item) = (plan.surfaces[0].clone(), plan.items[0].clone());
    (plan.surfaces, plan.items) = (Vec::new(), Vec::new());
    for k in 0..60u32 {
        let number = 1 + k * 37 % 60;
        let slope = Slope { rise: Angle::deg(f64::from(number) / 10.0), uphill: Angle::deg(0.0) };
        plan.surfaces.push(Surface { id: SurfaceId(number), slope, ..surface.clone() });
        plan.items.push(Item { id: ItemId(k + 1), surface: SurfaceId(k + 1), ..item.clone() });
    }
    let network = Network::of(&plan, &Placement::of(&plan));
    for k in 0..60 {
        let first = network.index().first(ItemId(k + 1)).unwrap();
        assert!((network.slope(2 * first) + f64::from(k + 1) / 10.0).abs() < 1e-3, "{k}");
    }
}
