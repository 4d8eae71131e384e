//! Times the seen match and measures its pictures beside error diffusion and the exact match under the same stock.
//!
//! `cargo bench -p colour --bench seen -- [--threads N] [--calm PICTURES] [SIDExCOLOURS ...]`
//!
//! With `--calm` it tells instead what weight 3 for fewer changes leaves and costs beside weight 0, over so many pictures.

#![allow(clippy::print_stdout, reason = "a bench prints its table")]
#![allow(clippy::unwrap_used, reason = "a bench may stop with a message")]

use std::time::Instant;

use colour::{
    Axis, FieldWanted, Flow, Problem, SeenOptions, match_exact, match_seen, mean_difference_seen, runs,
    support,
};

fn main() {
    let mut args: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let threads = option(&mut args, "--threads").map_or(1, |n| n.parse().unwrap());
    let calm = option(&mut args, "--calm").map(|n| n.parse().unwrap());
    if args.is_empty() && calm.is_some() {
        args = vec!["100x16".into()];
    }
    if args.is_empty() {
        args = ["100x16", "100x40", "1000x16"].map(String::from).to_vec();
    }
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    if let Some(pictures) = calm {
        pool.install(|| args.iter().for_each(|name| weigh(name, pictures)));
        return;
    }
    println!("{threads} thread(s); mean CIEDE2000 after a blur of 0.5, 1, 2 and 4 cells; runs a lane");
    for name in &args {
        let (side, colours) = size(name);
        for (seed, sigma) in [(1, 1.0), (2, 1.0), (1, 1.5)] {
            let mut problem = support::short_problem(side, side, colours, seed);
            problem.fields[0].sigma = [sigma, sigma];
            println!("{side} x {side}, {colours} colours, picture {seed}, designed for {sigma}");
            pool.install(|| table(&problem));
            if side > 300 {
                break;
            }
        }
    }
}

fn size(name: &str) -> (u32, usize) {
    let (side, colours) = name.split_once('x').unwrap();
    (side.parse().unwrap(), colours.parse().unwrap())
}

/// What weight 3 leaves and costs, as parts of weight 0, over pictures, lanes along both axes and two kinds of short stock.
fn weigh(name: &str, pictures: u64) {
    let (side, colours) = size(name);
    println!(
        "{side} x {side}, {colours} colours, {pictures} pictures: weight 3 as a part of weight 0, mean and most"
    );
    println!("stock, designed for: changes; CIEDE2000 at that blur; at 2 cells (how often more); at 4 cells");
    for stock in ["half as wanted", "uneven"] {
        for sigma in [0.7, 1.0, 1.5] {
            let mut found = Vec::new();
            for (picture, axis) in (1..=pictures).flat_map(|p| [(p, Axis::Cols), (p, Axis::Rows)]) {
                let mut problem = match stock {
                    "uneven" => support::uneven_problem(side, side, colours, picture),
                    _ => support::short_problem(side, side, colours, picture),
                };
                problem.fields[0].sigma = [sigma, sigma];
                problem.fields[0].runs_along = axis;
                found.push(parts(&problem));
            }
            let mean = |i: usize| found.iter().map(|f| f[i]).sum::<f64>() / found.len() as f64;
            let most = |i: usize| found.iter().map(|f| f[i]).fold(0.0, f64::max);
            let more = found.iter().filter(|f| f[2] > 1.0).count();
            let [changes, own, two, four] = [0, 1, 2, 3].map(|i| format!("{:.4} {:.4}", mean(i), most(i)));
            println!("{stock:14} {sigma}: {changes}; {own}; {two} ({more} of {}); {four}", found.len());
        }
    }
}

fn parts(problem: &Problem) -> [f64; 4] {
    let field = &problem.fields[0];
    let [plain, calm] = [0.0, 3.0].map(|fewer_changes| {
        let options = SeenOptions { fewer_changes, ..SeenOptions::default() };
        let cells = &match_seen(problem, &options, None, &mut |_| Flow::Go).unwrap().cells[0];
        let seen = |s: [f64; 2]| mean_difference_seen(field, cells, s);
        [runs(field, cells).changes as f64, seen(field.sigma), seen([2.0, 2.0]), seen([4.0, 4.0])]
    });
    std::array::from_fn(|i| calm[i] / plain[i])
}

fn option(args: &mut Vec<String>, name: &str) -> Option<String> {
    let place = args.iter().position(|a| a == name)?;
    args.remove(place);
    Some(args.remove(place))
}

fn line(name: &str, seconds: f64, field: &FieldWanted, cells: &[u16]) {
    let seen: Vec<String> =
        [0.5, 1.0, 2.0, 4.0].map(|s| format!("{:6.2}", mean_difference_seen(field, cells, [s, s]))).to_vec();
    let counted = runs(field, cells);
    println!(
        "  {name:24} {seconds:8.3} s  {}  {:6.1}",
        seen.join(" "),
        counted.runs as f64 / counted.lanes as f64
    );
}

fn table(problem: &Problem) {
    let field = &problem.fields[0];
    let start = Instant::now();
    let diffused = support::diffuse(field, &problem.stock);
    line("error diffusion", start.elapsed().as_secs_f64(), field, &diffused);
    let start = Instant::now();
    let exact = match_exact(problem, &mut |_| Flow::Go).unwrap();
    line("exact", start.elapsed().as_secs_f64(), field, &exact.cells[0]);
    let large = field.cols > 300;
    let weights: &[f64] = if large { &[0.0, 3.0] } else { &[0.0, 1.0, 2.0, 3.0, 4.0, 5.0] };
    for &fewer_changes in weights {
        let options = SeenOptions { fewer_changes, ..SeenOptions::default() };
        let start = Instant::now();
        let seen = match_seen(problem, &options, None, &mut |_| Flow::Go).unwrap();
        let seconds = start.elapsed().as_secs_f64();
        line(&format!("seen, fewer changes {fewer_changes}"), seconds, field, &seen.cells[0]);
        if large {
            println!("    errors {:.4e} {:.4e}", seen.errors[0], seen.errors.last().unwrap());
            cancel(problem, options);
        }
    }
}

/// How long the answer takes once the caller wants to stop, a quarter of the search done.
fn cancel(problem: &Problem, options: SeenOptions) {
    let mut asked = None;
    match_seen(problem, &options, None, &mut |progress| {
        if progress.stage == colour::Stage::Search && progress.done > 0.25 {
            asked.get_or_insert_with(Instant::now);
            return Flow::Stop;
        }
        Flow::Go
    })
    .unwrap();
    println!("    stopped within {:.3} s", asked.unwrap().elapsed().as_secs_f64());
}
