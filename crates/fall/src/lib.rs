//! The fall: which piece topples which, when, how surely, and what a touch would take down.
//!
//! Everything is a pure function of plan, placement, settings and seed. Times are integer microseconds; the same
//! input gives the same bits for any number of threads.

mod chance;
mod contacts;
pub mod law;
mod network;
mod passes;
mod places;
mod tempo;
mod wave;

pub use law::{Pace, friction};
pub use network::{Edge, Network, State, Sure, Way};
pub use passes::{Pass, Push};
pub use places::Places;
pub use wave::{Ask, Fall, run};
