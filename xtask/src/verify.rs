//! Everything that is checked before a change is accepted, one step after the other.

use std::time::Instant;

use anyhow::{Context as _, Result, bail};

use crate::{codegen, guards, licences, prerequisites, shell, tidy, web};

/// A step: its name, what to do when it fails, and the check.
struct Step {
    name: &'static str,
    advice: &'static str,
    check: fn() -> Result<()>,
}

const STEPS: [Step; 10] = [
    Step {
        name: "prerequisites",
        advice: "Install what is missing and start again.",
        check: prerequisites::check,
    },
    Step {
        name: "format",
        advice: "Run `cargo fmt --all`.",
        check: || shell::cargo(&["fmt", "--all", "--check", "--", "-l"]).run(),
    },
    Step {
        name: "tidy",
        advice: "Mend what is listed; CONTRIBUTING.md gives the reasons.",
        check: || tidy::run(&[]),
    },
    Step {
        name: "web: types, lint, unit tests, pages",
        advice: "Run the failing script by itself in web/.",
        check: web_or_skip,
    },
    Step {
        name: "clippy",
        advice: "Mend the warnings; an `expect` attribute needs a reason.",
        check: || cargo_with_web(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"]),
    },
    Step {
        name: "Rust tests",
        advice: "Run one test by `cargo nextest run --workspace NAME`; accept a changed snapshot by `cargo xtask bless`.",
        check: || cargo_with_web(&["nextest", "run", "--workspace", "--no-tests", "warn"]),
    },
    Step {
        name: "guards",
        advice: "A guard is missed by no test: mend the test named in xtask/guards.txt.",
        check: || guards::run(&[]),
    },
    Step {
        name: "browser tests",
        advice: "Run `npm run test:browser` in web/ with STANDFAST_BIN set to the binary.",
        check: browser_or_skip,
    },
    Step {
        name: "generated files",
        advice: "Run `cargo xtask codegen` and commit what it changes.",
        check: || codegen::run(&["--check".to_owned()]),
    },
    Step {
        name: "licences",
        advice: "Replace the library, or add its licence to the list in xtask/src/licences.rs with a reason.",
        check: || licences::run(&[]),
    },
];

/// `cargo xtask verify`.
pub(crate) fn run(args: &[String]) -> Result<()> {
    match args {
        [] => {}
        [arg] if arg == "--afresh" => web::forget_browser_tests()?,
        [arg, ..] => bail!("`cargo xtask verify` takes `--afresh` or nothing; it was given \"{arg}\"."),
    }
    let start = Instant::now();
    let mut spent = Vec::new();
    for (number, step) in STEPS.iter().enumerate() {
        println!("\n== {number}/{} {}", STEPS.len() - 1, step.name);
        let begun = Instant::now();
        (step.check)()
            .with_context(|| format!("verify stopped at step {number}, {}. {}", step.name, step.advice))?;
        let seconds = begun.elapsed().as_secs_f64();
        println!("== {} took {seconds:.1} s", step.name);
        spent.push((step.name, seconds));
    }
    println!();
    for (name, seconds) in spent {
        println!("{seconds:>8.1} s  {name}");
    }
    println!("{:>8.1} s  verify passed", start.elapsed().as_secs_f64());
    Ok(())
}

/// `cargo xtask bless`: the tests write the snapshots instead of comparing them.
pub(crate) fn bless(args: &[String]) -> Result<()> {
    with_web(shell::cargo(&["nextest", "run", "--workspace"]).args(args))
        .env("STANDFAST_BLESS", "1")
        .run()?;
    println!("Snapshots accepted; `git diff` shows what changed.");
    Ok(())
}

/// Lets the binary take the pages that are built already, so that they are built once.
pub(crate) fn with_web(call: shell::Call) -> shell::Call {
    if web::dist().join("index.html").exists() { call.env("STANDFAST_WEB", web::dist()) } else { call }
}

fn cargo_with_web(args: &[&str]) -> Result<()> {
    with_web(shell::cargo(args)).run()
}

fn web_or_skip() -> Result<()> {
    if web::exists() {
        return web::check_and_build();
    }
    println!("skipped: there is no web/package.json yet");
    Ok(())
}

fn browser_or_skip() -> Result<()> {
    if !web::exists() {
        println!("skipped: there is no web/package.json yet");
        return Ok(());
    }
    cargo_with_web(&["build", "--workspace", "--bins"])?;
    web::browser_tests()
}
