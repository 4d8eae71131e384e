//! What the engine says, by what it is about. Written by `cargo xtask codegen`.

pub mod doing;
pub mod feeding;
pub mod gate;
pub mod found;
pub mod refusing;
pub mod telling;
