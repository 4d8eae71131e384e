//! Items with what became of their pieces.

use std::sync::Arc;

use plan::Item;

use crate::reached::Fate;
use crate::shape::Shape;

/// An item, where its pieces stand, and what became of them.
pub(crate) struct Seen<'a> {
    pub item: &'a Item,
    pub shape: &'a Arc<Shape>,
    /// In the order of the pieces.
    pub fates: &'a [Fate],
}

/// The last piece of each lane.
pub(crate) fn lane_ends(shape: &Shape) -> Vec<usize> {
    let lanes = &shape.pieces.lane;
    let mut ends = Vec::new();
    let mut from = 0;
    while from < lanes.len() {
        let lane = lanes[from];
        from += lanes[from..].partition_point(|&l| l == lane);
        ends.push(from - 1);
    }
    ends
}
