//! What the engine says, by what it is about. Written by `cargo xtask codegen`.

pub mod doing;
pub mod feeding;
pub mod found;
