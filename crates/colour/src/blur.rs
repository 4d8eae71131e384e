//! Gaussian blur of a field in linear light, and the eye's blur at a distance.
//!
//! Kernels are cut at 2.5 sigma; outside a field there is nothing, and dividing by the blurred unit picture
//! makes up for it where that is wanted.

use rayon::prelude::*;
use units::maths::exp;

/// Standard deviation of the eye's main lightness blur on the floor, in millimetres per metre of distance.
///
/// About 1.2 arc minutes (0.29 mm a metre each), the main lightness component of the spatial CIELAB filters
/// (Zhang and Wandell 1997, half width 0.0283 degrees / sqrt 2); from memory.
pub const EYE_MM_PER_METRE: f64 = 0.35;

/// Narrowest blur that the seen match designs for, in cells; below it the match is nearly cell by cell.
pub const LEAST_SIGMA: f64 = 0.7;

/// Widest blur that the seen match designs for, in cells; beyond it much is lost up close and little gained from afar.
pub const MOST_SIGMA: f64 = 1.5;

/// What the eye makes of cells at a distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EyeBlur {
    /// Blur of the eye in cells along x and y.
    pub eye: [f64; 2],
    /// Blur to design for, in cells along x and y: the eye's, its geometric mean brought to 0.7..=1.5.
    pub design: [f64; 2],
    /// The eye's blur is below half a cell: pieces will be seen singly, and the exact match is the better choice.
    pub seen_singly: bool,
}

/// The eye's blur on cells of `cell_mm` (width, height) seen from `distance_m` metres.
///
/// The blur is round in millimetres, so that it differs along the two sides of a cell that is not square.
/// Distances and sides that are not above 0 count as the least that is.
pub fn sigma_of_eye(distance_m: f64, cell_mm: [f64; 2]) -> EyeBlur {
    let on_floor = EYE_MM_PER_METRE * distance_m.clamp(1e-3, 1e6);
    let eye = cell_mm.map(|side| on_floor / side.clamp(1e-3, 1e6));
    let mean = (eye[0] * eye[1]).sqrt();
    let scale = mean.clamp(LEAST_SIGMA, MOST_SIGMA) / mean;
    EyeBlur { eye, design: eye.map(|s| (s * scale).min(crate::MAX_SIGMA)), seen_singly: mean < 0.5 }
}

/// A one-sided Gaussian kernel: weights at distance 0, 1, 2, ... whose two-sided sum is 1.
pub(crate) fn kernel(sigma: f64) -> Vec<f32> {
    let radius = (2.5 * sigma).ceil() as usize;
    let raw: Vec<f64> = (0..=radius)
        .map(|d| if d == 0 { 1.0 } else { exp(-((d * d) as f64) / (2.0 * sigma * sigma)) })
        .collect();
    let sum = raw[0] + 2.0 * raw[1..].iter().sum::<f64>();
    raw.iter().map(|v| (v / sum) as f32).collect()
}

/// A separable blur for pictures of one size; a picture is three numbers a cell, row after row.
pub(crate) struct Blur {
    cols: usize,
    along_x: Vec<f32>,
    along_y: Vec<f32>,
    /// What is left of a unit picture near the borders: G * 1 = rest_x[col] * rest_y[row].
    rest_x: Vec<f32>,
    rest_y: Vec<f32>,
}

impl Blur {
    pub(crate) fn new(cols: u32, rows: u32, sigma: [f64; 2]) -> Self {
        let (along_x, along_y) = (kernel(sigma[0]), kernel(sigma[1]));
        let rest_x = rest(&along_x, cols as usize);
        let rest_y = rest(&along_y, rows as usize);
        Self { cols: cols as usize, along_x, along_y, rest_x, rest_y }
    }

    pub(crate) fn kernels(&self) -> [&[f32]; 2] {
        [&self.along_x, &self.along_y]
    }

    /// G * 1 at a cell.
    pub(crate) fn rest(&self, cell: usize) -> f32 {
        self.rest_x[cell % self.cols] * self.rest_y[cell / self.cols]
    }

    /// Blurs a picture in place.
    pub(crate) fn apply(&self, picture: &mut [[f32; 3]], spare: &mut Vec<[f32; 3]>) {
        if picture.is_empty() {
            return;
        }
        spare.clear();
        spare.resize(picture.len(), [0.0; 3]);
        spare
            .par_chunks_mut(self.cols)
            .zip(picture.par_chunks(self.cols))
            .for_each(|(out, row)| blur_row(row, &self.along_x, out));
        let (cols, rows) = (self.cols, picture.len() / self.cols);
        let across: &[[f32; 3]] = spare;
        picture.par_chunks_mut(cols).enumerate().for_each(|(row, out)| {
            out.fill([0.0; 3]);
            for (d, &weight) in self.along_y.iter().enumerate() {
                let above = (d > 0 && row >= d).then(|| row - d);
                let below = (row + d < rows).then(|| row + d);
                for from in [above, below].into_iter().flatten() {
                    add_scaled(out, &across[from * cols..(from + 1) * cols], weight);
                }
            }
        });
    }
}

fn blur_row(row: &[[f32; 3]], kernel: &[f32], out: &mut [[f32; 3]]) {
    let cols = row.len();
    for (d, &weight) in kernel.iter().enumerate().take(cols) {
        add_scaled(&mut out[..cols - d], &row[d..], weight);
        if d > 0 {
            add_scaled(&mut out[d..], &row[..cols - d], weight);
        }
    }
}

fn add_scaled(out: &mut [[f32; 3]], from: &[[f32; 3]], weight: f32) {
    for (o, f) in out.iter_mut().zip(from) {
        for i in 0..3 {
            o[i] += weight * f[i];
        }
    }
}

fn rest(kernel: &[f32], len: usize) -> Vec<f32> {
    (0..len)
        .map(|at| {
            let side = |room: usize| kernel[1..].iter().take(room).sum::<f32>();
            kernel[0] + side(at) + side(len - 1 - at)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kernel_keeps_the_light() {
        for sigma in [0.0, 0.3, 0.7, 1.5, 8.0] {
            let kernel = kernel(sigma);
            let sum = kernel[0] + 2.0 * kernel[1..].iter().sum::<f32>();
            assert!((sum - 1.0).abs() < 1e-6, "{sigma}");
        }
    }

    #[test]
    fn an_even_field_stays_even_once_its_borders_are_made_up_for() {
        let blur = Blur::new(7, 5, [1.5, 0.8]);
        let mut picture = vec![[0.25, 0.5, 1.0]; 35];
        blur.apply(&mut picture, &mut Vec::new());
        for (cell, light) in picture.iter().enumerate() {
            let rest = blur.rest(cell);
            assert!((light[0] / rest - 0.25).abs() < 1e-6 && (light[2] / rest - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn the_blur_of_the_eye_grows_with_the_distance() {
        // Figures of the rule 0.35 mm a metre: 30 mm cells from 20, 60 and 130 m, 15 mm cells from 20 m.
        for (metres, side, cells) in
            [(20.0, 30.0, 0.233), (60.0, 30.0, 0.7), (130.0, 30.0, 1.517), (20.0, 15.0, 0.467)]
        {
            let blur = sigma_of_eye(metres, [side, side]);
            assert!((blur.eye[0] - cells).abs() < 1e-3);
            assert_eq!(blur.seen_singly, cells < 0.5);
            assert!((0.7..=1.5).contains(&blur.design[0]));
        }
        let long = sigma_of_eye(100.0, [25.0, 15.0]);
        assert!((long.design[1] / long.design[0] - 25.0 / 15.0).abs() < 1e-12);
    }
}
