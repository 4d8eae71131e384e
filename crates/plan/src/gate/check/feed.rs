//! Feeds: the field, the way and its distances.

use sayings::{Saying, gate, say};
use units::{Angle, Length};

use super::field::Room;
use super::links::no_such;
use super::{COLOUR, Checked, DEGREES, KIND, length, unknown, within};
use crate::document::Plan;
use crate::feed::{Feed, FeedWay};
use crate::ids::ItemId;
use crate::place::Place;
use crate::refusal::Refusal;

pub(super) fn feed(plan: &Plan, place: &Place<'_>, own: ItemId, f: &Feed) -> Checked {
    let of = place.at(gate::AT_FED);
    match plan.item(f.of) {
        None => return Err(no_such(&of, f.of)),
        Some(field) if f.of == own || field.field().is_none() => {
            return Err(Refusal::new(of, field.called(), say!(gate::NO_FIELD), say!(gate::NO_FIELD_FED)));
        }
        Some(_) => {}
    }
    let Some(kind) = plan.stock.kind(f.kind) else {
        return Err(unknown(place, KIND, f.kind.0.into()));
    };
    if plan.colour(f.colour).is_none() {
        return Err(unknown(place, COLOUR, f.colour.0.into()));
    }
    super::field::pitch(place, gate::AT_PITCH, f.pitch, Room::Thick(kind))?;
    way(place, &f.way)
}

fn way(place: &Place<'_>, way: &FeedWay) -> Checked {
    match way {
        FeedWay::Brick { .. } | FeedWay::HalfShift { .. } => Ok(()),
        FeedWay::Beside { turn, gap, poke, .. } => {
            turned(place, *turn)?;
            distance(place, gate::AT_GAP, *gap)?;
            distance(place, gate::AT_POKE, *poke)
        }
        FeedWay::Angled { turn, poke, .. } => {
            turned(place, *turn)?;
            distance(place, gate::AT_POKE, *poke)
        }
        FeedWay::InLine { turn, clear, .. } => {
            turned(place, *turn)?;
            distance(place, gate::AT_CLEAR, *clear)
        }
        FeedWay::Echelon { turn, .. } => turned(place, *turn),
    }
}

fn turned(place: &Place<'_>, turn: Angle) -> Checked {
    within(&place.at(gate::AT_TURN), turn.to_deg(), DEGREES, 1.0, 89.0)
}

fn distance(place: &Place<'_>, what: Saying<0>, value: Length) -> Checked {
    length(&place.at(what), value, 0.0, 1_000.0)
}
