//! Points, directions, frames, curves by arc length, outlines and the grid of a field, on the floor of the hall.
//!
//! Millimetres, x east, y north, z up, right-handed; angles counter-clockwise from east.

mod buckets;
mod curve;
mod fill;
mod fit;
mod frame;
mod grid;
mod polygon;

pub use buckets::Buckets;
pub use curve::{Curve, CurveBuilder};
pub use fill::{
    FillError, curls, double_spiral, inscribed_circle, least_self_distance, ring_for_count, waves,
};
pub use fit::{DistanceFit, FitError, Impossible, MOST_MARKS, fit_distances};
pub use frame::{Frame, Point, Vector};
pub use grid::{FallInPicture, GridMap, PictureCell, Spot};
pub use polygon::{
    area, bounding_box, contains, crossing, distance_to, distance_to_segment, is_simple, meet, overlap_depth,
    signed_area,
};
