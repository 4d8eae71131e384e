//! The server from outside, over real sockets on the loopback address.

mod door;
mod limits;
mod live;
mod paths;
mod roles;
mod story;
mod support;
