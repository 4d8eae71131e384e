//! Chores of the repository: verify, codegen, tidy.
fn main() {}
