//! Numbers of pieces over all items: items in order of id, pieces in order within the item.

use plan::ItemId;

/// Pieces to a block of the look-up.
const BLOCK: u32 = 256;

/// From a piece's number to its item and its place there, and back.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Places {
    items: Vec<ItemId>,
    /// Number of each item's first piece, and of all.
    bases: Vec<u32>,
    /// The item of each block's first piece.
    blocks: Vec<u32>,
}

impl Places {
    pub(crate) fn of(items: impl Iterator<Item = (ItemId, usize)>) -> Self {
        let mut places = Self { bases: vec![0], ..Self::default() };
        for (item, count) in items {
            let end = places.len().saturating_add(u32::try_from(count).unwrap_or(u32::MAX));
            places.items.push(item);
            places.bases.push(end);
        }
        let mut slot = 0;
        for first in (0..places.len()).step_by(BLOCK as usize) {
            while places.bases[slot + 1] <= first {
                slot += 1;
            }
            places.blocks.push(slot as u32);
        }
        places
    }

    /// Number of pieces.
    pub fn len(&self) -> u32 {
        self.bases.last().copied().unwrap_or(0)
    }

    /// True when there is no piece.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The number of an item's first piece; `None` for an item that the plan does not have.
    pub fn first(&self, item: ItemId) -> Option<u32> {
        self.items.binary_search(&item).ok().map(|slot| self.bases[slot])
    }

    /// The item of a piece and its place there; `None` beyond the last piece.
    pub fn piece(&self, piece: u32) -> Option<(ItemId, u32)> {
        self.slot(piece).map(|(slot, local)| (self.items[slot], local))
    }

    pub(crate) fn slot(&self, piece: u32) -> Option<(usize, u32)> {
        let mut slot = *self.blocks.get((piece / BLOCK) as usize)? as usize;
        while *self.bases.get(slot + 1)? <= piece {
            slot += 1;
        }
        Some((slot, piece - self.bases[slot]))
    }

    pub(crate) fn base(&self, slot: usize) -> u32 {
        self.bases[slot]
    }

    pub(crate) fn bytes(&self) -> usize {
        4 * (self.items.len() + self.bases.len() + self.blocks.len())
    }
}
