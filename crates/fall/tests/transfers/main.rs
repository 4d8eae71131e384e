//! Every measured transfer against what the network says: it passes, it is unsure, or it does not.
//!
//! A row passes when at least 95 % of its lanes or runs did, and does not when at most 5 % did. The network must never be
//! sure of what does not pass, nor rule out what passes.

mod cases;
mod edges;
mod fit;
mod lines;
mod scene;

/// The whole table of agreement, and the bounds on it.
#[test]
fn every_measured_transfer_is_reproduced_within_its_certainty() {
    let cases = cases::cases();
    let mut all = cases::tallies(&cases.iter().collect::<Vec<_>>(), &fall::Limits::default());
    all.extend(lines::tallies());
    println!(
        "| file | rows | unsure | of these measured so | passed | outside | against the rule |\n|---|---|---|---|---|---|---|"
    );
    all.iter().for_each(|t| println!("{}", t.line()));
    let (rows, unsure): (usize, usize) = all.iter().fold((0, 0), |s, t| (s.0 + t.rows, s.1 + t.unsure));
    println!("unsure: {unsure} of {rows}, {:.1} %", 100.0 * unsure as f64 / rows as f64);
    let wrong: Vec<&str> = all.iter().flat_map(|t| &t.wrong).map(String::as_str).collect();
    wrong.iter().for_each(|w| println!("WRONG {w}"));
    assert!(wrong.is_empty(), "{} rows are answered against the rule, see WRONG above", wrong.len());
    assert!(unsure * 100 <= rows * MOST_UNSURE, "{unsure} of {rows} rows are answered with unsure");
}

/// The chances with which hits that may fail pass in runs with a seed, against the rows that the network calls unsure.
#[test]
fn what_may_fail_passes_about_as_often_as_measured() {
    let cases = cases::cases();
    let mut all = cases::tallies(&cases.iter().collect::<Vec<_>>(), &fall::Limits::default());
    all.extend(lines::tallies());
    let share = |names: &[&str]| {
        let of = all.iter().filter(|t| names.contains(&t.name));
        let (passed, rows) = of.fold((0.0, 0), |s, t| (s.0 + t.passed, s.1 + t.unsure));
        (passed / rows as f64, rows)
    };
    let (hits, rows) = share(&[
        "edge_scan lanes",
        "edge_repeat lanes",
        "mujoco_edge lanes",
        "join",
        "drop",
        "edge_scan line",
    ]);
    assert!(rows > 800 && (hits - fall::UNSURE_PASSES).abs() < 0.03, "{hits} of {rows} rows");
    let (barred, rows) = share(&["crossing"]);
    assert!(rows > 80 && (barred - fall::BARRED_PASSES).abs() < 0.05, "{barred} of {rows} rows");
}

/// What is told of feeds comes from the network, so that it must be as careful as the measured rows: of what it is sure of at
/// the edge of a field 79 lanes of 80 fell.
#[test]
fn of_feeds_that_the_network_is_sure_of_seventy_nine_lanes_of_eighty_fell() {
    let (sure, wrong) = cases::sure_lanes(79.0 / 80.0 - 1e-3);
    wrong.iter().for_each(|w| println!("WRONG {w}"));
    assert!(sure > 20 && wrong.is_empty(), "{} of {sure} sure rows", wrong.len());
}

/// Percent of rows that may be answered with "unsure". Two in a hundred are so because 78 lanes of 80 are not enough for being
/// sure, or because the first of two lines that cross is as unsure as the second. Six in ten of those that were measured as
/// clear are single runs with exact places, which says little of pieces set with a scatter.
const MOST_UNSURE: usize = 27;
