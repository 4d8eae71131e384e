//! How well the limits of turned pieces tell of what they were not fitted to.
//!
//! The runs are parted in two halves by what they show; the limits are fitted to one half from nothing and asked about the
//! other, both ways. The fit knows the form of the rules, which was chosen with all runs in sight: what is held out are the
//! figures, not the ideas. `data/limits.csv` keeps what was fitted, so that asking takes no fit.

use fall::{Limit, Limits};

use crate::cases::{Case, cases, tallies};
use crate::scene::Tally;

/// What the fit tries for each limit. The first value is where it begins: there nothing is unsure and nothing ruled out.
const TRIES: [(Limit, &[f64]); 48] = [
    (Limit::Poke15, &[0.1, 0.5, 0.9, 1.4, 2.0]),
    (Limit::Poke31, &[0.1, 0.5, 0.9, 1.4, 2.0, 3.0]),
    (Limit::PokeSteep, &[0.1, 0.9, 1.4, 2.0, 3.0]),
    (Limit::Sure15, &[0.1, 0.9, 1.9, 2.9, 3.9]),
    (Limit::Sure31, &[0.1, 0.9, 1.9, 2.9, 3.9, 4.9, 5.9]),
    (Limit::SureSlick15, &[0.1, 0.9, 1.9, 2.9, 3.9]),
    (Limit::SureSlick31, &[0.1, 0.9, 1.9, 2.9, 3.9, 4.9, 5.9]),
    (Limit::SureSlick46, &[0.1, 1.9, 3.9, 4.9, 5.9, 7.9]),
    (Limit::SureSteep, &[0.1, 1.9, 3.9, 4.9, 5.9, 7.9]),
    (Limit::Wide, &[48.0, 36.0, 32.0, 28.0, 24.0, 20.0]),
    (Limit::WholeFrom, &[0.0, 8.0, 11.0, 14.0]),
    (Limit::WholeTo, &[48.0, 30.0, 24.0, 18.0]),
    (Limit::WholeNear, &[48.0, 15.0, 10.0, 7.0, 4.0]),
    (Limit::EndOn, &[90.0, 57.5, 55.5, 52.5, 47.5]),
    (Limit::EndOnPoke, &[24.0, 12.0, 9.0, 6.9, 5.0, 3.0]),
    (Limit::EndOnNear, &[0.0, 2.0, 4.0, 7.0, 10.0, 15.0]),
    (Limit::SteepFar, &[48.0, 36.0, 30.0, 26.0, 22.0, 18.0]),
    (Limit::Stopped, &[-48.0, 0.0, 3.0, 5.0, 7.0, 10.0, 15.0]),
    (Limit::StoppedFrom, &[48.0, 24.0, 18.0, 15.0, 12.0, 9.0, 6.0]),
    (Limit::Leans, &[90.0, 75.0, 65.0, 57.5]),
    (Limit::LeansOther, &[90.0, 45.0, 30.0, 19.5, 10.0]),
    (Limit::CornerPoke, &[0.0, 1.0, 2.0, 3.0, 4.0, 5.0]),
    (Limit::CornerTurned, &[90.0, 45.0, 30.0, 15.0, 8.0]),
    (Limit::Wedge, &[0.0, 0.4, 0.75, 1.1, 1.5]),
    (Limit::CarriedTurned, &[90.0, 57.0, 52.0, 48.0, 43.0]),
    (Limit::CarriedFar, &[48.0, 20.0, 15.0, 12.0, 10.0, 8.0, 6.0]),
    (Limit::TightSteep, &[90.0, 50.0, 44.0, 39.0, 34.0]),
    (Limit::TightSteepNear, &[0.0, 0.8, 1.7, 2.5, 3.5]),
    (Limit::TightSteepLine, &[48.0, 15.0, 12.0, 9.0, 7.0]),
    (Limit::TightFar, &[90.0, 44.0, 37.0, 28.0, 22.0]),
    (Limit::TightFarNear, &[0.0, 2.0, 4.0, 5.2, 7.0]),
    (Limit::TightFarLead, &[48.0, 3.0, 1.0, 0.2, 0.0]),
    (Limit::BranchTurned, &[90.0, 47.0, 42.0, 37.0, 31.0, 25.0, 18.0]),
    (Limit::BranchTurnedSlick, &[90.0, 47.0, 42.0, 37.0, 31.0, 25.0, 18.0]),
    (Limit::BranchNear, &[48.0, 12.0, 9.0, 7.0, 5.2, 4.0, 3.0]),
    (Limit::AskewTurned, &[90.0, 50.0, 40.0, 34.0, 28.0, 22.0]),
    (Limit::AskewCovered, &[24.0, 20.0, 17.0, 14.0, 11.0]),
    (Limit::FarTurned, &[90.0, 57.0, 50.0, 44.0, 38.0]),
    (Limit::FarNear, &[0.0, 4.0, 6.0, 8.0, 10.0]),
    (Limit::CornersPoke, &[0.0, 0.5, 1.1, 2.0, 3.0]),
    (Limit::CornersPokeSlick, &[0.0, 1.1, 2.0, 3.0, 4.0]),
    (Limit::CornersCovered, &[24.0, 20.0, 16.0, 12.0]),
    (Limit::LateNear, &[48.0, 15.0, 10.0, 7.0, 5.0, 3.0]),
    (Limit::LateTurned, &[90.0, 60.0, 45.0, 37.0, 30.0]),
    (Limit::JamsBelow, &[0.0, 0.4, 0.8, 1.5, 3.0]),
    (Limit::BlockedPoke, &[0.0, 2.0, 3.0, 5.0, 7.0, 9.0]),
    (Limit::BlockedPokeSlick, &[0.0, 2.0, 3.0, 5.0, 7.0, 9.0]),
    (Limit::BlockedNear, &[0.0, 22.0, 24.0, 27.5, 32.0]),
];

/// Rounds through all limits, at most.
const ROUNDS: usize = 4;
/// Which half a name belongs to: FNV-1a over its bytes, folded to one bit.
fn half(name: &str) -> usize {
    let hash = name
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
    (hash.count_ones() % 2) as usize
}

/// The runs in two halves: whole turns of a kind of edge go to one, so that neither holds near copies of the other.
fn halves(cases: &[Case]) -> [Vec<&Case>; 2] {
    [0, 1].map(|h| cases.iter().filter(|c| half(&c.turns) == h).collect())
}

/// Rows, those answered against the rule, and those answered with "unsure".
fn score(tallies: &[Tally]) -> (usize, usize, usize) {
    let sum = |of: fn(&Tally) -> usize| tallies.iter().map(of).sum::<usize>();
    (sum(|t| t.rows), sum(|t| t.wrong.len()), sum(|t| t.unsure))
}

/// Rows against the rule and unsure ones, on slick floors and on those that grip.
type Cost = [(usize, usize); 2];

fn sum(cost: Cost) -> (usize, usize) {
    (cost[0].0 + cost[1].0, cost[0].1 + cost[1].1)
}

/// Which floors a limit counts on: slick ones, those that grip.
fn floors(limit: Limit) -> [bool; 2] {
    match limit {
        Limit::SureSlick15
        | Limit::SureSlick31
        | Limit::SureSlick46
        | Limit::BranchTurnedSlick
        | Limit::CornersPokeSlick
        | Limit::BlockedPokeSlick => [true, false],
        Limit::Sure15
        | Limit::Sure31
        | Limit::BranchTurned
        | Limit::CornersPoke
        | Limit::BlockedPoke
        | Limit::BlockedNear
        | Limit::LateNear
        | Limit::LateTurned
        | Limit::WholeFrom
        | Limit::WholeTo
        | Limit::WholeNear
        | Limit::EndOn
        | Limit::EndOnPoke
        | Limit::EndOnNear
        | Limit::SteepFar => [false, true],
        _ => [true; 2],
    }
}

/// The limits with the fewest rows against the rule and, among these, the fewest unsure ones, as far as changing one at a
/// time leads, in the order of [`TRIES`].
fn fit(cases: &[&Case], tell: &dyn Fn(String)) -> Limits {
    let mut best = TRIES.iter().fold(Limits::default(), |l, t| l.with(t.0, t.1[0]));
    let by_floor: [Vec<&Case>; 2] =
        [true, false].map(|slick| cases.iter().filter(|c| (c.mu < 0.2) == slick).copied().collect());
    let on = |floor: usize, l: &Limits| {
        let (_, wrong, unsure) = score(&tallies(&by_floor[floor], l));
        (wrong, unsure)
    };
    let mut least = [on(0, &best), on(1, &best)];
    // What changed nothing in one round is not tried in the next.
    let mut idle = [false; TRIES.len()];
    for round in 0..ROUNDS {
        let before = least;
        for ((limit, tries), idle) in TRIES.into_iter().zip(&mut idle).filter(|t| !*t.1) {
            let (from, mut same) = (least, true);
            for value in tries.iter().copied().filter(|v| *v != best.at(limit)).collect::<Vec<f64>>() {
                let with = best.with(limit, value);
                let mut cost: Cost = from;
                for floor in (0..2).filter(|f| floors(limit)[*f]) {
                    cost[floor] = on(floor, &with);
                }
                same &= cost == from;
                if sum(cost) < sum(least) {
                    (best, least) = (with, cost);
                }
            }
            *idle = same;
        }
        let (wrong, unsure) = sum(least);
        tell(format!("round {round}: {wrong} against the rule, {unsure} unsure"));
        if least == before {
            break;
        }
    }
    best
}

/// Limits for which the first value tried is the cautious one: those that rule something out, and what hangs on another
/// limit before anything is unsure.
const CAUTIOUS_FIRST: [Limit; 21] = [
    Limit::Poke15,
    Limit::Poke31,
    Limit::PokeSteep,
    Limit::Stopped,
    Limit::StoppedFrom,
    Limit::Leans,
    Limit::LeansOther,
    Limit::CornerPoke,
    Limit::CornerTurned,
    Limit::TightSteep,
    Limit::TightSteepNear,
    Limit::TightSteepLine,
    Limit::TightFar,
    Limit::TightFarNear,
    Limit::TightFarLead,
    Limit::AskewCovered,
    Limit::FarNear,
    Limit::CornersCovered,
    Limit::BlockedPoke,
    Limit::BlockedPokeSlick,
    Limit::BlockedNear,
];

/// The most cautious value of each limit that answers these cases no worse: what they do not show is unsure.
fn made_cautious(cases: &[&Case], mut limits: Limits) -> Limits {
    let cost = |l: &Limits| {
        let (_, wrong, unsure) = score(&tallies(cases, l));
        (wrong, unsure)
    };
    let least = cost(&limits);
    for (limit, tries) in TRIES {
        let mut order = tries.to_vec();
        if !CAUTIOUS_FIRST.contains(&limit) {
            order.reverse();
        }
        let cautious = order.into_iter().take_while(|v| *v != limits.at(limit));
        if let Some(value) = cautious.into_iter().find(|v| cost(&limits.with(limit, *v)) <= least) {
            limits = limits.with(limit, value);
        }
    }
    limits
}

fn path() -> String {
    format!("{}/tests/data/limits.csv", env!("CARGO_MANIFEST_DIR"))
}

/// Fits all halves and writes what was found; minutes. Run it after a change of the rules or of the runs.
#[test]
#[ignore = "takes minutes; `cargo nextest run -p fall --run-ignored only -E 'test(limits_are_fitted)'`"]
fn the_limits_are_fitted_to_one_half_of_the_runs_at_a_time() {
    let cases = cases();
    let mut columns: Vec<(String, Limits)> = Vec::new();
    for (h, half) in halves(&cases).iter().enumerate() {
        println!("half {h}: {} scenes", half.len());
        columns.push((format!("half {h}"), fit(half, &|line| println!("{line}"))));
        write(&columns);
    }
}

/// Makes the fitted limits cautious; a minute or two, after the fit.
#[test]
#[ignore = "takes minutes; run it after `the_limits_are_fitted_to_one_half_of_the_runs_at_a_time`"]
fn the_fitted_limits_are_made_cautious() {
    let cases = cases();
    let halves = halves(&cases);
    let mut columns: Vec<(String, Limits)> =
        ["half 0", "half 1"].map(|name| (name.to_owned(), fitted(name))).to_vec();
    for h in 0..2 {
        let limits = made_cautious(&halves[h], columns[h].1);
        columns.push((format!("cautious {h}"), limits));
    }
    write(&columns);
}

fn write(columns: &[(String, Limits)]) {
    let names: Vec<&str> = columns.iter().map(|c| c.0.as_str()).collect();
    let mut text = format!("limit,shipped,{}\n", names.join(","));
    for (limit, shipped) in Limit::ALL {
        let fitted: Vec<String> = columns.iter().map(|c| format!("{}", c.1.at(limit))).collect();
        text.push_str(&format!("{limit:?},{shipped},{}\n", fitted.join(",")));
    }
    std::fs::write(path(), text).expect("the data of the tests can be written");
}

/// The limits in one column of the file.
fn fitted(column: &str) -> Limits {
    let text = std::fs::read_to_string(path()).expect("the data of the tests");
    let mut lines = text.lines();
    let at = lines.next().and_then(|l| l.split(',').position(|n| n == column)).expect("a column");
    let mut limits = Limits::default();
    for (line, (limit, _)) in lines.zip(Limit::ALL) {
        let fields: Vec<&str> = line.split(',').collect();
        assert_eq!(fields[0], format!("{limit:?}"), "limits.csv is of other rules: fit anew");
        limits = limits.with(limit, fields[at].parse().expect("a number"));
    }
    limits
}

/// Most rows in a thousand that limits fitted to the other half may answer against the rule: a little more than was found,
/// for limits as bold as the half allows and for cautious ones.
const WRONG: [(&str, usize); 2] = [("half", 25), ("cautious", 10)];

#[test]
fn limits_fitted_to_one_half_of_the_runs_are_seldom_wrong_about_the_other() {
    let cases = cases();
    println!("| fitted | to rows | against the rule | unsure | rows held out | against the rule | unsure |");
    println!("|---|---|---|---|---|---|---|");
    let halves = halves(&cases);
    let share = |n: usize, of: usize| format!("{:.1} %", 100.0 * n as f64 / of as f64);
    for (name, most) in WRONG {
        let (mut all, mut against) = (0, 0);
        for h in 0..2 {
            let limits = fitted(&format!("{name} {h}"));
            let (own, other) = (score(&tallies(&halves[h], &limits)), tallies(&halves[1 - h], &limits));
            let (rows, wrong, unsure) = score(&other);
            println!(
                "| {name} {h} | {} | {} | {} | {rows} | {wrong}, {} | {} |",
                own.0,
                own.1,
                share(own.2, own.0),
                share(wrong, rows),
                share(unsure, rows)
            );
            other.iter().flat_map(|t| &t.wrong).for_each(|w| println!("  {w}"));
            (all, against) = (all + rows, against + wrong);
        }
        assert!(against * 1000 <= all * most, "{name}: {against} of {all} rows that were held out are wrong");
    }
}
