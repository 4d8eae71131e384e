//! Pieces as bytes for the wire: a header and one typed array per column.

use crate::pieces::{Pieces, Pose};

const MAGIC: [u8; 4] = *b"PCS1";
const HEADER: usize = 16;

impl Pieces {
    /// The pieces as bytes, little end first.
    ///
    /// | at | what | type |
    /// |---|---|---|
    /// | 0 | `PCS1` | 4 bytes |
    /// | 4 | item id | u32 |
    /// | 8 | n, the number of pieces | u32 |
    /// | 12 | 0 | u32 |
    /// | 16 | x, then y | n x f64 each, mm |
    /// | 16 + 16 n | z, then yaw | n x f32 each, mm and radians |
    /// | 16 + 24 n | lane, then rank | n x u32 each |
    /// | 16 + 32 n | kind, then colour | n x u16 each |
    /// | 16 + 36 n | pose | n x u8: 0 on end, 1 on edge, 2 flat |
    ///
    /// Every column starts at a multiple of its own type's size, so that a browser can lay typed arrays over it.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = Vec::with_capacity(HEADER + self.len() * Self::BYTES_EACH);
        out.extend(MAGIC);
        out.extend(self.item.0.to_le_bytes());
        out.extend((self.len() as u32).to_le_bytes());
        out.extend([0; 4]);
        for column in [&self.x, &self.y] {
            out.extend(column.iter().flat_map(|v| v.to_le_bytes()));
        }
        for column in [&self.z, &self.yaw] {
            out.extend(column.iter().flat_map(|v| v.to_le_bytes()));
        }
        for column in [&self.lane, &self.rank] {
            out.extend(column.iter().flat_map(|v| v.to_le_bytes()));
        }
        for column in [&self.kind, &self.colour] {
            out.extend(column.iter().flat_map(|v| v.to_le_bytes()));
        }
        out.extend(self.pose.iter().map(|&p: &Pose| p as u8));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plan::ItemId;

    /// Reads the columns where the table above says that they are.
    #[test]
    fn columns_lie_where_the_table_says() {
        let n = 3;
        let pieces = Pieces {
            item: ItemId(7),
            x: vec![1.5, 2.5, 3.5],
            y: vec![-1.0, -2.0, -3.0],
            z: vec![24.0; n],
            yaw: vec![0.5, 0.25, 0.125],
            lane: vec![0, 0, 1],
            rank: vec![4, 5, 70_000],
            kind: vec![1, 1, 2],
            colour: vec![9, 8, 300],
            pose: vec![Pose::OnEnd, Pose::OnEdge, Pose::Flat],
        };
        let bytes = pieces.to_bytes();
        assert_eq!(bytes.len(), 16 + n * Pieces::BYTES_EACH);
        let last = n - 1;
        let four = |at: usize| [bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]];
        let eight = |at: usize| f64::from_le_bytes(std::array::from_fn(|i| bytes[at + i]));
        let two = |at: usize| u16::from_le_bytes([bytes[at], bytes[at + 1]]);
        assert_eq!(
            (&bytes[..4], u32::from_le_bytes(four(4)), u32::from_le_bytes(four(8))),
            (&b"PCS1"[..], 7, 3)
        );
        assert_eq!((eight(16 + 8 * last), eight(16 + 8 * n + 8 * last)), (3.5, -3.0));
        assert_eq!(f32::from_le_bytes(four(16 + 16 * n)), 24.0);
        assert_eq!(f32::from_le_bytes(four(16 + 20 * n + 4 * last)), 0.125);
        assert_eq!(u32::from_le_bytes(four(16 + 24 * n + 4 * last)), 1);
        assert_eq!(u32::from_le_bytes(four(16 + 28 * n + 4 * last)), 70_000);
        assert_eq!((two(16 + 32 * n + 2 * last), two(16 + 34 * n + 2 * last)), (2, 300));
        assert_eq!(bytes[16 + 36 * n..], [0, 1, 2]);
    }
}
