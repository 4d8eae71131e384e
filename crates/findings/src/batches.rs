//! Colours of a field that no single batch can supply, so that the shade may jump.

use std::collections::BTreeMap;

use plan::Plan;
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};
use crate::short::Needs;

/// One note for each field and colour that must be taken from two batches or more.
///
/// Where the colour is short altogether that is another finding, and this one would only repeat it.
pub(crate) fn check(plan: &Plan, needs: &Needs, found: &mut Vec<Finding>) {
    let fields =
        needs.iter().filter_map(|(id, n)| Some((plan.item(*id).filter(|i| i.field().is_some())?, n)));
    for (item, needs) in fields {
        for need in needs {
            let mut batches = BTreeMap::<&str, u64>::new();
            for lot in plan.stock.lots_of(need.kind, need.colour) {
                *batches.entry(&lot.batch).or_default() += u64::from(lot.usable());
            }
            let (wanted, total) = (u64::from(need.count), batches.values().sum::<u64>());
            let largest = batches.values().copied().max().unwrap_or(0);
            if batches.len() < 2 || largest >= wanted || total < wanted {
                continue;
            }
            let name = plan.colour(need.colour).map_or("", |c| c.name.as_str());
            found.push(Finding {
                code: "batches-mixed",
                severity: Severity::Note,
                place: Place::item(item),
                message: say!(
                    found::BATCHES,
                    colour = name,
                    item = &item.name,
                    wanted = wanted,
                    largest = largest
                ),
                hint: say!(found::BATCHES_HINT),
                mend: None,
            });
        }
    }
}
