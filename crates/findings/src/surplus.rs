//! Pieces that the stock has and the plan does not want.

use std::collections::BTreeSet;

use plan::{ColourId, KindId, Plan};
use sayings::{Arg, found, say};

use crate::finding::{Finding, Place, Severity};
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
        say!(found::SURPLUS_OF, count = *left, colour = crate::short::name(plan, *kind, *colour)).into()
    };
    let mut names: Vec<Arg> = over.iter().take(NAMED).map(name).collect();
    if over.len() > NAMED {
        names.push(say!(found::SURPLUS_MORE, n = (over.len() - NAMED) as u64).into());
    }
    let total: u64 = over.iter().map(|o| o.0).sum();
    found.push(Finding {
        code: "stock-surplus",
        severity: Severity::Note,
        place: Place::stock(),
        message: say!(found::SURPLUS, n = total, colours = names),
        hint: say!(found::SURPLUS_HINT),
        mend: None,
    });
}
