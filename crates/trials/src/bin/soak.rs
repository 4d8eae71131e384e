//! Runs the trials of the project file with the counts of a night, or one seed again: see `--help`.
#![allow(clippy::print_stdout, reason = "a program for the console")]

use std::time::{Duration, Instant};

use anyhow::{Context, bail, ensure};
use trials::{Images, WRONG_FILES, each};

const HELP: &str = "\
Tries the project file with the counts of a night.

  soak [--minutes M] [--seed N]             all trials in turn, M minutes in all (60)
  soak --trial NAME [--count C] [--seed N]  one trial, C seeds from N on

Trials: kills, kills-forgetting, power-cuts, cuts-in-steps, failing-calls, full-disks, full-files, damages, wrong-files, copies, backups.
A failure prints the line that runs its seed again.";

/// A trial, how many seeds of it make a night, and what runs one.
type Trial = (&'static str, u64, Box<dyn Fn(u64) -> Result<(), String>>);

fn trials() -> anyhow::Result<Vec<Trial>> {
    // The writer that is killed is this program itself.
    let writer = std::env::current_exe()?;
    let (second, third) = (writer.clone(), writer.clone());
    Ok(vec![
        ("kills", 200, Box::new(move |seed| trials::kill_writer(&writer, seed, 25))),
        ("kills-forgetting", 200, Box::new(move |seed| trials::kill_forgetter(&third, seed, 25))),
        ("power-cuts", 20_000, Box::new(trials::power_cut)),
        ("cuts-in-steps", 25, Box::new(|seed| trials::cuts_in_steps(seed, 20).map(drop))),
        ("failing-calls", 20_000, Box::new(trials::failing_call)),
        ("full-disks", 500, Box::new(trials::disk_full)),
        ("full-files", 500, Box::new(trials::file_full)),
        ("damages", 200_000, Box::new(damages())),
        ("wrong-files", WRONG_FILES, Box::new(trials::wrong_file)),
        ("copies", 500, Box::new(move |seed| trials::copies_in_use(&second, seed))),
        ("backups", 500, Box::new(trials::backups_under_load)),
    ])
}

/// Each run of a thousand seeds damages the files of another project.
fn damages() -> impl Fn(u64) -> Result<(), String> {
    let kept: std::cell::RefCell<Option<(u64, Images)>> = std::cell::RefCell::new(None);
    move |seed| {
        let which = 1 + seed / 1000;
        let mut kept = kept.borrow_mut();
        if kept.as_ref().is_none_or(|(n, _)| *n != which) {
            *kept = Some((which, Images::make(which)?));
        }
        match &*kept {
            Some((_, images)) => trials::damaged_bytes(images, seed),
            None => Ok(()),
        }
    }
}

fn main() -> anyhow::Result<()> {
    let (mut minutes, mut seed, mut count, mut only) = (60.0, 0, None, None);
    let mut words = std::env::args().skip(1);
    match std::env::args().nth(1).as_deref() {
        Some(trials::WRITE) => return write(words.skip(1)),
        Some(trials::FORGET) => return Ok(trials::forget(words.nth(1).context("no project")?.into())?),
        _ => {}
    }
    while let Some(word) = words.next() {
        let mut value = || words.next().with_context(|| format!("give a value after {word}"));
        match word.as_str() {
            "--minutes" => minutes = value()?.parse().context("minutes are a number")?,
            "--seed" => seed = value()?.parse().context("a seed is a whole number")?,
            "--count" => count = Some(value()?.parse::<u64>().context("a count is a whole number")?),
            "--trial" => only = Some(value()?),
            "--help" | "-h" => {
                println!("{HELP}");
                return Ok(());
            }
            other => bail!("{other} is not known; see --help"),
        }
    }
    let all = trials()?;
    let chosen: Vec<&Trial> = all.iter().filter(|t| only.as_deref().is_none_or(|name| name == t.0)).collect();
    ensure!(!chosen.is_empty(), "there is no such trial; see --help");
    let share = Duration::from_secs_f64(minutes * 60.0 / chosen.len() as f64);
    println!("soak --seed {seed} --minutes {minutes}");
    for (name, night, trial) in chosen {
        run(name, seed, count.unwrap_or(*night), share, trial);
    }
    Ok(())
}

/// Writes changes to a project until it is killed.
fn write(mut words: impl Iterator<Item = String>) -> anyhow::Result<()> {
    let project = words.next().context("give the project, the seed and the first entry")?;
    let mut number = || words.next().and_then(|w| w.parse().ok()).context("give a number");
    Ok(trials::write(project.into(), number()?, number()?)?)
}

/// Runs seeds until the count is reached or the time is over.
fn run(name: &str, first: u64, count: u64, share: Duration, trial: &dyn Fn(u64) -> Result<(), String>) {
    let begun = Instant::now();
    let mut done = 0;
    while done < count && begun.elapsed() < share {
        each(name, [first + done], trial);
        done += 1;
    }
    let cut = if done < count { format!(", of {count}: the time was over") } else { String::new() };
    println!("{name}: {done} seeds passed in {:.1} s{cut}", begun.elapsed().as_secs_f64());
}
