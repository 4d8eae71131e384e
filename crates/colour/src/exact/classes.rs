//! Classes: the free cells of one field that want the same 8-bit colour.

use std::ops::Range;

use rayon::prelude::*;

use crate::{
    problem::{CellRule, MatchError, Problem, Report, Stage, tell},
    spaces::{Linear, Srgb8},
};

/// What stands for a cell that takes no part; no colour has so large a key.
const NOT_FREE: u64 = u64::MAX;

/// All classes of a problem. Within a field they are in Z-order of their colours,
/// so that every n-th cell of this order is a fair sample of the field.
pub(super) struct Classes {
    /// Field and wanted colour of each class.
    keys: Vec<(u32, Srgb8)>,
    /// First place in `cells` of each class, and the end of the last.
    starts: Vec<u32>,
    /// Cell numbers within their field, ascending within a class.
    cells: Vec<u32>,
}

impl Classes {
    /// Collects the classes of all fields.
    pub(super) fn collect(problem: &Problem, report: Report<'_>) -> Result<Self, MatchError> {
        let mut classes = Self { keys: Vec::new(), starts: vec![0], cells: Vec::new() };
        for number in 0..problem.fields.len() {
            classes.add_field(problem, number, report)?;
        }
        Ok(classes)
    }

    fn add_field(&mut self, problem: &Problem, number: usize, report: Report<'_>) -> Result<(), MatchError> {
        let field = &problem.fields[number];
        tell(report, Stage::Classes, 0.0)?;
        let spread = spread_table();
        let entry = |(cell, (wanted, rule)): (usize, (&Linear, &CellRule))| {
            let s = wanted.to_srgb8();
            let [r, g, b] = [s.r, s.g, s.b].map(|v| u64::from(spread[usize::from(v)]));
            if *rule == CellRule::Free { (r << 2 | g << 1 | b) << 32 | cell as u64 } else { NOT_FREE }
        };
        let mut sorted: Vec<u64> =
            field.wanted.par_iter().zip(&field.cells).enumerate().with_min_len(4_096).map(entry).collect();
        sorted.retain(|&entry| entry != NOT_FREE);
        tell(report, Stage::Classes, 0.4)?;
        let mut other = vec![0; sorted.len()];
        for (pass, shift) in [32, 44].into_iter().enumerate() {
            sort_pass(&sorted, &mut other, shift);
            std::mem::swap(&mut sorted, &mut other);
            tell(report, Stage::Classes, 0.5 + 0.2 * pass as f64)?;
        }
        self.split(&sorted, number);
        tell(report, Stage::Classes, 1.0)
    }

    /// Splits the cells of a field, sorted by colour, into classes.
    fn split(&mut self, sorted: &[u64], number: usize) {
        let base = self.cells.len();
        self.cells.extend(sorted.iter().map(|&s| s as u32));
        let mut last = u64::MAX;
        for (place, &entry) in sorted.iter().enumerate() {
            if entry >> 32 != last {
                last = entry >> 32;
                if place > 0 {
                    self.starts.push((base + place) as u32);
                }
                let z = last as u32;
                self.keys.push((number as u32, Srgb8::new(gather(z >> 2), gather(z >> 1), gather(z))));
            }
        }
        if !sorted.is_empty() {
            self.starts.push(self.cells.len() as u32);
        }
    }

    pub(super) fn len(&self) -> usize {
        self.keys.len()
    }

    /// The classes of a field.
    pub(super) fn of_field(&self, field: usize) -> Range<usize> {
        let before = |field| self.keys.partition_point(|&(f, _)| (f as usize) < field);
        before(field)..before(field + 1)
    }

    /// The field of a class.
    pub(super) fn field(&self, class: usize) -> usize {
        self.keys[class].0 as usize
    }

    /// The wanted colour of a class.
    pub(super) fn colour(&self, class: usize) -> Srgb8 {
        self.keys[class].1
    }

    /// How many cells a class has.
    pub(super) fn count(&self, class: usize) -> u32 {
        self.starts[class + 1] - self.starts[class]
    }

    /// Of every `step` cells in Z-order one: how many of each class are in this sample.
    pub(super) fn sampled(&self, step: u32) -> Vec<u32> {
        let mut before = 0;
        let ends = self.starts[1..].iter();
        ends.map(|&end| {
            let upto = end / step;
            upto - std::mem::replace(&mut before, upto)
        })
        .collect()
    }

    /// The cells of a class, numbered within their field, ascending.
    pub(super) fn cells(&self, class: usize) -> &[u32] {
        &self.cells[self.starts[class] as usize..self.starts[class + 1] as usize]
    }

    /// Cells of all classes together.
    pub(super) fn total(&self) -> u32 {
        self.cells.len() as u32
    }
}

/// Values of the digit that one pass of the sort goes by.
const DIGITS: usize = 4096;

/// One stable pass of a radix sort by the 12 bits from `shift` on.
///
/// Each part of the digits is written by one thread, which reads all entries;
/// how many parts there are changes nothing in the outcome.
fn sort_pass(from: &[u64], to: &mut [u64], shift: u32) {
    let digit = |entry: u64| (entry >> shift) as usize & (DIGITS - 1);
    let mut places = vec![0usize; DIGITS + 1];
    for &entry in from {
        places[digit(entry) + 1] += 1;
    }
    for d in 0..DIGITS {
        places[d + 1] += places[d];
    }
    let parts = if from.len() < 1 << 16 { 1 } else { rayon::current_num_threads().clamp(1, 8) };
    let mut tasks = Vec::with_capacity(parts);
    let (mut rest, mut first) = (to, 0);
    for part in 1..=parts {
        let aim = from.len() * part / parts;
        let last =
            if part == parts { DIGITS } else { places.partition_point(|&place| place < aim).max(first) };
        let (now, later) = rest.split_at_mut(places[last] - places[first]);
        tasks.push((first..last, now));
        (rest, first) = (later, last);
    }
    tasks.into_par_iter().with_max_len(1).for_each(|(digits, to)| {
        let base = places[digits.start];
        let mut places: Vec<usize> = places[digits.clone()].iter().map(|place| place - base).collect();
        for &entry in from {
            // Digits before the first wrap round to beyond the last.
            if let Some(place) = places.get_mut(digit(entry).wrapping_sub(digits.start)) {
                to[*place] = entry;
                *place += 1;
            }
        }
    });
}

/// The bits of each 8-bit value, three places apart.
fn spread_table() -> [u32; 256] {
    std::array::from_fn(|v| (0..8).map(|bit| ((v as u32 >> bit) & 1) << (3 * bit)).sum())
}

/// Every third bit of a number, from the lowest on: what [`spread_table`] spread.
fn gather(z: u32) -> u8 {
    let z = z & 0x0024_9249;
    let z = (z | z >> 2) & 0x000c_30c3;
    let z = (z | z >> 4) & 0x0000_f00f;
    ((z | z >> 8) & 0xff) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_that_were_spread_are_gathered_again() {
        for (v, z) in spread_table().into_iter().enumerate() {
            assert_eq!(usize::from(gather(z | !0x0024_9249)), v);
        }
    }

    #[test]
    fn a_sort_pass_is_stable_for_any_number_of_threads() {
        // Few digits, many of each: the bounds of the parts fall on empty and on crowded digits.
        let from: Vec<u64> = (0..200_000u64).map(|i| (i * i % 7 * 585) << 32 | i).collect();
        let mut wanted = from.clone();
        wanted.sort_by_key(|entry| entry >> 32 & 0xfff);
        for threads in [1, 2, 3, 8] {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            let mut to = vec![0; from.len()];
            pool.install(|| sort_pass(&from, &mut to, 32));
            assert_eq!(to, wanted, "{threads} threads");
        }
    }
}
