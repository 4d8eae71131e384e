//! Fills and feeds of which not one piece can be laid, and why.

use geometry::FillError;
use placement::{Placement, judge, unfilled};
use plan::{Body, Feed, Item, Plan};

use crate::finding::{Finding, Place, Severity, about};

fn finding(item: &Item, why: &str, hint: &str) -> Finding {
    Finding {
        code: "not-laid",
        severity: Severity::Must,
        place: Place::item(item).at(item.stands().origin),
        message: format!("{} has no piece. {why}", item.name),
        hint: hint.into(),
        mend: None,
    }
}

/// A fill whose area takes no line as it is asked for.
pub(crate) fn fill(plan: &Plan, item: &Item, found: &mut Vec<Finding>) {
    let Some(error) = unfilled(item, &plan.stock) else { return };
    let (why, hint) = match error {
        FillError::NotSimple => (
            "The outline of its area crosses itself or encloses nothing.".to_owned(),
            "Move its corners so that its sides do not touch.",
        ),
        FillError::NoRoom { ring } => (
            format!("No line with courses {} apart fits into its area.", about(ring)),
            "Make the area wider or the ring distance smaller.",
        ),
        FillError::TooFine { ring } => (
            format!("Courses {} apart are too many for an area of this size.", about(ring)),
            "Make the ring distance larger or fill it in parts.",
        ),
        other => (other.to_string(), "Change its ring distance or its swing."),
    };
    found.push(finding(item, &why, hint));
}

/// Feeds whose way is not possible before their field. A feed whose field is gone is told as a broken link.
pub(crate) fn feeds(plan: &Plan, placement: &Placement, found: &mut Vec<Finding>) {
    for item in &plan.items {
        let Body::Feed(feed) = &item.body else { continue };
        if placement.item(item.id).is_some_and(|p| p.pieces.is_empty()) {
            found.extend(unfed_by(plan, item, feed));
        }
    }
}

fn unfed_by(plan: &Plan, item: &Item, feed: &Feed) -> Option<Finding> {
    let field = plan.item(feed.of)?.field()?;
    let known = judge(plan, field, feed);
    // What is possible at the near edge may have no lane to feed at the far one.
    let why = if known.pieces == 0 { known.why } else { "No lane begins at its edge.".into() };
    Some(finding(
        item,
        &why,
        "Choose another way of feeding, or lay the lanes of the field at another pitch.",
    ))
}
