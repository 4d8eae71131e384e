//! Our fall beside a general rigid-body engine: `race`, `race steps`, `race speeds`.
//!
//! `race` runs lines of 2 000 pieces through both and prints arrival and time, and how many times ours is faster.
//! `race steps` shows how the engine's answer hangs on its step. `race speeds` prints the table of speeds that the
//! tests of crate `fall` hold the law to.

mod branches;
mod bricks;
mod dice;
mod engine;
mod ours;

use anyhow::{Context as _, Result, bail};

use engine::{Fineness, Line, Outcome, run};
use fall::law::Law;

/// The pieces between which a line is steady.
const FROM: usize = 70;
const TO: usize = 120;

const NO_NUMBER: &str = "the number of pieces is no number";

fn main() -> Result<()> {
    // One thread for both: the engine is built without its threads.
    rayon::ThreadPoolBuilder::new().num_threads(1).build_global().context("no pool of threads")?;
    let args: Vec<String> = std::env::args().skip(1).collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    match args.as_slice() {
        [] => race(2_000, false),
        ["steps", rest @ ..] => steps(rest),
        ["speeds", rest @ ..] => speeds(rest),
        ["bricks", runs, steps @ ..] => {
            bricks(runs.parse().context("the number of runs is no number")?, steps)
        }
        ["branches", runs, mus @ ..] => {
            branches(runs.parse().context("the number of runs is no number")?, mus)
        }
        [pieces] => race(pieces.parse().context(NO_NUMBER)?, false),
        [pieces, "fine"] => race(pieces.parse().context(NO_NUMBER)?, true),
        _ => bail!(
            "Call it as: race [PIECES [fine]] | race steps GAP MU FLOOR | race speeds [MU [FLOOR GAP ...]] | race bricks RUNS [LANE_PITCH ...] | race branches RUNS [MU ...]"
        ),
    }
}

/// Both on the same lines, at the friction that a new plan takes: pieces 0.13, floor 0.3.
fn race(pieces: usize, fine: bool) -> Result<()> {
    println!(
        "gap_mm,mu,mu_floor,push_rad_s,step_ms,iterations,engine_arrival_s,our_arrival_s,off_percent,engine_wall_s,\
         engine_busy_s,wave_us,network_wave_us,placement_network_wave_us,law_us,times_network_wave,times_all_and_law"
    );
    let coarse = Fineness { step: 1.0, iterations: 4, ..Fineness::USUAL };
    let finenesses = if fine { vec![Fineness::FINE] } else { vec![coarse, Fineness::USUAL] };
    for gap in [7.5, 12.5, 20.0] {
        let line = Line { pieces, gap, mu: 0.13, floor: 0.3, push: 6.0 };
        let ours = ours::time(&line, 201)?;
        for fineness in &finenesses {
            let (line, out) = started(line, fineness);
            let arrival = *out.hits.get(pieces - 1).context("the engine's line stops")?;
            println!(
                "{gap},{},{},{},{},{},{arrival:.3},{:.3},{:.2},{:.1},{:.1},{:.0},{:.0},{:.0},{:.0},{:.0},{:.0}",
                line.mu,
                line.floor,
                line.push,
                fineness.step,
                fineness.iterations,
                ours.arrival,
                (ours.arrival / arrival - 1.0) * 100.0,
                out.wall,
                out.busy,
                ours.wave * 1e6,
                ours.network_and_wave * 1e6,
                ours.all * 1e6,
                ours.law * 1e6,
                out.busy / ours.network_and_wave,
                out.busy / (ours.all + ours.law),
            );
        }
    }
    Ok(())
}

/// The line run with the weakest of a few pushes that brings it all down.
fn started(line: Line, fineness: &Fineness) -> (Line, Outcome) {
    let mut best = (line, run(&line, fineness));
    for k in [1.5, 2.0, 3.0] {
        if best.1.hits.len() == line.pieces {
            break;
        }
        let line = Line { push: line.push * k, ..line };
        let out = run(&line, fineness);
        if out.hits.len() > best.1.hits.len() {
            best = (line, out);
        }
    }
    best
}

/// Lanes that brick ranks feed, and lanes before which there are none, for comparison.
fn bricks(runs: u64, steps: &[&str]) -> Result<()> {
    let steps: Vec<f64> =
        steps.iter().map(|s| s.parse()).collect::<Result<_, _>>().context("a lane pitch is no number")?;
    println!("lane_pitch_mm,gap_mm,mu,bricks,lanes_fell,lanes_run");
    for lanes in steps {
        for (bricks, gap, mu) in [true, false]
            .into_iter()
            .flat_map(|b| [7.5, 20.0].into_iter().flat_map(move |g| [0.15, 0.3].map(|m| (b, g, m))))
        {
            let runs = if bricks { runs } else { runs.min(2) };
            let case = bricks::Case { lanes, gap, mu, bricks };
            println!("{lanes},{gap},{mu},{bricks},{},{}", bricks::lanes_that_fell(&case, runs)?, runs * 5);
        }
    }
    Ok(())
}

/// The rows of `branch.csv`.
fn branches(runs: u64, mus: &[&str]) -> Result<()> {
    let mus: Vec<f64> =
        mus.iter().map(|s| s.parse()).collect::<Result<_, _>>().context("a friction is no number")?;
    println!("mu,gap_mm,radius_mm,turn_deg,apart_mm,runs,straight_fell_whole,bent_fell_whole,source");
    for mu in mus {
        for gap in [7.5, 12.0, 20.0] {
            for radius in [60.0, 100.0, 200.0, 400.0] {
                for turn in [45.0, 90.0] {
                    let case = branches::Case { gap, radius, turn, apart: 25.0, mu };
                    let (straight, bent) = branches::fell_whole(&case, runs);
                    println!(
                        "{mu},{gap},{radius},{turn},{},{runs},{straight},{bent},own rapier run (dt 0.5 ms 8 it; yaw sd 1 deg; place sd 0.5 mm)",
                        case.apart
                    );
                }
            }
        }
    }
    Ok(())
}

/// One line at finer and finer steps.
fn steps(args: &[&str]) -> Result<()> {
    let [gap, mu, floor] = args else { bail!("Call it as: race steps GAP MU FLOOR") };
    let line = Line { pieces: 120, gap: gap.parse()?, mu: mu.parse()?, floor: floor.parse()?, push: 6.0 };
    println!("step_ms,iterations,unit_m,recycle,push,hit,speed_60_85,speed_85_110,slid_mm,wall_s");
    for (step, iterations, unit, recycle) in [
        (1.0, 4, 0.02, true),
        (0.5, 4, 0.02, true),
        (0.5, 8, 0.02, true),
        (0.5, 8, 0.02, false),
        (0.25, 8, 0.02, true),
        (0.25, 8, 0.005, false),
        (0.125, 8, 0.02, true),
        (0.125, 8, 0.005, false),
        (0.0625, 4, 0.02, true),
        (0.0625, 4, 0.005, false),
    ] {
        let fineness = Fineness { step, iterations, unit, recycle };
        for push in [6.0, 9.0, 12.0, 18.0] {
            let line = Line { push, ..line };
            let out = run(&line, &fineness);
            let speed = |from, to| out.speed(&line, from, to).unwrap_or(f64::NAN);
            println!(
                "{step},{iterations},{unit},{recycle},{push},{},{:.4},{:.4},{:.2},{:.2}",
                out.hits.len(),
                speed(60, 85),
                speed(85, 110),
                out.slid,
                out.wall
            );
            if out.hits.len() == line.pieces {
                break;
            }
        }
    }
    Ok(())
}

/// Steady speeds: the rows that the tests of crate `fall` hold the law to. Where feet hold, the floor hardly matters; so
/// each friction is run on a floor that grips alike, as in the older rows, and slippery pieces on one that holds too.
///
/// `race speeds again` are rows that an earlier program measured, at its step and at the fine one.
fn speeds(args: &[&str]) -> Result<()> {
    let own = |gaps: &[f64], mu: f64| {
        let grips = if mu < 0.3 { vec![mu, 0.4] } else { vec![mu] };
        for (floor, &gap) in grips.iter().flat_map(|floor| gaps.iter().map(move |gap| (*floor, gap))) {
            // Two gaps of each friction show that the step no longer matters.
            let finer = [7.5, 20.0].contains(&gap).then_some(Fineness::FINER);
            row(line_of(gap, mu, floor), &Fineness::FINE, finer.as_ref());
        }
    };
    const GAPS: [f64; 8] = [5.0, 6.0, 7.5, 10.0, 15.0, 20.0, 28.0, 36.0];
    println!(
        "gap_mm,mu,mu_floor,push_rad_s,hit,speed_m_s,speed_at_finer_m_s,slid_mm,law_m_s,law_off_percent"
    );
    match args {
        [] => [0.1, 0.15, 0.2, 0.4, 0.6].into_iter().for_each(|mu| own(&GAPS, mu)),
        ["again"] => {
            for (mu, gap) in
                [0.2, 0.3, 0.4, 0.6].into_iter().flat_map(|mu| [8.0, 16.0, 24.0, 36.0].map(|g| (mu, g)))
            {
                row(line_of(gap, mu, mu), &Fineness::USUAL, Some(&Fineness::FINE));
            }
        }
        [mu] => own(&GAPS, mu.parse().context("the friction is no number")?),
        [mu, floor, gaps @ ..] => {
            for gap in gaps {
                row(line_of(gap.parse()?, mu.parse()?, floor.parse()?), &Fineness::FINE, None);
            }
        }
    }
    Ok(())
}

fn line_of(gap: f64, mu: f64, floor: f64) -> Line {
    Line { pieces: 130, gap, mu, floor, push: 6.0 }
}

fn row(line: Line, fine: &Fineness, finer: Option<&Fineness>) {
    let (line, out) = started(line, fine);
    let speed = |out: &Outcome| out.speed(&line, FROM, TO);
    let shown = |speed: Option<f64>| speed.map_or(String::new(), |v| format!("{v:.4}"));
    let law = Law::of(48.0, 7.5, line.mu).speed(48.0, 7.5, line.gap);
    println!(
        "{},{},{},{},{},{},{},{:.2},{law:.4},{}",
        line.gap,
        line.mu,
        line.floor,
        line.push,
        out.hits.len(),
        shown(speed(&out)),
        shown(finer.and_then(|f| speed(&run(&line, f)))),
        out.slid,
        speed(&out).map_or(String::new(), |v| format!("{:.1}", (law / v - 1.0) * 100.0)),
    );
}
