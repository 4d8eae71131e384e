//! The seen match: colours chosen for what is seen from afar, within the same hard stock.
//!
//! Minimised is the sum over all places of |f(y) - f(x)|^2, where x and y are the wanted and the given picture
//! blurred in linear light as the eye blurs them and f is 100 OKLab; a term for colour changes along the lanes
//! and one for differences cell by cell may be added. Each outer step computes the error and its slopes exactly
//! at the given picture (Gauss-Newton); a sweep of local moves within the stock follows.

mod books;
mod linearise;
mod state;
mod sweep;

use crate::{
    exact::match_exact,
    measure::keeps_rules,
    problem::{EMPTY, Flow, MatchError, Problem, Progress, Report, Stage},
};

use books::Books;
use linearise::{Spare, linearise};
use state::State;
use sweep::Sweep;

/// What the seen match is to heed beside the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeenOptions {
    /// Sweeps over all cells, 1..=200, default 10. Under a short stock 8 are enough; more gain a little when stock is free.
    /// With a weight for fewer changes half as many again are made: runs settle more slowly than colours.
    pub sweeps: u32,
    /// Weight of fewer colour changes along the lanes, 0..=5, default 0.
    /// Each step of 1 triples the price of a change; at 3 about half the changes remain.
    /// The blur that is designed for grows with the weight, at 3 by two fifths but not beyond 1.8 cells.
    /// So the price is paid at the blur asked for, 1 to 5 % of the mean difference, and at a blur of 2 cells there is none
    /// on the mean over pictures.
    pub fewer_changes: f64,
    /// Weight of the difference cell by cell, 0..=1, default 0. 0.02 to 0.1 help up close where pieces are seen singly.
    pub lambda: f64,
    /// Differences above this (in hundredths of OKLab) count by their size rather than their square; 0..=100, default 0 for "none".
    /// 1 lowers the mean difference and lets single places differ more.
    pub robust: f64,
}

impl Default for SeenOptions {
    fn default() -> Self {
        Self { sweeps: 10, fewer_changes: 0.0, lambda: 0.0, robust: 0.0 }
    }
}

impl SeenOptions {
    /// Brings every value into its range; what is not a number becomes the least.
    fn within_range(self) -> Self {
        let range = |v: f64, most: f64| if v > 0.0 { v.min(most) } else { 0.0 };
        Self {
            sweeps: self.sweeps.clamp(1, 200),
            fewer_changes: range(self.fewer_changes, 5.0),
            lambda: range(self.lambda, 1.0),
            robust: range(self.robust, 100.0),
        }
    }
}

/// A match for what is seen from afar.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenMatched {
    /// Per field the colour of each cell; [`EMPTY`] where no piece stands.
    pub cells: Vec<Vec<u16>>,
    /// Pieces used per colour, cells set by hand included.
    pub used: Vec<u64>,
    /// The error before each sweep and after the last, in squared hundredths of OKLab; the answer has the least of them.
    pub errors: Vec<f64>,
    /// The search was stopped by the caller; the answer is the best until then.
    pub stopped: bool,
}

/// Random numbers choose near cells only; the sequence is always the same.
const SEED: u64 = 0x2545_f491_4f6c_dd1d;

/// Offers are thrown away every so many sweeps: they grow old.
const CLEAR: u32 = 4;

/// Gives every free cell a colour so that the picture is right as seen with each field's `sigma`.
///
/// The search starts from `start` (one list a field, as an answer has it), or else from the exact match.
/// Empty cells count as looking as wanted and are not judged; cells set by hand stay.
/// The same arguments give the same answer, for any number of threads.
///
/// # Errors
/// See [`MatchError`]. A wish to stop during the search is no error: the best so far is returned with `stopped`;
/// before there is a start it is [`MatchError::Stopped`].
pub fn match_seen(
    problem: &Problem,
    options: &SeenOptions,
    start: Option<&[Vec<u16>]>,
    report: Report<'_>,
) -> Result<SeenMatched, MatchError> {
    problem.check()?;
    let options = options.within_range();
    let start = match start {
        Some(cells) => cells.to_vec(),
        None => match_exact(problem, report)?.cells,
    };
    let left = left_by(problem, &start)?;
    let state = State::new(problem, &start, left, &options);
    Ok(search(problem, state, &options, report))
}

/// What a start leaves of the stock, if it keeps the rules.
fn left_by(problem: &Problem, start: &[Vec<u16>]) -> Result<Vec<u64>, MatchError> {
    if start.len() != problem.fields.len() {
        return Err(MatchError::Start { field: start.len().min(problem.fields.len()) });
    }
    let mut left = problem.stock.clone();
    for (number, (field, cells)) in problem.fields.iter().zip(start).enumerate() {
        if !keeps_rules(field, cells) {
            return Err(MatchError::Start { field: number });
        }
        for &colour in cells.iter().filter(|&&c| c != EMPTY) {
            let pieces = &mut left[usize::from(colour)];
            *pieces = pieces.checked_sub(1).ok_or(MatchError::Start { field: number })?;
        }
    }
    Ok(left)
}

fn search(problem: &Problem, mut state: State, options: &SeenOptions, report: Report<'_>) -> SeenMatched {
    let mut books = Books::new(problem.colours(), state.colour.len());
    let mut spare = Spare::default();
    let mut random = SEED;
    let mut best = (f64::INFINITY, state.colour.clone());
    let mut errors = Vec::new();
    let mut stopped = false;
    let more = if options.fewer_changes > 0.0 { options.sweeps / 2 } else { 0 };
    let sweeps = options.sweeps + more;
    for sweep in 0..=sweeps {
        let error = linearise(&mut state, options.robust, &mut spare);
        errors.push(error);
        if error < best.0 {
            best.0 = error;
            best.1.clone_from(&state.colour);
        }
        if sweep == sweeps {
            break;
        }
        if sweep % CLEAR == 0 {
            books.clear();
        }
        let mut go_on = |done: f64| {
            let done = (f64::from(sweep) + done) / f64::from(sweeps);
            report(Progress { stage: Stage::Search, done }) == Flow::Go
        };
        let swept = Sweep::new(&mut state, &mut books, &mut random).run(&mut go_on);
        if swept.stopped || swept.moves == 0 {
            stopped = swept.stopped;
            break;
        }
    }
    let cells = state.split(&best.1);
    let mut used = vec![0; problem.colours()];
    for &colour in best.1.iter().filter(|&&c| c != EMPTY) {
        used[usize::from(colour)] += 1;
    }
    SeenMatched { cells, used, errors, stopped }
}
