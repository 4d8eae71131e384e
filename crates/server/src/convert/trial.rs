//! What a trial says of drafts.

use desk::Trial;
use placement::Placed;
use plan::{Body, Item, Plan, Refusal};

use super::{count, draft, hall, state};
use crate::wire;

/// A trial as it travels.
pub(crate) fn tried(trial: &Trial) -> wire::Tried {
    let row = |id: &plan::ItemId| trial.plan.item(*id).map(|item| row(trial, item));
    wire::Tried {
        items: trial.items.iter().filter_map(row).collect(),
        findings: trial.findings.iter().map(state::finding).collect(),
        refused: None,
    }
}

/// Why the plan would not take them.
pub(crate) fn refused(refusal: Refusal) -> wire::Tried {
    let why = format!("{}. {}", refusal.problem, refusal.next);
    let refused = wire::RefusedRow { place: refusal.place, value: refusal.value, why };
    wire::Tried { items: Vec::new(), findings: Vec::new(), refused: Some(refused) }
}

/// That something the drafts name is not in the plan any more.
pub(crate) fn gone(what: String, next: &str) -> wire::Tried {
    let refused = wire::RefusedRow {
        place: what,
        value: String::new(),
        why: format!("It is not in this plan. {next}"),
    };
    wire::Tried { items: Vec::new(), findings: Vec::new(), refused: Some(refused) }
}

fn row(trial: &Trial, item: &Item) -> wire::TriedRow {
    let plan: &Plan = &trial.plan;
    let placed = trial.placement.item(item.id);
    let needs = placed.map_or(&[][..], |placed| placed.needs(plan));
    let outline = placed.and_then(|placed| placed.extent(plan));
    let pieces: u64 = needs.iter().map(|n| u64::from(n.count)).sum();
    let hours = match &item.body {
        Body::Placeholder(p) => desk::Hours::exactly(p.hours.to_h()),
        _ => placed.map_or(desk::Hours::NONE, |placed| desk::hours_for(pieces, placed.changes())),
    };
    wire::TriedRow {
        item: item.id.0,
        pieces: count(pieces),
        hours: [hours.low, hours.high],
        length: length(placed, item),
        pitch: hall::pitch(plan, item),
        ports: hall::ports(plan, &trial.placement, item),
        outline: outline.iter().flatten().map(|p| [p.x, p.y]).collect(),
        needs: needs.iter().map(draft::need_to_wire).collect(),
    }
}

fn length(placed: Option<&Placed>, item: &Item) -> f64 {
    match (&item.body, placed.and_then(|p| p.course.as_ref())) {
        (Body::Dimension(d), _) => d.length().to_mm(),
        (_, Some(course)) => course.length(),
        _ => 0.0,
    }
}
