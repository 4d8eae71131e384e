//! The outer step: the exact error of the present picture, and its slopes for the next sweep (Gauss-Newton).

use rayon::prelude::*;

use super::state::{Domain, Eye, Matrix, State};
use crate::problem::EMPTY;

/// Computes the exact error E of the present colours, and the slope and pull of every cell.
///
/// `robust` above 0 counts differences well above it by their size instead of their square.
pub(super) fn linearise(state: &mut State, robust: f64, spare: &mut Spare) -> f64 {
    let domains = std::mem::take(&mut state.domains);
    let mut error = 0.0;
    for domain in &domains {
        error += seen_error(state, domain, robust, spare);
        error += f64::from(domain.change) * changes(state, domain) as f64;
        error += single_error(state, domain);
    }
    state.domains = domains;
    error
}

/// Buffers that live through the steps.
#[derive(Default)]
pub(super) struct Spare {
    light: Vec<[f32; 3]>,
    blur: Vec<[f32; 3]>,
}

fn seen_error(state: &mut State, domain: &Domain, robust: f64, spare: &mut Spare) -> f64 {
    if domain.len() == 0 {
        return 0.0;
    }
    let cells = domain.base..domain.base + domain.len();
    spare.light.clear();
    spare.light.extend(cells.clone().map(|cell| {
        let given = state.light(domain, cell);
        std::array::from_fn(|i| given[i] - state.wanted[cell][i])
    }));
    domain.blur.apply(&mut spare.light, &mut spare.blur);
    let eye = Eye::new();
    let (seen_wanted, colour) = (&state.seen_wanted[cells.clone()], &state.colour[cells.clone()]);
    let cols = domain.cols;
    let rows: Vec<f64> = state.slope[cells.clone()]
        .par_chunks_mut(cols)
        .zip(spare.light.par_chunks_mut(cols))
        .enumerate()
        .map(|(row, (slopes, lights))| {
            let mut error = 0.0;
            for (col, (slope, light)) in slopes.iter_mut().zip(lights).enumerate() {
                let cell = row * cols + col;
                let judged = Judge {
                    eye: &eye,
                    rest: domain.blur.rest(cell),
                    root_weight: domain.root_weight,
                    robust,
                };
                error += judged.cell(seen_wanted[cell], colour[cell] != EMPTY, light, slope);
            }
            error
        })
        .collect();
    // The light now holds J^T r of each place; blurred, it is the gradient.
    domain.blur.apply(&mut spare.light, &mut spare.blur);
    state.pull[cells.clone()]
        .par_iter_mut()
        .zip(&state.slope[cells])
        .zip(&spare.light)
        .for_each(|((pull, slope), gradient)| *pull = solve_transposed(slope, *gradient));
    rows.iter().sum()
}

/// What is needed to judge one place of a field.
struct Judge<'a> {
    eye: &'a Eye,
    rest: f32,
    root_weight: f32,
    robust: f64,
}

impl Judge<'_> {
    /// Turns the blurred difference of light into J^T r, writes the slope J, and gives the error of this place.
    fn cell(&self, wanted: [f32; 3], counts: bool, light: &mut [f32; 3], slope: &mut Matrix) -> f64 {
        let rest = f64::from(self.rest);
        let wanted = wanted.map(f64::from);
        let given = std::array::from_fn(|i| wanted[i] + f64::from(light[i]) / rest);
        let (seen, raw) = self.eye.look_and_slope(given);
        let aim = self.eye.look(wanted);
        let root = f64::from(self.root_weight);
        let mut miss: [f64; 3] =
            std::array::from_fn(|i| if counts { root * (seen[i] - aim[i]) } else { 0.0 });
        let square = miss.iter().map(|m| m * m).sum::<f64>();
        let (mut scale, mut error) = (root / rest, square);
        if self.robust > 0.0 {
            // 2 rho (sqrt(r^2 + rho^2) - rho): squares below rho, sizes above; by reweighted least squares.
            let size = (square + self.robust * self.robust).sqrt();
            let part = (self.robust / size).sqrt();
            miss = miss.map(|m| m * part);
            scale *= part;
            error = 2.0 * self.robust * (size - self.robust);
        }
        for i in 0..3 {
            for j in 0..3 {
                slope[3 * i + j] = (raw[i][j] * scale) as f32;
            }
        }
        *light = std::array::from_fn(|j| (0..3).map(|i| raw[i][j] * scale * miss[i]).sum::<f64>() as f32);
        error
    }
}

/// Solves J^T c = g by Cramer's rule in double precision.
fn solve_transposed(slope: &Matrix, gradient: [f32; 3]) -> [f32; 4] {
    let m = slope.map(f64::from);
    let g = gradient.map(f64::from);
    let cofactor = [
        [m[4] * m[8] - m[5] * m[7], m[5] * m[6] - m[3] * m[8], m[3] * m[7] - m[4] * m[6]],
        [m[2] * m[7] - m[1] * m[8], m[0] * m[8] - m[2] * m[6], m[1] * m[6] - m[0] * m[7]],
        [m[1] * m[5] - m[2] * m[4], m[2] * m[3] - m[0] * m[5], m[0] * m[4] - m[1] * m[3]],
    ];
    let determinant = m[0] * cofactor[0][0] + m[1] * cofactor[0][1] + m[2] * cofactor[0][2];
    let inverse = if determinant.abs() > 1e-30 { 1.0 / determinant } else { 0.0 };
    // The inverse of J is the transposed cofactor matrix over the determinant; the inverse of J^T is not transposed.
    let c: [f64; 3] = std::array::from_fn(|i| (0..3).map(|j| cofactor[i][j] * g[j]).sum::<f64>() * inverse);
    [c[0] as f32, c[1] as f32, c[2] as f32, 0.0]
}

/// Colour changes along the lanes of a field.
fn changes(state: &State, domain: &Domain) -> u64 {
    if domain.change == 0.0 {
        return 0;
    }
    let differ = |cell: usize| {
        let here = state.colour[cell];
        let next = domain.lane_neighbours(cell)[1].map_or(EMPTY, |n| state.colour[n]);
        u64::from(here != EMPTY && next != EMPTY && here != next)
    };
    (domain.base..domain.base + domain.len()).map(differ).sum()
}

/// The cell-by-cell term of a field.
fn single_error(state: &State, domain: &Domain) -> f64 {
    if domain.single == 0.0 {
        return 0.0;
    }
    let square = |cell: usize| {
        let look = domain.look_of(usize::from(state.colour[cell]));
        (0..3).map(|i| f64::from(look[i] - state.wanted_look[cell][i])).map(|d| d * d).sum::<f64>()
    };
    let cells = domain.base..domain.base + domain.len();
    f64::from(domain.single) * cells.filter(|&c| state.colour[c] != EMPTY).map(square).sum::<f64>()
}
