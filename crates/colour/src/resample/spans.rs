//! Which source pixels a row or column of cells covers, and how much of each.

/// Edges closer than this to a pixel border (in pixels) are put onto it, so that rounding cannot
/// let a sliver of the neighbouring pixel in. Far below what 16 bits can show.
const SNAP: f64 = 1e-9;

/// The pixels under one cell along one axis.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Span {
    /// Index of the first pixel.
    pub(super) first: usize,
    /// Covered part of each pixel from `first` on, 0 to 1.
    pub(super) weights: Vec<f64>,
    /// Length of the whole cell in pixels, what lies outside the source included.
    pub(super) length: f64,
}

/// A stretch of the source in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub(super) from: f64,
    pub(super) to: f64,
}

/// Cuts `frame` into `count` equal cells and weighs the pixels of `clip` under each.
pub(super) fn spans(frame: Stretch, clip: Stretch, count: u32) -> Vec<Span> {
    let length = frame.to - frame.from;
    let edge = |i: u32| snapped(frame.from + length * f64::from(i) / f64::from(count));
    (0..count).map(|i| span(Stretch { from: edge(i), to: edge(i + 1) }, clip)).collect()
}

fn span(cell: Stretch, clip: Stretch) -> Span {
    let from = cell.from.max(snapped(clip.from));
    let to = cell.to.min(snapped(clip.to));
    let length = cell.to - cell.from;
    if to <= from {
        return Span { first: 0, weights: Vec::new(), length };
    }
    let first = from.floor();
    let pixels = (to.ceil() - first) as usize;
    let weights = (0..pixels)
        .map(|i| {
            let left = first + i as f64;
            to.min(left + 1.0) - from.max(left)
        })
        .collect();
    Span { first: first as usize, weights, length }
}

fn snapped(edge: f64) -> f64 {
    let whole = edge.round();
    if (edge - whole).abs() < SNAP { whole } else { edge }
}

/// The same spans counted from the other end of an axis of `size` pixels.
pub(super) fn mirrored(mut spans: Vec<Span>, size: usize) -> Vec<Span> {
    for span in &mut spans {
        if !span.weights.is_empty() {
            span.first = size - span.first - span.weights.len();
            span.weights.reverse();
        }
    }
    spans
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_of_a_cut_add_up_to_the_length_of_the_cell() {
        let whole = Stretch { from: 0.0, to: 10.0 };
        for span in spans(whole, whole, 3) {
            let sum: f64 = span.weights.iter().sum();
            assert!((sum - 10.0 / 3.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_cell_outside_the_source_covers_nothing() {
        let clip = Stretch { from: 0.0, to: 4.0 };
        let cut = spans(Stretch { from: -4.0, to: 8.0 }, clip, 3);
        assert!(cut[0].weights.is_empty() && cut[2].weights.is_empty());
        assert_eq!(cut[1].weights, [1.0; 4]);
    }
}
