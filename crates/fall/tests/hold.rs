//! The table of openings against every run that it was made from (`data/transfers/safety_*.csv`, own simulations).

use fall::{Block, Holds, Opening, hold, needed_opening};

const THICKNESS: f64 = 7.5;

/// Opening, runs, held runs, and where it is from.
fn rows() -> Vec<(Opening, u32, u32, String)> {
    let mut rows = Vec::new();
    let files = [
        ("hold", include_str!("data/transfers/safety_hold.csv")),
        ("opening", include_str!("data/transfers/safety_opening.csv")),
    ];
    for (name, text) in files {
        for line in text.lines().skip(1) {
            let n: Vec<f64> = line.split(',').take(5).map(|v| v.parse().expect("a number")).collect();
            let opening =
                Opening { clear: n[2], gap: n[1], height: 48.0, floor: (n[0], n[0]), block: Block::None };
            rows.push((opening, n[3] as u32, n[4] as u32, format!("{name}: {line}")));
        }
    }
    for line in include_str!("data/transfers/safety_gap.csv").lines().skip(1) {
        let (stopper, rest) = line.split_once(',').expect("columns");
        let n: Vec<f64> = rest.split(',').take(6).map(|v| v.parse().expect("a number")).collect();
        let block = match stopper {
            "none" => Block::None,
            "fixed_wall_24" | "fixed_wall_48" => Block::Fixed,
            "loose_turned" => Block::LooseStanding,
            "loose_flat" => Block::LooseFlat,
            other => panic!("{other}"),
        };
        let opening =
            Opening { clear: n[3], gap: n[1] - THICKNESS, height: 48.0, floor: (n[0], n[0]), block };
        rows.push((opening, n[4] as u32, n[5] as u32, format!("gap: {line}")));
    }
    rows
}

#[test]
fn every_measured_opening_is_told_within_its_certainty() {
    let rows = rows();
    assert_eq!(rows.len(), 98 + 129 + 84);
    let (mut unsure, mut mixed, mut plain) = (0, 0, 0);
    for (opening, runs, held, row) in &rows {
        let verdict = hold(opening);
        assert!(*held == *runs || verdict != Holds::Surely, "held {held} of {runs}, told surely: {row}");
        assert!(*held == 0 || verdict != Holds::Not, "held {held} of {runs}, told not: {row}");
        mixed += u32::from(0 < *held && held < runs);
        plain += u32::from(*held == 0 || held == runs);
        unsure += u32::from(verdict == Holds::Unsure && (*held == 0 || held == runs));
    }
    let share = f64::from(unsure) / f64::from(plain);
    println!("{mixed} rows are mixed; of {plain} others {unsure} are told unsure ({:.0} %)", 100.0 * share);
    assert!(share < 0.30, "{share}");
}

#[test]
fn the_worst_friction_of_the_range_decides() {
    let at = |clear: f64, floor| hold(&Opening { clear, gap: 7.5, height: 48.0, floor, block: Block::None });
    // Three pieces left out at 15 mm: good on a floor that grips, useless on a slick one.
    assert_eq!(at(52.5, (0.3, 0.3)), Holds::Surely);
    assert_eq!(at(52.5, (0.15, 0.3)), Holds::Not);
    assert_eq!(at(52.5, (0.3, 0.15)), Holds::Not);
    assert_eq!(at(112.5, (0.15, 0.3)), Holds::Surely);
    assert_eq!(at(52.5, (0.25, 0.3)), Holds::Surely);
    // Slicker than any run.
    assert_eq!(at(300.0, (0.1, 0.3)), Holds::Unsure);
    assert_eq!(at(22.5, (0.1, 0.3)), Holds::Not);
}

#[test]
fn a_fixed_block_holds_where_it_was_measured_and_a_loose_one_is_never_sure() {
    let with = |block, clear| hold(&Opening { clear, gap: 7.5, height: 48.0, floor: (0.15, 0.3), block });
    assert_eq!(with(Block::Fixed, 52.5), Holds::Surely);
    assert_eq!(with(Block::Fixed, 15.0), Holds::Unsure);
    assert_eq!(with(Block::LooseStanding, 82.5), Holds::Not);
    assert_eq!(with(Block::LooseFlat, 200.0), Holds::Unsure);
}

#[test]
fn the_needed_opening_surely_holds_and_lengths_scale_with_the_height() {
    for floor in [(0.15, 0.3), (0.2, 0.3), (0.25, 0.25), (0.3, 0.6)] {
        for gap in [7.5, 9.0, 12.0, 15.0, 20.0] {
            for height in [24.0, 48.0, 96.0] {
                let scale = height / 48.0;
                let opening = Opening { clear: 0.0, gap: gap * scale, height, floor, block: Block::None };
                let needed = needed_opening(&opening).unwrap();
                assert_eq!(hold(&Opening { clear: needed, ..opening }), Holds::Surely);
                assert_ne!(hold(&Opening { clear: needed - 0.1 * scale, ..opening }), Holds::Surely);
            }
        }
    }
    let unknown = Opening { clear: 0.0, gap: 30.0, height: 48.0, floor: (0.3, 0.3), block: Block::None };
    assert_eq!(needed_opening(&unknown), None);
    assert_eq!(needed_opening(&Opening { gap: 7.5, floor: (0.1, 0.3), ..unknown }), None);
}

#[test]
fn nonsense_is_unsure() {
    let nonsense = Opening { clear: f64::NAN, gap: 7.5, height: 0.0, floor: (0.3, 0.15), block: Block::None };
    assert_eq!(hold(&nonsense), Holds::Unsure);
}
