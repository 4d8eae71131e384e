//! The server from outside, over real sockets on the loopback address.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod door;
mod draw;
mod gear;
mod hall;
mod limits;
mod live;
mod paths;
mod roles;
mod section;
mod story;
mod support;
mod taped;
mod timed;
