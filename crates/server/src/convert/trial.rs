//! What a trial says of drafts.

use desk::{DeskError, Trial};
use placement::Placed;
use plan::{Body, Item, Plan, Refusal};

use sayings::{Said, gate, say};

use super::said::said;
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
pub(crate) fn refused(refusal: &Refusal) -> wire::Tried {
    let brief = say!(
        gate::BRIEF,
        place = refusal.place().clone(),
        problem = refusal.problem().clone(),
        next = refusal.next().clone()
    );
    let refused = refused_row(&refusal.said(), &brief);
    wire::Tried { items: Vec::new(), findings: Vec::new(), refused: Some(refused) }
}

fn refused_row(message: &Said, brief: &Said) -> wire::RefusedRow {
    wire::RefusedRow {
        message: message.to_string(),
        brief: brief.to_string(),
        said: wire::RefusedSaid { message: said(message), brief: said(brief) },
    }
}

/// That something the drafts name is not in the plan any more.
pub(crate) fn gone(error: &DeskError) -> wire::Tried {
    let refused = refused_row(&error.said(), &error.said());
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
