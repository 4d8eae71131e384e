//! Pieces that the plan wants and the stock does not have.

use std::collections::BTreeMap;

use plan::{ColourId, ItemId, KindId, Need, Plan};
use sayings::{Arg, found, say};

use crate::finding::{Finding, Place, Severity};

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
pub(crate) fn name(plan: &Plan, kind: KindId, colour: ColourId) -> Arg {
    let stock = &plan.stock;
    let unnamed = || say!(found::COLOUR, id = u32::from(colour.0)).into();
    let name = stock.colour(colour).map_or_else(unnamed, |c| Arg::from(&c.name));
    if stock.kinds.len() < 2 {
        return name;
    }
    let unnamed = || say!(found::KIND, id = u32::from(kind.0)).into();
    let of = stock.kind(kind).map_or_else(unnamed, |k| Arg::from(&k.name));
    say!(found::COLOUR_OF, colour = name, kind = of).into()
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
fn who(plan: &Plan, wanted: &Wanted) -> Vec<Arg> {
    let mut by = wanted.by.clone();
    by.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let name = |(id, n): &(ItemId, u64)| {
        let item = plan.item(*id).map_or_else(|| say!(found::SHORT_ITEM).into(), |i| Arg::from(&i.name));
        say!(found::SHORT_BY, item = item, count = *n).into()
    };
    let mut names: Vec<Arg> = by.iter().take(NAMED).map(name).collect();
    if let Some(more) = by.len().checked_sub(NAMED + 1) {
        let rest: u64 = by[NAMED..].iter().map(|b| b.1).sum();
        names.push(say!(found::SHORT_OTHERS, n = more as u64 + 1, count = rest).into());
    }
    names
}

fn finding(plan: &Plan, (kind, colour): (KindId, ColourId), wanted: &Wanted, usable: u64) -> Finding {
    let stock = &plan.stock;
    let (colour_is, who) = (name(plan, kind, colour), who(plan, wanted));
    let (owned, short) = (stock.owned(kind, colour), wanted.total - usable);
    let offers: u64 = stock.lots_of(kind, colour).map(|l| u64::from(l.offered)).sum();
    Finding {
        code: "stock-short",
        severity: Severity::Must,
        place: Place::stock(),
        message: match owned.saturating_sub(usable) {
            0 => say!(
                found::SHORT,
                colour = colour_is,
                short = short,
                wanted = wanted.total,
                who = who,
                owned = owned
            ),
            spare => say!(
                found::SHORT_SPARE,
                colour = colour_is,
                short = short,
                wanted = wanted.total,
                who = who,
                owned = owned,
                spare = spare
            ),
        },
        hint: match offers {
            0 => say!(found::SHORT_HINT, short = short),
            n => say!(found::SHORT_HINT_ASK, short = short, n = n),
        },
        mend: None,
    }
}
