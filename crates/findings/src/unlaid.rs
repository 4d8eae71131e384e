//! Items of which not one piece can be laid, and lines and fills of which only the beginning is, and why.

use geometry::FillError;
use placement::{Course, Placement, feed_fits, unfilled};
use plan::{Body, Feed, FeedWay, Item, MAX_CELLS, Plan};
use sayings::{Arg, Said, found, say};
use units::Angle;

use crate::finding::{Finding, Place, Severity, about, degrees, mm};

/// The flattest turn of an angled line that was measured, degrees.
const FLAT: f64 = 30.0;

fn finding(item: &Item, why: impl Into<Arg>, hint: Said) -> Finding {
    Finding {
        code: "not-laid",
        severity: Severity::Must,
        place: Place::item(item).at(item.stands().origin),
        message: say!(found::UNLAID, item = &item.name, why = why.into()),
        hint,
        mend: None,
    }
}

/// A fill whose area takes no line as it is asked for.
pub(crate) fn fill(plan: &Plan, item: &Item, found: &mut Vec<Finding>) {
    let Some(error) = unfilled(item, &plan.stock) else { return };
    let (why, hint) = match error {
        FillError::NotSimple => (say!(found::UNLAID_CROSSES), say!(found::UNLAID_CROSSES_HINT)),
        FillError::NoRoom { ring } => {
            (say!(found::UNLAID_ROOM, ring = about(ring)), say!(found::UNLAID_ROOM_HINT))
        }
        FillError::TooFine { ring } => {
            (say!(found::UNLAID_FINE, ring = about(ring)), say!(found::UNLAID_FINE_HINT))
        }
        FillError::BadLength { value, .. } => (
            say!(found::UNLAID_LENGTH, value = mm(value), least = mm(0.0), most = mm(1e6)),
            say!(found::UNLAID_LENGTH_HINT),
        ),
        FillError::NoSuchCount { least, most, pieces } => (
            say!(found::UNLAID_COUNT, least = mm(least), most = mm(most), pieces = pieces as u64),
            say!(found::UNLAID_LENGTH_HINT),
        ),
    };
    found.push(finding(item, why, hint));
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
    let why = say!(found::UNLAID_BEYOND, wanted = wanted, most = most);
    finding(item, why, say!(found::UNLAID_BEYOND_HINT))
}

/// A field whose turns between the lanes are more than one item may have; its own cells never are.
fn too_many_turns(item: &Item, wanted: u64) -> Finding {
    let why = say!(found::UNLAID_TURNS, wanted = wanted, most = MAX_CELLS as u64);
    finding(item, why, say!(found::UNLAID_TURNS_HINT))
}

/// The finding that a line or fill ends before its path does, when it does.
pub fn cut_short(item: &Item, course: &Course) -> Option<Finding> {
    if !course.cut() {
        return None;
    }
    let laid = course.ranks() as f64 * course.pitch();
    Some(Finding {
        code: "cut-short",
        severity: Severity::Must,
        place: Place::item(item).at(course.at(laid).0),
        message: say!(
            found::CUT_SHORT,
            item = &item.name,
            laid = Arg::Way(laid),
            length = Arg::Way(course.length()),
            most = MAX_CELLS as u64
        ),
        hint: say!(found::CUT_SHORT_HINT),
        mend: None,
    })
}

fn unfed_by(plan: &Plan, item: &Item, feed: &Feed) -> Option<Finding> {
    let field = plan.item(feed.of)?.field()?;
    // What is possible at the near edge may have no lane to feed at the far one.
    let why = match feed_fits(plan, field, feed) {
        Err(why) => Arg::Sentences(vec![why]),
        Ok(_) => say!(found::UNLAID_EDGE).into(),
    };
    // Of the turns that were measured the flatter one takes narrower lanes.
    let flatter = match feed.way {
        FeedWay::Angled { side, poke, .. } => {
            let way = FeedWay::Angled { side, poke, turn: Angle::deg(FLAT) };
            feed_fits(plan, field, &Feed { way, ..*feed }).is_ok()
        }
        _ => false,
    };
    let hint = match flatter {
        true => say!(found::UNLAID_TURN_HINT, turn = degrees(FLAT), text = format!("turn = \"{FLAT} deg\"")),
        false => say!(found::UNLAID_FEED_HINT),
    };
    Some(finding(item, why, hint))
}
