//! How long the contact network and the wave take, and how much memory a piece needs: `cargo bench -p fall`.
#![allow(clippy::print_stdout, missing_docs, reason = "a bench prints its table")]

use std::hint::black_box;
use std::time::Instant;

use fall::{Ask, Network, report, run, run_outs};
use geometry::Point;
use placement::Placement;
use plan::{
    Body, ColourId, Command, Field, FieldFrame, Hand, Item, ItemId, Kind, KindId, Leg, Line, Plan, Start,
};
use units::{Angle, Duration, Length};

/// Least time of several runs, in milliseconds.
fn best<T>(runs: u32, mut f: impl FnMut() -> T) -> f64 {
    let once = |_| {
        let at = Instant::now();
        black_box(f());
        at.elapsed().as_secs_f64() * 1e3
    };
    (0..runs).map(once).fold(f64::INFINITY, f64::min)
}

/// Most memory that the process had since the last call of [`reset`], kB; 0 where the system does not tell.
fn peak_kb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM"));
    line.and_then(|l| l.split_whitespace().nth(1)?.parse().ok()).unwrap_or(0.0)
}

fn reset() {
    // Writing 5 sets the peak back to what is in use (Linux, proc(5)).
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}

fn item(id: u32, x: f64, y: f64, heading: f64, body: Body) -> Item {
    Item { heading: Angle::deg(heading), ..Item::new(ItemId(id), format!("I{id}"), Point::new(x, y), body) }
}

/// Each piece stands before two others: ranks 15 mm apart, each half a lane over.
fn bricks(lanes: u32, ranks: u32) -> Body {
    laid(lanes, ranks, (30.0, 13.0, 15.0))
}

fn field(lanes: u32, ranks: u32, stagger: f64) -> Body {
    laid(lanes, ranks, (15.0, 26.0, stagger))
}

fn laid(lanes: u32, ranks: u32, (along, across, stagger): (f64, f64, f64)) -> Body {
    let frame = FieldFrame {
        stagger: Length::mm(stagger),
        ..FieldFrame::new(lanes, ranks, Length::mm(along), Length::mm(across))
    };
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![1; frame.len()].into();
    Body::Field(field)
}

fn plan(items: Vec<Item>) -> Plan {
    let mut plan = Plan::new("B");
    plan.stock.kinds.push(Kind::usual(KindId(1)));
    plan.items = items;
    plan
}

fn start(id: u32, x: f64, y: f64, width: f64) -> Item {
    item(id, x, y, 0.0, Body::Start(Start { width: Length::mm(width), after: Duration::ZERO }))
}

/// Fields of 25 000 pieces in a grid, 10 mm apart in the fall's direction.
fn forty() -> Plan {
    let mut items = Vec::new();
    for i in 0..40u32 {
        let (u, v) = (i / 8, i % 8);
        let at = (f64::from(u) * (250.0 * 15.0), f64::from(v) * (100.0 * 26.0));
        items.push(item(i + 1, at.0, at.1, 0.0, field(100, 250, 0.0)));
    }
    items.push(start(41, -10.0, 10_000.0, 40_000.0));
    plan(items)
}

fn main() {
    println!("{:<44} {:>9} {:>9} {:>9} {:>9}", "network", "pieces", "ms", "bytes", "peak");
    let cases = [
        ("one field, 1000 x 1000", plan(vec![item(1, 0.0, 0.0, 0.0, field(1000, 1000, 0.0))])),
        ("one field at 33 degrees", plan(vec![item(1, 0.0, 0.0, 33.0, field(1000, 1000, 0.0))])),
        ("one field, shifted lanes", plan(vec![item(1, 0.0, 0.0, 33.0, field(1000, 1000, 7.5))])),
        ("one field of bricks", plan(vec![item(1, 0.0, 0.0, 33.0, bricks(1000, 1000))])),
        ("one line", plan(vec![item(1, 0.0, 0.0, 33.0, field(1, 600_000, 0.0))])),
        ("forty fields end to end", forty()),
    ];
    for (name, p) in &cases {
        let placement = Placement::of(p);
        let n = placement.len() as f64;
        reset();
        let before = peak_kb();
        let network = Network::of(p, &placement);
        let peak = (peak_kb() - before) * 1024.0 / n;
        let bytes = network.bytes() as f64 / n;
        drop(network);
        let ms = best(5, || Network::of(p, &placement));
        println!("{name:<44} {n:>9} {ms:>9.0} {bytes:>9.1} {peak:>9.1}");
    }
    spirals();
    update(&cases[5].1);
    waves();
}

/// Spirals of twelve turns, 45 mm from course to course, on a slick floor: every piece has another course beside it.
fn spirals() {
    let spiral =
        Leg::Spiral { radius: Length::mm(1000.0), ring: Length::mm(-45.0), turns: 12.0, hand: Hand::Left };
    let line = Line::plain(KindId(1), ColourId(1), vec![spiral]);
    let at = |i: u32| (f64::from(i % 16) * 2_600.0, f64::from(i / 16) * 2_600.0);
    let items = (0..264).map(|i| item(i + 1, at(i).0, at(i).1, 0.0, Body::Line(line.clone()))).collect();
    let mut p = plan(items);
    p.hall.grip.floor = (0.15, 0.3);
    let placement = Placement::of(&p);
    let n = placement.len() as f64;
    reset();
    let before = peak_kb();
    let network = Network::of(&p, &placement);
    let peak = (peak_kb() - before) * 1024.0 / n;
    let ms = best(3, || Network::of(&p, &placement));
    println!("{:<44} {n:>9} {ms:>9.0} {:>9.1} {peak:>9.1}", "spirals", network.bytes() as f64 / n);
    reset();
    let before = peak_kb();
    let pairs = run_outs(&p, &network).len();
    let peak = (peak_kb() - before) * 1024.0 / n;
    let ms = best(3, || run_outs(&p, &network));
    println!("what flies out of them: {pairs} pairs, {ms:.0} ms, {peak:.0} bytes a piece at peak");
}

fn update(p: &Plan) {
    let mut p = p.clone();
    let mut placement = Placement::of(&p);
    let mut network = Network::of(&p, &placement);
    let ask = Ask::default();
    let mut east = 0.0;
    let mut ms = Vec::new();
    for _ in 0..7 {
        east += 1.0;
        let command =
            Command::MoveItem { id: ItemId(12), at: Point::new(3750.0 - east, 7800.0), heading: Angle::ZERO };
        let Ok(applied) = p.apply(&command) else { return };
        placement.update(&p, &applied.touched);
        let at = Instant::now();
        network.update(&p, &placement);
        ms.push(at.elapsed().as_secs_f64() * 1e3);
    }
    ms.sort_by(f64::total_cmp);
    println!("update after one of forty items moved: {:.1} ms (median of 7)", ms[3]);
    println!("what can be reached: {:.1} ms", best(5, || network.reached(true)));
    println!("one run: {:.0} ms", best(3, || run(&p, &network, &ask, &|_| true)));
    println!("report: {:.0} ms", best(3, || report(&p, &network)));
}

fn waves() {
    println!("{:<44} {:>9} {:>9} {:>16}", "wave", "pieces", "ms", "pieces/s, millions");
    for (name, lanes, body) in [
        ("100 lanes of 100", 100, field(100, 100, 0.0)),
        ("100 lanes of 1000", 100, field(100, 1000, 0.0)),
        // As wide and longer: what the number of pieces alone does.
        ("100 lanes of 10 000", 100, field(100, 10_000, 0.0)),
        ("100 lanes of 50 000", 100, field(100, 50_000, 0.0)),
        ("1000 lanes of 1000", 1000, field(1000, 1000, 0.0)),
        ("1000 lanes of 5000", 1000, field(1000, 5000, 0.0)),
        ("bricks, 100 x 1000", 100, bricks(100, 1000)),
        ("bricks, 1000 x 1000", 1000, bricks(1000, 1000)),
    ] {
        let p = plan(vec![item(1, 0.0, 0.0, 0.0, body), start(2, -10.0, 0.0, f64::from(lanes) * 52.0)]);
        let network = Network::of(&p, &Placement::of(&p));
        let ask = Ask::default();
        let fallen = run(&p, &network, &ask, &|_| true).map_or(0, |f| f.fallen);
        let ms = best(3, || run(&p, &network, &ask, &|_| true));
        println!("{name:<44} {fallen:>9} {ms:>9.1} {:>16.2}", f64::from(fallen) / ms / 1e3);
    }
}
