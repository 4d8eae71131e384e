//! Knocks at the gates through which bytes from outside come in: `fuzz [GATE …] [--seconds S] [--seed N]`.
#![allow(clippy::print_stdout, reason = "a program for the console")]

use std::path::Path;
use std::time::Duration;

use anyhow::{Context, bail, ensure};
use trials::fuzzing::{Gate, run};
use trials::gates::GATES;
use trials::memory::Counting;

#[global_allocator]
static MEMORY: Counting = Counting;

const HELP: &str = "\
Hands mutated files to the gates of the program and stops at the first that breaks a promise.

  fuzz [GATE ...] [--seconds S] [--seed N]   all gates unless some are named, S seconds each (60)

Gates: text-plan, stock-file, picture, commands.
The input that broke a promise is written to target/fuzz.";

fn main() -> anyhow::Result<()> {
    let (mut seconds, mut seed, mut named) = (60.0, 1, Vec::new());
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().with_context(|| format!("give a value after {word}"));
        match word.as_str() {
            "--seconds" => seconds = value()?.parse().context("seconds are a number")?,
            "--seed" => seed = value()?.parse().context("a seed is a whole number")?,
            "--help" | "-h" => {
                println!("{HELP}");
                return Ok(());
            }
            name => named.push(name.to_owned()),
        }
    }
    for name in &named {
        ensure!(GATES.iter().any(|g| g.name == name), "there is no gate {name}; see --help");
    }
    let time = Duration::try_from_secs_f64(seconds).context("seconds are a number from 0 on")?;
    let mut broken = Vec::new();
    for gate in GATES.iter().filter(|g| named.is_empty() || named.iter().any(|n| n == g.name)) {
        broken.extend(knock(gate, seed, time)?);
    }
    if broken.is_empty() { Ok(()) } else { bail!("{}", broken.join("\n")) }
}

/// Runs one gate; what it broke, if anything.
fn knock(gate: &Gate, seed: u64, time: Duration) -> anyhow::Result<Option<String>> {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus").join(gate.name);
    match run(gate, &corpus, seed, time) {
        Ok(seen) => {
            let kib = seen.most / 1024;
            println!(
                "{}: {} inputs kept every promise, {} of them accepted, at most {kib} KiB each",
                gate.name, seen.inputs, seen.accepted
            );
            Ok(None)
        }
        Err((why, input)) => {
            let folder = Path::new("target/fuzz");
            std::fs::create_dir_all(folder)?;
            let path = folder.join(format!("{}-{seed}", gate.name));
            std::fs::write(&path, input)?;
            Ok(Some(format!("{why} (the input: {})", path.display())))
        }
    }
}
