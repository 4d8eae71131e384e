//! The same line through the project's own crates: plan, placement, contact network, wave.

use std::hint::black_box;
use std::time::Instant;

use anyhow::{Context as _, Result, ensure};
use fall::law::Law;
use fall::{Ask, Fall, Network, run};
use geometry::Point;
use placement::Placement;
use plan::{
    Body, Colour, ColourId, Finish, Item, ItemId, Kind, KindId, Leg, Line, Pattern, Placing, Plan, Rgb,
    Spacing, Start,
};
use units::{Duration, Length};

use crate::engine;

/// Arrival and cost; times in seconds.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ours {
    /// When the last piece is hit.
    pub(crate) arrival: f64,
    /// The wave alone, network at hand.
    pub(crate) wave: f64,
    /// Network and wave, placement at hand.
    pub(crate) network_and_wave: f64,
    /// Placement, network and wave.
    pub(crate) all: f64,
    /// What is added once for a new friction: the table of the law.
    pub(crate) law: f64,
}

/// Runs the line so many times and takes the middle time of each part.
pub(crate) fn time(line: &engine::Line, runs: u32) -> Result<Ours> {
    let plan = plan(line);
    let placement = Placement::of(&plan);
    let network = Network::of(&plan, &placement);
    let fall = wave(&plan, &network)?;
    let pieces = u32::try_from(line.pieces)?;
    ensure!(network.pieces() == pieces, "the line has {} pieces instead of {pieces}", network.pieces());
    ensure!(fall.fallen == pieces, "only {} of {pieces} pieces fall", fall.fallen);
    Ok(Ours {
        arrival: fall.last_us as f64 * 1e-6,
        wave: middle(runs, || wave(&plan, &network)),
        network_and_wave: middle(runs, || wave(&plan, &Network::of(&plan, &placement))),
        all: middle(runs, || wave(&plan, &Network::of(&plan, &Placement::of(&plan)))),
        law: middle(15, || Law::compute(7.5 / 48.0, line.mu, 0.0)),
    })
}

fn wave(plan: &Plan, network: &Network) -> Result<Fall> {
    run(plan, network, &Ask::default(), &|_| true).context("the fall was stopped")
}

fn middle<T>(runs: u32, mut f: impl FnMut() -> T) -> f64 {
    let once = |_| {
        let at = Instant::now();
        black_box(f());
        at.elapsed().as_secs_f64()
    };
    let mut times: Vec<f64> = (0..runs).map(once).collect();
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

fn plan(line: &engine::Line) -> Plan {
    let mut plan = Plan::new("Race");
    plan.stock.kinds.push(Kind::usual(KindId(1)));
    let grey = Rgb { r: 90, g: 90, b: 90 };
    plan.stock.colours.push(Colour {
        id: ColourId(1),
        name: "Grey".into(),
        code: "G".into(),
        front: grey,
        back: grey,
        edge: grey,
        finish: Finish::Matt,
    });
    plan.hall.grip.piece = (line.mu, line.mu);
    plan.hall.grip.floor = (line.floor, line.floor);
    let length = Length::mm(line.pitch() * line.pieces as f64);
    let body = Body::Line(Line {
        kind: KindId(1),
        lanes: 1,
        pitch_across: Length::mm(26.0),
        spacing: Spacing::Pitch { pitch: Length::mm(line.pitch()) },
        placed: Placing::Comb,
        path: vec![Leg::Straight { length }],
        from: None,
        to: None,
        colours: Pattern::Plain { colour: ColourId(1) },
        bridges: Vec::new(),
    });
    plan.items.push(Item::new(ItemId(1), "Line".to_owned(), Point::new(0.0, 0.0), body));
    let start = Body::Start(Start { width: Length::mm(24.0), after: Duration::ZERO });
    plan.items.push(Item::new(ItemId(2), "Start".to_owned(), Point::new(-10.0, 0.0), start));
    plan
}
