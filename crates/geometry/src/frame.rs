//! Points and vectors on the floor, and the frame in which an item lies.

use serde::{Deserialize, Serialize};
use units::Angle;

/// A place on the floor plan: millimetres east (`x`) and north (`y`) of the hall's datum.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Point {
    /// Millimetres east of the datum.
    pub x: f64,
    /// Millimetres north of the datum.
    pub y: f64,
}

/// A displacement on the floor plan, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Vector {
    /// Millimetres to the east.
    pub x: f64,
    /// Millimetres to the north.
    pub y: f64,
}

/// A local frame: `along` the heading and `left` of it, starting at `origin`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Where the local (0, 0) lies on the floor.
    pub origin: Point,
    /// Unit vector along the heading.
    pub along: Vector,
    /// Unit vector a quarter turn to the left of the heading.
    pub left: Vector,
}

impl Point {
    /// The point `x` mm east and `y` mm north of the datum.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The point displaced by `v`.
    pub fn plus(self, v: Vector) -> Self {
        Self { x: self.x + v.x, y: self.y + v.y }
    }

    /// The displacement that leads from `from` to here.
    pub fn minus(self, from: Self) -> Vector {
        Vector { x: self.x - from.x, y: self.y - from.y }
    }
}

impl Vector {
    /// The displacement scaled by `k`.
    pub fn times(self, k: f64) -> Self {
        Self { x: self.x * k, y: self.y * k }
    }

    /// Its length in millimetres.
    pub fn length(self) -> f64 {
        units::maths::hypot(self.x, self.y)
    }

    /// The sum of two displacements.
    pub fn plus(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y }
    }

    /// The same displacement after a quarter turn to the left.
    pub fn left(self) -> Self {
        Self { x: -self.y, y: self.x }
    }

    /// The inner product, in square millimetres.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The outer product, in square millimetres: positive when `other` points to the left of this.
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The direction as a vector of length 1; `None` for a displacement of no length.
    pub fn unit(self) -> Option<Self> {
        let length = self.length();
        (length > 0.0 && length.is_finite()).then(|| self.times(1.0 / length))
    }

    /// The direction, counter-clockwise from east, in -180..=180 degrees.
    pub fn heading(self) -> Angle {
        Angle::rad(units::maths::atan2(self.y, self.x))
    }

    /// The vector of length 1 in direction `heading`.
    pub fn towards(heading: Angle) -> Self {
        let (y, x) = heading.sin_cos();
        Self { x, y }
    }
}

impl Frame {
    /// The frame at `origin` whose `along` axis points in direction `heading`.
    pub fn new(origin: Point, heading: Angle) -> Self {
        let (s, c) = heading.sin_cos();
        Self { origin, along: Vector { x: c, y: s }, left: Vector { x: -s, y: c } }
    }

    /// The floor point `u` mm along the heading and `v` mm left of it.
    pub fn at(&self, u: f64, v: f64) -> Point {
        Point {
            x: self.origin.x + u * self.along.x + v * self.left.x,
            y: self.origin.y + u * self.along.y + v * self.left.y,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn left_of_east_is_north_and_left_of_north_is_west() {
        let east = Frame::new(Point::new(10.0, 20.0), Angle::deg(0.0));
        assert_eq!(east.at(3.0, 4.0), Point::new(13.0, 24.0));
        let north = Frame::new(Point::new(10.0, 20.0), Angle::deg(90.0));
        assert_eq!(north.at(3.0, 4.0), Point::new(6.0, 23.0));
    }
}
