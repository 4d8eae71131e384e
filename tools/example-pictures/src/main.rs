//! Draws the pictures of the example plan.
fn main() {}
