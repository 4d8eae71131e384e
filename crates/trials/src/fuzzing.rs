//! A small fuzzer: mutates the files of a corpus from a seed and hands them to a gate for a given time.
//!
//! A gate must not panic on any input, must keep its memory in bounds, and what it accepts must read back the same.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::memory;
use crate::rng::Rng;

/// The largest input in bytes.
const MOST: usize = 1 << 20;

/// A place where bytes from outside come in.
#[derive(Clone, Copy)]
pub struct Gate {
    /// Its name on the command line, and of its folder in the corpus.
    pub name: &'static str,
    /// Words that the format gives a meaning; they are put into inputs.
    pub words: &'static [&'static [u8]],
    /// Bytes of memory that a sound input of any length may need: tables, and the largest thing it may ask for.
    pub room: u64,
    /// Reads the bytes: whether they were accepted. `Err` says which promise was broken.
    pub read: fn(&[u8]) -> Result<bool, String>,
}

/// What a run has seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seen {
    /// Inputs read.
    pub inputs: u64,
    /// Those that were accepted: the others were refused in words.
    pub accepted: u64,
    /// The most memory that one of them took, in bytes; 0 where it is not counted.
    pub most: u64,
}

/// Feeds a gate for so long; stops at the first broken promise and hands back the input that broke it.
///
/// # Errors
/// What broke, with the seed and the number of the input.
///
/// # Panics
/// When the gate does. The seed and the number are printed before.
pub fn run(gate: &Gate, corpus: &Path, seed: u64, time: Duration) -> Result<Seen, (String, Vec<u8>)> {
    let files = load(corpus);
    let end = Instant::now() + time;
    let (mut inputs, mut accepted, mut most) = (0, 0, 0);
    while Instant::now() < end {
        let input = mutant(&files, gate.words, &mut Rng::new(seed, inputs));
        let mut read = Ok(Ok(false));
        let taken = memory::most_of(|| read = std::panic::catch_unwind(|| (gate.read)(&input)));
        most = most.max(taken);
        let place = format!("fuzz {} --seed {seed}, input {inputs}", gate.name);
        match read {
            Ok(Ok(_)) if taken > memory_limit(gate, &input) => {
                return Err((format!("{place}: {} bytes took {taken} bytes of memory", input.len()), input));
            }
            Ok(Ok(yes)) => {
                inputs += 1;
                accepted += u64::from(yes);
            }
            Ok(Err(why)) => return Err((format!("{place}: {why}"), input)),
            Err(_) => return Err((format!("{place}: it panicked, see above"), input)),
        }
    }
    Ok(Seen { inputs, accepted, most })
}

/// What an input may take: 64 times its length, and what a sound one may need anyway.
fn memory_limit(gate: &Gate, input: &[u8]) -> u64 {
    64 * input.len() as u64 + gate.room
}

/// The files of a corpus in the order of their names.
fn load(corpus: &Path) -> Vec<Vec<u8>> {
    let mut paths: Vec<_> = fs::read_dir(corpus).into_iter().flatten().flatten().map(|e| e.path()).collect();
    paths.sort();
    let mut files: Vec<_> = paths.iter().filter_map(|p| fs::read(p).ok()).collect();
    if files.is_empty() {
        files.push(Vec::new());
    }
    files
}

fn mutant(files: &[Vec<u8>], words: &[&[u8]], rng: &mut Rng) -> Vec<u8> {
    let pick = |rng: &mut Rng| &files[rng.below(files.len() as u64) as usize];
    let mut bytes = pick(rng).clone();
    for _ in 0..1 + rng.below(6) {
        change(&mut bytes, pick(rng), words, rng);
        bytes.truncate(MOST);
    }
    bytes
}

/// One change: bits, numbers, words, lines, pieces of another file.
fn change(bytes: &mut Vec<u8>, other: &[u8], words: &[&[u8]], rng: &mut Rng) {
    let len = bytes.len() as u64;
    let at = rng.below(len + 1) as usize;
    let span = rng.below(1 + (len - at as u64).min(64)) as usize;
    match rng.below(10) {
        0 if len > 0 => bytes[at.min(len as usize - 1)] ^= 1 << rng.below(8),
        1 if len > 0 => {
            bytes[at.min(len as usize - 1)] = [0, 0x7f, 0x80, 0xff, b'"', b'\n'][rng.below(6) as usize]
        }
        2 => drop(bytes.drain(at..at + span)),
        3 => {
            let piece = bytes[at..at + span].to_vec();
            for _ in 0..1 + rng.below(40) {
                bytes.splice(at..at, piece.iter().copied());
            }
        }
        4 if !words.is_empty() => {
            let word = words[rng.below(words.len() as u64) as usize];
            bytes.splice(at..at + span * rng.below(2) as usize, word.iter().copied());
        }
        5 => number(bytes, at, rng),
        6 => {
            let from = rng.below(other.len() as u64 + 1) as usize;
            let until = from + rng.below(1 + (other.len() - from).min(400) as u64) as usize;
            bytes.splice(at..at + span, other[from..until].iter().copied());
        }
        7 => lines(bytes, rng),
        8 => bytes.truncate(at),
        _ => bytes
            .splice(at..at, (0..rng.below(8)).map(|_| rng.next() as u8).collect::<Vec<_>>())
            .for_each(drop),
    }
}

/// Puts an odd number in place of one that is written there, or of four bytes.
fn number(bytes: &mut Vec<u8>, at: usize, rng: &mut Rng) {
    const ODD: [&str; 12] = [
        "0",
        "-1",
        "1e308",
        "NaN",
        "-0.0",
        "255",
        "256",
        "65536",
        "4294967295",
        "18446744073709551615",
        "0.1",
        "inf",
    ];
    let digit = |b: &u8| b.is_ascii_digit();
    if let Some(start) = bytes[at..].iter().position(digit).map(|i| at + i) {
        let end = bytes[start..].iter().position(|b| !digit(b)).map_or(bytes.len(), |i| start + i);
        bytes.splice(start..end, ODD[rng.below(12) as usize].bytes());
    } else if bytes.len() >= 4 {
        let at = rng.below(bytes.len() as u64 - 3) as usize;
        let value = [0u32, 1, 0x7fff_ffff, 0x8000_0000, 0xffff_ffff][rng.below(5) as usize];
        bytes[at..at + 4].copy_from_slice(&if rng.percent(50) {
            value.to_be_bytes()
        } else {
            value.to_le_bytes()
        });
    }
}

/// Takes a line out, or puts it elsewhere, or twice.
fn lines(bytes: &mut Vec<u8>, rng: &mut Rng) {
    let mut lines: Vec<Vec<u8>> = bytes.split_inclusive(|b| *b == b'\n').map(<[u8]>::to_vec).collect();
    if lines.is_empty() {
        return;
    }
    let line = lines.remove(rng.below(lines.len() as u64) as usize);
    for _ in 0..rng.below(3) {
        lines.insert(rng.below(lines.len() as u64 + 1) as usize, line.clone());
    }
    *bytes = lines.concat();
}
