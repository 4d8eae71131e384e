//! How long it takes to sort a million pieces into buckets and to ask each for its neighbours.

use divan::{Bencher, black_box};
use geometry::Buckets;

fn main() {
    divan::main();
}

/// A field of 1 000 x 1 000 pieces 15 x 26 mm apart, and the same in ten parts a hundred metres from each other, so
/// that their cells do not fit a plain grid.
fn pieces(parted: bool) -> (Vec<f32>, Vec<f32>) {
    let place = |i: u32| {
        let far = if parted { (i / 100_000) as f32 * 100_000.0 } else { 0.0 };
        ((i % 1_000) as f32 * 15.0 + far, (i / 1_000) as f32 * 26.0 + far)
    };
    (0..1_000_000).map(place).unzip()
}

#[divan::bench(args = [false, true])]
fn build(bencher: Bencher<'_, '_>, parted: bool) {
    let (xs, ys) = pieces(parted);
    bencher.bench_local(|| Buckets::new(black_box(&xs), black_box(&ys), 60.0));
}

#[divan::bench(args = [false, true], sample_count = 10)]
fn pairs_within_60_mm(bencher: Bencher<'_, '_>, parted: bool) {
    let (xs, ys) = pieces(parted);
    let buckets = Buckets::new(&xs, &ys, 60.0);
    bencher.bench_local(|| {
        let mut count = 0_u64;
        buckets.pairs(60.0, |_, _| {
            count += 1;
            true
        });
        count
    });
}
