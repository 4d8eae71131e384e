//! Placed pieces of one item, one array per property.

use plan::ItemId;

/// How a piece lies or stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
#[repr(u8)]
pub enum Pose {
    /// On end: the kind's height upwards.
    #[default]
    OnEnd = 0,
    /// On its long edge: the kind's width upwards.
    OnEdge = 1,
    /// Flat: the kind's thickness upwards.
    Flat = 2,
}

/// The name of a piece that stays while other items and other cells change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PieceId {
    /// The item.
    pub item: ItemId,
    /// The lane, from 0.
    pub lane: u32,
    /// The rank within the lane, from 0; empty cells count.
    pub rank: u32,
}

/// The pieces of one item as columns of one length, in order of lane, then rank: 37 bytes a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    /// The item that all of them belong to.
    pub item: ItemId,
    /// Centres, mm east of the datum.
    pub x: Vec<f64>,
    /// Centres, mm north of the datum.
    pub y: Vec<f64>,
    /// Centres, mm above the floor, or above the item's surface as [`crate::place_item`] gives them.
    pub z: Vec<f32>,
    /// Direction in which the piece falls forward, radians counter-clockwise from east.
    pub yaw: Vec<f32>,
    /// Lanes, from 0.
    pub lane: Vec<u32>,
    /// Ranks, from 0.
    pub rank: Vec<u32>,
    /// Kind ids.
    pub kind: Vec<u16>,
    /// Colour ids, never 0.
    pub colour: Vec<u16>,
    /// How they stand.
    pub pose: Vec<Pose>,
}

impl Pieces {
    /// Bytes that one piece takes in the columns.
    pub const BYTES_EACH: usize = 2 * 8 + 4 * 4 + 2 * 2 + 1;

    /// No pieces, with room for so many.
    pub(crate) fn with_capacity(item: ItemId, count: usize) -> Self {
        Self {
            item,
            x: Vec::with_capacity(count),
            y: Vec::with_capacity(count),
            z: Vec::with_capacity(count),
            yaw: Vec::with_capacity(count),
            lane: Vec::with_capacity(count),
            rank: Vec::with_capacity(count),
            kind: Vec::with_capacity(count),
            colour: Vec::with_capacity(count),
            pose: Vec::with_capacity(count),
        }
    }

    /// Number of pieces.
    pub fn len(&self) -> usize {
        self.x.len()
    }

    /// True when there is no piece.
    pub fn is_empty(&self) -> bool {
        self.x.is_empty()
    }

    /// The name of the piece at an index; `None` beyond the last one.
    pub fn id(&self, index: usize) -> Option<PieceId> {
        let (&lane, &rank) = (self.lane.get(index)?, self.rank.get(index)?);
        Some(PieceId { item: self.item, lane, rank })
    }

    /// The index of a piece; `None` when no piece stands there.
    pub fn find(&self, id: PieceId) -> Option<usize> {
        if id.item != self.item {
            return None;
        }
        let first = self.lane.partition_point(|&l| l < id.lane);
        let end = self.lane.partition_point(|&l| l <= id.lane);
        self.rank[first..end].binary_search(&id.rank).ok().map(|i| first + i)
    }

    /// Bytes of memory that the columns hold, unused room included.
    pub fn bytes(&self) -> usize {
        let wide = 8 * (self.x.capacity() + self.y.capacity());
        let four = self.z.capacity() + self.yaw.capacity() + self.lane.capacity() + self.rank.capacity();
        wide + 4 * four + 2 * (self.kind.capacity() + self.colour.capacity()) + self.pose.capacity()
    }
}
