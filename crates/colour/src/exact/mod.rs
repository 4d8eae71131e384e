//! The exact match: the least sum of colour differences that the stock allows, with the proof that it is the least.
//!
//! A transportation problem: every free cell takes one colour, colour k is used at most `stock[k]` times,
//! and the cost of a cell is weight x round(1000 x CIEDE2000). Integer costs make the proof integer arithmetic:
//! the prices of the colours give a bound below which no assignment can lie, and the assignment found lies on it.

mod arcs;
mod classes;
mod core;
mod costs;
mod spread;
mod transport;

use rayon::prelude::*;

use crate::{
    problem::{CellRule, EMPTY, MatchError, Problem, Report, Stage, tell},
    supply::stock_for_free_cells,
};

use classes::Classes;
use costs::{Costs, fixed_cost};

/// An exact match.
#[derive(Clone, Debug, PartialEq)]
pub struct Matched {
    /// Per field the colour of each cell, as the problem orders them; [`EMPTY`] where no piece stands.
    pub cells: Vec<Vec<u16>>,
    /// Sum over all cells of weight x round(1000 x CIEDE2000), cells set by hand included.
    pub objective: i64,
    /// No assignment within the stock has a smaller sum; computed from the prices alone.
    /// Equal to `objective`: that is the proof.
    pub bound: i64,
    /// Pieces used per colour, cells set by hand included.
    pub used: Vec<u64>,
    /// By how much the objective would fall if there were one more piece of the colour (1/1000 CIEDE2000, weighted); 0 where pieces are left.
    pub prices: Vec<i64>,
    /// How many different wanted colours (classes) the fields have.
    pub classes: usize,
}

/// A match that takes no heed of the stock.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeMatch {
    /// Per field the colour of each cell; [`EMPTY`] where no piece stands.
    pub cells: Vec<Vec<u16>>,
    /// Sum over all cells of weight x round(1000 x CIEDE2000).
    pub objective: i64,
    /// Pieces per colour that this picture would need.
    pub used: Vec<u64>,
}

/// Cells that one match gives one colour and another match another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChangeFlow {
    /// Colour in the first match.
    pub from: u16,
    /// Colour in the second match.
    pub to: u16,
    /// How many cells.
    pub cells: u64,
}

/// Gives every free cell a colour so that the sum of differences is the least that the stock allows.
///
/// Wanted colours are rounded to 8-bit sRGB, and cells of the same colour are one class;
/// so a picture and a palette in 8-bit sRGB give exactly the costs round(1000 x CIEDE2000) of these colours.
/// Where a class takes several colours, each takes a contiguous stretch of the class's cells along the lanes.
/// The same problem gives the same answer for any number of threads.
///
/// # Errors
/// See [`MatchError`]; [`MatchError::Stopped`] when `report` asks to stop, within a few hundredths of a second.
pub fn match_exact(problem: &Problem, report: Report<'_>) -> Result<Matched, MatchError> {
    let (classes, costs, stock) = prepare(problem, report)?;
    let plan = transport::solve(&classes, &costs, &stock, report)?;
    let cells = spread::to_cells(problem, &classes, &plan);
    tell(report, Stage::Stock, 1.0)?;
    let fixed = fixed_cost(problem);
    Ok(Matched {
        objective: objective(problem, &cells, &classes, &costs) + fixed,
        bound: transport::bound(&classes, &costs, &stock, &plan.prices) + fixed,
        used: count_used(&cells, problem.colours()),
        prices: plan.prices,
        classes: classes.len(),
        cells,
    })
}

/// Gives every free cell the nearest allowed colour (the first of equal ones), as if the stock had no end.
///
/// # Errors
/// As [`match_exact`], but stock never runs out; a field without allowed colours gives [`MatchError::FieldsShort`].
pub fn match_free(problem: &Problem, report: Report<'_>) -> Result<FreeMatch, MatchError> {
    problem.check()?;
    let endless = Problem { fields: Vec::new(), stock: vec![u64::MAX; problem.colours()] };
    for (number, field) in problem.fields.iter().enumerate() {
        let free = field.cells.iter().filter(|&&c| c == CellRule::Free).count() as u64;
        if free > 0 && !field.allowed.contains(&true) {
            let (fields, colours) = (vec![number], Vec::new());
            return Err(MatchError::FieldsShort { fields, colours, cells: free, pieces: 0, short: free });
        }
    }
    let classes = Classes::collect(problem, report)?;
    let costs = Costs::compute(problem, &classes, report)?;
    let plan = transport::nearest(&classes, &costs, endless.colours());
    let cells = spread::to_cells(problem, &classes, &plan);
    Ok(FreeMatch {
        objective: objective(problem, &cells, &classes, &costs) + fixed_cost(problem),
        used: count_used(&cells, problem.colours()),
        cells,
    })
}

/// How many cells change from which colour to which between two matches of the same fields, largest first.
///
/// Cells that are empty in either are left out, and so are fields or cells that only one of them has.
pub fn change_flows(first: &[Vec<u16>], second: &[Vec<u16>]) -> Vec<ChangeFlow> {
    let mut counts = std::collections::BTreeMap::new();
    for (from, to) in first.iter().zip(second).flat_map(|(a, b)| a.iter().zip(b)) {
        if from != to && *from != EMPTY && *to != EMPTY {
            *counts.entry((*from, *to)).or_insert(0) += 1;
        }
    }
    let mut flows: Vec<ChangeFlow> =
        counts.into_iter().map(|((from, to), cells)| ChangeFlow { from, to, cells }).collect();
    flows.sort_by_key(|flow| std::cmp::Reverse(flow.cells));
    flows
}

fn prepare(problem: &Problem, report: Report<'_>) -> Result<(Classes, Costs, Vec<u64>), MatchError> {
    problem.check()?;
    let stock = stock_for_free_cells(problem)?;
    let classes = Classes::collect(problem, report)?;
    let costs = Costs::compute(problem, &classes, report)?;
    Ok((classes, costs, stock))
}

/// The sum over the free cells, cell by cell from the answer.
fn objective(problem: &Problem, cells: &[Vec<u16>], classes: &Classes, costs: &Costs) -> i64 {
    debug_assert_eq!(problem.fields.len(), cells.len());
    let of_class = |class: usize| -> i64 {
        let (row, field) = (costs.row(class), &cells[classes.field(class)]);
        classes.cells(class).iter().map(|&cell| i64::from(row[usize::from(field[cell as usize])])).sum()
    };
    (0..classes.len()).into_par_iter().with_min_len(1_024).map(of_class).sum()
}

fn count_used(cells: &[Vec<u16>], colours: usize) -> Vec<u64> {
    let add = |mut used: Vec<u64>, more: Vec<u64>| {
        used.iter_mut().zip(&more).for_each(|(used, more)| *used += more);
        used
    };
    let count = |cells: &[u16]| {
        let mut used = vec![0; colours];
        cells.iter().filter(|&&c| c != EMPTY).for_each(|&colour| used[usize::from(colour)] += 1);
        used
    };
    let parts = cells.par_iter().flat_map(|field| field.par_chunks(1 << 16));
    parts.map(count).reduce(|| vec![0; colours], add)
}

/// The classes of a problem as an outside solver takes them: for benches and checks.
#[doc(hidden)]
pub struct ClassTable {
    /// Cells of each class.
    pub counts: Vec<u32>,
    /// Class x colour, row after row; `i32::MAX` where a colour is not allowed.
    pub costs: Vec<i32>,
    /// Stock left for free cells.
    pub stock: Vec<u64>,
}

/// The classes of a problem as an outside solver takes them: for benches and checks.
#[doc(hidden)]
pub fn class_table(problem: &Problem) -> Result<ClassTable, MatchError> {
    let (classes, costs, stock) = prepare(problem, &mut |_| crate::problem::Flow::Go)?;
    let counts = (0..classes.len()).map(|class| classes.count(class)).collect();
    Ok(ClassTable { counts, costs: costs.all().to_vec(), stock })
}
