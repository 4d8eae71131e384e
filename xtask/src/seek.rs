//! The random tests again and again, each round with a new seed: what the one seed of the check does not meet.

use std::time::{SystemTime, UNIX_EPOCH};

use anyhow::{Context as _, Result, bail};

use crate::{shell, tidy, verify};

/// How many rounds there are unless said: some ten minutes on two cores.
const ROUNDS: u64 = 100;

/// What the test library reads its seed from; `.cargo/config.toml` fixes it for everything else.
const SEED: &str = "PROPTEST_RNG_SEED";

/// `cargo xtask seek [--rounds N] [--seed S]`.
pub(crate) fn run(args: &[String]) -> Result<()> {
    let (rounds, seed) = wanted(args)?;
    let first = match seed {
        Some(seed) => seed,
        None => SystemTime::now().duration_since(UNIX_EPOCH).context("The clock is before 1970")?.as_secs(),
    };
    let root = shell::root();
    let sources = tidy::sources(&root)?;
    let tests: Vec<&str> = sources
        .iter()
        .filter(|(name, _)| name.starts_with("crates/") && name.ends_with(".rs"))
        .flat_map(|(_, text)| random_tests(text))
        .collect();
    let which: Vec<String> = tests.iter().map(|name| format!("test(/(^|::){name}$/)")).collect();
    let which = which.join(" | ");
    for round in 0..rounds {
        let seed = first.wrapping_add(round);
        println!("\n== round {} of {rounds}: {} tests, seed {seed}", round + 1, tests.len());
        let fixed = ["nextest", "run", "--workspace", "--no-fail-fast", "--status-level", "fail", "-E"];
        verify::with_web(shell::cargo(&fixed).args([&which]))
            .env(SEED, seed.to_string())
            .run()
            .with_context(|| {
                format!(
                    "Seed {seed} has met a fault; `cargo xtask seek --rounds 1 --seed {seed}` meets it again"
                )
            })?;
    }
    println!("\n{rounds} rounds with seeds {first} to {} have met no fault", first.wrapping_add(rounds - 1));
    Ok(())
}

/// Rounds and first seed as asked for.
fn wanted(args: &[String]) -> Result<(u64, Option<u64>)> {
    let (mut rounds, mut seed) = (ROUNDS, None);
    for pair in args.chunks(2) {
        let number = || {
            let text = pair.get(1).with_context(|| format!("`{}` needs a number behind it", pair[0]))?;
            text.parse::<u64>().with_context(|| format!("`{} {text}` needs a whole number", pair[0]))
        };
        match pair[0].as_str() {
            "--rounds" => rounds = number()?.max(1),
            "--seed" => seed = Some(number()?),
            other => bail!("`cargo xtask seek` takes `--rounds N` and `--seed S`; it was given \"{other}\"."),
        }
    }
    Ok((rounds, seed))
}

/// The tests inside `proptest!` blocks: a block ends with the brace that stands as far in as its start.
fn random_tests(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut within: Option<usize> = None;
    let mut marked = false;
    for line in text.lines() {
        let inner = line.trim_start();
        let indent = line.len() - inner.len();
        match within {
            None if inner.starts_with("proptest! {") => within = Some(indent),
            Some(start) if inner == "}" && indent == start => within = None,
            Some(_) if inner == "#[test]" => marked = true,
            Some(_) if marked && inner.starts_with("fn ") => {
                found.extend(inner["fn ".len()..].split('(').next());
                marked = false;
            }
            _ => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_tests_of_random_blocks_are_found() {
        let text = "#[test]\nfn plain() {}\nproptest! {\n    /// Why.\n    #[test]\n    fn one(a in 0..9) {\n    }\n\
                    \n    #[test]\n    fn two(\n    ) {\n    }\n}\nfn after() {}\n    proptest! {\n        #[test]\n        \
                    #[ignore]\n        fn three() {}\n    }\n#[test]\nfn last() {}\n";
        assert_eq!(random_tests(text), ["one", "two", "three"]);
    }

    #[test]
    fn rounds_and_seed_are_read_and_anything_else_is_refused() {
        let read = |args: &[&str]| wanted(&args.iter().map(|&a| a.to_owned()).collect::<Vec<_>>());
        assert_eq!(read(&[]).unwrap(), (ROUNDS, None));
        assert_eq!(read(&["--seed", "7", "--rounds", "3"]).unwrap(), (3, Some(7)));
        assert!(read(&["--rounds"]).unwrap_err().to_string().contains("`--rounds` needs a number"));
        assert!(read(&["--seed", "-1"]).unwrap_err().to_string().contains("`--seed -1`"));
        assert!(read(&["--hours", "1"]).unwrap_err().to_string().contains("\"--hours\""));
    }
}
