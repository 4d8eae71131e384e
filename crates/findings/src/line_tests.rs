//! Checks of lines on pieces laid here by arc length, so that they hang on nothing but where the pieces stand.
//!
//! "Measured" means own rigid-body runs (rapier3d 0.36.1, pieces of 48 x 24 x 7.5 mm), which the file of each check
//! describes where its figure stands; no figure here comes from real pieces.

use std::sync::Arc;

use geometry::{Curve, CurveBuilder, Point};
use placement::{Pieces, Pose};
use plan::*;
use units::{Angle, Length};

use crate::checker::{found_between, found_in};
use crate::finding::{Finding, Severity};

fn plan() -> Plan {
    let mut plan = Plan::new("");
    for pitch in [(1, 15.0), (2, 12.0)] {
        let what = GearKind::Comb { pitch: Length::mm(pitch.1), teeth: 20 };
        let gear = Gear { id: GearId(pitch.0), name: "Comb".into(), what, count: 1, owner: String::new() };
        plan.apply(&Command::PutGear { gear }).expect("taken");
    }
    plan.apply(&Command::PutKind { kind: Kind::usual(KindId(1)) }).expect("taken");
    plan
}

fn from(x: f64, y: f64) -> CurveBuilder {
    CurveBuilder::start(Point::new(x, y), Angle::ZERO)
}

/// A line along a curve, and its pieces.
fn laid(id: u32, curve: &Curve, pitch: f64, placed: Placing) -> (Item, Arc<Pieces>) {
    let line = Line {
        spacing: Spacing::Pitch { pitch: Length::mm(pitch) },
        placed,
        ..Line::plain(KindId(1), ColourId(1), vec![Leg::Straight { length: Length::mm(curve.length()) }])
    };
    let item = Item::new(ItemId(id), format!("River {id}"), curve.start().0, Body::Line(line));
    let count = (curve.length() / pitch + 1e-9) as usize + 1;
    let spots: Vec<_> = (0..count).map(|i| curve.at(i as f64 * pitch)).collect();
    let pieces = Pieces {
        item: item.id,
        x: spots.iter().map(|s| s.0.x).collect(),
        y: spots.iter().map(|s| s.0.y).collect(),
        z: vec![24.0; count],
        yaw: spots.iter().map(|s| units::maths::atan2(s.1.y, s.1.x) as f32).collect(),
        lane: vec![0; count],
        rank: (0..count as u32).collect(),
        kind: vec![1; count],
        colour: vec![1; count],
        pose: vec![Pose::OnEnd; count],
    };
    (item, Arc::new(pieces))
}

fn alone(curve: &Curve, pitch: f64, placed: Placing) -> Vec<Finding> {
    let (item, pieces) = laid(1, curve, pitch, placed);
    found_in(&plan(), &item, &pieces)
}

fn codes(found: &[Finding]) -> Vec<&'static str> {
    found.iter().map(|f| f.code).collect()
}

fn plain(f: &Finding) -> String {
    f.message.to_string().replace('\u{a0}', " ")
}

/// The band that was measured: 5 to 36 mm by comb, 7.5 to 36 mm by hand (own rigid-body runs, rapier3d 0.36.1).
#[test]
fn gaps_outside_the_band_of_the_way_of_placing_are_told_once_for_a_run() {
    let straight = from(0.0, 0.0).straight(600.0).build();
    let gap_codes = |gap: f64, placed| {
        let found = alone(&straight, gap + 7.5, placed);
        codes(&found).into_iter().filter(|c| c.starts_with("gap")).collect::<Vec<_>>()
    };
    for (gap, comb, hand) in [
        (4.9, vec!["gap-narrow"], vec!["gap-narrow"]),
        (5.0, vec![], vec!["gap-narrow"]),
        (7.4, vec![], vec!["gap-narrow"]),
        (7.5, vec![], vec![]),
        (36.0, vec![], vec![]),
        (36.5, vec!["gap-wide"], vec!["gap-wide"]),
    ] {
        assert_eq!(gap_codes(gap, Placing::Comb), comb, "comb, {gap}");
        assert_eq!(gap_codes(gap, Placing::Hand), hand, "hand, {gap}");
    }
}

/// A piece that falls about its foot reaches as far as it is high: 48 mm (geometry). 600 mm at 60 mm are 10 gaps (by hand);
/// 24 mm, the middle of the band by hand, is the project's own choice (no source).
#[test]
fn a_gap_that_no_piece_reaches_over_stops_the_wave() {
    let found = alone(&from(0.0, 0.0).straight(600.0).build(), 60.0, Placing::Hand);
    let wide = found.iter().find(|f| f.code == "gap-wide").expect("told");
    assert_eq!(wide.severity, Severity::Must);
    assert!(
        plain(wide).starts_with("10 gaps of River 1") && plain(wide).contains("reaches 48 mm"),
        "{}",
        plain(wide)
    );
    let Some(Command::PutItem { item }) = &wide.mend else { panic!("{:?}", wide.mend) };
    let Body::Line(line) = &item.body else { panic!("a line") };
    assert_eq!(line.spacing, Spacing::Gap { gap: Length::mm(24.0) });
}

/// The step angle is 2 asin(c / 2R): at a pitch of 15 mm 30° is a radius of 28.98 mm and 45° one of 19.6 mm (closed form).
/// That 30° a step always ran and some stopped beyond 45°: own rigid-body runs, rapier3d 0.36.1.
#[test]
fn turns_are_judged_by_the_angle_from_piece_to_piece() {
    for (radius, severity) in [
        (30.0, None),
        (28.0, Some(Severity::Should)),
        (20.0, Some(Severity::Should)),
        (18.0, Some(Severity::Must)),
    ] {
        let curve = from(0.0, 0.0).straight(150.0).arc(radius, Angle::deg(90.0)).straight(150.0).build();
        let found = alone(&curve, 15.0, Placing::Comb);
        let turn = found.iter().find(|f| f.code == "turn-tight");
        assert_eq!(turn.map(|f| f.severity), severity, "{radius}: {found:?}");
    }
}

#[test]
fn a_line_that_crosses_itself_is_told_with_the_place() {
    // Three quarters of a circle and on across the beginning.
    let curve = from(0.0, 0.0).straight(400.0).arc(100.0, Angle::deg(270.0)).straight(300.0).build();
    let found = alone(&curve, 15.0, Placing::Comb);
    let cross = found.iter().find(|f| f.code == "crosses-itself").expect("told");
    let at = cross.place.at.expect("a place");
    // The way back runs south along x = 300 and meets the beginning at y = 0.
    assert!((at.x - 300.0).abs() < 20.0 && at.y.abs() < 20.0, "{at:?}");
}

#[test]
fn a_thousand_pieces_in_one_place_are_told_as_one_finding_and_soon() {
    let (item, mut pieces) = laid(1, &from(0.0, 0.0).straight(20_000.0).build(), 15.0, Placing::Comb);
    let p = Arc::make_mut(&mut pieces);
    p.x.fill(10.0);
    let found = found_in(&plan(), &item, &pieces);
    let cross: Vec<_> = found.iter().filter(|f| f.code == "crosses-itself").collect();
    assert_eq!(cross.len(), 1);
    assert!(plain(cross[0]).contains("1 334 of its pieces"), "{}", plain(cross[0]));
}

/// Rings of a spiral: 3 mm beyond the half width on a floor of 0.3 and 8 mm on one of 0.15, more where it is curved (own
/// rigid-body runs, rapier3d 0.36.1).
#[test]
fn courses_of_one_line_keep_their_distance() {
    let snake = |apart: f64| {
        from(0.0, 0.0).straight(900.0).arc(apart / 2.0, Angle::deg(180.0)).straight(900.0).build()
    };
    let close = |apart: f64| codes(&alone(&snake(apart), 15.0, Placing::Comb)).contains(&"within-reach");
    // Radius 100 and a clear distance far above what was measured.
    assert!(!close(400.0));
    // Between two straight courses only their sides count: 38 mm are enough, 6 mm are not.
    assert!(!close(62.0));
    assert!(close(30.0));
}

/// Out of a curve of 100 mm pieces fly up to 52.5 mm (same runs): only what is to fall later is there to be met.
#[test]
fn a_spiral_is_told_of_the_ring_that_falls_next_and_not_of_the_one_that_lies() {
    let close = |radius: f64, ring: f64| {
        let spiral = from(0.0, 0.0).spiral(radius, ring, 3.0, true).build();
        codes(&alone(&spiral, 15.0, Placing::Comb)).contains(&"within-reach")
    };
    assert!(close(100.0, 60.0), "36 mm to the next ring");
    assert!(!close(100.0, 80.0), "56 mm to the next ring");
    assert!(!close(290.0, -60.0), "inwards, the outer ring lies first");
}

/// Out of a turn of 40 mm pieces fly up to 101 mm (same runs).
#[test]
fn the_courses_of_an_area_are_laid_so_much_farther_apart() {
    let turn = |path: CurveBuilder, way: f64| path.straight(600.0).arc(40.0, Angle::deg(180.0 * way));
    let curve = turn(turn(turn(from(0.0, 0.0), 1.0), -1.0), 1.0).straight(600.0).build();
    let (mut item, pieces) = laid(1, &curve, 15.0, Placing::Comb);
    item.body = Body::Fill(Fill {
        kind: KindId(1),
        outline: vec![Point::new(0.0, 0.0), Point::new(640.0, 0.0), Point::new(0.0, 300.0)],
        with: Filling::Spiral,
        ring: Length::mm(80.0),
        spacing: Spacing::Pitch { pitch: Length::mm(15.0) },
        placed: Placing::Comb,
        colours: Pattern::Plain { colour: ColourId(1) },
    });
    let found = found_in(&plan(), &item, &pieces);
    let told = found.iter().find(|f| f.code == "within-reach").expect("told");
    let Some(Command::PutItem { item: mended }) = &told.mend else { panic!("{:?}", told.mend) };
    let Body::Fill(fill) = &mended.body else { panic!("{:?}", mended.body) };
    // 80 mm from course to course, pieces 24 mm wide: 56 mm clear of 101 mm, a little less where they stand askew.
    assert!((125.0..=128.0).contains(&fill.ring.to_mm()), "{}", fill.ring.to_mm());
}

/// Past the end of a line on a floor of 0.15 to 0.3: 170 mm at a gap of 7.5 mm (own rigid-body runs, rapier3d 0.36.1).
#[test]
fn what_stands_ahead_of_an_end_is_told_up_to_where_pieces_slide() {
    let river = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    // The last piece stands at 600; its front at 603.75. The other line runs across.
    for (clear, told) in [(16.0, true), (35.0, true), (60.0, true), (160.0, true), (175.0, false)] {
        let x = 603.75 + clear + 12.0;
        let curve = CurveBuilder::start(Point::new(x, -300.0), Angle::deg(90.0)).straight(600.0).build();
        let other = laid(2, &curve, 15.0, Placing::Comb);
        let found = found_between(&plan(), (&river.0, &river.1), (&other.0, &other.1));
        assert_eq!(found.iter().any(|f| f.code == "within-reach"), told, "{clear}: {found:?}");
        if let Some(f) = found.iter().find(|f| f.code == "within-reach") {
            assert!(plain(f).contains("170 mm"), "{}", plain(f));
            let Some(Command::MoveItem { at, .. }) = f.mend else { panic!("{:?}", f.mend) };
            assert!((at.x - -(170.0 - clear)).abs() < 0.2 && at.y.abs() < 1e-6, "{at:?}");
        }
    }
    // What stands square before it is felled and carries the fall on.
    let on = laid(2, &from(603.75 + 16.0 + 3.75, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    let found = found_between(&plan(), (&river.0, &river.1), (&on.0, &on.1));
    assert!(found.iter().all(|f| f.code != "within-reach"), "{found:?}");
}

/// No flat crossing was found to be safe (`crossing.csv` of crate `fall`): the ways out are a bridge, or to join and to split.
#[test]
fn two_lines_that_cross_flat_are_told_both_ways_out() {
    let river = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    let across = CurveBuilder::start(Point::new(300.0, -300.0), Angle::deg(90.0)).straight(600.0).build();
    let other = laid(2, &across, 15.0, Placing::Comb);
    let found = found_between(&plan(), (&river.0, &river.1), (&other.0, &other.1));
    let cross = found.iter().find(|f| f.code == "items-overlap").expect("told");
    assert_eq!(cross.severity, Severity::Must);
    let hint = cross.hint.to_string();
    assert!(hint.contains("bridge") && hint.contains("join") && hint.contains("split"), "{hint}");
}

/// Beside a straight line 8 mm beyond its half width at 0.15 and 3 mm at 0.3, on the outside of a curve far more (own
/// rigid-body runs, rapier3d 0.36.1).
#[test]
fn what_stands_beside_a_line_is_told_by_floor_and_curve() {
    let mut slick = plan();
    let mut grippy = plan();
    let mut hall = grippy.hall.clone();
    hall.grip.floor = (0.3, 0.4);
    grippy.apply(&Command::SetHall { hall }).expect("taken");
    slick.name.clear();
    let river = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    for (clear, on_slick, on_grip) in [(2.5, true, true), (5.0, true, false), (9.0, false, false)] {
        let other = laid(2, &from(0.0, 24.0 + clear).straight(600.0).build(), 15.0, Placing::Comb);
        for (plan, told) in [(&slick, on_slick), (&grippy, on_grip)] {
            let found = found_between(plan, (&river.0, &river.1), (&other.0, &other.1));
            assert_eq!(found.iter().any(|f| f.code == "within-reach"), told, "{clear}: {found:?}");
        }
    }
    let curve = from(0.0, 0.0).straight(300.0).arc(60.0, Angle::deg(90.0)).straight(300.0).build();
    let bend = laid(1, &curve, 15.0, Placing::Comb);
    // East of the bend, whose outer edge runs at x = 300 + 60 + 12; of half turns pieces came 101 and 40 mm far.
    for (clear, on_slick, on_grip) in [(20.0, true, true), (50.0, true, false), (102.0, false, false)] {
        let post = CurveBuilder::start(Point::new(372.0 + clear + 12.0, 50.0), Angle::deg(90.0))
            .straight(30.0)
            .build();
        let other = laid(2, &post, 15.0, Placing::Comb);
        for (plan, told) in [(&slick, on_slick), (&grippy, on_grip)] {
            let found = found_between(plan, (&bend.0, &bend.1), (&other.0, &other.1));
            let outside = found.iter().any(|f| f.message.to_string().contains("outside of the curve"));
            assert_eq!(outside, told, "{clear}: {found:?}");
        }
    }
}

#[test]
fn two_lines_that_meet_by_a_link_are_not_too_close_there() {
    let river = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    let other = laid(2, &from(615.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    let found = found_between(&plan(), (&river.0, &river.1), (&other.0, &other.1));
    assert!(found.is_empty(), "what is hit carries on: {found:?}");
}

/// 7.5 mm a step always, 15 mm with two pieces on each; 22.5 mm passed 8 of 24 runs with two or three pieces on a step and
/// gaps of 12 and 20 mm, and none of 30 others; 30 mm none (own rigid-body runs, rapier3d 0.36.1).
#[test]
fn bridges_are_judged_by_step_gap_and_pieces_on_it() {
    let (should, must) = (Some(Severity::Should), Some(Severity::Must));
    for (step, per_step, pitch, severity) in [
        (7.5, 1, 15.0, None),
        (15.0, 2, 15.0, None),
        (15.0, 1, 15.0, should),
        (22.5, 3, 15.0, must),
        (22.5, 3, 20.0, should),
        (22.5, 1, 20.0, must),
        (30.0, 3, 20.0, must),
    ] {
        let (mut item, pieces) = laid(1, &from(0.0, 0.0).straight(600.0).build(), pitch, Placing::Comb);
        let Body::Line(line) = &mut item.body else { panic!("a line") };
        let (from, deck) = (Length::mm(100.0), Length::mm(200.0));
        let (height, thickness) = (Length::mm(75.0), Length::mm(8.0));
        line.bridges.push(Bridge { from, deck, height, thickness, step: Length::mm(step), per_step });
        let found = found_in(&plan(), &item, &pieces);
        assert_eq!(found.iter().find(|f| f.code == "bridge-steep").map(|f| f.severity), severity, "{step}");
    }
}

/// A deck at 70 mm of 8 mm leaves 62 mm, one at 60 mm only 52 mm (by hand), and 55 mm are needed: a turning piece sweeps its
/// diagonal, hypot(48, 7.5) = 48.6 mm (closed form), and the rest is common practice (no source).
#[test]
fn a_line_under_a_deck_needs_its_clear_height() {
    for (height, told) in [(70.0, false), (60.0, true)] {
        let (mut over, mut pieces) = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
        let Body::Line(line) = &mut over.body else { panic!("a line") };
        let (from, deck) = (Length::mm(100.0), Length::mm(400.0));
        let (thickness, step) = (Length::mm(8.0), Length::mm(7.5));
        line.bridges.push(Bridge { from, deck, height: Length::mm(height), thickness, step, per_step: 1 });
        Arc::make_mut(&mut pieces).z.fill(24.0 + height as f32);
        let curve = CurveBuilder::start(Point::new(300.0, -300.0), Angle::deg(90.0)).straight(600.0).build();
        let under = laid(2, &curve, 15.0, Placing::Comb);
        let found = found_between(&plan(), (&over, &pieces), (&under.0, &under.1));
        assert_eq!(codes(&found).contains(&"clearance-low"), told, "{height}: {found:?}");
    }
}

#[test]
fn a_pitch_without_a_comb_is_mended_by_the_nearest_and_a_stretched_one_is_told() {
    let found = alone(&from(0.0, 0.0).straight(600.0).build(), 16.0, Placing::Comb);
    let missing = found.iter().find(|f| f.code == "comb-missing").expect("told");
    let Some(Command::PutItem { item }) = &missing.mend else { panic!("{:?}", missing.mend) };
    let Body::Line(line) = &item.body else { panic!("a line") };
    assert_eq!(line.spacing, Spacing::Pitch { pitch: Length::mm(15.0) });
    let (mut item, pieces) = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.4, Placing::Comb);
    let Body::Line(line) = &mut item.body else { panic!("a line") };
    line.spacing = Spacing::Pitch { pitch: Length::mm(15.0) };
    assert!(codes(&found_in(&plan(), &item, &pieces)).contains(&"comb-stretched"));
}

/// Pieces up to rank 20, counted from 1, and from 60 mm farther on the rest: the one gap lies before rank 21.
#[test]
fn a_gap_is_told_by_the_rank_behind_it() {
    let (item, mut pieces) = laid(1, &from(0.0, 0.0).straight(600.0).build(), 15.0, Placing::Comb);
    Arc::make_mut(&mut pieces).x[20..].iter_mut().for_each(|x| *x += 60.0);
    let found = found_in(&plan(), &item, &pieces);
    let wide = found.iter().find(|f| f.code == "gap-wide").expect("told");
    assert!(plain(wide).starts_with("1 gap of River 1, at rank 21, widest 67.5 mm"), "{}", plain(wide));
    assert_eq!(wide.place.ranks, Some((19, 20)));
    assert_eq!(wide.place.at, Some(Point::new(360.0, 0.0)));
}

/// The band scales with the pieces: those twice as high need 10 mm where usual ones need 5 mm (similarity of rigid bodies
/// under gravity: lengths scale alike).
#[test]
fn a_narrow_gap_is_mended_into_the_band_of_its_kind() {
    for (scale, gap, wanted) in [(1.0, 4.0, 7.5), (2.0, 8.0, 15.0)] {
        let mut plan = plan();
        let usual = Kind::usual(KindId(1));
        let (height, width) = (usual.height * scale, usual.width * scale);
        let thickness = usual.thickness * scale;
        plan.apply(&Command::PutKind { kind: Kind { height, width, thickness, ..usual } }).expect("taken");
        let pitch = gap + 7.5 * scale;
        let (item, pieces) = laid(1, &from(0.0, 0.0).straight(600.0).build(), pitch, Placing::Comb);
        let found = found_in(&plan, &item, &pieces);
        let narrow = found.iter().find(|f| f.code == "gap-narrow").expect("told");
        let Some(Command::PutItem { item }) = &narrow.mend else { panic!("{:?}", narrow.mend) };
        let Body::Line(line) = &item.body else { panic!("a line") };
        assert_eq!(line.spacing, Spacing::Gap { gap: Length::mm(wanted) });
    }
}

/// Pieces at a radius of 20 mm and 15 mm apart are told; 2 R sin 15° = c is a radius of 28.3 mm for their chord of
/// 14.65 mm, and the innermost of three lanes 26 mm apart runs 26 mm farther inside.
#[test]
fn a_tight_turn_is_widened_until_its_innermost_lane_is_wide_enough() {
    let curve = from(0.0, 0.0).straight(150.0).arc(20.0, Angle::deg(90.0)).straight(150.0).build();
    for (lanes, least) in [(1, 29.0), (3, 55.0)] {
        let (mut item, pieces) = laid(1, &curve, 15.0, Placing::Comb);
        let Body::Line(line) = &mut item.body else { panic!("a line") };
        line.lanes = lanes;
        line.path = vec![Leg::Arc { radius: Length::mm(20.0), turn: Angle::deg(90.0) }];
        let found = found_in(&plan(), &item, &pieces);
        let turn = found.iter().find(|f| f.code == "turn-tight").expect("told");
        let Some(Command::PutItem { item }) = &turn.mend else { panic!("{:?}", turn.mend) };
        let Body::Line(line) = &item.body else { panic!("a line") };
        let Leg::Arc { radius, .. } = line.path[0] else { panic!("an arc") };
        assert!((radius.to_mm() - least).abs() < 1.5, "{lanes} lanes: {} mm", radius.to_mm());
    }
}
