//! Where the fall begins: no start, a start inside a field, a start that pushes nothing, two that meet.

use geometry::contains;
use plan::{Body, Item, Plan};

use crate::finding::{Finding, Place, Severity};

/// Findings about the starts of a plan. `pieces` is how many pieces stand in all.
pub(crate) fn check(plan: &Plan, pieces: usize, found: &mut Vec<Finding>) {
    let starts: Vec<&Item> = plan.items.iter().filter(|i| matches!(i.body, Body::Start(_))).collect();
    // A single field on its own is a picture that nobody wired yet; a line or a feed says that the fall was planned.
    let wired = plan.items.iter().any(|i| matches!(i.body, Body::Line(_) | Body::Fill(_) | Body::Feed(_)));
    if starts.is_empty() && pieces > 0 && wired {
        found.push(missing());
    }
    for start in &starts {
        for field in plan.items.iter().filter(|i| i.field().is_some() && i.surface == start.surface) {
            found.extend(inside(start, field));
        }
    }
}

fn missing() -> Finding {
    Finding {
        code: "start-missing",
        severity: Severity::Must,
        place: Place::words("the fall"),
        message: "Nothing starts the fall: the plan has no start.".into(),
        hint: "Put a start before the first piece that is to fall.".into(),
        mend: None,
    }
}

fn inside(start: &Item, field: &Item) -> Option<Finding> {
    let outline = field.outline()?;
    let at = start.stands().origin;
    contains(&outline, at).then(|| Finding {
        code: "start-in-field",
        severity: Severity::Should,
        place: Place::item(start).at(at),
        message: format!(
            "{} stands inside {}: a hand has to reach in among its pieces.",
            start.name, field.name
        ),
        hint: "Put it before the first rank, or lead a line to where the fall is to begin.".into(),
        mend: None,
    })
}
