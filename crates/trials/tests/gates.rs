//! Eight seconds of mutated files at each gate, and every file of the corpus: no panic, bounded memory, read back equal.

#![allow(clippy::unwrap_used, reason = "a trial that cannot set up its files fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use trials::fuzzing::run;
use trials::gates::GATES;
use trials::memory::{Counting, most_of};

#[global_allocator]
static MEMORY: Counting = Counting;

fn corpus(gate: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus").join(gate)
}

fn knock(name: &str) {
    let gate = GATES.iter().find(|g| g.name == name).expect("every gate named here is in the table");
    match run(gate, &corpus(name), 7, Duration::from_secs(8)) {
        Ok(seen) => assert!(seen.accepted > 0 && seen.accepted < seen.inputs, "{seen:?}"),
        Err((why, input)) => panic!("{why}\n{}", input.escape_ascii()),
    }
}

#[test]
fn mutated_text_plans_keep_every_promise() {
    knock("text-plan");
}

#[test]
fn mutated_stock_lists_keep_every_promise() {
    knock("stock-file");
}

#[test]
fn mutated_pictures_keep_every_promise() {
    knock("picture");
}

#[test]
fn mutated_commands_keep_every_promise() {
    knock("commands");
}

#[test]
fn every_file_of_the_corpus_keeps_every_promise() {
    for gate in GATES {
        for entry in fs::read_dir(corpus(gate.name)).unwrap() {
            let path = entry.unwrap().path();
            let bytes = fs::read(&path).unwrap();
            let mut read = Ok(false);
            let taken = most_of(|| read = (gate.read)(&bytes));
            assert!(read.is_ok(), "{}: {read:?}", path.display());
            assert!(taken < (64 << 20) + 64 * bytes.len() as u64, "{} took {taken} bytes", path.display());
        }
    }
}
