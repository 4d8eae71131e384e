//! Feeds: the field, the way and its distances.

use units::{Angle, Length};

use super::links::no_such;
use super::{Checked, length, unknown, within};
use crate::document::Plan;
use crate::feed::{Feed, FeedWay};
use crate::ids::ItemId;
use crate::refusal::Refusal;

pub(super) fn feed(plan: &Plan, place: &str, own: ItemId, f: &Feed) -> Checked {
    let of = format!("{place}, field that it feeds");
    match plan.item(f.of) {
        None => return Err(no_such(&of, f.of)),
        Some(field) if f.of == own || field.field().is_none() => {
            return Err(Refusal::new(
                of,
                super::item_name(field),
                "is not a field",
                "Name a field; only fields are fed this way.",
            ));
        }
        Some(_) => {}
    }
    let Some(kind) = plan.stock.kind(f.kind) else {
        return Err(unknown(place, "kind", f.kind.0.into()));
    };
    if plan.colour(f.colour).is_none() {
        return Err(unknown(place, "colour", f.colour.0.into()));
    }
    super::field::pitch(place, "pitch", f.pitch, kind.thickness, "thick")?;
    way(place, &f.way)
}

fn way(place: &str, way: &FeedWay) -> Checked {
    match way {
        FeedWay::Brick { .. } | FeedWay::HalfShift { .. } => Ok(()),
        FeedWay::Beside { turn, gap, poke, .. } => {
            turned(place, *turn)?;
            distance(place, "gap", *gap)?;
            distance(place, "poke", *poke)
        }
        FeedWay::Angled { turn, poke, .. } => {
            turned(place, *turn)?;
            distance(place, "poke", *poke)
        }
        FeedWay::InLine { turn, clear, .. } => {
            turned(place, *turn)?;
            distance(place, "clear distance", *clear)
        }
        FeedWay::Echelon { turn, .. } => turned(place, *turn),
    }
}

fn turned(place: &str, turn: Angle) -> Checked {
    within(&format!("{place}, turn"), turn.to_deg(), "°", 1.0, 89.0)
}

fn distance(place: &str, what: &str, value: Length) -> Checked {
    length(&format!("{place}, {what}"), value, 0.0, 1_000.0)
}
