//! Feeds stand as they were measured, on either side, at any heading and at either edge.
//!
//! Source of what is called measured: own rigid-body runs (rapier3d 0.36.1, pieces of 48 x 24 x 7.5 mm), whose geometry
//! `src/feed_ways.rs` describes and whose counts `src/feed_measured.rs` holds; not measured on real pieces.

use geometry::Point;
use placement::{Placement, feed_ways, ports};
use plan::*;
use units::{Angle, Length};

fn plan_with(lanes: u32, across: f64, heading: f64, way: FeedWay, course: LaneCourse, far: bool) -> Plan {
    let mut plan = Plan::default();
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    let frame = FieldFrame { course, ..FieldFrame::new(lanes, 4, Length::mm(15.0), Length::mm(across)) };
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![1; frame.len()].into();
    let item = |id, name: &str, heading, body| Item {
        heading: Angle::deg(heading),
        ..Item::new(ItemId(id), name, Point::new(1000.0, 500.0), body)
    };
    let feed = Feed { of: ItemId(1), way, kind: KindId(1), colour: ColourId(1), pitch: Length::mm(15.0) };
    plan.items = vec![
        item(1, "Mill", heading, Body::Field(field)),
        item(2, "Feed", heading + if far { 180.0 } else { 0.0 }, Body::Feed(feed)),
    ];
    plan
}

/// (lane, rank, x, y, degrees) of the feed's pieces for a field that falls north from (1000, 500).
fn spots(plan: &Plan) -> Vec<(u32, u32, f64, f64, f64)> {
    let placement = Placement::of(plan);
    let Some(placed) = placement.item(ItemId(2)) else { return Vec::new() };
    let p = &placed.pieces;
    let deg = |r: f32| f64::from(r).to_degrees().rem_euclid(360.0);
    (0..p.len()).map(|i| (p.lane[i], p.rank[i], p.x[i] - 1000.0, p.y[i] - 500.0, deg(p.yaw[i]))).collect()
}

fn mm(v: f64) -> Length {
    Length::mm(v)
}

fn left_ways() -> Vec<(f64, FeedWay)> {
    let side = Hand::Left;
    vec![
        (25.0, FeedWay::Brick { enter: Enter::Middle }),
        (25.0, FeedWay::Brick { enter: Enter::Left }),
        (38.5, FeedWay::Beside { side, turn: Angle::deg(45.0), gap: mm(16.0), poke: mm(6.0) }),
        (38.5, FeedWay::Beside { side, turn: Angle::deg(30.0), gap: mm(16.0), poke: mm(6.0) }),
        (27.2, FeedWay::Angled { side, turn: Angle::deg(45.0), poke: mm(6.0) }),
        (25.0, FeedWay::Angled { side, turn: Angle::deg(30.0), poke: mm(6.0) }),
        (35.8, FeedWay::InLine { side, turn: Angle::deg(45.0), clear: mm(3.0) }),
        (32.0, FeedWay::InLine { side, turn: Angle::deg(30.0), clear: mm(3.0) }),
        (25.0, FeedWay::Echelon { side, turn: Angle::deg(50.0) }),
        (25.0, FeedWay::HalfShift { side }),
    ]
}

fn right(way: FeedWay) -> FeedWay {
    let side = Hand::Right;
    match way {
        FeedWay::Brick { enter: Enter::Left } => FeedWay::Brick { enter: Enter::Right },
        FeedWay::Brick { enter } => FeedWay::Brick { enter },
        FeedWay::Beside { turn, gap, poke, .. } => FeedWay::Beside { side, turn, gap, poke },
        FeedWay::Angled { turn, poke, .. } => FeedWay::Angled { side, turn, poke },
        FeedWay::InLine { turn, clear, .. } => FeedWay::InLine { side, turn, clear },
        FeedWay::Echelon { turn, .. } => FeedWay::Echelon { side, turn },
        FeedWay::HalfShift { .. } => FeedWay::HalfShift { side },
    }
}

fn corners(x: f64, y: f64, deg: f64) -> [(f64, f64); 4] {
    let (s, c) = Angle::deg(deg).sin_cos();
    [(3.75, 12.0), (3.75, -12.0), (-3.75, -12.0), (-3.75, 12.0)]
        .map(|(u, v)| (x + u * c - v * s, y + u * s + v * c))
}

fn gap(a: &[(f64, f64); 4], b: &[(f64, f64); 4]) -> f64 {
    let mut widest = f64::NEG_INFINITY;
    for shape in [a, b] {
        for i in 0..2 {
            let (ex, ey) = (shape[i + 1].0 - shape[i].0, shape[i + 1].1 - shape[i].1);
            let n = (ex * ex + ey * ey).sqrt();
            let on = |s: &[(f64, f64); 4]| {
                s.iter()
                    .map(|c| (c.0 * ey - c.1 * ex) / n)
                    .fold((1e9, -1e9), |m: (f64, f64), v| (m.0.min(v), m.1.max(v)))
            };
            let (p, q) = (on(a), on(b));
            widest = widest.max(q.0 - p.1).max(p.0 - q.1);
        }
    }
    widest
}

/// Nothing stands in anything else: every pair within the feed and between feed and field keeps at least 0.4 mm. The
/// measured scenes kept 0.5 mm wherever they were searched.
#[test]
fn no_piece_of_a_feed_stands_in_another() {
    for (across, way) in left_ways() {
        let plan = plan_with(5, across, 90.0, way, LaneCourse::Together, false);
        let placement = Placement::of(&plan);
        let all: Vec<_> = placement
            .items()
            .iter()
            .flat_map(|i| (0..i.pieces.len()).map(|j| (&i.pieces, j)).collect::<Vec<_>>())
            .map(|(p, j)| corners(p.x[j], p.y[j], f64::from(p.yaw[j]).to_degrees()))
            .collect();
        assert!(all.len() > 20 + 4, "{way:?} placed nothing");
        for i in 0..all.len() {
            for j in 0..i {
                assert!(
                    gap(&all[i], &all[j]) > 0.4,
                    "{way:?}: {i} and {j} are {} mm apart",
                    gap(&all[i], &all[j])
                );
            }
        }
    }
}

/// Lanes start 13.50, 16.00 and 16.75 mm off the axis in the measured scenes (own rigid-body runs, rapier3d 0.36.1).
#[test]
fn a_lane_beside_a_turned_piece_in_the_line_starts_where_it_was_measured() {
    for (turn, clear, across, wanted) in
        [(45.0, 3.0, 35.8, 13.5), (30.0, 3.0, 32.0, 16.0), (45.0, 0.5, 30.8, 16.75)]
    {
        let way = FeedWay::InLine { side: Hand::Left, turn: Angle::deg(turn), clear: mm(clear) };
        let s = spots(&plan_with(3, across, 90.0, way, LaneCourse::Together, false));
        let lane: Vec<_> = s.iter().filter(|p| p.0 == 2).collect();
        assert!((lane[1].3 - lane[0].3 - wanted).abs() < 1e-9, "{turn} {clear}: {}", lane[1].3 - lane[0].3);
    }
}

/// The line's axis is 12 - 6 mm from the corner of each turned piece, and that corner is in the middle of a gap of 16.
#[test]
fn the_corner_of_a_piece_beside_the_line_pokes_into_the_middle_of_its_gap() {
    let way = FeedWay::Beside { side: Hand::Left, turn: Angle::deg(45.0), gap: mm(16.0), poke: mm(6.0) };
    let s = spots(&plan_with(3, 38.5, 90.0, way, LaneCourse::Together, false));
    let line: Vec<_> = s.iter().filter(|p| p.0 == 0).collect();
    for lane in 1..=3 {
        let t = s.iter().find(|p| p.0 == lane && p.1 == 0).unwrap();
        let corner = corners(t.2, t.3, t.4).into_iter().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
        assert!((corner.1 - line[0].3 - 6.0).abs() < 1e-4, "{}", corner.1 - line[0].3);
        let before = line.iter().filter(|l| l.2 < corner.0).map(|l| l.2 + 3.75).fold(f64::MIN, f64::max);
        let after = line.iter().filter(|l| l.2 > corner.0).map(|l| l.2 - 3.75).fold(f64::MAX, f64::min);
        assert!((after - before - 16.0).abs() < 1e-4 && (after + before - 2.0 * corner.0).abs() < 1e-4);
    }
}

/// 10 brick ranks fed 5 lanes from an end; from the end the ranks here are 9, as the field's own first rank is the tenth.
#[test]
fn brick_ranks_are_two_for_each_lane_to_a_side_and_one_more() {
    let way = FeedWay::Brick { enter: Enter::Right };
    let s = spots(&plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false));
    assert_eq!(s.iter().map(|p| p.1).max(), Some(9));
    let middle = spots(&plan_with(
        5,
        25.0,
        90.0,
        FeedWay::Brick { enter: Enter::Middle },
        LaneCourse::Together,
        false,
    ));
    assert_eq!(middle.iter().map(|p| p.1).max(), Some(5));
    // The rank before the field is half a lane over, the one before that stands on the lanes.
    for p in s.iter().filter(|p| p.1 >= 1) {
        let over = ((p.2 / 25.0).rem_euclid(1.0) - 0.5).abs() < 1e-6;
        assert_eq!(over, p.1 % 2 == 1, "{p:?}");
    }
}

/// A line from the right makes the mirror image of a line from the left.
#[test]
fn a_feed_from_the_right_mirrors_one_from_the_left() {
    for (across, way) in left_ways() {
        let left = spots(&plan_with(4, across, 90.0, way, LaneCourse::Together, false));
        let mirrored = spots(&plan_with(4, across, 90.0, right(way), LaneCourse::Together, false));
        assert_eq!(left.len(), mirrored.len());
        // Lanes lie to the west: the middle of the field is at x = -1.5 pitches.
        let mut a: Vec<_> = left.iter().map(|p| (p.2, p.3, p.4)).collect();
        let mut b: Vec<_> =
            mirrored.iter().map(|p| (-3.0 * across - p.2, p.3, (180.0 - p.4).rem_euclid(360.0))).collect();
        let order = |p: &(f64, f64, f64), q: &(f64, f64, f64)| (p.1, p.0).partial_cmp(&(q.1, q.0)).unwrap();
        let round = |v: &mut Vec<(f64, f64, f64)>| {
            v.iter_mut().for_each(|p| *p = ((p.0 * 1e4).round(), (p.1 * 1e4).round(), (p.2 * 100.0).round()))
        };
        round(&mut a);
        round(&mut b);
        a.sort_by(order);
        b.sort_by(order);
        for (p, q) in a.iter().zip(&b) {
            let turn = (p.2 - q.2 + 18_000.0).rem_euclid(36_000.0) - 18_000.0;
            assert!(
                (p.0 - q.0).abs() < 2.0 && (p.1 - q.1).abs() < 2.0 && turn.abs() < 2.0,
                "{way:?}: {p:?} {q:?}"
            );
        }
    }
}

/// The feed turns with its field, and names are never given twice.
#[test]
fn a_feed_turns_with_its_field_and_every_piece_has_its_own_name() {
    for (across, way) in left_ways() {
        let north = plan_with(5, across, 90.0, way, LaneCourse::Together, false);
        let skew = plan_with(5, across, 123.0, way, LaneCourse::Together, false);
        let (a, b) = (spots(&north), spots(&skew));
        let (s, c) = Angle::deg(33.0).sin_cos();
        for (p, q) in a.iter().zip(&b) {
            let turned = (p.2 * c - p.3 * s, p.2 * s + p.3 * c);
            assert!((turned.0 - q.2).abs() < 1e-6 && (turned.1 - q.3).abs() < 1e-6, "{way:?}");
        }
        assert!(a.windows(2).all(|w| (w[0].0, w[0].1) < (w[1].0, w[1].1)), "{way:?}");
    }
}

/// Lanes 1, 3, 5 ... of a field with opposed lanes begin at the last rank and are fed there, by an item that heads back.
#[test]
fn opposed_lanes_are_fed_at_the_edge_where_they_begin() {
    let way = FeedWay::Beside { side: Hand::Left, turn: Angle::deg(45.0), gap: mm(16.0), poke: mm(6.0) };
    let near = spots(&plan_with(6, 26.0, 90.0, way, LaneCourse::Opposed, false));
    let far = spots(&plan_with(6, 26.0, 90.0, way, LaneCourse::Opposed, true));
    assert!(near.iter().all(|p| p.3 < 0.0) && far.iter().all(|p| p.3 > 45.0));
    let lanes = |s: &[(u32, u32, f64, f64, f64)]| {
        let mut l: Vec<u32> = s.iter().map(|p| p.0).filter(|l| *l > 0).collect();
        l.sort_unstable();
        l.dedup();
        l
    };
    assert_eq!((lanes(&near), lanes(&far)), (vec![1, 3, 5], vec![2, 4, 6]));
}

#[test]
fn the_line_arrives_at_the_first_piece_and_goes_on_behind_the_last() {
    for (across, way) in left_ways() {
        let plan = plan_with(5, across, 90.0, way, LaneCourse::Together, false);
        let places = ports(&plan, &plan.items[1]);
        let goes_on = !matches!(way, FeedWay::Brick { .. } | FeedWay::HalfShift { .. });
        let names: Vec<&str> = places.iter().map(|p| p.name.as_str()).collect();
        assert_eq!(names, if goes_on { vec!["entry", "end"] } else { vec!["entry"] }, "{way:?}");
        let s = spots(&plan);
        assert!(
            s.iter().any(|p| (p.2 + 1000.0 - places[0].at.x).abs() < 1e-9
                && (p.3 + 500.0 - places[0].at.y).abs() < 1e-9)
        );
        if goes_on {
            // 45 mm away at the most from some piece, as the next piece of a line is.
            let near = s
                .iter()
                .map(|p| units::maths::hypot(p.2 + 1000.0 - places[1].at.x, p.3 + 500.0 - places[1].at.y));
            // Behind a turned piece of an echelon it stands 3 mm clear: 12 sin 50° + 3.75 cos 50° + 3 + 3.75 mm, as the first does.
            let next = if matches!(way, FeedWay::Echelon { .. }) { 18.353 } else { 15.0 };
            assert!((near.fold(f64::MAX, f64::min) - next).abs() < 1e-3, "{way:?}");
        }
    }
}

/// No lane pitch, however odd, makes a feed that is half laid or a panic; what cannot be laid says why.
#[test]
fn an_impossible_way_places_nothing_and_says_why() {
    for across in [1e-3, 10.0, 24.0, 26.0, 60.0, 1e6, f64::MAX] {
        for (_, way) in left_ways() {
            let mut plan = plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false);
            if let Body::Field(f) = &mut plan.items[0].body {
                f.frame.pitch_across = mm(across);
            }
            let placed = spots(&plan).len();
            let Body::Field(field) = &plan.items[0].body else { panic!("a field") };
            let Body::Feed(feed) = &plan.items[1].body else { panic!("a feed") };
            match placement::feed_fits(&plan, field, feed) {
                Ok(pieces) => assert_eq!(placed as u32, pieces),
                Err(why) => assert!(placed == 0 && !why.to_string().is_empty(), "{across} {way:?}"),
            }
        }
    }
}

/// The fall is asked elsewhere; here it is sure of everything but the half-shift.
fn sure(_: &Field, feed: Option<&Feed>) -> (placement::Works, sayings::Said) {
    let half = feed.is_some_and(|f| matches!(f.way, FeedWay::HalfShift { .. }));
    let works = if half { placement::Works::Unsure } else { placement::Works::Sure };
    (works, sayings::say!(sayings::feeding::FALLS))
}

/// Measured: brick 640 of 640 lanes, echelon at lanes 25 mm apart 79 of 80 on the slick floor (own rigid-body runs,
/// rapier3d 0.36.1).
#[test]
fn ways_are_told_by_what_the_fall_says_and_then_by_what_was_measured() {
    let way = FeedWay::HalfShift { side: Hand::Left };
    let plan = plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false);
    let ways = feed_ways(&plan, &plan.items[0], Hand::Right, &sure);
    assert_eq!(ways.len(), 8);
    assert!(matches!(ways[0].means, placement::Means::Feed(FeedWay::Brick { .. })), "{ways:#?}");
    assert_eq!((ways[0].works, ways[0].at_slick), (placement::Works::Sure, Some((80, 80))));
    let find = |name: &str| {
        ways.iter()
            .find(|a| matches!(a.means, placement::Means::Feed(w) if placement::way_name(&w) == name))
            .unwrap()
    };
    assert_eq!(find("echelon").at_slick, Some((79, 80)));
    assert_eq!(
        (find("half-shift").works, find("half-shift").at_slick),
        (placement::Works::Unsure, Some((77, 80)))
    );
    // What cannot be laid is not asked.
    assert_eq!((find("beside").works, find("beside").pieces), (placement::Works::No, 0));
    assert!(said(find("beside")).contains("25\u{a0}mm apart"), "{}", said(find("beside")));
    // Opposed lanes take the best feed at each edge, lanes in turn none.
    let course = |c| ways.iter().find(|a| a.means == placement::Means::Course(c)).unwrap();
    assert!(course(LaneCourse::Opposed).feed.is_some());
    assert_eq!(course(LaneCourse::InTurn).feed, None);
}

/// All that an advice says, in English.
fn said(advice: &placement::Advice) -> String {
    sayings::together(&advice.why)
}

/// The field falls north, so a line from the left comes from the west and runs east, and one from the right runs west.
#[test]
fn the_line_comes_from_the_side_that_was_asked_for() {
    for (across, way) in left_ways() {
        for (way, east) in [(way, 1.0), (right(way), -1.0)] {
            let plan = plan_with(5, across, 90.0, way, LaneCourse::Together, false);
            let places = ports(&plan, &plan.items[1]);
            let [entry, end] = &places[..] else { continue };
            assert!(east * (end.at.x - entry.at.x) > 4.0 * across * 0.9, "{way:?}: {places:?}");
            assert!(east * entry.heading.sin_cos().1 > 0.1, "{way:?}: {places:?}");
        }
    }
    let of = |enter| {
        let way = FeedWay::Brick { enter };
        let plan = plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false);
        ports(&plan, &plan.items[1])[0].at.x - 1000.0
    };
    // Five lanes lie from x = 0 to the west.
    let (left, middle, right) = (of(Enter::Left), of(Enter::Middle), of(Enter::Right));
    assert!((left + 100.0).abs() < 1e-6 && (middle + 50.0).abs() < 1e-6 && right.abs() < 1e-6);
    let way = FeedWay::HalfShift { side: Hand::Left };
    let plan = plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false);
    assert!((ports(&plan, &plan.items[1])[0].at.x - 900.0).abs() < 1e-6);
}

/// Measured at lanes 25 mm apart and a turn of 50°: 79 of 80 at a gap of 7.5 mm, 70 of 80 at 12 mm (own rigid-body runs,
/// rapier3d 0.36.1).
#[test]
fn between_two_measured_gaps_the_worse_one_is_told() {
    let way = FeedWay::Echelon { side: Hand::Left, turn: Angle::deg(50.0) };
    let at = |gap: f64| {
        let mut plan = plan_with(5, 25.0, 90.0, way, LaneCourse::Together, false);
        if let Body::Field(f) = &mut plan.items[0].body {
            f.frame.pitch_along = mm(7.5 + gap);
        }
        let ways = feed_ways(&plan, &plan.items[0], Hand::Left, &sure);
        let is = |a: &placement::Advice| matches!(a.means, placement::Means::Feed(FeedWay::Echelon { .. }));
        ways.into_iter().find(is).unwrap()
    };
    assert_eq!(at(7.5).at_slick, Some((79, 80)));
    assert_eq!(at(9.5).at_slick, Some((70, 80)));
    assert!(said(&at(9.5)).contains("worse neighbours"), "{}", said(&at(9.5)));
}

/// Four ranks 15 mm apart to the east: a lane that falls west is entered at 45 mm and left at -15 mm.
#[test]
fn a_lane_that_falls_the_other_way_is_entered_at_its_last_rank() {
    let way = FeedWay::Brick { enter: Enter::Middle };
    let plan = plan_with(2, 40.0, 0.0, way, LaneCourse::Opposed, false);
    let places = ports(&plan, &plan.items[0]);
    let port = |name: &str| {
        let p = places.iter().find(|p| p.name == name).expect("a port of a lane");
        (p.at.x - 1000.0, p.at.y - 500.0, p.heading.to_deg().rem_euclid(360.0))
    };
    let near = |a: (f64, f64, f64), b: (f64, f64, f64)| {
        (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9 && (a.2 - b.2).abs() < 1e-9
    };
    for (name, wanted) in [
        ("lane 1", (0.0, 0.0, 0.0)),
        ("lane 1 end", (60.0, 0.0, 0.0)),
        ("lane 2", (45.0, 40.0, 180.0)),
        ("lane 2 end", (-15.0, 40.0, 180.0)),
    ] {
        assert!(near(port(name), wanted), "{name}: {:?}", port(name));
    }
}
