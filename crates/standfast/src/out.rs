//! What the user reads: results, progress and complaints, for people or as JSON for programs.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// Why a verb ended without its result.
#[derive(Debug)]
pub(crate) struct Trouble {
    /// Exit status: 2 bad input, 3 the machine could not, 130 interrupted.
    pub status: u8,
    /// A stable word for programs.
    pub code: String,
    /// Whole sentences: file, place, value, next step.
    pub message: String,
}

/// How a verb ended: fine, or with findings that the user asked to fail on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ending {
    /// Exit status 0.
    Fine,
    /// Exit status 1.
    Findings,
}

/// The result of a verb.
pub(crate) type Done = Result<Ending, Trouble>;

impl Trouble {
    /// Bad input: a word, a file or a value that cannot be taken.
    pub(crate) fn input(code: &str, message: impl Into<String>) -> Self {
        Self { status: 2, code: code.into(), message: message.into() }
    }

    /// The machine could not: disk, memory, port.
    pub(crate) fn machine(code: &str, message: impl Into<String>) -> Self {
        Self { status: 3, code: code.into(), message: message.into() }
    }

    /// The user pressed Ctrl-C.
    pub(crate) fn interrupted() -> Self {
        let message = "Interrupted. Nothing is left half-written.".into();
        Self { status: 130, code: "interrupted".into(), message }
    }
}

impl From<desk::DeskError> for Trouble {
    fn from(error: desk::DeskError) -> Self {
        match &error {
            desk::DeskError::Stopped => Self::interrupted(),
            desk::DeskError::NotSaved(_) => Self::machine(error.code(), error.to_string()),
            desk::DeskError::Store(e) if e.may_be_tried_again() => {
                Self::machine(error.code(), error.to_string())
            }
            _ => Self::input(error.code(), error.to_string()),
        }
    }
}

/// Where a verb tells what it does.
pub(crate) struct Out {
    json: bool,
    progress: bool,
    /// When progress was told last; several threads may tell it.
    last: Mutex<Option<Instant>>,
    shown: AtomicBool,
}

/// How often progress is told on a terminal.
const EVERY: Duration = Duration::from_millis(100);

impl Out {
    /// `json` for programs; `quiet` without progress.
    pub(crate) fn new(json: bool, quiet: bool) -> Self {
        let progress = !quiet && !json && std::io::stderr().is_terminal();
        Self { json, progress, last: Mutex::new(None), shown: AtomicBool::new(false) }
    }

    /// A result: `human` for people or `value` for programs, on standard output.
    pub(crate) fn result(
        &self,
        human: impl FnOnce() -> String,
        value: impl FnOnce() -> Value,
    ) -> Result<(), Trouble> {
        self.clear();
        let text = if self.json { format!("{:#}\n", value()) } else { human() };
        print_out(text.as_bytes())
    }

    /// A remark beside the result, on standard error; programs find it in the result.
    pub(crate) fn remark(&self, text: &str) {
        if !self.json {
            self.clear();
            eprint_line(text);
        }
    }

    /// How far a long work is; on a terminal only.
    pub(crate) fn progress(&self, what: &str, share: f64) {
        // Whoever comes while another thread is telling has nothing newer to tell.
        let Ok(mut last) = self.last.try_lock() else { return };
        let soon = last.is_some_and(|t| t.elapsed() < EVERY);
        if self.progress && !soon {
            *last = Some(Instant::now());
            self.shown.store(true, Ordering::Relaxed);
            let mut err = std::io::stderr();
            let _ = write!(err, "\r\x1b[K{what}: {:.0} %", share.clamp(0.0, 1.0) * 100.0);
            let _ = err.flush();
        }
    }

    fn clear(&self) {
        if self.shown.swap(false, Ordering::Relaxed) {
            let _ = write!(std::io::stderr(), "\r\x1b[K");
        }
    }

    /// Says how it ended and gives the exit status.
    pub(crate) fn end(&self, done: Done) -> ExitCode {
        self.clear();
        match done {
            Ok(Ending::Fine) => ExitCode::SUCCESS,
            Ok(Ending::Findings) => ExitCode::from(1),
            Err(t) => {
                if self.json {
                    let value =
                        json!({ "error": { "code": t.code, "message": t.message, "status": t.status } });
                    let _ = print_out(format!("{value:#}\n").as_bytes());
                }
                eprint_line(&t.message);
                ExitCode::from(t.status)
            }
        }
    }
}

/// Writes to standard output; a reader that has gone away is no complaint.
pub(crate) fn print_out(bytes: &[u8]) -> Result<(), Trouble> {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(Trouble::machine("output", format!("Standard output cannot be written: {e}.")))
        }
        _ => Ok(()),
    }
}

fn eprint_line(text: &str) {
    let _ = writeln!(std::io::stderr(), "{}", printable(text));
}

/// Names come from files of other people: their escape codes must not reach the terminal.
pub(crate) fn printable(text: &str) -> String {
    text.chars().map(|c| if c.is_control() && c != '\n' && c != '\t' { '\u{fffd}' } else { c }).collect()
}

/// Words that the command line does not know, or help that was asked for.
pub(crate) fn usage(error: &clap::Error) -> ExitCode {
    let asked = !error.use_stderr();
    let json = std::env::args_os().any(|a| a == "--json");
    if !asked && json {
        let text = error.to_string();
        let message = text.trim().trim_start_matches("error: ");
        let value = json!({ "error": { "code": "usage", "message": message, "status": 2 } });
        let _ = print_out(format!("{value:#}\n").as_bytes());
    }
    let _ = error.print();
    if asked { ExitCode::SUCCESS } else { ExitCode::from(2) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escape_codes_do_not_reach_the_terminal() {
        assert_eq!(printable("a\x1b[2Jb\r"), "a\u{fffd}[2Jb\u{fffd}");
    }
}
