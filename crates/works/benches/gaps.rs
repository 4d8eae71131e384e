//! How long safety gaps take: `cargo bench -p works --bench gaps`.
#![allow(missing_docs, reason = "a bench has no readers of its own")]

use divan::Bencher;
use works::{Line, Parts, Place, gaps_on_line, gaps_on_network};

fn main() {
    divan::main();
}

/// A line with build times, (pieces, gaps).
#[divan::bench(args = [(1_000, 50), (10_000, 50), (20_000, 50), (1_000_000, 20)], sample_count = 5)]
fn line(bencher: Bencher<'_, '_>, (pieces, gaps): (usize, usize)) {
    let built: Vec<f64> = (0..pieces).map(|p| p as f64 / pieces as f64).collect();
    let rate: Vec<f64> = (0..pieces).map(|p| 1.0 + (p % 7) as f64).collect();
    bencher.bench(|| gaps_on_line(&Line { rate: &rate, built: &built, end: 1.5 }, gaps));
}

/// A comb of nodes of weight 1: a spine with ribs.
#[divan::bench(args = [500, 5_000], sample_count = 5)]
fn tree(bencher: Bencher<'_, '_>, nodes: u32) {
    let place = |v: u32| Place {
        a: v,
        b: if v.is_multiple_of(10) { v.saturating_sub(10) } else { v - 1 },
        price: 300,
    };
    let parts = Parts { weight: vec![1; nodes as usize], places: (1..nodes).map(place).collect() };
    bencher.bench(|| gaps_on_network(&parts));
}

/// A grid of nodes, all loops.
#[divan::bench(args = [20, 40], sample_count = 5)]
fn loops(bencher: Bencher<'_, '_>, side: u32) {
    let mut places = Vec::new();
    for v in 0..side * side {
        let price = 400 + u64::from(v * 37 % 200);
        if v % side + 1 < side {
            places.push(Place { a: v, b: v + 1, price });
        }
        if v + side < side * side {
            places.push(Place { a: v, b: v + side, price });
        }
    }
    let parts = Parts { weight: vec![15; (side * side) as usize], places };
    bencher.bench(|| gaps_on_network(&parts));
}
