//! The table of costs: weight x round(1000 x CIEDE2000) for every class and colour.

use rayon::prelude::*;

use super::classes::Classes;
use crate::{
    difference::{Tones, ciede2000, ciede2000_textbook},
    problem::{CellRule, MatchError, Problem, Report, Stage, tell},
    spaces::Lab,
};

/// The cost of a colour that a field does not allow.
pub(super) const FORBIDDEN: i32 = i32::MAX;

/// The most entries of the table: 2 GB.
const LIMIT: usize = 1 << 29;

/// Entries computed between two reports.
const STEP: usize = 1 << 18;

/// Costs of all classes, one row of K entries a class.
pub(super) struct Costs {
    colours: usize,
    table: Vec<i32>,
}

impl Costs {
    /// Computes the table, in parallel where threads are at hand; every entry depends on its place alone.
    pub(super) fn compute(
        problem: &Problem,
        classes: &Classes,
        report: Report<'_>,
    ) -> Result<Self, MatchError> {
        let colours = problem.colours();
        if classes.len().saturating_mul(colours) > LIMIT {
            return Err(MatchError::TooLarge { classes: classes.len(), colours });
        }
        let palettes: Vec<Palette> = (0..problem.fields.len()).map(|f| Palette::new(problem, f)).collect();
        let mut table = vec![0; classes.len() * colours];
        let step = (STEP / colours).max(1) * colours;
        for (part, rows) in table.chunks_mut(step).enumerate() {
            let first = part * (step / colours);
            tell(report, Stage::Differences, first as f64 / classes.len() as f64)?;
            rows.par_chunks_mut(colours * 256).enumerate().for_each(|(block, rows)| {
                for (i, row) in rows.chunks_mut(colours).enumerate() {
                    let class = first + block * 256 + i;
                    palettes[classes.field(class)].fill(classes.colour(class).to_lab(), row);
                }
            });
        }
        Ok(Self { colours, table })
    }

    /// The costs of a class, one per colour.
    pub(super) fn row(&self, class: usize) -> &[i32] {
        &self.table[class * self.colours..(class + 1) * self.colours]
    }

    /// The rows of some classes, as a table of their own.
    pub(super) fn pick(&self, classes: &[u32]) -> Self {
        let mut table = Vec::with_capacity(classes.len() * self.colours);
        classes.iter().for_each(|&class| table.extend_from_slice(self.row(class as usize)));
        Self { colours: self.colours, table }
    }

    /// The whole table.
    pub(super) fn all(&self) -> &[i32] {
        &self.table
    }
}

/// What a field makes of the colours.
struct Palette<'a> {
    colours: Vec<Lab>,
    tones: Tones,
    allowed: &'a [bool],
    weight: i32,
}

impl<'a> Palette<'a> {
    fn new(problem: &'a Problem, field: usize) -> Self {
        let field = &problem.fields[field];
        let colours: Vec<Lab> = field.palette.iter().map(|colour| colour.to_lab()).collect();
        let tones = Tones::new(colours.iter().copied());
        Self { colours, tones, allowed: &field.allowed, weight: field.weight as i32 }
    }

    fn fill(&self, wanted: Lab, row: &mut [i32]) {
        self.tones.differences(wanted, |k, difference| {
            row[k] = match self.allowed[k] {
                true => self.weight * thousandths(difference, wanted, self.colours[k]),
                false => FORBIDDEN,
            };
        });
    }
}

/// 1000 times a difference, rounded as the textbook form would round it: near a tie that one decides.
#[inline(always)]
fn thousandths(difference: f64, wanted: Lab, colour: Lab) -> i32 {
    let scaled = 1000.0 * difference;
    let whole = scaled as i32;
    let part = scaled - f64::from(whole);
    if (part - 0.5).abs() > 1e-4 {
        return whole + i32::from(part > 0.5);
    }
    (1000.0 * ciede2000_textbook(wanted, colour)).round() as i32
}

/// The cost of the cells set by hand.
pub(super) fn fixed_cost(problem: &Problem) -> i64 {
    let mut sum = 0;
    for (number, field) in problem.fields.iter().enumerate() {
        let palette = Palette::new(problem, number);
        for (wanted, rule) in field.wanted.iter().zip(&field.cells) {
            if let CellRule::Fixed(colour) = *rule {
                let (wanted, lab) = (wanted.to_srgb8().to_lab(), palette.colours[usize::from(colour)]);
                let cost = thousandths(ciede2000(wanted, lab), wanted, lab);
                sum += i64::from(palette.weight) * i64::from(cost);
            }
        }
    }
    sum
}
