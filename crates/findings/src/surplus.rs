//! Pieces that the stock has and the plan does not want.

use std::collections::BTreeSet;

use plan::{ColourId, KindId, Plan};

use crate::finding::{Finding, Place, Severity, grouped, so_many};
use crate::short::{Needs, wanted};

/// So many colours are named; the rest is counted.
const NAMED: usize = 5;

/// One note with what is left over by kind and colour, most first. A plan that wants nothing yet has no surplus.
pub(crate) fn check(plan: &Plan, needs: &Needs, found: &mut Vec<Finding>) {
    let wanted = wanted(needs);
    if wanted.is_empty() {
        return;
    }
    let lots: BTreeSet<(KindId, ColourId)> = plan.stock.lots.iter().map(|l| (l.kind, l.colour)).collect();
    let left = |&(kind, colour): &(KindId, ColourId)| {
        let takes = wanted.get(&(kind, colour)).map_or(0, |w| w.total);
        let left = plan.stock.usable(kind, colour).saturating_sub(takes);
        (left > 0).then_some((left, kind, colour))
    };
    let mut over: Vec<_> = lots.iter().filter_map(left).collect();
    over.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    if over.is_empty() {
        return;
    }
    let name = |(left, kind, colour): &(u64, KindId, ColourId)| {
        format!("{} {}", grouped(*left), crate::short::name(plan, *kind, *colour))
    };
    let mut names: Vec<String> = over.iter().take(NAMED).map(name).collect();
    if over.len() > NAMED {
        names.push(so_many((over.len() - NAMED) as u64, "more colour", "more colours"));
    }
    let total = over.iter().map(|o| o.0).sum();
    found.push(Finding {
        code: "stock-surplus",
        severity: Severity::Note,
        place: Place::stock(),
        message: format!(
            "{} of the stock are left over: {}.",
            so_many(total, "piece", "pieces"),
            names.join(", ")
        ),
        hint: "Leave their crates at home, lend them, or let more fields use them.".into(),
        mend: None,
    });
}
