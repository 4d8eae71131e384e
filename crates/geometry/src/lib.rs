//! Points, directions, frames, curves by arc length and the grid of a field, on the floor of the hall.
//!
//! Millimetres, x east, y north, z up, right-handed; angles counter-clockwise from east.

mod curve;
mod frame;
mod grid;

pub use curve::{Curve, CurveBuilder};
pub use frame::{Frame, Point, Vector};
pub use grid::{FallInPicture, GridMap, PictureCell, Spot};
