//! Running the real program and reading what it says.

#![allow(dead_code, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// What a run left behind.
pub(crate) struct Ran {
    /// Exit status.
    pub(crate) status: i32,
    /// Standard output.
    pub(crate) out: Vec<u8>,
    /// Standard error.
    pub(crate) err: String,
}

impl Ran {
    /// Standard output as text.
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.out).into_owned()
    }

    /// Standard output as JSON.
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.out).unwrap_or_else(|e| panic!("{e}: {} {}", self.text(), self.err))
    }

    /// Asserts an exit status and hands itself back.
    pub(crate) fn ended(self, status: i32) -> Self {
        assert_eq!(self.status, status, "{}\n{}", self.text(), self.err);
        self
    }

    /// Asserts that it was refused as bad input in one clear complaint that holds all of `words`.
    pub(crate) fn refused(self, words: &[&str]) -> Self {
        let ran = self.ended(2);
        for word in words {
            assert!(ran.err.contains(word), "\"{word}\" is missing in: {}", ran.err);
        }
        assert!(!ran.err.contains("panicked"), "{}", ran.err);
        ran
    }
}

/// The program with a folder of its own.
pub(crate) struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    /// A new, empty folder.
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// The folder.
    pub(crate) fn path(&self) -> &Path {
        self.folder.path()
    }

    /// A file in the folder.
    pub(crate) fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    }

    /// The program, ready to start in the folder.
    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_standfast"));
        command.args(args).current_dir(self.path()).stdin(Stdio::null());
        command.env("XDG_DATA_HOME", self.path()).env("HOME", self.path());
        command
    }

    /// Runs the program in the folder.
    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        ran(self.command(args).output().unwrap())
    }

    /// Runs the program with something on standard input.
    pub(crate) fn run_with(&self, args: &[&str], input: &[u8]) -> Ran {
        let mut command = self.command(args);
        let mut child =
            command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut stdin = child.stdin.take().unwrap();
        let input = input.to_vec();
        let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
        let output = child.wait_with_output().unwrap();
        writer.join().unwrap();
        ran(output)
    }

    /// Names of the files in the folder, sorted.
    pub(crate) fn names(&self) -> Vec<String> {
        let mut names: Vec<_> = std::fs::read_dir(self.path())
            .unwrap()
            .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

fn ran(output: Output) -> Ran {
    Ran {
        status: output.status.code().unwrap_or(-1),
        out: output.stdout,
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// A picture of the example.
pub(crate) const MILL: &[u8] = include_bytes!("../../../../examples/spring-to-sea/mill.png");

/// The stock list of the example.
pub(crate) const STOCK: &[u8] = include_bytes!("../../../../examples/spring-to-sea/stock.csv");

/// A PNG of these pixels, rows from the top.
pub(crate) fn png(width: u32, height: u32, rgb: &[[u8; 3]]) -> Vec<u8> {
    let rgba = rgb.iter().flat_map(|p| [p[0], p[1], p[2], 255]).collect();
    colour::to_png(&colour::Raster { width, height, rgba }).unwrap()
}
