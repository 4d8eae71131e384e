//! The work of building: safety gaps, whether they hold, and the order in which they are closed.
//!
//! Where a piece is knocked, all that stands with it falls. Safety gaps keep that small while the crew builds; they cost
//! work, and at the end they are closed one after another, each under the risk of all that is joined by then.

mod advice;
mod aim;
mod closing;
mod coarse;
mod line_gaps;
mod parts;
mod present;
mod tree;

pub use advice::{Advice, Loss, Proposal, Wish, suggest, suggest_for, with_gaps};
pub use aim::{Aim, KeepOn};
pub use closing::{Closing, Risk, closing_line, closing_of_plan, closing_order};
pub use fall::{Across, Block, Holds, Opening, hold, needed_opening};
pub use line_gaps::{GapsError, Line, LineGaps, even_gaps, even_loss, gaps_on_line};
pub use parts::{Cuts, Parts, Place, gaps_on_network};
pub use present::{Present, present_gaps};
