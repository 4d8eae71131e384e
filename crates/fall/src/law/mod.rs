//! The physics of one hop: closed forms, the train of leaning pieces, tables of delays, floors, and friction as measured.

mod closed;
mod floor;
mod pace;
mod reach;
mod table;
mod train;

pub use closed::{
    FRICTION_K, barrier_j, contact_height, contact_tilt, free_fall_s, friction_from_speed, least_start_speed,
    least_start_speed_on, rest_lean, speed_fitted, speed_without_friction, tipping_angle, tipping_gap,
};
pub use floor::{Floor, OnFloor};
pub use pace::{Pace, Timed, TimedIs, floor_friction, friction, piece_friction, timed};
pub use reach::Reach;
pub use table::Law;
pub use train::{Steady, goes_on, steady};

/// Free fall near the ground, m/s² (the standard value to two decimals, as in all reference runs).
pub const GRAVITY: f64 = 9.81;
