//! Takes each guard of the product out, one at a time, and expects the test that misses it to fail.
//!
//! `xtask/guards.txt` has a line `guard-name package test-name` for each guard;
//! instead of a package a test binary may be named the way nextest does, `server::door`.
//! The guards' names are those of crate `guards`.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::{shell, verify};

/// Exit statuses of nextest, from its documentation: all passed, a test failed, no test matched.
const PASSED: i32 = 0;
const FAILED: i32 = 100;
const NO_TESTS: i32 = 4;

/// A line of the list.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Line {
    guard: String,
    place: String,
    test: String,
}

/// `cargo xtask guards [NAME]`.
pub(crate) fn run(args: &[String]) -> Result<()> {
    let text = fs::read_to_string(shell::root().join("xtask/guards.txt"))
        .context("The list of guards could not be read: xtask/guards.txt")?;
    let mut lines = parse(&text)?;
    check_names(&lines)?;
    if let Some(name) = args.first() {
        lines.retain(|line| line.guard == *name);
        if lines.is_empty() {
            bail!("No line of xtask/guards.txt takes out \"{name}\".");
        }
    }
    if lines.is_empty() {
        println!("xtask/guards.txt lists no guard yet");
        return Ok(());
    }
    let runner = Runner::build()?;
    let mut missed = Vec::new();
    for line in &lines {
        let verdict = runner.judge(line)?;
        println!(
            "{:<20} {:<24} {}: {}",
            line.guard,
            line.place,
            line.test,
            verdict.as_deref().and_then(|said| said.lines().next()).unwrap_or("missed, as it should be")
        );
        missed.extend(verdict.map(|said| format!("{}, {} {}: {said}", line.guard, line.place, line.test)));
    }
    if !missed.is_empty() {
        bail!("Not every guard is held up by its test:\n  {}", missed.join("\n  "));
    }
    println!("{} guards taken out one at a time, each missed by its test", lines.len());
    Ok(())
}

/// Runs single tests of binaries that are built once.
struct Runner {
    binaries: PathBuf,
    workspace: PathBuf,
}

impl Runner {
    fn build() -> Result<Runner> {
        let folder = shell::target().join("guards");
        fs::create_dir_all(&folder)?;
        let runner = Runner { binaries: folder.join("binaries.json"), workspace: folder.join("cargo.json") };
        let list =
            ["nextest", "list", "--workspace", "--list-type", "binaries-only", "--message-format", "json"];
        fs::write(&runner.binaries, verify::with_web(shell::cargo(&list)).read()?)?;
        fs::write(&runner.workspace, shell::cargo(&["metadata", "--format-version", "1"]).read()?)?;
        Ok(runner)
    }

    /// None when the test passes with the guard and fails without it, else what is wrong.
    fn judge(&self, line: &Line) -> Result<Option<String>> {
        let (with, said) = self.test(line, None)?;
        match with {
            PASSED => {}
            NO_TESTS => return Ok(Some("there is no test of this name".into())),
            _ => return Ok(Some(format!("the test fails although the guard stands:\n{said}"))),
        }
        let (without, said) = self.test(line, Some(&line.guard))?;
        Ok(match without {
            FAILED => None,
            PASSED => Some("the test passes although the guard is gone".into()),
            other => Some(format!("nextest ended with status {other}:\n{said}")),
        })
    }

    fn test(&self, line: &Line, off: Option<&str>) -> Result<(i32, String)> {
        let place = if line.place.contains("::") { "binary_id" } else { "package" };
        let filter = format!("{place}(={}) & test(={})", line.place, line.test);
        let path = |path: &Path| path.to_string_lossy().into_owned();
        let mut call =
            shell::cargo(&["nextest", "run", "--no-tests", "fail", "--retries", "0", "-E", &filter])
                .args(["--binaries-metadata", &path(&self.binaries)])
                .args(["--cargo-metadata", &path(&self.workspace)]);
        if let Some(guard) = off {
            call = call.env("STANDFAST_GUARD_OFF", guard);
        }
        let (status, _, said) = call.output()?;
        Ok((status, said))
    }
}

fn parse(text: &str) -> Result<Vec<Line>> {
    let mut lines = Vec::new();
    for (number, text) in (1..).zip(text.lines()) {
        let words: Vec<&str> = text.split_whitespace().collect();
        match words[..] {
            [] => {}
            [first, ..] if first.starts_with('#') => {}
            [guard, place, test] => {
                lines.push(Line { guard: guard.into(), place: place.into(), test: test.into() });
            }
            _ => bail!("Line {number} of xtask/guards.txt should read: guard-name package test-name"),
        }
    }
    Ok(lines)
}

/// A misspelt guard would take nothing out; the test would pass and the report would blame it.
fn check_names(lines: &[Line]) -> Result<()> {
    let source = fs::read_to_string(shell::root().join("crates/guards/src/lib.rs"))
        .context("The list of guard names could not be read: crates/guards/src/lib.rs")?;
    let known = declared(&source);
    for line in lines {
        if !known.contains(line.guard.as_str()) {
            bail!("xtask/guards.txt names a guard that crate guards does not have: {}", line.guard);
        }
    }
    Ok(())
}

/// Names in the arms `Guard::X => "name",` of the crate's source.
fn declared(source: &str) -> BTreeSet<&str> {
    source.lines().filter_map(|line| line.trim().strip_prefix("Guard::")?.split('"').nth(1)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_comments_and_gaps_are_read() {
        let lines = parse("# why\n\nhost-list  server::door  refuses_a_strange_host\n").unwrap();
        assert_eq!(
            lines,
            [Line {
                guard: "host-list".into(),
                place: "server::door".into(),
                test: "refuses_a_strange_host".into()
            }]
        );
        assert!(parse("host-list server\n").unwrap_err().to_string().contains("Line 1"));
    }

    #[test]
    fn names_are_found_in_the_source() {
        let names = declared("  Guard::A => \"a-b\",\n Guard::ALL\n let x = \"y\";");
        assert_eq!(names.into_iter().collect::<Vec<_>>(), ["a-b"]);
    }
}
