//! Findings: what is wrong with a design, or worth knowing, with the place and what to do about it.
//!
//! A bad design is never an error. Each check is a file of its own: a plan in, a list out.

mod alike;
mod batches;
mod bridges;
mod checker;
mod clearance;
mod comb;
mod ease;
mod fed;
mod finding;
mod gaps;
mod hall;
mod lanes;
#[cfg(test)]
mod line_tests;
mod links;
mod overlap;
mod placeholders;
mod reach;
mod reached;
mod repair;
mod seen;
mod shape;
mod short;
mod sides;
mod slope;
mod spacing;
mod starts;
mod surplus;
mod tally;
mod tapes;
mod timed;
mod turn;
mod unfilled;
mod unlaid;
mod wanted;
mod ways;
mod wrong_feed;

pub use checker::Checker;
pub use finding::{Finding, Place, Severity};
pub use sayings::grouped;
pub use tapes::{MarkOff, TapeIs, Taped, mark_off, taped};
pub use unlaid::cut_short;

use fall::Network;
use placement::Placement;
use plan::{ColourId, ItemId, KindId, Plan};
use sayings::Said;

/// What the checks need besides the plan. Everything may be left empty; then the checks that need it find nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct CheckInput<'a> {
    /// Pairs of colours that get confused, and why: "in hall light", "by builders who do not see red".
    pub alike: &'a [(ColourId, ColourId, Said)],
    /// Per field the cells that its picture covers, lane by lane, rank 0 first; other cells are empty on purpose.
    pub covered: &'a [(ItemId, Vec<bool>)],
    /// By kind and colour what the pictures and everything else would take if the stock did not matter.
    pub wanted: &'a [(KindId, ColourId, u64)],
}

/// Everything that the checks find in a plan, the worst first; the same list for the same plan.
///
/// `placement` and `network` are those of the plan. Who asks again after each change keeps a [`Checker`].
pub fn check(plan: &Plan, placement: &Placement, network: &Network, input: &CheckInput<'_>) -> Vec<Finding> {
    Checker::new().check(plan, placement, network, input)
}

/// The checks that look at the plan as a whole.
fn whole(
    plan: &Plan,
    placement: &Placement,
    needs: &short::Needs,
    input: &CheckInput<'_>,
    found: &mut Vec<Finding>,
) {
    short::check(plan, needs, found);
    surplus::check(plan, needs, found);
    unfilled::check(plan, input.covered, found);
    wanted::check(plan, needs, input.wanted, found);
    alike::check(plan, input.alike, found);
    batches::check(plan, needs, found);
    placeholders::check(plan, needs, found);
    starts::check(plan, placement.len(), found);
    timed::check(plan, found);
    links::check(plan, placement, found);
    unlaid::feeds(plan, placement, found);
    unlaid::beyond(plan, placement, found);
}
