//! Where the fall begins: no start, a start inside a field, a start that pushes nothing, two that meet.

use geometry::{Buckets, Point, bounding_box, contains};
use plan::{Body, Item, Plan};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};

/// More starts inside fields than this are one mistake made many times.
const MOST: usize = 10_000;

/// Findings about the starts of a plan. `pieces` is how many pieces stand in all.
pub(crate) fn check(plan: &Plan, pieces: usize, found: &mut Vec<Finding>) {
    let starts: Vec<&Item> = plan.items.iter().filter(|i| matches!(i.body, Body::Start(_))).collect();
    // Fields alone are pictures that nobody wired yet, which is worth a note and no more; a line or a feed says that the
    // fall was planned. Where a placeholder stands, the fall may come out of it.
    let wired = plan.items.iter().any(|i| matches!(i.body, Body::Line(_) | Body::Fill(_) | Body::Feed(_)));
    let placeholders = plan.items.iter().any(|i| matches!(i.body, Body::Placeholder(_)));
    if starts.is_empty() && pieces > 0 && (wired || !placeholders) {
        found.push(if wired { missing() } else { not_yet() });
    }
    if !starts.is_empty() {
        in_fields(plan, &starts, found);
    }
}

/// Starts that stand inside a field. Each field asks only those within the rectangle around it.
fn in_fields(plan: &Plan, starts: &[&Item], found: &mut Vec<Finding>) {
    let at = |of: fn(Point) -> f64| starts.iter().map(|s| of(s.stands().origin)).collect::<Vec<f64>>();
    let spots = Buckets::new(&at(|p| p.x), &at(|p| p.y), 0.0);
    let mut left = MOST;
    for field in plan.items.iter().filter(|i| i.field().is_some()) {
        let Some(outline) = field.outline() else { continue };
        let Some((low, high)) = bounding_box(&outline) else { continue };
        spots.within_while(low, high, |i| {
            let start = starts[i as usize];
            let here = start.surface == field.surface && contains(&outline, start.stands().origin);
            if here {
                found.push(inside(start, field));
                left -= 1;
            }
            left > 0
        });
        if left == 0 {
            return;
        }
    }
}

fn missing() -> Finding {
    Finding {
        code: "start-missing",
        severity: Severity::Must,
        place: Place::words(say!(found::AT_FALL)),
        message: say!(found::START_MISSING),
        hint: say!(found::START_MISSING_HINT),
        mend: None,
    }
}

fn not_yet() -> Finding {
    Finding {
        code: "start-none-yet",
        severity: Severity::Note,
        message: say!(found::START_NONE_YET),
        hint: say!(found::START_NONE_YET_HINT),
        ..missing()
    }
}

fn inside(start: &Item, field: &Item) -> Finding {
    Finding {
        code: "start-in-field",
        severity: Severity::Should,
        place: Place::item(start).at(start.stands().origin),
        message: say!(found::START_INSIDE, item = &start.name, field = &field.name),
        hint: say!(found::START_INSIDE_HINT),
        mend: None,
    }
}
