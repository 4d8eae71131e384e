//! The server from outside, over real sockets on the loopback address.

mod door;
mod limits;
mod paths;
mod support;
