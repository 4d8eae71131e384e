//! Where the pieces of a network stand, for searches around some of them.

use rayon::prelude::*;

use crate::contacts::{Body, Grid, Strand, coarse_key, gather};
use crate::network::Network;

/// The pieces of a network where they stand.
pub(crate) struct Site<'a> {
    network: &'a Network,
    strands: Vec<Strand<'a>>,
}

impl<'a> Site<'a> {
    pub(crate) fn of(network: &'a Network) -> Self {
        Self { network, strands: network.strands() }
    }

    /// A piece by its number over all items.
    pub(crate) fn body(&self, piece: u32) -> Option<Body> {
        let (slot, local) = self.network.index().slot(piece)?;
        Some(self.strands[slot].bodies.body(local as usize, piece))
    }

    /// The coarse cell in which a piece stands.
    pub(crate) fn cell_of(&self, b: &Body) -> (i32, i32) {
        coarse_key(b.x, b.y, self.network.cell())
    }

    /// All pieces in some coarse cells, to be searched.
    pub(crate) fn grid(&self, mut cells: Vec<(i32, i32)>) -> Grid {
        cells.par_sort_unstable();
        cells.dedup();
        let (names, _) = gather(&self.strands, &[], &cells, self.network.cell());
        let body = |(slot, local): (u32, u32)| {
            let number = self.network.index().base(slot as usize) + local;
            self.strands[slot as usize].bodies.body(local as usize, number)
        };
        Grid::new(&self.network.shapes, names.into_iter().map(body).collect())
    }
}
