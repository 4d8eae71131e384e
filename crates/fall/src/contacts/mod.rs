//! Which piece topples which: bodies, the rules of one hit, and the search for what stands before a piece.

mod blockers;
mod body;
mod border;
mod flank;
mod grid;
mod hit;
mod limits;
mod part;
mod rules;
mod slope;
mod sweep;
mod turned;

pub(crate) use blockers::Blocks;
pub(crate) use body::{Bodies, Body, Class, Shape, Shapes, cos_sin, snap, turn_of};
pub(crate) use border::{Over, Strand, Todo, cell_bounds, gather, is_near, is_within, weave};
pub(crate) use grid::{Grid, coarse_cell, coarse_key};
pub(crate) use hit::Code;
pub use limits::{Limit, Limits};
pub(crate) use part::Part;
pub(crate) use rules::{Miss, Rules, felled_across};
pub(crate) use slope::Plank;
pub(crate) use sweep::Sweep;
