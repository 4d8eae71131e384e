//! Words that several verbs share: pieces counted, and where one stands. People count lanes and pieces from 1.

use findings::grouped;
use placement::PieceId;
use plan::{ItemId, Plan};

/// "1 piece", "452 pieces".
pub(crate) fn pieces(count: u32) -> String {
    format!("{} {}", grouped(count.into()), if count == 1 { "piece" } else { "pieces" })
}

/// "line Brook".
pub(crate) fn name(plan: &Plan, id: ItemId) -> String {
    plan.item(id).map_or_else(|| format!("item {id}"), |item| format!("{} {}", item.sort(), item.name))
}

/// "line Brook, lane 1, piece 17".
pub(crate) fn spot(plan: &Plan, piece: PieceId) -> String {
    let (lane, place) = (u64::from(piece.lane) + 1, u64::from(piece.rank) + 1);
    format!("{}, lane {}, piece {}", name(plan, piece.item), grouped(lane), grouped(place))
}
