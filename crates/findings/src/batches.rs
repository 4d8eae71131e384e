//! Colours of a field that no single batch can supply, so that the shade may jump.

use std::collections::BTreeMap;

use plan::Plan;

use crate::finding::{Finding, Place, Severity, grouped};

/// One note for each field and colour that must be taken from two batches or more.
///
/// Where the colour is short altogether that is another finding, and this one would only repeat it.
pub(crate) fn check(plan: &Plan, found: &mut Vec<Finding>) {
    for item in plan.items.iter().filter(|i| i.field().is_some()) {
        for need in placement::needs(plan, item) {
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
                message: format!(
                    "{name} in {} comes from more than one batch: it wants {}, the largest batch has {}. The shade may jump.",
                    item.name,
                    grouped(wanted),
                    grouped(largest),
                ),
                hint: "Change batches where the picture has an edge, or shuffle them where they meet.".into(),
                mend: None,
            });
        }
    }
}
