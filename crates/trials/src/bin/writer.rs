//! Writes changes to a project until it is killed: `writer PROJECT SEED FROM`.

use anyhow::Context;

fn main() -> anyhow::Result<()> {
    let mut words = std::env::args_os().skip(1);
    let project = words.next().context("give the project, the seed and the first entry")?;
    let mut number = || words.next().and_then(|w| w.to_str()?.parse().ok()).context("give a number");
    let (seed, from) = (number()?, number()?);
    Ok(trials::write(project.into(), seed, from)?)
}
