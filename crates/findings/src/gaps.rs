//! Safety gaps that lie beyond the end of their item, or reach beyond it.

use plan::{Body, Command, Item, SafetyGap};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};
use crate::shape::Shape;

/// One finding for each gap that leaves out no piece because its item has none there, and a note for each that names more
/// pieces than there are. Nothing for an item of which no piece is laid: that is told by itself.
pub(crate) fn check(item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    if item.gaps.is_empty() {
        return;
    }
    let Some(ranks) = ranks(item, shape) else { return };
    for (i, gap) in item.gaps.iter().enumerate() {
        let end = u64::from(gap.first) + u64::from(gap.count);
        if end > ranks {
            found.push(finding(item, i, gap, ranks));
        }
    }
}

/// Pieces in the longest lane of an item; empty cells of a field count.
fn ranks(item: &Item, shape: &Shape) -> Option<u64> {
    let last = shape.pieces.rank.iter().max().map(|&rank| u64::from(rank) + 1);
    match &item.body {
        Body::Field(field) => Some(last.unwrap_or(0).max(field.frame.ranks.into())),
        Body::Line(_) | Body::Fill(_) | Body::Feed(_) => last,
        // What is no piece has none that could be left out.
        _ => Some(0),
    }
}

fn finding(item: &Item, i: usize, gap: &SafetyGap, ranks: u64) -> Finding {
    let (first, last) = gap.for_people();
    let name = if first == last {
        say!(found::GAP_RANK, first = first, item = &item.name)
    } else {
        say!(found::GAP_RANKS, first = first, last = last, item = &item.name)
    };
    let mut mended = item.clone();
    let (severity, message, hint) = if u64::from(gap.first) >= ranks {
        mended.gaps.remove(i);
        let there = match ranks {
            0 => say!(found::GAP_NONE),
            n => say!(found::GAP_AFTER, n = n),
        };
        (Severity::Should, say!(found::GAP_BEYOND, gap = name, there = there), say!(found::GAP_BEYOND_HINT))
    } else {
        // Less than the count that there was, so it fits.
        mended.gaps[i].count = (ranks - u64::from(gap.first)) as u32;
        (
            Severity::Note,
            say!(found::GAP_OVER, gap = name, there = say!(found::GAP_AFTER, n = ranks)),
            say!(found::GAP_OVER_HINT),
        )
    };
    Finding {
        code: "gap-beyond",
        severity,
        place: Place::item(item).ranks(gap.first, gap.first.saturating_add(gap.count.saturating_sub(1))),
        message,
        hint,
        mend: Some(Command::PutItem { item: Box::new(mended) }),
    }
}
