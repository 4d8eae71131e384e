//! Items of which not one piece can be laid, and lines and fills of which only the beginning is, and why.

use geometry::FillError;
use placement::{Course, Placement, judge, unfilled};
use plan::{Body, Feed, Item, MAX_CELLS, Plan};

use crate::finding::{Finding, Place, Severity, about, grouped};

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
    plan.items.iter().for_each(|item| feed((plan, placement), item, found));
}

/// One feed whose way is not possible before its field.
pub(crate) fn feed((plan, placement): (&Plan, &Placement), item: &Item, found: &mut Vec<Finding>) {
    let Body::Feed(feed) = &item.body else { return };
    if placement.item(item.id).is_some_and(|p| p.pieces.is_empty() && !p.left_out) {
        found.extend(unfed_by(plan, item, feed));
    }
}

/// Items for which the plan has no room, and paths that end before all their pieces are laid.
pub(crate) fn beyond(plan: &Plan, placement: &Placement, found: &mut Vec<Finding>) {
    for placed in placement.items() {
        let Some(item) = plan.item(placed.item) else { continue };
        let course = placed.course.as_deref();
        if placed.left_out {
            found.push(no_room(item, placed.wanted, placement.most()));
        } else if placed.wanted > MAX_CELLS as u64 && placed.pieces.is_empty() {
            found.push(too_many_turns(item, placed.wanted));
        } else if let Some(course) = course {
            found.extend(cut_short(item, course));
        }
    }
}

fn no_room(item: &Item, wanted: u64, most: u64) -> Finding {
    let why = format!(
        "It asks for {} pieces; with all that is laid before it these are more than the {} of one plan.",
        grouped(wanted),
        grouped(most)
    );
    finding(item, &why, "Make it smaller or its pitch wider, or split the event over several plans.")
}

/// A field whose turns between the lanes are more than one item may have; its own cells never are.
fn too_many_turns(item: &Item, wanted: u64) -> Finding {
    let why = format!(
        "With the turns between its lanes it asks for {} pieces, more than the {} of one item.",
        grouped(wanted),
        grouped(MAX_CELLS as u64)
    );
    finding(item, &why, "Lay its lanes closer together, or let them fall the same way.")
}

/// The finding that a line or fill ends before its path does, when it does.
pub fn cut_short(item: &Item, course: &Course) -> Option<Finding> {
    if !course.cut() {
        return None;
    }
    let laid = course.ranks() as f64 * course.pitch();
    let metres = |mm: f64| grouped((mm / 1000.0).round() as u64);
    Some(Finding {
        code: "cut-short",
        severity: Severity::Must,
        place: Place::item(item).at(course.at(laid).0),
        message: format!(
            "{} ends {} m after its beginning although its path is {} m long: its pieces are more than the {} of one item.",
            item.name,
            metres(laid),
            metres(course.length()),
            grouped(MAX_CELLS as u64)
        ),
        hint: "Draw a shorter path, fewer lanes or a wider pitch, or lay it as several lines.".into(),
        mend: None,
    })
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
