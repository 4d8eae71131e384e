//! What the tool says about a plan, with its figures kept apart, so that it can be said in any language.
//!
//! The words stand in the translation files of the pages, once for each language; `cargo xtask codegen` makes the
//! constants of [`found`], [`feeding`] and the other modules from the English one. Whoever has something to say names a constant and
//! gives its figures; a key or a figure that is not there does not compile. The pages put the same figures into the
//! words of their reader's language; everything else prints the English ones, which is what [`Said`] displays.

mod arg;
#[rustfmt::skip]
mod english;
mod figures;
mod said;

pub use arg::{Arg, Given, Unit};
pub use english::{doing, feeding, found, gate, refusing, telling};
pub use figures::grouped;
pub use said::{Said, Saying, fits, together};
