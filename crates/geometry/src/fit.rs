//! Fitting marks to taped distances by least squares.

mod solve;

use crate::{Point, Vector};
use solve::Normal;

/// More marks than this are refused: the equations are solved densely, in time that grows with the cube.
pub const MOST_MARKS: usize = 200;
/// Rounds of Gauss and Newton; a fit of a hall ends after three to ten.
const MOST_ROUNDS: usize = 200;
/// A standardised residual beyond this names a tape: the 0.1 % level of Baarda's data snooping (W. Baarda, A testing
/// procedure for use in geodetic networks, 1968; from memory).
const SUSPECT: f64 = 3.29;
/// A tape is not believed to be better than this, in mm, so that a fit without redundancy does not accuse anybody.
const LEAST_SIGMA_MM: f64 = 1.0;
/// A tape with less than this share of redundancy cannot be judged.
const LEAST_REDUNDANCY: f64 = 1e-6;

/// Why distances cannot be fitted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FitError {
    /// More marks than the fit takes.
    #[error(
        "There are {0} marks; the fit takes at most {MOST_MARKS}. Leave some out, or fit the hall in parts."
    )]
    TooMany(usize),
    /// A tape names a mark that is not there.
    #[error(
        "Tape {tape} names mark {mark}, but marks count from 0 to one less than {marks}. Name one of those."
    )]
    NoSuchMark {
        /// Number of the tape, from 0.
        tape: usize,
        /// What it names.
        mark: usize,
        /// How many marks there are.
        marks: usize,
    },
    /// A tape from a mark to itself.
    #[error("Tape {0} leads from a mark to itself. Name two different marks.")]
    SameMark(usize),
    /// A length that no tape says.
    #[error("Tape {tape} says {length} mm. Give a length above 0 and at most 1 000 000 000 mm.")]
    BadLength {
        /// Number of the tape, from 0.
        tape: usize,
        /// What it says, in mm.
        length: f64,
    },
    /// A mark whose place is not a number.
    #[error("Mark {0} has a place that is not a number. Draw it again.")]
    BadPlace(usize),
}

/// Three distances of which one is longer than the two others together, wherever the marks are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Impossible {
    /// The tape that is too long.
    pub long: usize,
    /// The two tapes that should reach as far together.
    pub short: (usize, usize),
    /// By how much the one is longer than both, in mm.
    pub misfit: f64,
}

impl Impossible {
    /// The three tapes.
    pub fn tapes(&self) -> [usize; 3] {
        [self.long, self.short.0, self.short.1]
    }
}

/// What came out of fitting.
#[derive(Debug, Clone, PartialEq)]
pub struct DistanceFit {
    /// Where each mark is found to be.
    pub at: Vec<Point>,
    /// For each tape what it says less what the fitted places are apart, in mm: positive when it read long.
    pub misfit: Vec<f64>,
    /// The standard deviation of one tape, in mm, from the misfits and the distances to spare; 0 when none is to spare.
    pub sigma: f64,
    /// Distances more than the unknowns that they fix.
    pub spare: usize,
    /// Marks that the tapes do not fix, in order. They keep a place near their drawing.
    pub loose: Vec<usize>,
    /// The tape that fits worst for what the others say of it, where it is beyond doubt (Baarda's test at 3.29), with
    /// its standardised residual. Measure this one again first. None where several fit equally badly, since any of them
    /// may be the wrong one.
    pub suspect: Option<(usize, f64)>,
    /// Triangles of tapes that no drawing can satisfy, the worst first, at most 100.
    pub impossible: Vec<Impossible>,
}

/// Finds the places of the marks that fit the taped distances best.
///
/// `marks` are places as drawn, `tapes` are (mark, mark, mm), marks counted from 0. Mark 0 is the datum and stays;
/// mark 1 moves only along the drawn direction from mark 0 (east when both are drawn in one place). What the tapes
/// leave open stays as near the drawing as can be. All tapes count alike.
/// Gauss and Newton's method with Levenberg's damping on the 2n - 3 coordinates that are left. At most 200 marks.
/// A set of distances has mirror images and folded forms; the one found is the one near the drawing.
///
/// # Errors
/// See [`FitError`]. Distances that contradict each other are no error: they are fitted and named in the result.
pub fn fit_distances(marks: &[Point], tapes: &[(usize, usize, f64)]) -> Result<DistanceFit, FitError> {
    check(marks, tapes)?;
    let problem = Problem::new(marks, tapes);
    let at = problem.fit(marks);
    Ok(problem.report(at))
}

fn check(marks: &[Point], tapes: &[(usize, usize, f64)]) -> Result<(), FitError> {
    if marks.len() > MOST_MARKS {
        return Err(FitError::TooMany(marks.len()));
    }
    if let Some(bad) = marks.iter().position(|p| !p.x.is_finite() || !p.y.is_finite()) {
        return Err(FitError::BadPlace(bad));
    }
    for (tape, &(from, to, length)) in tapes.iter().enumerate() {
        if let Some(mark) = [from, to].into_iter().find(|m| *m >= marks.len()) {
            return Err(FitError::NoSuchMark { tape, mark, marks: marks.len() });
        }
        if from == to {
            return Err(FitError::SameMark(tape));
        }
        if !(length > 0.0 && length <= 1e9) {
            return Err(FitError::BadLength { tape, length });
        }
    }
    Ok(())
}

/// The unknowns: none for mark 0, one for mark 1 along `axis`, two for each further one.
struct Problem<'a> {
    tapes: &'a [(usize, usize, f64)],
    axis: Vector,
    unknowns: usize,
}

/// One tape's line of the equations: up to four unknowns with their coefficients, and what is missing, in mm.
struct Row {
    terms: [(usize, f64); 4],
    count: usize,
    missing: f64,
}

impl<'a> Problem<'a> {
    fn new(marks: &[Point], tapes: &'a [(usize, usize, f64)]) -> Self {
        let drawn = marks.get(1).and_then(|one| one.minus(marks[0]).unit());
        let axis = drawn.unwrap_or(Vector { x: 1.0, y: 0.0 });
        Self { tapes, axis, unknowns: (2 * marks.len()).saturating_sub(3) }
    }

    fn row(&self, at: &[Point], (from, to, length): (usize, usize, f64)) -> Row {
        let apart = at[to].minus(at[from]);
        // Marks drawn in one place have no direction between them; any will do to get them apart.
        let along = apart.unit().unwrap_or(if from.min(to) == 0 && from.max(to) == 1 {
            self.axis
        } else {
            self.axis.left().plus(self.axis.times(0.1 * (from + to) as f64)).unit().unwrap_or(self.axis)
        });
        let mut row = Row { terms: [(0, 0.0); 4], count: 0, missing: length - apart.length() };
        for (mark, along) in [(from, along.times(-1.0)), (to, along)] {
            match mark {
                0 => {}
                1 => row.add(0, along.dot(self.axis)),
                _ => {
                    row.add(2 * mark - 3, along.x);
                    row.add(2 * mark - 2, along.y);
                }
            }
        }
        row
    }

    fn moved(&self, at: &[Point], step: &[f64]) -> Vec<Point> {
        let shift = |mark: usize| match mark {
            0 => Vector::default(),
            1 => self.axis.times(step[0]),
            _ => Vector { x: step[2 * mark - 3], y: step[2 * mark - 2] },
        };
        at.iter().enumerate().map(|(mark, p)| p.plus(shift(mark))).collect()
    }

    fn cost(&self, at: &[Point]) -> f64 {
        let miss = |&(from, to, length): &(usize, usize, f64)| length - at[to].minus(at[from]).length();
        self.tapes.iter().map(|tape| miss(tape) * miss(tape)).sum()
    }

    fn normal(&self, at: &[Point]) -> Normal {
        let mut normal = Normal::new(self.unknowns);
        for &tape in self.tapes {
            let row = self.row(at, tape);
            normal.add(&row.terms[..row.count], row.missing);
        }
        normal
    }

    /// Steps of damped least squares until they are below a thousandth of a millionth of a millimetre.
    fn fit(&self, marks: &[Point]) -> Vec<Point> {
        let mut at = marks.to_vec();
        if self.unknowns == 0 {
            return at;
        }
        let mut cost = self.cost(&at);
        // Small enough that what the tapes fix is fixed, large enough that what they leave open stays.
        let mut damping = 1e-6;
        for _ in 0..MOST_ROUNDS {
            let Some(step) = self.normal(&at).solve(damping) else {
                damping *= 10.0;
                continue;
            };
            let next = self.moved(&at, &step);
            let next_cost = self.cost(&next);
            let longest = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
            if next_cost <= cost {
                (at, cost) = (next, next_cost);
                damping = (damping * 0.1).max(1e-9);
            } else if damping > 1e12 {
                break;
            } else {
                damping *= 10.0;
            }
            if longest < 1e-9 {
                break;
            }
        }
        at
    }

    fn report(&self, at: Vec<Point>) -> DistanceFit {
        let normal = self.normal(&at);
        let inverse = normal.inverse();
        let rows: Vec<Row> = self.tapes.iter().map(|&tape| self.row(&at, tape)).collect();
        let misfit: Vec<f64> = rows.iter().map(|row| row.missing).collect();
        let spare = self.tapes.len().saturating_sub(inverse.rank);
        let squares: f64 = misfit.iter().map(|v| v * v).sum();
        let sigma = if spare > 0 { (squares / spare as f64).sqrt() } else { 0.0 };
        let loose = self.loose(&inverse.free, at.len());
        // The redundancy of a tape: 1 less what the fit follows it, a (A'A)^-1 a'.
        let redundancy: Vec<f64> =
            rows.iter().map(|row| 1.0 - inverse.quadratic(&row.terms[..row.count])).collect();
        let suspect = suspect(&misfit, &redundancy, squares, spare);
        DistanceFit { at, misfit, sigma, spare, loose, suspect, impossible: impossible(self.tapes) }
    }

    fn loose(&self, free: &[bool], marks: usize) -> Vec<usize> {
        let is_loose = |mark: &usize| match *mark {
            0 => false,
            1 => free[0],
            mark => free[2 * mark - 3] || free[2 * mark - 2],
        };
        (0..marks).filter(is_loose).collect()
    }
}

impl Row {
    fn add(&mut self, unknown: usize, coefficient: f64) {
        self.terms[self.count] = (unknown, coefficient);
        self.count += 1;
    }
}

/// Standardised residuals that differ by less than this share cannot be told apart.
const TIE: f64 = 1e-3;

/// The largest standardised residual w = v / (sigma sqrt(q)), when it is over the limit. The sigma is that of all the
/// other tapes, since one gross error would hide itself in the sum of all squares: without tape i the squares are
/// less by v^2 / q (known from leaving one out in regression; from memory).
fn suspect(misfit: &[f64], redundancy: &[f64], squares: f64, spare: usize) -> Option<(usize, f64)> {
    let mut worst: Option<(usize, f64)> = None;
    let mut tied = false;
    for (i, (&v, &q)) in misfit.iter().zip(redundancy).enumerate() {
        if q < LEAST_REDUNDANCY {
            continue;
        }
        let others = (squares - v * v / q).max(0.0);
        let sigma = if spare > 1 { (others / (spare - 1) as f64).sqrt() } else { 0.0 };
        let w = v / (sigma.max(LEAST_SIGMA_MM) * q.sqrt());
        let most = worst.map_or(SUSPECT, |(_, w): (usize, f64)| w.abs());
        if w.abs() > most * (1.0 + TIE) {
            (worst, tied) = (Some((i, w)), false);
        } else if worst.is_some() && w.abs() >= most * (1.0 - TIE) {
            tied = true;
        }
    }
    worst.filter(|_| !tied)
}

/// Triangles of tapes that break the triangle inequality. Walks each tape's two marks' tapes side by side, so that
/// the time is the number of tapes times those at a mark.
fn impossible(tapes: &[(usize, usize, f64)]) -> Vec<Impossible> {
    let marks = tapes.iter().map(|t| t.0.max(t.1) + 1).max().unwrap_or(0);
    let mut shortest: Vec<Option<(usize, f64)>> = vec![None; marks * marks];
    for (i, &(from, to, length)) in tapes.iter().enumerate() {
        for slot in [from * marks + to, to * marks + from] {
            if shortest[slot].is_none_or(|(_, best)| length < best) {
                shortest[slot] = Some((i, length));
            }
        }
    }
    let mut found = Vec::new();
    for (long, &(from, to, length)) in tapes.iter().enumerate() {
        let broken = (0..marks).filter_map(|by| {
            let (a, b) = (shortest[from * marks + by]?, shortest[to * marks + by]?);
            let misfit = length - a.1 - b.1;
            (misfit > 1e-6).then_some(Impossible { long, short: (a.0, b.0), misfit })
        });
        found.extend(broken);
        if found.len() > 1_000 {
            worst_hundred(&mut found);
        }
    }
    worst_hundred(&mut found);
    found
}

fn worst_hundred(found: &mut Vec<Impossible>) {
    found.sort_by(|a, b| b.misfit.total_cmp(&a.misfit).then(a.long.cmp(&b.long)));
    found.truncate(100);
}
