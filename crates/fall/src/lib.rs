//! The fall: which piece topples which, when, how surely, and what a touch would take down.
//!
//! Everything is a pure function of plan, placement, settings and seed. Times are integer microseconds; the same
//! input gives the same bits for any number of threads.

mod chance;
mod climb;
mod contacts;
mod crossing;
mod doubts;
mod faces;
mod knock;
pub mod law;
mod network;
mod odds;
mod openings;
mod passes;
mod reach;
mod report;
mod room;
mod run_outs;
mod site;
mod slides;
mod tempo;
mod touch;
mod touch_count;
mod touch_estimate;
mod touch_graph;
mod touch_hold;
mod touch_slope;
mod touch_standing;
mod wave;
mod why;

pub use chance::{BARRED_PASSES, UNSURE_PASSES};
pub use climb::{Climb, climb};
pub use contacts::{Limit, Limits};
pub use faces::faces;
pub use knock::Knocked;
pub use law::{Pace, friction};
pub use network::{Edge, Network, State, Sure, Way};
pub use odds::{Odds, odds};
pub use passes::{FLICK, Pass, Push};
pub use report::{Doubt, PassTimes, Report, Stands, Unsure, report};
pub use room::{board, clear_height};
pub use run_outs::run_outs;
pub use slides::slides;
pub use touch::{TOUCH_CLASSES, TouchMap, touch_class, touch_graph};
pub use touch_graph::Graph;
pub use touch_hold::{Block, Holds, Opening, hold, needed_opening};
pub use touch_standing::{Across, Built, openings, touch};
pub use wave::{Ask, Fall, STANDS_US, run};
pub use why::Why;
