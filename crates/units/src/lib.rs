//! Quantities with their units, and mathematics that gives the same bits on every machine.

pub mod maths;
mod quantity;

pub use quantity::{Angle, Duration, Length, Mass, NotFinite, Speed};
