//! Pieces of one item with the same fault: how many, in which lanes and ranks, and the worst of them.

use geometry::Point;
use plan::Item;

use crate::finding::Place;
use crate::shape::Shape;

/// Pieces of one item with the same fault. What is known of the worst of them is a `W`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Tally<W> {
    /// How many pieces.
    pub count: u64,
    /// The figure of the worst of them; the more the worse.
    pub figure: f64,
    /// The worst of them.
    pub worst: W,
    lanes: (u32, u32),
    ranks: (u32, u32),
}

impl<W> Tally<W> {
    /// Counts piece `i` of an item. Of equally bad ones the first counts as the worst.
    pub(crate) fn add(into: &mut Option<Self>, shape: &Shape, i: usize, figure: f64, worst: W) {
        let (lane, rank) = (shape.pieces.lane[i], shape.pieces.rank[i]);
        match into {
            None => {
                *into = Some(Self { count: 1, figure, worst, lanes: (lane, lane), ranks: (rank, rank) });
            }
            Some(all) => {
                all.count += 1;
                all.lanes = (all.lanes.0.min(lane), all.lanes.1.max(lane));
                all.ranks = (all.ranks.0.min(rank), all.ranks.1.max(rank));
                if figure > all.figure {
                    (all.figure, all.worst) = (figure, worst);
                }
            }
        }
    }

    /// The lanes and ranks of the item, with the spot of the worst.
    pub(crate) fn place(&self, item: &Item, at: Point) -> Place {
        Place::item(item).at(at).lanes(self.lanes.0, self.lanes.1).ranks(self.ranks.0, self.ranks.1)
    }
}
