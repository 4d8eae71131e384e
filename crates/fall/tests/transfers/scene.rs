//! Scenes of single pieces, and what the network answers about them.

use geometry::Point;
use placement::Placement;
use plan::*;
use units::{Angle, Duration, Length};

/// Thickness and width of the usual piece, mm.
pub(crate) const D: f64 = 7.5;
pub(crate) const W: f64 = 24.0;

/// From scene to scene, mm: the longest has less than half of this.
const APART: f64 = 4_096.0;

/// Pieces one by one: x, y, heading in degrees, height of what they stand on.
#[derive(Default, Clone)]
pub(crate) struct Scene {
    pub(crate) pieces: Vec<(f64, f64, f64, f64)>,
}

impl Scene {
    pub(crate) fn put(&mut self, x: f64, y: f64, deg: f64) -> usize {
        self.on(x, y, deg, 0.0)
    }

    pub(crate) fn on(&mut self, x: f64, y: f64, deg: f64, base: f64) -> usize {
        self.pieces.push((x, y, deg, base));
        self.pieces.len() - 1
    }

    /// Pieces from (x, y) on, `n` of them, a pitch apart along their heading.
    pub(crate) fn run(&mut self, x: f64, y: f64, deg: f64, pitch: f64, n: usize) -> Vec<usize> {
        let (s, c) = Angle::deg(deg).sin_cos();
        (0..n).map(|i| self.put(x + i as f64 * pitch * c, y + i as f64 * pitch * s, deg)).collect()
    }

    /// Scenes so far apart that none touches another, and where the pieces of each begin.
    pub(crate) fn apart(scenes: &[&Self]) -> (Self, Vec<usize>) {
        let (mut all, mut first) = (Self::default(), Vec::new());
        for (k, scene) in scenes.iter().enumerate() {
            first.push(all.pieces.len());
            let moved = |&(x, y, deg, base): &(f64, f64, f64, f64)| (x, y + APART * k as f64, deg, base);
            all.pieces.extend(scene.pieces.iter().map(moved));
        }
        (all, first)
    }

    /// The network on a floor of this friction, and what slides on from the ends of lines.
    pub(crate) fn woven(&self, mu: f64, limits: &fall::Limits) -> Woven {
        let plan = self.plan(mu);
        let network = fall::Network::with_limits(&plan, &Placement::of(&plan), limits);
        let slides = fall::slides(&plan, &network);
        Woven { network, slides }
    }

    /// The plan on a floor of this friction.
    pub(crate) fn plan(&self, mu: f64) -> Plan {
        let mut plan = Plan::default();
        plan.stock.kinds = vec![Kind::usual(KindId(1))];
        plan.hall.grip = Grip { floor: (mu, mu), piece: (mu, mu) };
        let mut bases: Vec<f64> = self.pieces.iter().map(|p| p.3).filter(|b| *b > 0.0).collect();
        bases.sort_by(f64::total_cmp);
        bases.dedup();
        for (i, base) in bases.iter().enumerate() {
            plan.surfaces.push(Surface {
                id: SurfaceId(i as u32 + 1),
                name: format!("level {i}"),
                is: SurfaceKind::Table,
                height: Length::mm(*base),
                slope: plan::Slope::default(),
                outline: Vec::new(),
            });
        }
        let frame = FieldFrame::new(1, 1, Length::mm(15.0), Length::mm(26.0));
        for (i, &(x, y, deg, base)) in self.pieces.iter().enumerate() {
            let mut field = Field::empty(KindId(1), frame);
            field.cells = vec![1].into();
            let level = bases.iter().position(|b| *b == base).map_or(0, |b| b as u32 + 1);
            plan.items.push(Item {
                heading: Angle::deg(deg),
                surface: SurfaceId(level),
                ..Item::new(ItemId(i as u32 + 1), format!("{i}"), Point::new(x, y), Body::Field(field))
            });
        }
        plan
    }
}

/// What falls surely, and what falls at the most, by piece.
pub(crate) struct Answer {
    pub(crate) surely: Vec<bool>,
    pub(crate) at_most: Vec<bool>,
}

impl Answer {
    /// Pushes pieces forward or back (`true`), as hard as a running line does.
    pub(crate) fn of(scene: &Scene, mu: f64, pushed: &[(usize, bool)]) -> Self {
        scene.woven(mu, &fall::Limits::default()).pushed(pushed)
    }

    /// Knocks one piece forward or back (`true`) with a speed of turning, rad/s.
    pub(crate) fn knocked(scene: &Scene, mu: f64, piece: (usize, bool), speed: f64) -> Self {
        scene.woven(mu, &fall::Limits::default()).knocked(piece, speed)
    }

    /// Pushes pieces forward, each so many seconds after the start, and lets the fall run.
    pub(crate) fn run(scene: &Scene, mu: f64, pushed: &[(usize, f64)]) -> Self {
        let mut plan = scene.plan(mu);
        for &(piece, after) in pushed {
            let (x, y, deg, _) = scene.pieces[piece];
            let (s, c) = Angle::deg(deg).sin_cos();
            let start = Start { width: Length::mm(10.0), after: Duration::s(after) };
            let (id, at) = (ItemId(plan.items.len() as u32 + 1), Point::new(x - 10.0 * c, y - 10.0 * s));
            let item = Item::new(id, format!("{}", id.0), at, Body::Start(start));
            plan.items.push(Item { heading: Angle::deg(deg), ..item });
        }
        let network = fall::Network::of(&plan, &Placement::of(&plan));
        let fell = |unsure_passes| {
            let ask = fall::Ask { unsure_passes, ..fall::Ask::default() };
            let fall = fall::run(&plan, &network, &ask, &|_| true).expect("nobody stops it");
            fall.hit_us[..scene.pieces.len()].iter().map(|t| *t != fall::STANDS_US).collect()
        };
        Self { surely: fell(false), at_most: fell(true) }
    }

    /// How many of these fall: surely, and at the most.
    pub(crate) fn count(&self, of: &[usize]) -> (usize, usize) {
        let count = |v: &[bool]| of.iter().filter(|i| v[**i]).count();
        (count(&self.surely), count(&self.at_most))
    }
}

/// A network with what slides in it.
pub(crate) struct Woven {
    network: fall::Network,
    slides: Vec<fall::Across>,
}

impl Woven {
    /// Pushes pieces forward or back (`true`), as hard as a running line does.
    pub(crate) fn pushed(&self, pushed: &[(usize, bool)]) -> Answer {
        let states: Vec<u32> = pushed.iter().map(|(p, back)| 2 * *p as u32 + u32::from(*back)).collect();
        let walk = |unsure| self.walked(states.clone(), &[], unsure);
        Answer { surely: walk(false), at_most: walk(true) }
    }

    /// Knocks one piece forward or back (`true`) with a speed of turning, rad/s.
    pub(crate) fn knocked(&self, (piece, back): (usize, bool), speed: f64) -> Answer {
        let state = 2 * piece as u32 + u32::from(back);
        let knocked = self.network.knocked(state, speed);
        let walk = |unsure: bool| {
            let counts = |sure: fall::Sure| unsure || sure == fall::Sure::Passes;
            let next = knocked.next.iter().filter(|n| counts(n.1)).map(|n| n.0).collect();
            let own: Vec<u32> = knocked.own.filter(|s| counts(*s)).map(|_| state).into_iter().collect();
            self.walked(next, &own, unsure)
        };
        Answer { surely: walk(false), at_most: walk(true) }
    }

    /// Which pieces fall after some states, with or without what is not sure; `fallen` fell already and are not followed.
    fn walked(&self, mut todo: Vec<u32>, fallen: &[u32], unsure: bool) -> Vec<bool> {
        let network = &self.network;
        let mut seen = vec![false; 2 * network.pieces() as usize];
        fallen.iter().chain(&todo).for_each(|s| seen[*s as usize] = true);
        while let Some(state) = todo.pop() {
            let hits = network.edges(state).filter(|e| unsure || e.sure == fall::Sure::Passes).map(|e| e.to);
            let strays = network.strays(state).filter(|_| unsure);
            let at = self.slides.partition_point(|a| a.from < state);
            let own = self.slides[at..].iter().take_while(|a| a.from == state);
            let slid = own.filter(|a| unsure || a.holds == fall::Holds::Not).map(|a| a.to);
            for to in hits.chain(strays).chain(slid) {
                if !std::mem::replace(&mut seen[to as usize], true) {
                    todo.push(to);
                }
            }
        }
        seen.chunks(2).map(|s| s[0] || s[1]).collect()
    }
}

/// Agreement over the rows of one file.
#[derive(Default)]
pub(crate) struct Tally {
    pub(crate) name: &'static str,
    pub(crate) rows: usize,
    /// Rows that the network answers with "unsure".
    pub(crate) unsure: usize,
    /// Of these, measured neither as passing nor as not passing.
    pub(crate) rightly: usize,
    /// The measured shares of the unsure rows, each between what is sure and what is possible, added up.
    pub(crate) passed: f64,
    /// Measured share outside of what the network calls sure and possible (more than 5 % off).
    pub(crate) outside: usize,
    /// Against the rule: sure of what does not pass, or none of what passes.
    pub(crate) wrong: Vec<String>,
}

impl Tally {
    pub(crate) fn new(name: &'static str) -> Self {
        Self { name, ..Self::default() }
    }

    /// `answer` of `of` fall; measured was this share of them.
    pub(crate) fn row(&mut self, text: &str, answer: (usize, usize), of: usize, measured: f64) {
        let (least, most) = (answer.0 as f64 / of as f64, answer.1 as f64 / of as f64);
        self.rows += 1;
        let unsure = answer.0 < of && answer.1 == of || of == 1 && answer.0 != answer.1;
        self.unsure += usize::from(unsure);
        if unsure {
            self.passed += ((measured - least) / (most - least)).clamp(0.0, 1.0);
        }
        self.rightly += usize::from(unsure && measured > 0.05 && measured < 0.95);
        self.outside += usize::from(measured < least - 0.05 || measured > most + 0.05);
        let wrong = measured <= 0.05 && least >= 1.0 || measured >= 0.95 && most < 1.0;
        if wrong {
            self.wrong.push(format!(
                "{}: {text}: answered {least:.2} to {most:.2}, measured {measured:.2}",
                self.name
            ));
        }
    }

    /// Adds the rows of another one.
    pub(crate) fn add(&mut self, other: Self) {
        self.rows += other.rows;
        self.unsure += other.unsure;
        self.rightly += other.rightly;
        self.passed += other.passed;
        self.outside += other.outside;
        self.wrong.extend(other.wrong);
    }

    pub(crate) fn line(&self) -> String {
        let (rows, n) = (self.rows, self.wrong.len());
        let passed = self.passed / (self.unsure.max(1) as f64);
        format!(
            "| {} | {rows} | {} | {} | {passed:.2} | {} | {n} |",
            self.name, self.unsure, self.rightly, self.outside
        )
    }
}

/// One row by the names of its columns.
pub(crate) type Row = std::collections::BTreeMap<String, String>;

/// A number in a row; NaN when it is none.
pub(crate) fn num(r: &Row, key: &str) -> f64 {
    r[key].parse().unwrap_or(f64::NAN)
}

/// The rows of a file.
pub(crate) fn rows(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/data/transfers/{file}.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the data of the tests");
    let mut lines = text.lines();
    let names: Vec<String> = lines.next().unwrap_or("").split(',').map(str::to_owned).collect();
    lines.map(|l| names.iter().cloned().zip(l.split(',').map(str::to_owned)).collect()).collect()
}
