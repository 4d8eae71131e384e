//! Placement: from a plan to placed pieces as columns, incremental per item.
//!
//! A piece is known by item, lane and rank; that stays when other items change. Empty cells carry no piece.

mod bytes;
mod pieces;
mod place;
mod placement;

pub use pieces::{PieceId, Pieces, Pose};
pub use place::place_item;
pub use placement::{Placed, Placement};
