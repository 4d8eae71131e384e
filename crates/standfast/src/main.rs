//! The command line of standfast; without a word it opens the workbench.

mod cli;
mod files;
mod interrupt;
mod load;
mod out;
mod verbs;
mod words;

use std::process::ExitCode;

use clap::Parser;

use cli::{Cli, OpenArgs, Verb};
use out::Out;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return out::usage(&error),
    };
    let out = Out::new(cli.json, cli.quiet);
    let verb = cli.verb.unwrap_or(Verb::Open(OpenArgs::usual()));
    // The server hears of Ctrl-C itself.
    if !matches!(verb, Verb::Open(_)) {
        interrupt::listen();
    }
    let done = match verb {
        Verb::Open(args) => verbs::open::run(&out, args),
        Verb::New(args) => verbs::new::run(&out, &args),
        Verb::Picture(args) => verbs::picture::run(&out, &args),
        Verb::Check(args) => verbs::check::run(&out, &args),
        Verb::Fall(args) => verbs::fall::run(&out, &args),
        Verb::Stock(args) => verbs::stock::run(&out, &args),
        Verb::Sheets(args) => verbs::sheets::run(&out, &args),
        Verb::Match(args) => verbs::matching::run(&out, &args),
        Verb::Feed(args) => verbs::feed::run(&out, &args),
        Verb::Shift(args) => verbs::shift::run(&out, &args),
        Verb::Build(args) => verbs::build::run(&out, &args),
        Verb::Export(args) => verbs::export::run(&out, &args),
        Verb::Backup(args) => verbs::backup::run(&out, &args),
        Verb::Restore(args) => verbs::backup::restore(&out, &args),
        Verb::Completions { shell } => verbs::manual::completions(shell),
        Verb::Manual => verbs::manual::page(),
    };
    out.end(done)
}
