//! Placeholders that the fall cannot enter, leave or be timed through, and how much of the plan is only assumed.

use plan::{Body, Plan, PortFlow};
use sayings::{Arg, Said, found, say};

use crate::finding::{Finding, Place, Severity};
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
        let note = |message: Said, hint: Said| Finding {
            code: "placeholder-open",
            severity: Severity::Note,
            place: Place::item(item),
            message,
            hint,
            mend: None,
        };
        if p.ports.is_empty() {
            found.push(note(
                say!(found::PLACEHOLDER_PORTS, item = &item.name),
                say!(found::PLACEHOLDER_PORTS_HINT),
            ));
        } else if p.delay.is_none() && has(PortFlow::In) && has(PortFlow::Out) {
            found.push(note(
                say!(found::PLACEHOLDER_DELAY, item = &item.name),
                say!(found::PLACEHOLDER_DELAY_HINT),
            ));
        }
    }
    if assumed > 0 && all > 0 {
        // Tenths of a percent, in whole numbers: rounded down, so that 100 % is only said of all.
        let share = assumed * 1_000 / all;
        found.push(Finding {
            code: "share-assumed",
            severity: Severity::Note,
            place: Place::plan(),
            message: say!(found::ASSUMED, pieces = assumed, all = all, share = Arg::PerMille(share)),
            hint: say!(found::ASSUMED_HINT),
            mend: None,
        });
    }
}
