//! Times the exact match, from 8-bit cells to the proven answer, and can write its instances for other solvers.
//!
//! `cargo bench -p colour --bench exact -- [--threads N] [--stock suited|uneven] [--dump FOLDER] [CELLSxCOLOURS ...]`;
//! `benches/peer/solve.py FOLDER` then solves the same instances with another program.

#![allow(clippy::print_stdout, reason = "a bench prints its table")]
#![allow(clippy::unwrap_used, reason = "a bench may stop with a message")]

use std::{io::Write, path::Path, time::Instant};

use colour::{Flow, Stage, class_table, match_exact, support};

fn main() {
    let mut args: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let threads = option(&mut args, "--threads").map_or(1, |n| n.parse().unwrap());
    let dump = option(&mut args, "--dump");
    let uneven = option(&mut args, "--stock").is_some_and(|s| s == "uneven");
    if args.is_empty() {
        args = ["10000x16", "100000x16", "1000000x16", "1000000x40"].map(String::from).to_vec();
    }
    println!("{threads} thread(s); seconds, middle of 3");
    println!("instance      classes  in all   classes  costs    stock    objective       bound");
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    for name in &args {
        let (cells, colours) = name.split_once('x').unwrap();
        let side = f64::from(cells.parse::<u32>().unwrap()).sqrt().round() as u32;
        let make = if uneven { support::uneven_problem } else { support::short_problem };
        let problem = make(side, side, colours.parse().unwrap(), 1);
        pool.install(|| time(name, &problem));
        if let Some(folder) = &dump {
            write_instance(Path::new(folder), name, &problem);
        }
    }
}

fn option(args: &mut Vec<String>, name: &str) -> Option<String> {
    let place = args.iter().position(|a| a == name)?;
    args.remove(place);
    Some(args.remove(place))
}

fn time(name: &str, problem: &colour::Problem) {
    let mut runs = Vec::new();
    for _ in 0..3 {
        let start = Instant::now();
        let mut marks = [0.0; 3];
        let matched = match_exact(problem, &mut |progress| {
            let stage = match progress.stage {
                Stage::Classes => 0,
                Stage::Differences => 1,
                _ => 2,
            };
            marks[stage..].fill(start.elapsed().as_secs_f64());
            Flow::Go
        });
        runs.push((start.elapsed().as_secs_f64(), marks, matched.unwrap()));
    }
    runs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (all, [classes, costs, _], matched) = &runs[1];
    println!(
        "{name:12} {:8}  {all:.4}   {classes:.4}   {:.4}   {:.4}   {} {}",
        matched.classes,
        costs - classes,
        all - costs,
        matched.objective,
        matched.bound
    );
    assert_eq!(matched.objective, matched.bound);
}

/// Little-endian: u32 classes, u32 colours, then u32 counts, u64 stock, i32 costs row after row.
fn write_instance(folder: &Path, name: &str, problem: &colour::Problem) {
    let table = class_table(problem).unwrap();
    std::fs::create_dir_all(folder).unwrap();
    let mut out = std::io::BufWriter::new(std::fs::File::create(folder.join(format!("{name}.bin"))).unwrap());
    out.write_all(&(table.counts.len() as u32).to_le_bytes()).unwrap();
    out.write_all(&(table.stock.len() as u32).to_le_bytes()).unwrap();
    table.counts.iter().for_each(|v| out.write_all(&v.to_le_bytes()).unwrap());
    table.stock.iter().for_each(|v| out.write_all(&v.to_le_bytes()).unwrap());
    table.costs.iter().for_each(|v| out.write_all(&v.to_le_bytes()).unwrap());
}
