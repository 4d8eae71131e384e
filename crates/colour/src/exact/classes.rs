//! Classes: the free cells of one field that want the same 8-bit colour.

use rayon::prelude::*;

use crate::{
    problem::{CellRule, MatchError, Problem, Report, Stage, tell},
    spaces::{Linear, Srgb8},
};

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
            (*rule == CellRule::Free).then_some((r << 2 | g << 1 | b) << 32 | cell as u64)
        };
        let mut sorted: Vec<u64> =
            field.wanted.par_iter().zip(&field.cells).enumerate().filter_map(entry).collect();
        tell(report, Stage::Classes, 0.4)?;
        let mut other = vec![0; sorted.len()];
        for (pass, shift) in [32, 44].into_iter().enumerate() {
            sort_pass(&sorted, &mut other, shift);
            std::mem::swap(&mut sorted, &mut other);
            tell(report, Stage::Classes, 0.5 + 0.2 * pass as f64)?;
        }
        self.split(&sorted, number, field)?;
        tell(report, Stage::Classes, 1.0)
    }

    /// Splits the cells of a field, sorted by colour, into classes.
    fn split(&mut self, sorted: &[u64], number: usize, field: &crate::FieldWanted) -> Result<(), MatchError> {
        let base = self.cells.len();
        self.cells.extend(sorted.iter().map(|&s| s as u32));
        let mut last = u64::MAX;
        for (place, &entry) in sorted.iter().enumerate() {
            if entry >> 32 != last {
                last = entry >> 32;
                if place > 0 {
                    self.starts.push((base + place) as u32);
                }
                self.keys.push((number as u32, field.wanted[entry as u32 as usize].to_srgb8()));
            }
        }
        if !sorted.is_empty() {
            self.starts.push(self.cells.len() as u32);
        }
        Ok(())
    }

    pub(super) fn len(&self) -> usize {
        self.keys.len()
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

    /// Of every `step` cells in Z-order one: how many of a class are in this sample.
    pub(super) fn sampled(&self, class: usize, step: u32) -> u32 {
        self.starts[class + 1] / step - self.starts[class] / step
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

/// One stable pass of a radix sort by the 12 bits from `shift` on.
fn sort_pass(from: &[u64], to: &mut [u64], shift: u32) {
    let digit = |entry: u64| (entry >> shift) as usize & 0xfff;
    let mut places = vec![0usize; 4097];
    for &entry in from {
        places[digit(entry) + 1] += 1;
    }
    for d in 0..4096 {
        places[d + 1] += places[d];
    }
    for &entry in from {
        let place = &mut places[digit(entry)];
        to[*place] = entry;
        *place += 1;
    }
}

/// The bits of each 8-bit value, three places apart.
fn spread_table() -> [u32; 256] {
    std::array::from_fn(|v| (0..8).map(|bit| ((v as u32 >> bit) & 1) << (3 * bit)).sum())
}
