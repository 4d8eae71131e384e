//! What passes and what does not at the edges of a rule: grazed corners, stoppers in gaps, ways into placeholders,
//! and the first of two pushes.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod common;

use common::{fall, field, network, piece, plan, put, start};
use fall::{Ask, run};
use geometry::Point;
use plan::{Body, Delay, Placeholder, Port, PortFlow, SafetyGap, Start};
use units::{Angle, Duration, Length};

/// Half the width of a piece turned by 30°, seen along the fall: 12 cos 30° + 3.75 sin 30° = 12.267 mm. Own simulated
/// runs (`data/transfers/edge_scan.csv`): no such corner was felled that poked in by less than 0.9 mm.
#[test]
fn a_turned_piece_that_is_only_grazed_stands() {
    for (poke, hit) in [(0.3, false), (6.0, true)] {
        let mut p = plan(0.2);
        piece(&mut p, 0.0, 0.0, 0.0);
        piece(&mut p, 25.0, 12.0 + 12.267 - poke, 30.0);
        put(&mut p, -10.0, 0.0, 0.0, start(10.0));
        assert_eq!(fall(&p).fallen == 2, hit, "{poke}");
    }
}

/// Three pieces left out, 52.5 mm, pass at friction 0.15 (`safety_gap.csv`, 0 of 40 held); with a fixed stopper from 37.5 mm on
/// all held.
#[test]
fn a_stopper_in_an_open_gap_stops_the_fall() {
    for (stopper, falls) in [(false, 57), (true, 20)] {
        let mut p = plan(0.15);
        put(&mut p, 0.0, 0.0, 0.0, field(1, 60, 15.0, 25.0, 0.0));
        put(&mut p, -10.0, 0.0, 0.0, start(10.0));
        p.items[0].gaps.push(SafetyGap { first: 20, count: 3, stopper });
        let ask = Ask { gaps_open: true, ..Ask::default() };
        let fallen = run(&p, &network(&p), &ask, &|_| true).unwrap().fallen;
        assert_eq!(fallen, falls, "stopper: {stopper}");
    }
}

/// A piece of 48 mm reaches 47 mm beyond its front, so from 50.8 mm before the way in on it no longer falls into it.
#[test]
fn a_piece_too_far_before_a_way_in_does_not_set_a_placeholder_off() {
    for (before, passes) in [(40.0, true), (70.0, false)] {
        let mut p = plan(0.2);
        let port = |name: &str, flow, x| Port {
            name: name.into(),
            flow,
            at: Point::new(x, 0.0),
            direction: Angle::ZERO,
            height: Length::ZERO,
            width: Length::mm(24.0),
        };
        let wheel = Placeholder {
            length: Length::mm(200.0),
            width: Length::mm(50.0),
            height: Length::mm(48.0),
            needs: Vec::new(),
            hours: Duration::ZERO,
            who: String::new(),
            ports: vec![port("in", PortFlow::In, 0.0), port("out", PortFlow::Out, 200.0)],
            delay: Some(Delay { least: Duration::s(1.0), most: Duration::s(2.0) }),
        };
        put(&mut p, 0.0, 0.0, 0.0, Body::Placeholder(wheel));
        piece(&mut p, -before, 0.0, 0.0);
        piece(&mut p, 200.0, 0.0, 0.0);
        put(&mut p, -before - 10.0, 0.0, 0.0, start(10.0));
        assert_eq!(fall(&p).fallen == 2, passes, "{before} mm before it");
    }
}

/// Two pushes within one millisecond: the earlier one counts, whichever was put first.
#[test]
fn of_two_pushes_at_one_piece_the_earlier_one_counts() {
    let push =
        |after_us: f64| Body::Start(Start { width: Length::mm(10.0), after: Duration::s(after_us * 1e-6) });
    for (east, way) in [(0.0, 0), (600.0, 1)] {
        for east_first in [true, false] {
            let mut p = plan(0.2);
            piece(&mut p, 0.0, 0.0, 0.0);
            let put_east = |p: &mut plan::Plan| put(p, -10.0, 0.0, 0.0, push(east));
            if east_first {
                put_east(&mut p);
            }
            put(&mut p, 10.0, 0.0, 180.0, push(300.0));
            if !east_first {
                put_east(&mut p);
            }
            let f = fall(&p);
            let first = if way == 0 { 0 } else { 300 };
            assert_eq!((f.hit_us[0], f.way[0]), (first, way), "{east} {east_first}");
        }
    }
}
