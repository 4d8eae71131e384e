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

    /// All pieces in the coarse cells around some, as many cells to each side, to be searched.
    pub(crate) fn around(&self, spots: Vec<((i32, i32), i32)>) -> Grid {
        self.grid(covered(spots))
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

/// The cells that lie within so many to each side of some, each once.
fn covered(mut spots: Vec<((i32, i32), i32)>) -> Vec<(i32, i32)> {
    // Pieces stand close: most share their cell with others, and what lies around it with those of the next.
    spots.par_sort_unstable_by_key(|&(cell, n)| (cell, -n));
    spots.dedup_by_key(|spot| spot.0);
    let mut rows: Vec<(i32, i32, i32)> =
        spots.iter().flat_map(|&((x, y), n)| (y - n..=y + n).map(move |y| (y, x - n, x + n))).collect();
    rows.par_sort_unstable();
    let mut cells: Vec<(i32, i32)> = Vec::new();
    let (mut row, mut next) = (i32::MIN, i32::MIN);
    for (y, from, to) in rows {
        if y != row {
            (row, next) = (y, i32::MIN);
        }
        cells.extend((from.max(next)..=to).map(|x| (x, y)));
        next = next.max(to + 1);
    }
    cells
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::covered;

    /// Counted cell by cell beside it: a lone spot, one in several sizes, such that overlap, and one that another holds.
    #[test]
    fn cells_around_spots_are_those_of_each_spot_once() {
        let spots = vec![
            ((0, 0), 1),
            ((0, 0), 3),
            ((0, 0), 2),
            ((2, 1), 2),
            ((-9, 40), 0),
            ((3, -2), 3),
            ((1, 1), 1),
        ];
        let each: BTreeSet<(i32, i32)> = spots
            .iter()
            .flat_map(|&((x, y), n)| (x - n..=x + n).flat_map(move |x| (y - n..=y + n).map(move |y| (x, y))))
            .collect();
        let cells = covered(spots);
        assert_eq!(cells.len(), each.len());
        assert_eq!(cells.into_iter().collect::<BTreeSet<_>>(), each);
        assert_eq!(covered(Vec::new()), []);
    }
}
