//! The state of a search: all fields as one list of cells, with what the search needs to know of each.

use units::maths::{cbrt, pow};

use super::SeenOptions;
use crate::{
    blur::Blur,
    problem::{Axis, CellRule, EMPTY, FieldWanted, Problem},
    spaces::{ROOTS_TO_OKLAB, apply, linear_to_cones},
};

/// Values of the blur's autocorrelation below this share of its peak count as 0.
const CUT: f32 = 0.002;

/// Cone responses are not taken below this for the slope of OKLab, which has no end in the dark.
const LEAST_CONE: f64 = 0.0015;

/// A 3 x 3 matrix, row after row.
pub(super) type Matrix = [f32; 9];

/// One field within the list of all cells.
pub(super) struct Domain {
    /// The first cell.
    pub(super) base: usize,
    pub(super) cols: usize,
    pub(super) rows: usize,
    /// From a cell to its neighbour in the lane, and whether lanes run along picture rows.
    pub(super) along_cols: bool,
    pub(super) blur: Blur,
    /// One-sided autocorrelations of the blur along x and y; their product is R.
    pub(super) reach: [Vec<f32>; 2],
    /// The cost of a colour change along a lane.
    pub(super) change: f32,
    /// The weight of the cell-by-cell term.
    pub(super) single: f32,
    /// Square root of the field's weight.
    pub(super) root_weight: f32,
    /// Per channel the linear light of each colour, K numbers.
    pub(super) light: [Vec<f32>; 3],
    /// Per axis 100 OKLab of each colour, K numbers.
    pub(super) look: [Vec<f32>; 3],
    /// 0 for allowed colours, infinite for others.
    pub(super) bar: Vec<f32>,
}

impl Domain {
    fn new(field: &FieldWanted, base: usize, options: &SeenOptions) -> Self {
        let blur = Blur::new(field.cols, field.rows, designed_for(field.sigma, options.fewer_changes));
        let reach = blur.kernels().map(autocorrelation);
        let weight = field.weight as f32;
        let peak = reach[0][0] * reach[1][0];
        let channel = |i: usize| field.palette.iter().map(|c| c.0[i]).collect();
        let look = |i: usize| field.palette.iter().map(|c| look(c.0)[i]).collect();
        Self {
            base,
            cols: field.cols as usize,
            rows: field.rows as usize,
            along_cols: field.runs_along == Axis::Cols,
            blur,
            change: weight * change_cost(options.fewer_changes) as f32 * peak,
            single: weight * options.lambda as f32,
            root_weight: weight.sqrt(),
            light: std::array::from_fn(channel),
            look: std::array::from_fn(look),
            bar: field.allowed.iter().map(|&a| if a { 0.0 } else { f32::INFINITY }).collect(),
            reach,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.cols * self.rows
    }

    /// R at no distance: how much a cell counts with itself.
    pub(super) fn peak(&self) -> f32 {
        self.reach[0][0] * self.reach[1][0]
    }

    /// R between two cells of this field; 0 beyond its reach.
    pub(super) fn overlap(&self, p: usize, q: usize) -> f32 {
        let (p, q) = (p - self.base, q - self.base);
        let dx = (p % self.cols).abs_diff(q % self.cols);
        let dy = (p / self.cols).abs_diff(q / self.cols);
        match (self.reach[0].get(dx), self.reach[1].get(dy)) {
            (Some(x), Some(y)) => x * y,
            _ => 0.0,
        }
    }

    /// The neighbours of a cell in its lane.
    pub(super) fn lane_neighbours(&self, cell: usize) -> [Option<usize>; 2] {
        let at = cell - self.base;
        let (place, length, step) = match self.along_cols {
            true => (at % self.cols, self.cols, 1),
            false => (at / self.cols, self.rows, self.cols),
        };
        [(place > 0).then(|| cell - step), (place + 1 < length).then(|| cell + step)]
    }

    pub(super) fn light_of(&self, colour: usize) -> [f32; 3] {
        std::array::from_fn(|i| self.light[i][colour])
    }

    pub(super) fn look_of(&self, colour: usize) -> [f32; 3] {
        std::array::from_fn(|i| self.look[i][colour])
    }
}

/// All cells of all fields.
pub(super) struct State {
    pub(super) domains: Vec<Domain>,
    /// The present colour of each cell, or [`EMPTY`].
    pub(super) colour: Vec<u16>,
    /// Whether the search may change the cell.
    pub(super) free: Vec<bool>,
    /// Wanted linear light.
    pub(super) wanted: Vec<[f32; 3]>,
    /// 100 OKLab of the wanted light, for the cell-by-cell term; empty without one.
    pub(super) wanted_look: Vec<[f32; 3]>,
    /// The wanted light as seen: blurred and made up for at borders.
    pub(super) seen_wanted: Vec<[f32; 3]>,
    /// The slope of what is seen by the light of the cell.
    pub(super) slope: Vec<Matrix>,
    /// The gradient in units of what is seen: J^-T g. The fourth number is for alignment.
    pub(super) pull: Vec<[f32; 4]>,
    /// Pieces left per colour.
    pub(super) left: Vec<u64>,
}

impl State {
    /// The state for a start within the rules and the stock; `left` is what the start leaves.
    pub(super) fn new(problem: &Problem, start: &[Vec<u16>], left: Vec<u64>, options: &SeenOptions) -> Self {
        let mut domains = Vec::with_capacity(problem.fields.len());
        let mut base = 0;
        for field in &problem.fields {
            domains.push(Domain::new(field, base, options));
            base += field.len();
        }
        let fields = || problem.fields.iter();
        let wanted: Vec<[f32; 3]> = fields().flat_map(|f| &f.wanted).map(|c| c.0).collect();
        let mut state = Self {
            colour: start.concat(),
            free: fields().flat_map(|f| &f.cells).map(|r| *r == CellRule::Free).collect(),
            wanted_look: if options.lambda > 0.0 {
                wanted.iter().map(|c| look(*c)).collect()
            } else {
                Vec::new()
            },
            seen_wanted: wanted.clone(),
            slope: vec![[0.0; 9]; wanted.len()],
            pull: vec![[0.0; 4]; wanted.len()],
            wanted,
            domains,
            left,
        };
        let mut spare = Vec::new();
        for domain in &state.domains {
            let part = &mut state.seen_wanted[domain.base..domain.base + domain.len()];
            domain.blur.apply(part, &mut spare);
            for (cell, light) in part.iter_mut().enumerate() {
                let rest = domain.blur.rest(cell);
                light.iter_mut().for_each(|v| *v /= rest);
            }
        }
        state
    }

    /// The light that a cell gives now; an empty cell gives what is wanted.
    pub(super) fn light(&self, domain: &Domain, cell: usize) -> [f32; 3] {
        match self.colour[cell] {
            EMPTY => self.wanted[cell],
            colour => domain.light_of(usize::from(colour)),
        }
    }

    /// The fields' colours, one list a field.
    pub(super) fn split(&self, colours: &[u16]) -> Vec<Vec<u16>> {
        self.domains.iter().map(|d| colours[d.base..d.base + d.len()].to_vec()).collect()
    }
}

/// The cost of a colour change for a weight for people: 14 x 3^(w - 1), from 1 down to 0 in a straight line.
/// At 3 the changes are about half of what they are at 0.
fn change_cost(weight: f64) -> f64 {
    if weight >= 1.0 { 14.0 * pow(3.0, weight - 1.0) } else { 14.0 * weight.max(0.0) }
}

/// How much wider a blur is at most designed for when changes are to be fewer.
const WIDER: f64 = 1.4;

/// The widest blur, in cells, that is designed for because changes are to be fewer.
const WIDEST: f64 = 1.8;

/// The blur to design for, in cells along x and y.
///
/// Longer runs mix only for a wider blur. Designed for the narrower one, what is left over would go where that
/// blur hides it and a wider one does not; so the blur grows with the weight, up to 3, by at most two fifths.
/// A blur of 1.8 cells or more stays as it is.
fn designed_for(sigma: [f64; 2], fewer_changes: f64) -> [f64; 2] {
    let mean = (sigma[0] * sigma[1]).sqrt();
    let most = if mean > 0.0 { (WIDEST / mean).clamp(1.0, WIDER) } else { 1.0 };
    let scale = 1.0 + (most - 1.0) * (fewer_changes / 3.0).min(1.0);
    sigma.map(|s| s * scale)
}

/// The one-sided autocorrelation of a symmetric kernel given from its middle, cut off where it is small.
fn autocorrelation(kernel: &[f32]) -> Vec<f32> {
    let radius = kernel.len() as isize - 1;
    let at = |i: isize| kernel.get(i.unsigned_abs()).copied().unwrap_or(0.0);
    let full = (0..=2 * radius).map(|d| (-radius..=radius).map(|i| at(i) * at(i + d)).sum::<f32>());
    let mut values: Vec<f32> = full.collect();
    let limit = CUT * values[0];
    let end = values.iter().position(|&v| v < limit).unwrap_or(values.len());
    values.truncate(end);
    values
}

/// 100 OKLab of a linear light; less than no light counts as none.
pub(super) fn look(light: [f32; 3]) -> [f32; 3] {
    let cones = apply(&linear_to_cones(), light.map(f64::from));
    apply(&ROOTS_TO_OKLAB, cones.map(|v| cbrt(v.max(0.0)))).map(|v| (100.0 * v) as f32)
}

/// Matrices from linear light to 100 OKLab, made once for a pass over many cells.
pub(super) struct Eye {
    cones: [[f64; 3]; 3],
}

impl Eye {
    pub(super) fn new() -> Self {
        Self { cones: linear_to_cones() }
    }

    /// 100 OKLab of a light.
    pub(super) fn look(&self, light: [f64; 3]) -> [f64; 3] {
        let roots = apply(&self.cones, light).map(|v| cbrt(v.max(0.0)));
        apply(&ROOTS_TO_OKLAB, roots).map(|v| 100.0 * v)
    }

    /// 100 OKLab of a light and its slope by the light, row after row.
    pub(super) fn look_and_slope(&self, light: [f64; 3]) -> ([f64; 3], [[f64; 3]; 3]) {
        let cones = apply(&self.cones, light);
        let roots = cones.map(|v| cbrt(v.max(0.0)));
        let floor = cbrt(LEAST_CONE);
        // d cbrt(v) / dv = 1 / (3 cbrt(v)^2).
        let steep = roots.map(|root| {
            let root = root.max(floor);
            100.0 / (3.0 * root * root)
        });
        let slope = std::array::from_fn(|i| {
            std::array::from_fn(|j| (0..3).map(|k| ROOTS_TO_OKLAB[i][k] * steep[k] * self.cones[k][j]).sum())
        });
        (apply(&ROOTS_TO_OKLAB, roots).map(|v| 100.0 * v), slope)
    }
}
