//! How the rows and columns of a picture map to the lanes and ranks of a field.
//!
//! A *lane* is a sequence of pieces that fall one after another; a *rank* is the set of pieces with the
//! same index across the lanes, rank 0 at the entry. Lane 0 is the lane on the right hand of somebody who
//! looks along the fall, and lanes count to the left. A picture has rows from the top and columns from the left.
//!
//! With the picture's top towards north, seen from above:
//!
//! | fall towards | across the picture | columns are | rows are | rank r of lane l shows |
//! |---|---|---|---|---|
//! | east | `Right` | ranks | lanes | column r, row lanes-1-l |
//! | north | `Up` | lanes | ranks | column lanes-1-l, row ranks-1-r |
//! | west | `Left` | ranks | lanes | column ranks-1-r, row l |
//! | south | `Down` | lanes | ranks | column l, row r |

use serde::{Deserialize, Serialize};

/// The direction in which the fall crosses a picture that is held upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum FallInPicture {
    /// From the left edge to the right edge.
    #[default]
    Right,
    /// From the lower edge to the upper edge.
    Up,
    /// From the right edge to the left edge.
    Left,
    /// From the upper edge to the lower edge.
    Down,
}

/// A place in a field: lane and rank, both from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Spot {
    /// The lane, from 0 at the right hand of the fall.
    pub lane: u32,
    /// The rank, from 0 at the entry.
    pub rank: u32,
}

/// A place in a picture: column from the left and row from the top, both from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct PictureCell {
    /// The column, from 0 at the left edge.
    pub column: u32,
    /// The row, from 0 at the upper edge.
    pub row: u32,
}

/// The map between a field of `lanes` x `ranks` and its upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GridMap {
    /// Number of lanes, at least 1.
    pub lanes: u32,
    /// Number of ranks, at least 1.
    pub ranks: u32,
    /// How the fall crosses the picture.
    pub fall: FallInPicture,
}

impl FallInPicture {
    /// All four, in the order of quarter turns to the left.
    pub const ALL: [Self; 4] = [Self::Right, Self::Up, Self::Left, Self::Down];

    /// True where a lane runs along a picture row, so that columns are ranks.
    pub fn lanes_are_rows(self) -> bool {
        matches!(self, Self::Right | Self::Left)
    }

    /// Quarter turns to the left from `Right`: 0 to 3.
    pub fn quarter_turns(self) -> u32 {
        match self {
            Self::Right => 0,
            Self::Up => 1,
            Self::Left => 2,
            Self::Down => 3,
        }
    }
}

impl GridMap {
    /// Number of pieces when no cell is empty.
    pub fn len(&self) -> usize {
        self.lanes as usize * self.ranks as usize
    }

    /// True when there is no cell at all.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Picture columns and rows.
    pub fn picture_size(&self) -> (u32, u32) {
        if self.fall.lanes_are_rows() { (self.ranks, self.lanes) } else { (self.lanes, self.ranks) }
    }

    /// Size of one cell in the picture (width, height), from the pitch along the fall and between lanes, in mm.
    pub fn cell_size(&self, pitch_along: f64, pitch_across: f64) -> (f64, f64) {
        if self.fall.lanes_are_rows() { (pitch_along, pitch_across) } else { (pitch_across, pitch_along) }
    }

    /// Index of a spot in an array of cells kept lane by lane, rank 0 first.
    pub fn index(&self, spot: Spot) -> usize {
        spot.lane as usize * self.ranks as usize + spot.rank as usize
    }

    /// The picture cell that the piece at `spot` shows.
    pub fn picture_cell(&self, spot: Spot) -> PictureCell {
        let (l, r) = (spot.lane, spot.rank);
        match self.fall {
            FallInPicture::Right => PictureCell { column: r, row: self.lanes - 1 - l },
            FallInPicture::Up => PictureCell { column: self.lanes - 1 - l, row: self.ranks - 1 - r },
            FallInPicture::Left => PictureCell { column: self.ranks - 1 - r, row: l },
            FallInPicture::Down => PictureCell { column: l, row: r },
        }
    }

    /// The spot whose piece shows the given picture cell: the inverse of [`Self::picture_cell`].
    pub fn spot(&self, cell: PictureCell) -> Spot {
        let (c, w) = (cell.column, cell.row);
        match self.fall {
            FallInPicture::Right => Spot { lane: self.lanes - 1 - w, rank: c },
            FallInPicture::Up => Spot { lane: self.lanes - 1 - c, rank: self.ranks - 1 - w },
            FallInPicture::Left => Spot { lane: w, rank: self.ranks - 1 - c },
            FallInPicture::Down => Spot { lane: c, rank: w },
        }
    }

    /// Cells in picture order (row by row from the top left) from cells in field order (lane by lane).
    pub fn to_picture<T: Copy>(&self, field: &[T]) -> Vec<T> {
        let (columns, rows) = self.picture_size();
        let mut out = Vec::with_capacity(field.len());
        for row in 0..rows {
            for column in 0..columns {
                out.push(field[self.index(self.spot(PictureCell { column, row }))]);
            }
        }
        out
    }

    /// Cells in field order (lane by lane, rank 0 first) from cells in picture order.
    pub fn to_field<T: Copy>(&self, picture: &[T]) -> Vec<T> {
        let (columns, _) = self.picture_size();
        let mut out = Vec::with_capacity(picture.len());
        for lane in 0..self.lanes {
            for rank in 0..self.ranks {
                let c = self.picture_cell(Spot { lane, rank });
                out.push(picture[c.row as usize * columns as usize + c.column as usize]);
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Frame, Point};
    use units::Angle;

    /// Where on the floor a piece stands must agree with where its colour stands in the picture:
    /// with the picture's top to the north, columns grow to the east and rows to the south.
    #[test]
    fn pieces_stand_where_the_picture_shows_them_for_all_four_directions() {
        for (fall, heading) in FallInPicture::ALL.into_iter().zip([0.0, 90.0, 180.0, 270.0]) {
            let map = GridMap { lanes: 3, ranks: 5, fall };
            let frame = Frame::new(Point::new(0.0, 0.0), Angle::deg(heading));
            let (w, h) = map.cell_size(15.0, 25.0);
            let home = map.picture_cell(Spot { lane: 0, rank: 0 });
            for lane in 0..3 {
                for rank in 0..5 {
                    let spot = Spot { lane, rank };
                    let cell = map.picture_cell(spot);
                    let p = frame.at(f64::from(rank) * 15.0, f64::from(lane) * 25.0);
                    let east = (f64::from(cell.column) - f64::from(home.column)) * w;
                    let south = (f64::from(cell.row) - f64::from(home.row)) * h;
                    assert_eq!((p.x, p.y), (east, -south), "{fall:?} {spot:?}");
                    assert_eq!(map.spot(cell), spot);
                }
            }
        }
    }

    #[test]
    fn there_and_back_is_the_same_field() {
        for fall in FallInPicture::ALL {
            let map = GridMap { lanes: 4, ranks: 7, fall };
            let field: Vec<usize> = (0..map.len()).collect();
            assert_eq!(map.to_field(&map.to_picture(&field)), field);
        }
    }
}
