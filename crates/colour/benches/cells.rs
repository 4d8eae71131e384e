//! Laying pictures of several sizes onto 100 x 100 cells.

use colour::{CellGrid, Fit, Flow, Picture, Pixels, to_cells};

fn main() {
    divan::main();
}

fn grid(cols: u32, rows: u32) -> CellGrid {
    CellGrid { fit: Fit::Stretch, ..CellGrid::new(cols, rows, 15.0, 25.0) }
}

/// Side of a square picture in pixels: 0.25, 1, 4 and 12 megapixels.
#[divan::bench(args = [500, 1000, 2000, 3464], sample_count = 5)]
fn opaque_8_bit(bencher: divan::Bencher<'_, '_>, side: u32) {
    let samples = (0..side * side * 3).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let picture = Picture::from_rgb8(side, side, samples).expect("three samples a pixel");
    bencher.bench(|| to_cells(&picture, &grid(100, 100), &mut |_| Flow::Go));
}

#[divan::bench(sample_count = 5)]
fn alpha_16_bit_12_megapixels(bencher: divan::Bencher<'_, '_>) {
    let samples = (0..3464 * 3464 * 4u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 16) as u16).collect();
    let picture = Picture::from_pixels(3464, 3464, Pixels::Rgba16(samples)).expect("four samples a pixel");
    bencher.bench(|| to_cells(&picture, &grid(100, 100), &mut |_| Flow::Go));
}

/// One pixel stretched over a million cells: the degenerate end.
#[divan::bench(sample_count = 5)]
fn one_pixel_onto_a_million_cells(bencher: divan::Bencher<'_, '_>) {
    let picture = Picture::from_rgb8(1, 1, vec![1, 2, 3]).expect("one pixel");
    bencher.bench(|| to_cells(&picture, &grid(1000, 1000), &mut |_| Flow::Go));
}
