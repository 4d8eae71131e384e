//! Numbers of pieces over all items: items in order of id, pieces in order within the item.

use plan::ItemId;

/// Pieces to a block of the look-up.
const BLOCK: u32 = 256;

/// From a piece's number to its item and its place there, and back.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Index {
    items: Vec<ItemId>,
    /// Number of each item's first piece, and of all.
    bases: Vec<u32>,
    /// The item of each block's first piece.
    blocks: Vec<u32>,
}

impl Index {
    /// From items in order of id, with how many pieces each has. Numbers end at `u32::MAX`, far above what fits into
    /// memory.
    pub(crate) fn of(items: impl Iterator<Item = (ItemId, usize)>) -> Self {
        let mut index = Self { bases: vec![0], ..Self::default() };
        for (item, count) in items {
            let end = index.len().saturating_add(u32::try_from(count).unwrap_or(u32::MAX));
            index.items.push(item);
            index.bases.push(end);
        }
        let mut slot = 0;
        for first in (0..index.len()).step_by(BLOCK as usize) {
            while index.bases[slot + 1] <= first {
                slot += 1;
            }
            index.blocks.push(slot as u32);
        }
        index
    }

    /// Number of pieces.
    pub fn len(&self) -> u32 {
        self.bases.last().copied().unwrap_or(0)
    }

    /// True when there is no piece.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The number of an item's first piece, or that of the next item's when it has none; `None` for an unknown item.
    pub fn first(&self, item: ItemId) -> Option<u32> {
        self.items.binary_search(&item).ok().map(|slot| self.bases[slot])
    }

    /// The item of a piece and its place there; `None` beyond the last piece.
    pub fn piece(&self, piece: u32) -> Option<(ItemId, u32)> {
        self.slot(piece).map(|(slot, local)| (self.items[slot], local))
    }

    /// The place of a piece's item in the order of items, and the piece's place in the item; `None` beyond the last piece.
    pub fn slot(&self, piece: u32) -> Option<(usize, u32)> {
        let mut slot = *self.blocks.get((piece / BLOCK) as usize)? as usize;
        while *self.bases.get(slot + 1)? <= piece {
            slot += 1;
        }
        Some((slot, piece - self.bases[slot]))
    }

    /// The number of the first piece of the item at a place in the order of items.
    ///
    /// # Panics
    /// For a place that [`Self::slot`] does not give.
    pub fn base(&self, slot: usize) -> u32 {
        self.bases[slot]
    }

    /// Bytes of memory that it holds.
    pub fn bytes(&self) -> usize {
        4 * (self.items.len() + self.bases.len() + self.blocks.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_leads_to_its_piece_and_items_without_pieces_are_passed_over() {
        let counts = [(3, 2), (5, 0), (7, 3), (9, 0)].map(|(id, n)| (ItemId(id), n));
        let index = Index::of(counts.into_iter());
        let all: Vec<(u32, u32)> =
            (0..index.len()).map(|i| index.piece(i).unwrap()).map(|(id, i)| (id.0, i)).collect();
        assert_eq!(all, [(3, 0), (3, 1), (7, 0), (7, 1), (7, 2)]);
        assert_eq!(
            [3, 5, 7, 9, 8].map(|id| index.first(ItemId(id))),
            [Some(0), Some(2), Some(2), Some(5), None]
        );
        assert_eq!(index.piece(5), None);
    }
}
