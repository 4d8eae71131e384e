//! Links between items: what one leads to must be there and stay what it is.

use super::item::item_name;
use super::{Checked, named, short};
use crate::document::Plan;
use crate::ids::ItemId;
use crate::item::{Body, Item};
use crate::line::Link;
use crate::refusal::Refusal;

/// A link leads to another item of the plan. Whether that one has the port is for the findings.
pub(super) fn link(plan: &Plan, place: &str, own: ItemId, link: &Link) -> Checked {
    if link.item == own {
        return Err(Refusal::new(
            place,
            format!("port {}", short(&link.port)),
            "is one of the item itself",
            "Name another item.",
        ));
    }
    if plan.item(link.item).is_none() {
        return Err(no_such(place, link.item));
    }
    named(&format!("{place}, port"), &link.port)
}

pub(super) fn no_such(place: &str, id: ItemId) -> Refusal {
    Refusal::new(
        place,
        format!("item {id}"),
        "is not in this plan",
        "Add that item first, or name one of the plan.",
    )
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
            item_name(new),
            "this item",
            format!("would take the place of the field that is fed by {}", item_name(feed)),
            "Take the feed away first, or lead it to another field.",
        )),
    }
}
