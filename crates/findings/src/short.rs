//! Pieces that the plan wants and the stock does not have.

use std::collections::BTreeMap;

use plan::{ColourId, KindId, Plan};

use crate::finding::{Finding, Place, Severity, grouped, so_many};

/// One finding for each kind and colour of which all items together want more than may be planned with.
pub(crate) fn check(plan: &Plan, found: &mut Vec<Finding>) {
    let mut wanted = BTreeMap::<(KindId, ColourId), u64>::new();
    for need in plan.items.iter().flat_map(|item| placement::needs(plan, item)) {
        *wanted.entry((need.kind, need.colour)).or_default() += u64::from(need.count);
    }
    for ((kind, colour), wanted) in wanted {
        let usable = plan.stock.usable(kind, colour);
        if wanted > usable {
            found.push(finding(plan, (kind, colour), wanted, usable));
        }
    }
}

fn finding(plan: &Plan, (kind, colour): (KindId, ColourId), wanted: u64, usable: u64) -> Finding {
    let stock = &plan.stock;
    let mut name = stock.colour(colour).map_or_else(|| format!("Colour {colour}"), |c| c.name.clone());
    if stock.kinds.len() > 1 {
        let of = stock.kind(kind).map_or_else(|| format!("kind {kind}"), |k| k.name.clone());
        name = format!("{name} ({of})");
    }
    let (owned, short) = (stock.owned(kind, colour), wanted - usable);
    let spare = if owned > usable {
        format!(" and keep {} of them as spare", grouped(owned - usable))
    } else {
        String::new()
    };
    let offers: u64 = stock.lots_of(kind, colour).map(|l| u64::from(l.offered)).sum();
    let borrow = match offers {
        0 => "or borrow them".to_owned(),
        n => format!("or ask for the {} that are offered", so_many(n, "piece", "pieces")),
    };
    Finding {
        code: "stock-short",
        severity: Severity::Must,
        place: Place::stock(),
        message: format!(
            "{name} is short by {}. The plan wants {}, you own {}{spare}.",
            grouped(short),
            grouped(wanted),
            grouped(owned),
        ),
        hint: format!("Use another colour, make a field smaller, buy {}, {borrow}.", grouped(short)),
        mend: None,
    }
}
