//! Areas filled with one line that nowhere comes near itself.

mod courses;
mod spiral;
mod stroke;

pub use courses::{curls, waves};
pub use spiral::{double_spiral, inscribed_circle};

use crate::polygon::is_simple;
use crate::{Buckets, Curve, Point};

/// Why an area cannot be filled.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FillError {
    /// The outline crosses or touches itself, or encloses nothing.
    #[error(
        "The outline of the area crosses itself or encloses nothing. Move its corners so that its sides do not touch."
    )]
    NotSimple,
    /// A ring distance or swing that is none.
    #[error("{what} is {value} mm; give a length above 0 and at most 1 000 000 mm.")]
    BadLength {
        /// What it is.
        what: &'static str,
        /// Its value, in mm.
        value: f64,
    },
    /// Nothing fits.
    #[error(
        "No line with courses {ring} mm apart fits into the area. Make the area wider or the ring distance smaller."
    )]
    NoRoom {
        /// The ring distance, in mm.
        ring: f64,
    },
    /// More courses or turns than are taken.
    #[error(
        "Courses {ring} mm apart are too many for an area of this size. Make the ring distance larger or fill it in parts."
    )]
    TooFine {
        /// The ring distance, in mm.
        ring: f64,
    },
    /// Even the widest ring distance that was allowed takes more pieces.
    #[error(
        "Between {least} mm and {most} mm no ring distance takes {pieces} pieces or fewer and fits. Allow a wider one, or more pieces."
    )]
    NoSuchCount {
        /// The least ring distance, in mm.
        least: f64,
        /// The largest, in mm.
        most: f64,
        /// How many pieces were wanted at most.
        pieces: usize,
    },
}

/// How near the curve comes to itself, in mm: the least distance between two of its places, sampled every `step` mm,
/// that are more than `skip` mm apart along it. Infinite when it is not longer than that.
///
/// The true distance is less than this by no more than `step`; on parts that run side by side by about
/// `step`^2 / (8 distance). Time grows with the number of samples.
pub fn least_self_distance(curve: &Curve, step: f64, skip: f64) -> f64 {
    let places: Vec<Point> = curve.sample(step).map(|(p, _)| p).collect();
    let step = curve.length() / (places.len().max(2) - 1) as f64;
    let apart = (skip / step).ceil().max(1.0) as usize;
    if places.len() <= apart || step <= 0.0 {
        return f64::INFINITY;
    }
    let (xs, ys): (Vec<f64>, Vec<f64>) = places.iter().map(|p| (p.x, p.y)).unzip();
    let mut reach = (2.0 * step).max(0.5 * skip);
    loop {
        let buckets = Buckets::new(&xs, &ys, reach);
        let mut least = f64::INFINITY;
        for (i, p) in places.iter().enumerate() {
            buckets.near(p.x, p.y, reach.min(least), |j| {
                if (j as usize) >= i + apart {
                    least = least.min(places[j as usize].minus(*p).length());
                }
            });
        }
        if least.is_finite() || reach > curve.length() {
            return least;
        }
        reach *= 2.0;
    }
}

/// The ring distance with which a fill takes at most `pieces` pieces at `pitch` mm, and as near to it as can be found:
/// (ring distance in mm, the fill).
///
/// `fill` is asked for the line of a ring distance, e.g. `|ring| waves(outline, course, ring)`, about fifty times,
/// between `least` and `most` mm. The number of pieces falls as the ring grows, but in steps and not everywhere, so
/// the best of all that were tried is given.
///
/// # Errors
/// [`FillError::NoSuchCount`] when no ring that was tried fits and takes so few.
pub fn ring_for_count(
    pieces: usize,
    pitch: f64,
    (least, most): (f64, f64),
    fill: impl Fn(f64) -> Result<Curve, FillError>,
) -> Result<(f64, Curve), FillError> {
    if !(least > 0.0 && most >= least && most.is_finite()) {
        return Err(FillError::BadLength { what: "The least ring distance", value: least });
    }
    if !(pitch > 0.0 && pitch.is_finite()) {
        return Err(FillError::BadLength { what: "The pitch", value: pitch });
    }
    let (mut low, mut high) = (least, most);
    let mut best: Option<(usize, f64, Curve)> = None;
    for round in 0..50 {
        let ring = match round {
            0 => least,
            1 => most,
            _ => 0.5 * (low + high),
        };
        let few = match fill(ring) {
            Ok(curve) => {
                let count = (curve.length() / pitch).floor() as usize + 1;
                if count <= pieces && best.as_ref().is_none_or(|(most, ..)| count > *most) {
                    best = Some((count, ring, curve));
                }
                count <= pieces
            }
            // Too wide to fit: as good as few pieces. Too fine to compute: as good as many.
            Err(FillError::NoRoom { .. }) => true,
            Err(FillError::TooFine { .. }) => false,
            Err(error) => return Err(error),
        };
        if best.as_ref().is_some_and(|(count, ..)| *count == pieces) {
            break;
        }
        if few { high = high.min(ring) } else { low = low.max(ring) }
    }
    best.map(|(_, ring, curve)| (ring, curve)).ok_or(FillError::NoSuchCount { least, most, pieces })
}

/// Refuses what no fill can work with.
fn check(outline: &[Point], ring: f64) -> Result<(), FillError> {
    if !(ring > 0.0 && ring <= 1e6) {
        return Err(FillError::BadLength { what: "The ring distance", value: ring });
    }
    if !is_simple(outline) { Err(FillError::NotSimple) } else { Ok(()) }
}
