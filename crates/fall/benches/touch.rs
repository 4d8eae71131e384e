//! How long the touch map takes: `cargo bench -p fall --bench touch`.
#![allow(missing_docs, reason = "a bench has no readers of its own")]

#[path = "../tests/common/nets.rs"]
mod nets;

use divan::Bencher;
use fall::{Graph, touch_graph};

fn main() {
    divan::main();
}

fn run(bencher: Bencher<'_, '_>, net: &nets::Net, soft: bool) {
    let (first, to) = net.rows();
    let stands = vec![true; net.pieces as usize];
    let soft = vec![soft; if soft { stands.len() } else { 0 }];
    bencher.bench(|| touch_graph(Graph { first: &first, to: &to }, &stands, &soft));
}

/// Lines, splits, joins, rings and separate lanes; the argument is the number of states.
#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 5)]
fn lines(bencher: Bencher<'_, '_>, states: u32) {
    run(bencher, &nets::plan_like(states / 2, 1), false);
}

/// The same where a soft touch may start both ways.
#[divan::bench(args = [1_000_000], sample_count = 5)]
fn lines_soft(bencher: Bencher<'_, '_>, states: u32) {
    run(bencher, &nets::plan_like(states / 2, 1), true);
}

/// One field whose lanes touch; the argument is its number of lanes, with 1.5 times as many ranks.
#[divan::bench(args = [40, 100, 200, 365], sample_count = 3)]
fn brick(bencher: Bencher<'_, '_>, lanes: u32) {
    let mut net = nets::Net::default();
    net.brick(lanes, lanes * 3 / 2);
    run(bencher, &net, false);
}

/// A field whose lanes touch that is too big for an exact count: 500 000 pieces, estimated.
#[divan::bench(sample_count = 3)]
fn brick_estimated(bencher: Bencher<'_, '_>) {
    let mut net = nets::Net::default();
    net.brick(700, 715);
    run(bencher, &net, false);
}
