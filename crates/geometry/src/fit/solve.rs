//! Dense normal equations of a least squares fit.

/// A pivot below this share of its diagonal is none: the unknown is not fixed. The coefficients are parts of unit
/// vectors, so a diagonal is the number of tapes at the mark.
const NO_PIVOT: f64 = 1e-10;

/// A'A and A'b, the square one row by row.
pub(super) struct Normal {
    n: usize,
    square: Vec<f64>,
    right: Vec<f64>,
}

/// The inverse of A'A on the unknowns that are fixed.
pub(super) struct Inverse {
    n: usize,
    square: Vec<f64>,
    /// How many unknowns the equations fix.
    pub(super) rank: usize,
    /// For each unknown whether some of it is not fixed.
    pub(super) free: Vec<bool>,
}

impl Normal {
    pub(super) fn new(n: usize) -> Self {
        Self { n, square: vec![0.0; n * n], right: vec![0.0; n] }
    }

    /// Adds one equation: the sum of coefficient times unknown is `value`.
    pub(super) fn add(&mut self, terms: &[(usize, f64)], value: f64) {
        for &(i, a) in terms {
            self.right[i] += a * value;
            for &(j, b) in terms {
                self.square[i * self.n + j] += a * b;
            }
        }
    }

    /// Solves (A'A + damping) x = A'b by Cholesky; `None` when rounding leaves no pivot.
    pub(super) fn solve(&self, damping: f64) -> Option<Vec<f64>> {
        let n = self.n;
        let mut l = self.square.clone();
        for i in 0..n {
            l[i * n + i] += damping;
        }
        for i in 0..n {
            for j in 0..=i {
                let known: f64 = (0..j).map(|k| l[i * n + k] * l[j * n + k]).sum();
                let rest = l[i * n + j] - known;
                if i > j {
                    l[i * n + j] = rest / l[j * n + j];
                } else if rest > 0.0 {
                    l[i * n + i] = rest.sqrt();
                } else {
                    return None;
                }
            }
        }
        let mut x = self.right.clone();
        for i in 0..n {
            let known: f64 = (0..i).map(|k| l[i * n + k] * x[k]).sum();
            x[i] = (x[i] - known) / l[i * n + i];
        }
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|k| l[k * n + i] * x[k]).sum();
            x[i] = (x[i] - known) / l[i * n + i];
        }
        x.iter().all(|v| v.is_finite()).then_some(x)
    }

    /// Inverts A'A by Gauss and Jordan with the largest pivot first; stops where none is left.
    ///
    /// What is left then belongs to no equation: an unknown is free when it is without a pivot, or when moving one of
    /// those would move it. The inverse is one of a least set of unknowns with the others held, which is enough for
    /// the quadratic form of any equation of the fit (it is the same for each generalised inverse).
    pub(super) fn inverse(&self) -> Inverse {
        let n = self.n;
        let mut m = self.square.clone();
        let mut done = vec![false; n];
        for _ in 0..n {
            let share = |i: usize, m: &[f64]| m[i * n + i] / self.square[i * n + i].max(1e-300);
            let best = (0..n)
                .filter(|&i| !done[i])
                .max_by(|&a, &b| share(a, &m).total_cmp(&share(b, &m)).then(b.cmp(&a)));
            let Some(p) = best.filter(|&p| share(p, &m) > NO_PIVOT && m[p * n + p] > NO_PIVOT) else { break };
            sweep(&mut m, n, p);
            done[p] = true;
        }
        let rank = done.iter().filter(|d| **d).count();
        let moves = |i: usize| (0..n).any(|j| !done[j] && m[i * n + j].abs() > 1e-6);
        let free = (0..n).map(|i| !done[i] || moves(i)).collect();
        for i in 0..n {
            for j in 0..n {
                // The sweep leaves the inverse with a minus; held unknowns take no part.
                m[i * n + j] = if done[i] && done[j] { -m[i * n + j] } else { 0.0 };
            }
        }
        Inverse { n, square: m, rank, free }
    }
}

/// The sweep operator on pivot `p` (Beaton 1964; from memory): after sweeping all, the matrix is minus its inverse.
fn sweep(m: &mut [f64], n: usize, p: usize) {
    let d = m[p * n + p];
    let line: Vec<f64> = (0..n).map(|j| m[p * n + j] / d).collect();
    for i in (0..n).filter(|&i| i != p) {
        let c = m[i * n + p];
        for j in (0..n).filter(|&j| j != p) {
            m[i * n + j] -= c * line[j];
        }
        m[i * n + p] = c / d;
        m[p * n + i] = c / d;
    }
    m[p * n + p] = -1.0 / d;
}

impl Inverse {
    /// a' Q a for an equation's coefficients.
    pub(super) fn quadratic(&self, terms: &[(usize, f64)]) -> f64 {
        let pair = |&(i, a): &(usize, f64)| {
            terms.iter().map(|&(j, b)| a * b * self.square[i * self.n + j]).sum::<f64>()
        };
        terms.iter().map(pair).sum()
    }
}
