//! What reaches the fall from outside: start pieces, placeholders, timed lines, and the floor's grip.

mod common;

use common::*;
use fall::{Ask, Network, Pace, STANDS_US, friction, law, run};
use placement::Placement;
use plan::{
    Body, Delay, Placeholder, Plan, Port, PortFlow, Start, Surface, SurfaceId, SurfaceKind, TimedLine,
};
use units::{Angle, Duration, Length};

fn port(name: &str, flow: PortFlow, x: f64) -> Port {
    let at = geometry::Point::new(x, 0.0);
    let (height, width) = (Length::ZERO, Length::mm(24.0));
    Port { name: name.into(), flow, at, direction: Angle::ZERO, height, width }
}

fn placeholder(delay: Option<Delay>) -> Body {
    Body::Placeholder(Placeholder {
        length: Length::mm(500.0),
        width: Length::mm(100.0),
        height: Length::mm(60.0),
        needs: Vec::new(),
        hours: Duration::ZERO,
        who: String::new(),
        ports: vec![port("in", PortFlow::In, 0.0), port("out", PortFlow::Out, 500.0)],
        delay,
    })
}

/// A line of 10, a placeholder 500 mm long, a line of 10.
fn with_placeholder(delay: Option<Delay>) -> Plan {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 90.0, field(1, 10, 15.0, 25.0, 0.0));
    put(&mut p, 0.0, 150.0, 90.0, placeholder(delay));
    put(&mut p, 0.0, 650.0, 90.0, field(1, 10, 15.0, 25.0, 0.0));
    put(&mut p, 0.0, -10.0, 90.0, start(10.0));
    p
}

#[test]
fn placeholders_pass_the_fall_on_after_their_delay_and_not_without_one() {
    let delay = Delay { least: Duration::s(2.0), most: Duration::s(5.0) };
    let p = with_placeholder(Some(delay));
    let n = network(&p);
    let at = |pace| {
        let f = run(&p, &n, &Ask { pace, ..Ask::default() }, &|_| true).unwrap();
        assert_eq!(f.fallen, 20);
        assert_eq!(f.from[10], 9);
        f.hit_us[10] - f.hit_us[9]
    };
    assert_eq!([at(Pace::Fast), at(Pace::Usual), at(Pace::Slow)], [2_000_000, 3_500_000, 5_000_000]);
    assert_eq!(n.reached(true).iter().filter(|r| **r == 1).count(), 20);
    assert_eq!(fall(&with_placeholder(None)).fallen, 10);
}

#[test]
fn starts_push_later_when_told_to_and_the_earlier_cause_counts() {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 0.0, field(1, 400, 15.0, 25.0, 0.0));
    put(&mut p, -10.0, 0.0, 0.0, start(10.0));
    let late = Start { width: Length::mm(10.0), after: Duration::s(1.0) };
    // The same line's far end, pushed back against the fall, one second later.
    put(&mut p, 399.0 * 15.0 + 10.0, 0.0, 180.0, Body::Start(late));
    let f = fall(&p);
    assert_eq!(f.fallen, 400);
    assert_eq!((f.hit_us[399], f.way[399], f.way[0]), (1_000_000, 1, 0));
    // They meet once, and no piece is hit twice.
    let turns = f.way.windows(2).filter(|w| w[0] != w[1]).count();
    assert_eq!(turns, 1);
    for i in 1..400 {
        let from = f.from[i];
        assert!(from == u32::MAX || f.hit_us[from as usize] < f.hit_us[i]);
    }
}

#[test]
fn a_plan_without_a_start_stands_and_a_start_inside_a_field_fells_what_is_ahead() {
    let mut p = plan(0.2);
    put(&mut p, 0.0, 0.0, 0.0, field(3, 40, 15.0, 25.0, 0.0));
    assert_eq!(fall(&p).fallen, 0);
    put(&mut p, 20.0 * 15.0 - 8.0, 25.0, 0.0, start(10.0));
    assert_eq!(fall(&p).fallen, 20);
}

/// A line timed at the speed that the law gives for mu = 0.12 narrows the range to about that.
#[test]
fn timed_lines_narrow_the_range_of_friction() {
    let mut p = plan(0.2);
    p.hall.grip.piece = (0.06, 0.2);
    assert_eq!([Pace::Fast, Pace::Slow].map(|pace| friction(&p, pace)), [0.06, 0.2]);
    let timed = |mu: f64| {
        let seconds = 500.0 * 15.0 * 1e-3 / law::speed_fitted(48.0, 7.5, 7.5, mu);
        TimedLine { pieces: 500, gap: Length::mm(7.5), took: Duration::s(seconds) }
    };
    p.hall.timed = vec![timed(0.12)];
    let (least, most) = (friction(&p, Pace::Fast), friction(&p, Pace::Slow));
    assert!(least < 0.12 && most > 0.12 && most - least < 0.05, "{least} {most}");
    p.hall.timed = vec![timed(0.1), timed(0.16), timed(0.13)];
    let (least, most) = (friction(&p, Pace::Fast), friction(&p, Pace::Slow));
    // The scatter of the three is 0.03.
    assert!((least - 0.07).abs() < 1e-6 && (most - 0.19).abs() < 1e-6, "{least} {most}");
}

/// Lines of single pieces ran at 0.95 to 1.25 m/s when they were filmed, at gaps of 7.5 to 8.7 mm (the range that the hall
/// takes when nobody timed a line): they count. What cannot have run so does not, and the others decide.
#[test]
fn timed_lines_that_cannot_be_true_do_not_count() {
    use law::TimedIs::{Fine, TooFast, TooSlow, TooWide};
    let mut p = plan(0.2);
    let timed = |gap: f64, speed: f64| {
        let took = Duration::s(200.0 * (gap + 7.5) * 1e-3 / speed);
        TimedLine { pieces: 200, gap: Length::mm(gap), took }
    };
    let is = |p: &Plan| law::timed(p).iter().map(|t| t.is).collect::<Vec<_>>();
    p.hall.timed = vec![timed(7.5, 0.95), timed(8.7, 1.25)];
    assert_eq!(is(&p), [Fine, Fine]);
    let of_both = law::piece_friction(&p);
    assert!(of_both.0 < 0.07 && of_both.1 > 0.2, "{of_both:?}");
    p.hall.timed = vec![timed(7.5, 3.0), timed(7.5, 0.2), timed(48.0, 1.0), timed(7.5, 1e9)];
    assert_eq!(is(&p), [TooFast, TooSlow, TooWide, TooFast]);
    assert_eq!(law::piece_friction(&p), p.hall.grip.piece);
    // Energy that is released for each piece bounds the speed; nothing runs faster than without friction.
    for t in &law::timed(&p)[..2] {
        assert!((200.0 * 0.015 / t.can_take.0 - law::speed_without_friction(48.0, 7.5, 7.5)).abs() < 1e-9);
    }
    p.hall.timed.push(timed(7.5, 1.1));
    let alone = law::piece_friction(&p);
    assert!(alone.0 > of_both.0 && alone.1 < of_both.1, "{alone:?}");
    // The same reading twice tells no more than once.
    p.hall.timed.push(timed(7.5, 1.1));
    assert_eq!(law::piece_friction(&p), alone);
}

/// The slow run ends last, whatever the seed does to single hops.
#[test]
fn slower_paces_end_later_and_seeds_only_scatter() {
    let mut p = plan(0.2);
    p.hall.grip.piece = (0.06, 0.2);
    put(&mut p, 0.0, 0.0, 0.0, field(1, 1000, 15.0, 25.0, 0.0));
    put(&mut p, -10.0, 0.0, 0.0, start(10.0));
    let n: Network = Network::of(&p, &Placement::of(&p));
    let end = |pace, seed| run(&p, &n, &Ask { pace, seed, ..Ask::default() }, &|_| true).unwrap().last_us;
    let (fast, usual, slow) = (end(Pace::Fast, None), end(Pace::Usual, None), end(Pace::Slow, None));
    assert!(fast < usual && usual < slow);
    let seeded = end(Pace::Usual, Some(3));
    assert!(seeded != usual && seeded.abs_diff(usual) < usual / 50, "{seeded} {usual}");
    assert_eq!(seeded, end(Pace::Usual, Some(3)));
}

/// Lines of the network take about 24 bytes a piece, shifted fields about 40.
#[test]
fn the_network_needs_less_than_50_bytes_a_piece() {
    for stagger in [0.0, 7.5] {
        let mut p = plan(0.2);
        put(&mut p, 0.0, 0.0, 20.0, field(100, 200, 15.0, 25.0, stagger));
        let n = network(&p);
        let each = n.bytes() as f64 / f64::from(n.pieces());
        assert!(each < 50.0, "{each}");
    }
}

/// A line steps up on a plank, runs over it and down again; a line beneath it falls by itself only.
#[test]
fn lines_step_on_planks_and_pass_beneath_them_untouched() {
    for (height, up, beneath) in [(4.0, true, false), (7.5, true, false), (40.0, false, true)] {
        let mut p = plan(0.3);
        let corner = |x: f64, y: f64| geometry::Point::new(x, y);
        p.surfaces.push(Surface {
            id: SurfaceId(1),
            name: "P".into(),
            is: SurfaceKind::Plank,
            height: Length::mm(height),
            slope: plan::Slope::default(),
            outline: vec![
                corner(142.0, -40.0),
                corner(293.0, -40.0),
                corner(293.0, 40.0),
                corner(142.0, 40.0),
            ],
        });
        put(&mut p, 0.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
        let over = put(&mut p, 150.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
        p.items[over.0 as usize - 1].surface = SurfaceId(1);
        put(&mut p, 300.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
        put(&mut p, -10.0, 0.0, 0.0, start(10.0));
        let f = fall(&p);
        assert_eq!(f.fallen, if up { 30 } else { 10 }, "{height}");
        if beneath {
            // Pushed on the plank itself, it runs to its end and down; what stands beneath is not touched.
            put(&mut p, 220.0, 5.0, 90.0, field(1, 1, 15.0, 25.0, 0.0));
            put(&mut p, 225.0, 0.0, 0.0, field(1, 2, 12.0, 25.0, 0.0));
            let push = put(&mut p, 140.0, 0.0, 0.0, start(10.0));
            p.items[push.0 as usize - 1].surface = SurfaceId(1);
            let f = fall(&p);
            assert_eq!(f.fallen, 30);
            assert!(f.hit_us[30..].iter().all(|t| *t == STANDS_US));
        }
    }
}

/// The last piece on a plank would fly to one on the floor before it, but not through the plank.
#[test]
fn nothing_falls_through_a_plank() {
    for (end, falls) in [(293.0, true), (340.0, false)] {
        let mut p = plan(0.3);
        let corner = |x: f64, y: f64| geometry::Point::new(x, y);
        p.surfaces.push(Surface {
            id: SurfaceId(1),
            name: "P".into(),
            is: SurfaceKind::Plank,
            height: Length::mm(40.0),
            slope: plan::Slope::default(),
            outline: vec![corner(142.0, -40.0), corner(end, -40.0), corner(end, 40.0), corner(142.0, 40.0)],
        });
        put(&mut p, 150.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
        p.items[0].surface = SurfaceId(1);
        put(&mut p, 310.0, 0.0, 0.0, field(1, 1, 15.0, 25.0, 0.0));
        put(&mut p, 140.0, 0.0, 0.0, start(10.0));
        p.items[2].surface = SurfaceId(1);
        assert_eq!(fall(&p).fallen, if falls { 11 } else { 10 }, "{end}");
    }
}

/// Five placeholders of 20 minutes each are 100 minutes, more than 32 bits of microseconds hold: hits behind them are told
/// apart to the microsecond all the same. What comes more than a day after the first push is told as that.
#[test]
fn falls_of_hours_are_timed_to_the_microsecond_and_end_with_the_day() {
    let long = |minutes: f64, times: u32| {
        let mut p = plan(0.2);
        let delay = Delay { least: Duration::s(60.0 * minutes), most: Duration::s(60.0 * minutes) };
        for i in 0..=times {
            let y = 650.0 * f64::from(i);
            put(&mut p, 0.0, y, 90.0, field(1, 10, 15.0, 25.0, 0.0));
            if i < times {
                put(&mut p, 0.0, y + 150.0, 90.0, placeholder(Some(delay)));
            }
        }
        put(&mut p, 0.0, -10.0, 90.0, start(10.0));
        p
    };
    let p = long(20.0, 5);
    let f = fall(&p);
    assert_eq!(f.fallen, 60);
    let run = f.hit_us[9];
    // Each part runs like the first one, and each placeholder takes 20 minutes.
    for part in 1..=5 {
        assert_eq!(f.hit_us[10 * part], f.hit_us[10 * part - 1] + 20 * 60_000_000, "part {part}");
        assert_eq!(f.hit_us[10 * part + 9] - f.hit_us[10 * part], run);
    }
    assert_eq!(f.last_us, 5 * 20 * 60_000_000 + 6 * run);
    let told = |p: &Plan| fall::report(p, &network(p));
    assert!(!told(&p).beyond && told(&p).most_s > 6_000.0);
    let p = long(6.0 * 60.0, 5);
    let f = fall(&p);
    assert_eq!((f.fallen, f.last_us), (60, 24 * 3_600_000_000));
    assert!(told(&p).beyond);
    assert!(f.hit_us[40..].iter().all(|t| *t == 24 * 3_600_000_000));
}
