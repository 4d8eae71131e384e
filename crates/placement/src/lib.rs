//! Placement: from a plan to placed pieces as columns, incremental per item.
//!
//! A piece is known by item, lane and rank; that stays when other items change. Empty cells carry no piece.

mod bytes;
mod course;
mod feed;
mod feed_advice;
mod feed_measured;
mod feed_ways;
mod index;
mod links;
mod needs;
mod pieces;
mod place;
mod placement;
mod ports;
mod rings;
mod room;
mod turns;

pub use course::{Course, Footing, curve_of};
pub use feed_advice::{Advice, Judge, Means, Works, feed_fits, feed_of, feed_pitch, feed_ways, way_name};
pub use index::Index;
pub use needs::{extent, needs, needs_of_all, pieces_of_all};
pub use pieces::{PieceId, Pieces, Pose};
pub use place::{place_item, unfilled};
pub use placement::{Placed, Placement};
pub use ports::{PortPlace, port, ports};
pub use rings::strong_parts;
pub use room::MOST_PIECES;
pub use turns::turn_step;
