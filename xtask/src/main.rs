//! Chores of the repository: everything that is checked, generated or measured, by one command each.
#![allow(clippy::print_stdout, reason = "the chores talk to the person at the terminal")]

mod bench;
mod codegen;
mod guards;
mod licences;
mod metadata;
mod prerequisites;
mod sayings;
mod seek;
mod shell;
mod spdx;
mod tidy;
mod verify;
mod web;

use std::process::ExitCode;

use anyhow::Result;

/// A chore: its verb, what it does, and the function that does it.
type Chore = (&'static str, &'static str, fn(&[String]) -> Result<()>);

const CHORES: [Chore; 10] = [
    ("verify", "everything that is checked before a change is accepted", verify::run),
    ("tidy", "house rules: headers, file sizes, open ends, arrows between crates", tidy::run),
    ("codegen", "generated files; with --check only compare them", codegen::run),
    ("guards", "take each guard out once and see its test fail; NAME takes one", guards::run),
    ("licences", "licences of every library, Rust and web", licences::run),
    ("bench", "the benches; --list lists them, PART picks those whose name holds it", bench::run),
    ("bless", "run the tests and accept the snapshots they produce", verify::bless),
    ("seek", "the random tests with new seeds; --rounds N, --seed S", seek::run),
    ("soak", "long trials of the store: kills, power cuts, damaged bytes", trials_soak),
    ("fuzz", "arbitrary input for every entry that reads from outside", trials_fuzz),
];

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let Some(chore) = args.first().and_then(|verb| CHORES.iter().find(|(name, ..)| name == verb)) else {
        if let Some(verb) = args.first() {
            eprintln!("There is no chore called \"{verb}\". These exist:\n");
        }
        for (name, about, _) in CHORES {
            eprintln!("  cargo xtask {name:<9} {about}");
        }
        return ExitCode::from(2);
    };
    match chore.2(&args[1..]) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("\n{error:#}");
            ExitCode::FAILURE
        }
    }
}

fn trials_soak(args: &[String]) -> Result<()> {
    trials("soak", args)
}

fn trials_fuzz(args: &[String]) -> Result<()> {
    trials("fuzz", args)
}

/// Long trials run optimised and are a crate of their own.
fn trials(program: &str, args: &[String]) -> Result<()> {
    let fixed = ["run", "--release", "--package", "trials", "--bin", program, "--"];
    shell::cargo(&fixed).args(args).run()
}
