//! Links between items: what one leads to must be there and stay what it is.

use sayings::{gate, say};

use super::{Checked, ITEM, named};
use crate::document::Plan;
use crate::ids::ItemId;
use crate::item::{Body, Item};
use crate::line::Link;
use crate::place::{Place, short};
use crate::refusal::Refusal;

/// A link leads to another item of the plan. Whether that one has the port is for the findings.
pub(super) fn link(plan: &Plan, place: &Place<'_>, own: ItemId, link: &Link) -> Checked {
    if link.item == own {
        return Err(Refusal::new(
            place,
            say!(gate::PORT_OWN, name = short(&link.port)),
            say!(gate::PORT_OWN_PROBLEM),
            say!(gate::PORT_OWN_NEXT),
        ));
    }
    if plan.item(link.item).is_none() {
        return Err(no_such(place, link.item));
    }
    named(&place.at(gate::AT_PORT), &link.port)
}

pub(super) fn no_such(place: &Place<'_>, id: ItemId) -> Refusal {
    Refusal::new(place, ITEM.of(id), say!(gate::UNKNOWN), say!(gate::UNKNOWN_ITEM))
}

/// The first item that leads to this one.
pub(in crate::gate) fn user_of_item(plan: &Plan, id: ItemId) -> Option<&Item> {
    plan.items.iter().find(|i| i.leads_to().any(|to| to == id))
}

/// A field that is fed stays a field.
pub(in crate::gate) fn still_led_to(plan: &Plan, new: &Item) -> Checked {
    let was_field = plan.item(new.id).is_some_and(|old| old.field().is_some());
    if !was_field || new.field().is_some() {
        return Ok(());
    }
    let feeds = |i: &&Item| matches!(&i.body, Body::Feed(f) if f.of == new.id);
    match plan.items.iter().find(feeds) {
        None => Ok(()),
        Some(feed) => Err(Refusal::new(
            Place::item(new),
            say!(gate::THIS_ITEM),
            say!(gate::FEED_FED, feed = feed.called()),
            say!(gate::FEED_FED_NEXT),
        )),
    }
}
