//! One handler for each route, by what it is about.

pub(crate) mod lan;
