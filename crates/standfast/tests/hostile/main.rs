//! Hostile input at the command line: markup in names, paths that lead out, and files that claim far too much.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod bombs;
#[path = "../common/mod.rs"]
mod common;
mod names;
mod paths;
