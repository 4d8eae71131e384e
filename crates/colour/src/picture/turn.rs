//! The eight ways a stored picture may have to be turned or mirrored to stand upright.

/// How stored pixels are brought upright; numbered as in Exif (tag 274, 1 to 8).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Turn {
    /// 1: nothing to do.
    AsStored,
    /// 2: mirror left and right.
    MirrorX,
    /// 3: half a turn.
    Half,
    /// 4: mirror top and bottom.
    MirrorY,
    /// 5: swap rows and columns.
    Transpose,
    /// 6: a quarter turn clockwise.
    Clockwise,
    /// 7: swap rows and columns, then half a turn.
    TransposeHalf,
    /// 8: a quarter turn counter-clockwise.
    CounterClockwise,
}

impl Turn {
    /// The turn for an Exif orientation; a number outside 1 to 8 counts as 1.
    pub fn of_exif(number: u16) -> Self {
        match number {
            2 => Self::MirrorX,
            3 => Self::Half,
            4 => Self::MirrorY,
            5 => Self::Transpose,
            6 => Self::Clockwise,
            7 => Self::TransposeHalf,
            8 => Self::CounterClockwise,
            _ => Self::AsStored,
        }
    }

    /// Whether width and height change places.
    pub fn swaps_sides(self) -> bool {
        matches!(self, Self::Transpose | Self::Clockwise | Self::TransposeHalf | Self::CounterClockwise)
    }

    /// Where the upright pixel (`x`, `y`) lies in a stored grid of `size` = (width, height).
    ///
    /// Exif 3.0 says where row 0 and column 0 of the stored picture are seen; for example 6: row 0
    /// is the right side and column 0 the top.
    pub(crate) fn stored_place(self, x: u32, y: u32, size: (u32, u32)) -> (u32, u32) {
        let (right, bottom) = (size.0 - 1, size.1 - 1);
        match self {
            Self::AsStored => (x, y),
            Self::MirrorX => (right - x, y),
            Self::Half => (right - x, bottom - y),
            Self::MirrorY => (x, bottom - y),
            Self::Transpose => (y, x),
            Self::Clockwise => (y, bottom - x),
            Self::TransposeHalf => (right - y, bottom - x),
            Self::CounterClockwise => (right - y, x),
        }
    }
}
