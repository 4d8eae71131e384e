//! What items take from the stock and from the floor.

use geometry::Point;
use plan::{Item, Need, Plan};

/// Pieces that an item takes from the stock, by kind and colour, in that order; what a placeholder states counts.
pub fn needs(plan: &Plan, item: &Item) -> Vec<Need> {
    let _ = plan;
    item.stated_needs()
}

/// Four corners around all of an item on the floor plan, counter-clockwise; `None` when it takes no floor.
pub fn extent(plan: &Plan, item: &Item) -> Option<[Point; 4]> {
    let _ = plan;
    item.outline()
}
