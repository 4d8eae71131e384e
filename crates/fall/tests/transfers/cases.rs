//! The runs with turned pieces as cases that can be asked again with other limits.

use std::collections::BTreeMap;

use fall::Limits;
use rayon::prelude::*;

use crate::edges::{Edge, keys};
use crate::lines::{HARD, MIDDLE, SOFT};
use crate::scene::{Scene, Tally, Woven, num, rows};

/// What is done to a scene.
#[derive(Clone, Copy)]
pub(crate) enum Done {
    /// A piece is pushed forward as hard as a running line does.
    Pushed(usize),
    /// A piece is knocked forward or back (`true`) with a speed of turning, rad/s.
    Knocked((usize, bool), f64),
}

/// What is asked of a scene: how many of some pieces fall.
pub(crate) struct Asked {
    tally: &'static str,
    text: String,
    of: Vec<usize>,
    /// The measured share of them.
    measured: f64,
}

/// One scene of a measured run.
pub(crate) struct Case {
    scene: Scene,
    pub(crate) mu: f64,
    done: Done,
    asked: Vec<Asked>,
    /// The kind of edge and all turns in it alone.
    pub(crate) turns: String,
}

impl Case {
    fn new(family: &str, geometry: &str, scene: Scene, (mu, done): (f64, Done)) -> Self {
        let turns: Vec<&str> =
            geometry.split(';').filter(|k| k.contains("yaw") || k.contains("angle")).collect();
        Self { scene, mu, done, asked: Vec::new(), turns: format!("{family} {}", turns.join(";")) }
    }

    /// Asks a network in which the pieces of the scene begin at `first`.
    fn tally_into(&self, woven: &Woven, first: usize, tallies: &mut BTreeMap<&'static str, Tally>) {
        let answer = match self.done {
            Done::Pushed(piece) => woven.pushed(&[(first + piece, false)]),
            Done::Knocked((piece, back), speed) => woven.knocked((first + piece, back), speed),
        };
        for a in &self.asked {
            let tally = tallies.entry(a.tally).or_insert_with(|| Tally::new(a.tally));
            let of: Vec<usize> = a.of.iter().map(|i| first + i).collect();
            tally.row(&a.text, answer.count(&of), of.len(), a.measured);
        }
    }
}

/// All of them.
pub(crate) fn cases() -> Vec<Case> {
    let mut all = of_edges("edge_scan", "edge_scan lanes", "edge_scan line");
    all.extend(of_edges("edge_repeat", "edge_repeat lanes", "edge_repeat line"));
    all.extend(of_edges("mujoco_edge", "mujoco_edge lanes", "mujoco_edge line"));
    all.extend(of_backward_field());
    all
}

/// Agreement of some cases, by file. Scenes on the same floor are asked in one network, which saves the making of many.
pub(crate) fn tallies(cases: &[&Case], limits: &Limits) -> Vec<Tally> {
    let mut sorted = cases.to_vec();
    sorted.sort_by(|a, b| a.mu.total_cmp(&b.mu));
    let floors = sorted.chunk_by(|a, b| a.mu == b.mu).flat_map(|floor| floor.chunks(TOGETHER));
    let chunks: Vec<BTreeMap<&'static str, Tally>> = floors
        .collect::<Vec<_>>()
        .par_iter()
        .map(|chunk| {
            let mut tallies = BTreeMap::new();
            let (scene, first) = Scene::apart(&chunk.iter().map(|c| &c.scene).collect::<Vec<_>>());
            let woven = scene.woven(chunk[0].mu, limits);
            chunk.iter().zip(first).for_each(|(c, first)| c.tally_into(&woven, first, &mut tallies));
            tallies
        })
        .collect();
    let mut all: BTreeMap<&'static str, Tally> = BTreeMap::new();
    for (name, tally) in chunks.into_iter().flatten() {
        all.entry(name).or_insert_with(|| Tally::new(name)).add(tally);
    }
    all.into_values().collect()
}

/// How many rows of repeated runs at the edge of a field the network is sure of in all their lanes, and those of which a
/// smaller share fell.
pub(crate) fn sure_lanes(least: f64) -> (usize, Vec<String>) {
    let (mut sure, mut wrong) = (0, Vec::new());
    for case in of_edges("edge_repeat", "edge_repeat lanes", "edge_repeat line") {
        let woven = case.scene.woven(case.mu, &Limits::default());
        let Done::Pushed(piece) = case.done else { continue };
        let answer = woven.pushed(&[(piece, false)]);
        for a in case.asked.iter().filter(|a| a.tally.ends_with("lanes")) {
            if answer.count(&a.of).0 == a.of.len() {
                sure += 1;
                if a.measured < least {
                    wrong.push(format!("{}: {:.0} of 80", a.text, a.measured * 80.0));
                }
            }
        }
    }
    (sure, wrong)
}

/// Scenes in one network.
const TOGETHER: usize = 24;

/// Lanes and line of the scenes at the edge of a field.
fn of_edges(file: &str, lanes: &'static str, line: &'static str) -> Vec<Case> {
    let mut all = Vec::new();
    for r in rows(file) {
        let geometry = r.get("geometry_mm_deg").or(r.get("geometry")).cloned().unwrap_or_default();
        let (gap, mu) = (num(&r, "gap_mm"), num(&r, "mu"));
        let edge = Edge::of(&r["family"], gap, &keys(&geometry));
        let ends: Vec<usize> = edge.lanes.iter().map(|l| l[l.len() - 1]).collect();
        let text = format!("{} s {gap} mu {mu} {geometry}", r["family"]);
        let number = |v: &str| v.parse::<f64>().unwrap_or(f64::NAN);
        let measured = match r.get("lanes_fallen_north").and_then(|share| share.split_once('/')) {
            Some((fell, of)) => number(fell) / number(of),
            None => num(&r, "lanes_fallen") / num(&r, "of"),
        };
        let mut case = Case::new(&r["family"], &geometry, edge.scene, (mu, Done::Pushed(edge.line[0])));
        case.asked.push(Asked { tally: lanes, text: text.clone(), of: ends, measured });
        if "ABCDJ".contains(&text[..1]) {
            let runs = r.get("runs").map_or(1.0, |v| number(v));
            let last = edge.line[edge.line.len() - 1];
            let measured = num(&r, "line_ran_on") / runs;
            case.asked.push(Asked { tally: line, text, of: vec![last], measured });
        }
        all.push(case);
    }
    all
}

/// A piece of lane 2 (from 0) or of the line is knocked: the line's first piece, the other lanes, and the own one on
/// both sides of the piece.
fn of_backward_field() -> Vec<Case> {
    let mut all = Vec::new();
    for r in rows("backward_field") {
        let (mu, gap) = (num(&r, "mu"), num(&r, "gap_mm"));
        let edge = Edge::of(&r["family"], gap, &keys(&r["geometry"]));
        let lane = &edge.lanes[2];
        let (piece, back, speed) = match r["knocked"].as_str() {
            "lane2_last_back" => (lane[lane.len() - 1], true, HARD),
            "lane2_piece4_back" => (lane[3], true, SOFT),
            "lane2_piece4_fwd" => (lane[3], false, SOFT),
            _ => (edge.line[10], true, MIDDLE),
        };
        let done = Done::Knocked((piece, back), speed);
        let mut case = Case::new(&r["family"], &r["geometry"], edge.scene, (mu, done));
        let text = format!("{} s {gap} mu {mu} {} {}", r["family"], r["geometry"], r["knocked"]);
        let fell = |s: &str| s.chars().filter(|c| "FBS".contains(*c)).count() as f64;
        let mut ask = |text: String, of: &[usize], fell: f64| {
            if !of.is_empty() {
                let measured = fell / of.len() as f64;
                case.asked.push(Asked { tally: "backward_field", text, of: of.to_vec(), measured });
            }
        };
        let first = fell(&r["line_pieces_in_order"][..1]);
        ask(format!("{text} first of the line"), &edge.line[..1], first);
        for (i, shown) in r["lanes_in_order"].split('|').enumerate() {
            let pieces = &edge.lanes[i];
            // The knocked piece counts with those that it falls on.
            let at = pieces.iter().position(|p| *p == piece).map_or(0, |at| at + usize::from(back));
            let names = if at > 0 { [" behind", " before"] } else { ["", ""] };
            ask(format!("{text} lane {i}{}", names[0]), &pieces[..at], fell(&shown[..at]));
            ask(format!("{text} lane {i}{}", names[1]), &pieces[at..], fell(&shown[at..]));
        }
        all.push(case);
    }
    all
}
