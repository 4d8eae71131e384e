//! One number for each piece of a plan.

use plan::ItemId;

/// Numbers for all pieces of a placement: items in order of id, the pieces of each in their own order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Index {
    /// Each item with the number of its first piece.
    firsts: Vec<(ItemId, u32)>,
    len: u32,
}

impl Index {
    /// From items in order of id, with how many pieces each has. Numbers end at `u32::MAX`, far above what fits into
    /// memory.
    pub(crate) fn of(counts: impl Iterator<Item = (ItemId, usize)>) -> Self {
        let mut index = Self::default();
        for (item, count) in counts {
            index.firsts.push((item, index.len));
            index.len = index.len.saturating_add(u32::try_from(count).unwrap_or(u32::MAX));
        }
        index
    }

    /// Number of pieces.
    pub fn len(&self) -> u32 {
        self.len
    }

    /// True when there is no piece.
    pub fn is_empty(&self) -> bool {
        self.len == 0
    }

    /// The number of an item's first piece, or that of the next item's when it has none; `None` for an unknown item.
    pub fn first(&self, item: ItemId) -> Option<u32> {
        let i = self.firsts.binary_search_by_key(&item, |f| f.0).ok()?;
        Some(self.firsts[i].1)
    }

    /// The item of a piece, and the piece's index within it; `None` beyond the last piece.
    pub fn find(&self, piece: u32) -> Option<(ItemId, u32)> {
        if piece >= self.len {
            return None;
        }
        let (item, first) = self.firsts[self.firsts.partition_point(|f| f.1 <= piece).checked_sub(1)?];
        Some((item, piece - first))
    }

    /// The item of a piece, and the piece's index within it.
    ///
    /// # Panics
    /// For a number that is not below [`Self::len`].
    pub fn piece(&self, piece: u32) -> (ItemId, u32) {
        self.find(piece).expect("a number below the number of pieces")
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
            (0..index.len()).map(|i| index.piece(i)).map(|(id, i)| (id.0, i)).collect();
        assert_eq!(all, [(3, 0), (3, 1), (7, 0), (7, 1), (7, 2)]);
        assert_eq!(
            [3, 5, 7, 9, 8].map(|id| index.first(ItemId(id))),
            [Some(0), Some(2), Some(2), Some(5), None]
        );
        assert_eq!(index.find(5), None);
    }
}
