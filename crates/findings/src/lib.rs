//! Findings: what is wrong with a design, or worth knowing, with the place and what to do about it.
//!
//! A bad design is never an error. Each check is a file of its own: a plan in, a list out.

mod alike;
mod batches;
mod comb;
mod finding;
mod overlap;
mod short;
mod unfilled;
mod wanted;

pub use finding::{Finding, Place, Severity, grouped};

use plan::{ColourId, ItemId, KindId, Plan};

/// What the checks need besides the plan. Everything may be left empty; then the checks that need it find nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct CheckInput<'a> {
    /// Pairs of colours that get confused, and why: "in hall light", "by some colour-blind builders".
    pub alike: &'a [(ColourId, ColourId, String)],
    /// Per field the cells that its picture covers, lane by lane, rank 0 first; other cells are empty on purpose.
    pub covered: &'a [(ItemId, Vec<bool>)],
    /// By kind and colour what the pictures and everything else would take if the stock did not matter.
    pub wanted: &'a [(KindId, ColourId, u64)],
}

/// Everything that the checks find in a plan, the worst first; the same list for the same plan.
pub fn check(plan: &Plan, input: &CheckInput<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    short::check(plan, &mut found);
    overlap::check(plan, &mut found);
    unfilled::check(plan, input.covered, &mut found);
    wanted::check(plan, input.wanted, &mut found);
    alike::check(plan, input.alike, &mut found);
    comb::check(plan, &mut found);
    batches::check(plan, &mut found);
    found.sort_by(|a, b| a.order().cmp(&b.order()));
    found
}
