//! The fall: which piece topples which, when, how surely, and what a touch would take down.
//!
//! Everything is a pure function of plan, placement, settings and seed. Times are integer microseconds; the same
//! input gives the same bits for any number of threads.
