//! The table of costs: weight x round(1000 x CIEDE2000) for every class and colour.

use fearless_simd::{Level, dispatch};
use rayon::prelude::*;

use super::classes::Classes;
use crate::{
    difference::{LANES, Tones, ciede2000, ciede2000_textbook},
    problem::{CellRule, MatchError, Problem, Report, Stage, tell},
    spaces::{Lab, Srgb8, quick_labs},
};

/// The cost of a colour that a field does not allow.
pub(super) const FORBIDDEN: i32 = i32::MAX;

/// The most entries of the table: 2 GB.
const LIMIT: usize = 1 << 29;

/// Entries computed between two reports.
const STEP: usize = 1 << 18;

/// Rows computed in one go by one thread.
const BLOCK: usize = 256;

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
        // Wider vector instructions give the same bits: each operation is rounded on its own, and none are fused.
        let vectors = Level::new();
        let step = (STEP / colours).max(1) * colours;
        for (part, rows) in table.chunks_mut(step).enumerate() {
            let first = part * (step / colours);
            tell(report, Stage::Differences, first as f64 / classes.len() as f64)?;
            rows.par_chunks_mut(colours * BLOCK).enumerate().for_each(|(block, rows)| {
                let first = first + block * BLOCK;
                dispatch!(vectors, _ => fill_rows(&palettes, classes, first, rows));
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

    /// Entries of a table of so many classes.
    pub(super) fn size_of(&self, classes: usize) -> usize {
        classes * self.colours
    }

    /// The whole table.
    pub(super) fn all(&self) -> &[i32] {
        &self.table
    }
}

/// Fills some rows of the table, of which the first is that of class `first`.
///
/// Only what is inlined here is compiled for the vector instructions at hand.
#[inline(always)]
fn fill_rows(palettes: &[Palette], classes: &Classes, first: usize, rows: &mut [i32]) {
    let colours = palettes[0].colours.len();
    for (group, rows) in rows.chunks_mut(colours * LANES).enumerate() {
        let first = first + group * LANES;
        let last = first + rows.len() / colours - 1;
        // The last group is filled up with its last class.
        let mut wanted = [Srgb8::default(); LANES];
        for (i, wanted) in wanted.iter_mut().enumerate() {
            *wanted = classes.colour((first + i).min(last));
        }
        let labs = quick_labs(&wanted);
        for (i, row) in rows.chunks_mut(colours).enumerate() {
            palettes[classes.field(first + i)].fill(wanted[i], labs[i], row);
        }
    }
}

/// What a field makes of the colours.
struct Palette {
    colours: Vec<Lab>,
    tones: Tones,
    /// Per colour the weight of the field; 0 where the colour is not allowed.
    factors: Vec<i32>,
    weight: i32,
}

impl Palette {
    fn new(problem: &Problem, field: usize) -> Self {
        let field = &problem.fields[field];
        let colours: Vec<Lab> = field.palette.iter().map(|colour| colour.to_lab()).collect();
        let tones = Tones::new(colours.iter().copied());
        let weight = field.weight as i32;
        let factors = field.allowed.iter().map(|&allowed| if allowed { weight } else { 0 }).collect();
        Self { colours, tones, factors, weight }
    }

    /// The costs of a wanted colour, of which `near` is the Lab value to 1e-10.
    #[inline(always)]
    fn fill(&self, wanted: Srgb8, near: Lab, row: &mut [i32]) {
        for block in 0..self.tones.blocks() {
            let differences = self.tones.differences(block, near, wanted);
            let first = block * LANES;
            let (mut whole, mut doubt) = ([0; LANES], 0.0_f64);
            for lane in 0..LANES {
                let (nearest, off) = nearest_thousandth(differences[lane]);
                whole[lane] = nearest;
                doubt = doubt.max(off);
            }
            if doubt > SURE {
                for (lane, &colour) in self.colours[first..].iter().enumerate().take(LANES) {
                    whole[lane] = thousandths(differences[lane], wanted.to_lab(), colour);
                }
            }
            for ((cost, whole), factor) in row[first..].iter_mut().zip(whole).zip(&self.factors[first..]) {
                // A factor of 0 stands for a colour that is not allowed.
                *cost = if *factor == 0 { FORBIDDEN } else { factor * whole };
            }
        }
    }
}

/// A rounded difference whose part cut off is no larger than this is what the textbook form would round to.
const SURE: f64 = 0.5 - 1e-4;

/// 1000 times a difference to the nearest whole number, and by how much that is off, at most 0.5.
#[inline(always)]
fn nearest_thousandth(difference: f64) -> (i32, f64) {
    // Numbers from 2^52 on have no places after the point, and their last bits are those of the whole number.
    const SHIFT: f64 = (1u64 << 52) as f64;
    let scaled = 1000.0 * difference;
    let shifted = scaled + SHIFT;
    (shifted.to_bits() as i32, (scaled - (shifted - SHIFT)).abs())
}

/// 1000 times a difference, rounded as the textbook form would round it: near a tie that one decides.
fn thousandths(difference: f64, wanted: Lab, colour: Lab) -> i32 {
    let (nearest, off) = nearest_thousandth(difference);
    match off > SURE {
        true => (1000.0 * ciede2000_textbook(wanted, colour)).round() as i32,
        false => nearest,
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{problem::Flow, support};

    #[test]
    fn every_cost_is_the_textbook_difference_rounded_whatever_the_vector_instructions() {
        // 19 colours leave a last block that is not full; the picture leaves a last group of classes that is not full.
        let problem = support::short_problem(61, 47, 19, 3);
        let classes = Classes::collect(&problem, &mut |_| Flow::Go).unwrap();
        let costs = Costs::compute(&problem, &classes, &mut |_| Flow::Go).unwrap();
        let palettes = [Palette::new(&problem, 0)];
        let mut plain = vec![0; costs.all().len()];
        fill_rows(&palettes, &classes, 0, &mut plain);
        assert_eq!(costs.all(), plain);
        for class in 0..classes.len() {
            let wanted = classes.colour(class).to_lab();
            for (&cost, &colour) in costs.row(class).iter().zip(&palettes[0].colours) {
                assert_eq!(f64::from(cost), (1000.0 * ciede2000_textbook(wanted, colour)).round());
            }
        }
    }
}
