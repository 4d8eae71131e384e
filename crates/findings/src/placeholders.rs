//! Placeholders that the fall cannot enter, leave or be timed through, and how much of the plan is only assumed.

use plan::{Body, Plan, PortFlow};

use crate::finding::{Finding, Place, Severity, grouped};
use crate::short::Needs;

/// Notes about placeholders.
pub(crate) fn check(plan: &Plan, needs: &Needs, found: &mut Vec<Finding>) {
    let (mut assumed, mut all) = (0u64, 0u64);
    for (id, needs) in needs {
        let Some(item) = plan.item(*id) else { continue };
        let pieces: u64 = needs.iter().map(|n| u64::from(n.count)).sum();
        all += pieces;
        let Body::Placeholder(p) = &item.body else { continue };
        assumed += pieces;
        let has = |flow| p.ports.iter().any(|port| port.flow == flow);
        let note = |message: String, hint: &str| Finding {
            code: "placeholder-open",
            severity: Severity::Note,
            place: Place::item(item),
            message,
            hint: hint.into(),
            mend: None,
        };
        if p.ports.is_empty() {
            found.push(note(
                format!("The fall neither enters nor leaves {}: it has no ports.", item.name),
                "Say where the fall comes in and where it goes out.",
            ));
        } else if p.delay.is_none() && has(PortFlow::In) && has(PortFlow::Out) {
            found.push(note(
                format!("Nobody said how long the fall takes through {}.", item.name),
                "Give the least and the most that it may take.",
            ));
        }
    }
    if assumed > 0 && all > 0 {
        // Tenths of a percent, in whole numbers: rounded down, so that 100 % is only said of all.
        let share = assumed * 1_000 / all;
        found.push(Finding {
            code: "share-assumed",
            severity: Severity::Note,
            place: Place::words("the plan"),
            message: format!(
                "{} of {} pieces, {}.{}\u{a0}%, are only assumed: placeholders ask for them.",
                grouped(assumed),
                grouped(all),
                share / 10,
                share % 10
            ),
            hint: "Draw the placeholders before the stock is settled.".into(),
            mend: None,
        });
    }
}
