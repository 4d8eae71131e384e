//! Where the builder sits, which way they look, and what that makes of lanes and ranks.
//!
//! The unit that is called (a lane or a rank) lies across the builder's view, so that both hands reach along it.
//! The builder therefore sits on one of the two sides that run along the units. Of these two the one that
//! points more to the side named in [`ReadFrom`] is taken; if both point equally little there (lanes that run
//! east to west, read "from the east"), the one a quarter turn clockwise from it.

use geometry::Vector;
use units::Angle;

use crate::options::{ReadFrom, ReadOptions, Side, Start, Unit};

/// One of eight points of the compass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Compass {
    /// North.
    North,
    /// North-east.
    NorthEast,
    /// East.
    East,
    /// South-east.
    SouthEast,
    /// South.
    South,
    /// South-west.
    SouthWest,
    /// West.
    West,
    /// North-west.
    NorthWest,
}

/// How the fall runs, as the builder sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FallSeen {
    /// From the left hand to the right hand.
    LeftToRight,
    /// From the right hand to the left hand.
    RightToLeft,
    /// Away from the builder.
    Away,
    /// Towards the builder.
    Towards,
}

/// The builder's seat at a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// Lanes or ranks.
    pub unit: Unit,
    /// The corner where the first piece is called.
    pub start: Start,
    /// Which way the builder looks; unit vector on the floor.
    pub facing: Vector,
    /// How the fall runs, as the builder sees it.
    pub fall: FallSeen,
}

impl Compass {
    const TURN: [Self; 8] = [
        Self::East,
        Self::NorthEast,
        Self::North,
        Self::NorthWest,
        Self::West,
        Self::SouthWest,
        Self::South,
        Self::SouthEast,
    ];

    /// The point nearest to the direction of `v`; a direction right between two goes counter-clockwise.
    pub fn nearest(v: Vector) -> Self {
        let turn = units::maths::atan2(v.y, v.x) / std::f64::consts::FRAC_PI_4;
        // The small step keeps a rounding error from deciding between two points.
        let eighth = (turn + 0.5 + 1e-9).floor().rem_euclid(8.0);
        Self::TURN[eighth as usize % 8]
    }

    /// The point across.
    pub fn across(self) -> Self {
        let i = Self::TURN.iter().position(|&c| c == self).unwrap_or(0);
        Self::TURN[(i + 4) % 8]
    }
}

fn dot(a: Vector, b: Vector) -> f64 {
    a.x * b.x + a.y * b.y
}

impl ReadFrom {
    /// Unit vector from the middle of the field to this side.
    fn towards(self) -> Vector {
        let (x, y) = match self {
            Self::North => (0.0, 1.0),
            Self::East => (1.0, 0.0),
            Self::South => (0.0, -1.0),
            Self::West => (-1.0, 0.0),
        };
        Vector { x, y }
    }
}

impl Start {
    /// True when the first piece of each unit is at the left hand.
    pub fn is_left(self) -> bool {
        matches!(self, Self::FarLeft | Self::NearLeft)
    }

    /// True when the farthest unit is called first.
    pub fn is_far(self) -> bool {
        matches!(self, Self::FarLeft | Self::FarRight)
    }
}

impl Seat {
    /// The seat at a field whose fall runs towards `heading`.
    pub fn new(heading: Angle, options: &ReadOptions) -> Self {
        let (s, c) = heading.sin_cos();
        let along = Vector { x: c, y: s };
        let left = Vector { x: -s, y: c };
        // From the field to the two possible seats.
        let one = match options.unit {
            Unit::Lane => left,
            Unit::Rank => along,
        };
        let wish = options.read_from.towards();
        let score = dot(one, wish);
        let clockwise = Vector { x: wish.y, y: -wish.x };
        let same = if score.abs() > 1e-9 { score > 0.0 } else { dot(one, clockwise) > 0.0 };
        let same = same == (options.side == Side::AsDrawn);
        let facing = one.times(if same { -1.0 } else { 1.0 });
        let fall = match (options.unit, same) {
            // On the left of the fall, looking to its right: the fall comes from the right hand.
            (Unit::Lane, true) => FallSeen::RightToLeft,
            (Unit::Lane, false) => FallSeen::LeftToRight,
            // Beyond the end, looking back at the entry.
            (Unit::Rank, true) => FallSeen::Towards,
            (Unit::Rank, false) => FallSeen::Away,
        };
        Self { unit: options.unit, start: options.start, facing, fall }
    }

    /// Unit vector to the builder's right hand.
    pub fn right(&self) -> Vector {
        Vector { x: self.facing.y, y: -self.facing.x }
    }

    /// On which side of the field the builder sits.
    pub fn sits(&self) -> Compass {
        Compass::nearest(self.facing.times(-1.0))
    }

    /// Which way the builder looks.
    pub fn looks(&self) -> Compass {
        Compass::nearest(self.facing)
    }

    /// The compass point of the corner where the first piece is called, seen from the middle of the field.
    pub fn corner(&self) -> Compass {
        let far = self.facing.times(if self.start.is_far() { 1.0 } else { -1.0 });
        let hand = self.right().times(if self.start.is_left() { -1.0 } else { 1.0 });
        Compass::nearest(Vector { x: far.x + hand.x, y: far.y + hand.y })
    }

    /// True when the index along a unit grows from the builder's left hand to the right hand.
    ///
    /// Along a lane that is the rank, along a rank the lane; lane 0 is at the right hand of the fall.
    pub fn grows_rightwards(&self) -> bool {
        matches!(self.fall, FallSeen::LeftToRight | FallSeen::Towards)
    }

    /// True when the index of the units grows away from the builder.
    pub fn grows_away(&self) -> bool {
        // Seen from the right of the fall, lane 0 is nearest; seen from behind the entry, rank 0 is.
        matches!(self.fall, FallSeen::LeftToRight | FallSeen::Away)
    }

    /// True when the pieces of a unit are called in the order of their index.
    pub fn piece_order_grows(&self) -> bool {
        self.grows_rightwards() == self.start.is_left()
    }

    /// True when the units are called in the order of their index.
    pub fn unit_order_grows(&self) -> bool {
        self.grows_away() != self.start.is_far()
    }
}
