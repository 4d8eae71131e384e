//! Reading pictures and laying them onto cells, through the public face of the crate.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod build;
mod cells;
mod damage;
mod kinds;
mod profiles;
mod turns;
