//! The command line of standfast.
fn main() {}
