//! Pieces that the plan wants and the stock does not have.

use std::collections::BTreeMap;

use plan::{ColourId, ItemId, KindId, Need, Plan};

use crate::finding::{Finding, Place, Severity, grouped, so_many};

/// So many items are named that want a colour; the rest is counted.
const NAMED: usize = 3;

/// What each item wants, in order of item id.
pub(crate) type Needs = [(ItemId, Vec<Need>)];

/// What the plan wants of one kind and colour.
#[derive(Debug, Default)]
pub(crate) struct Wanted {
    /// All items together.
    pub total: u64,
    /// By item, in order of id.
    pub by: Vec<(ItemId, u64)>,
}

/// What all items want, by kind and colour.
pub(crate) fn wanted(needs: &Needs) -> BTreeMap<(KindId, ColourId), Wanted> {
    let mut wanted = BTreeMap::<(KindId, ColourId), Wanted>::new();
    for (item, needs) in needs {
        for need in needs.iter().filter(|n| n.count > 0) {
            let all = wanted.entry((need.kind, need.colour)).or_default();
            all.total += u64::from(need.count);
            all.by.push((*item, need.count.into()));
        }
    }
    wanted
}

/// The name of a colour, with that of the kind where there are several.
pub(crate) fn name(plan: &Plan, kind: KindId, colour: ColourId) -> String {
    let stock = &plan.stock;
    let name = stock.colour(colour).map_or_else(|| format!("Colour {colour}"), |c| c.name.clone());
    if stock.kinds.len() < 2 {
        return name;
    }
    let of = stock.kind(kind).map_or_else(|| format!("kind {kind}"), |k| k.name.clone());
    format!("{name} ({of})")
}

/// One finding for each kind and colour of which all items together want more than may be planned with.
pub(crate) fn check(plan: &Plan, needs: &Needs, found: &mut Vec<Finding>) {
    for ((kind, colour), wanted) in wanted(needs) {
        let usable = plan.stock.usable(kind, colour);
        if wanted.total > usable {
            found.push(finding(plan, (kind, colour), &wanted, usable));
        }
    }
}

/// Who wants it, those that want the most first.
fn who(plan: &Plan, wanted: &Wanted) -> String {
    let mut by = wanted.by.clone();
    by.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let name = |(id, n): &(ItemId, u64)| {
        format!("{} {}", plan.item(*id).map_or("an item", |i| i.name.as_str()), grouped(*n))
    };
    let mut names: Vec<String> = by.iter().take(NAMED).map(name).collect();
    if let Some(more) = by.len().checked_sub(NAMED + 1) {
        let rest = by[NAMED..].iter().map(|b| b.1).sum();
        names.push(format!("{} {}", so_many(more as u64 + 1, "other", "others"), grouped(rest)));
    }
    names.join(", ")
}

fn finding(plan: &Plan, (kind, colour): (KindId, ColourId), wanted: &Wanted, usable: u64) -> Finding {
    let stock = &plan.stock;
    let name = name(plan, kind, colour);
    let (owned, short) = (stock.owned(kind, colour), wanted.total - usable);
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
            "{name} is short by {}. The plan wants {} ({}), you own {}{spare}.",
            grouped(short),
            grouped(wanted.total),
            who(plan, wanted),
            grouped(owned),
        ),
        hint: format!("Use another colour, make a field smaller, buy {}, {borrow}.", grouped(short)),
        mend: None,
    }
}
