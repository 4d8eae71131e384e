//! Links of lines to ports that are not there, and rings of links.

use std::collections::BTreeMap;

use placement::{Placement, PortPlace};
use plan::{Body, Item, ItemId, Link, Plan, PortFlow};

use crate::finding::{Finding, Place, Severity};

/// Findings about the links of a plan.
pub(crate) fn check(plan: &Plan, placement: &Placement, found: &mut Vec<Finding>) {
    plan.items.iter().for_each(|item| of_item((plan, placement), item, found));
    rings(plan, found);
}

/// Findings about the links of one item.
pub(crate) fn of_item((plan, placement): (&Plan, &Placement), item: &Item, found: &mut Vec<Finding>) {
    match &item.body {
        Body::Line(line) => {
            found.extend(line.from.as_ref().and_then(|l| link((plan, placement), item, l, PortFlow::Out)));
            found.extend(line.to.as_ref().and_then(|l| link((plan, placement), item, l, PortFlow::In)));
        }
        Body::Feed(feed) => found.extend(feed_of(plan, item, feed.of)),
        _ => {}
    }
}

fn link((plan, placement): (&Plan, &Placement), item: &Item, link: &Link, flow: PortFlow) -> Option<Finding> {
    let (word, does) = match flow {
        PortFlow::Out => ("begins", "the fall enters there"),
        PortFlow::In => ("leads to", "the fall leaves there"),
    };
    let (message, hint) = match (plan.item(link.item), placement.port(plan, link)) {
        (None, _) => (
            format!("{} {word} at an item that is not in the plan any more.", item.name),
            "Link it again, or lay it free.".to_owned(),
        ),
        (Some(other), None) => (
            format!("{} {word} at \"{}\" of {}, which has no such port.", item.name, link.port, other.name),
            some_ports(placement.ports(plan, other), flow),
        ),
        (Some(other), Some(port)) if port.flow != flow => (
            format!("{} {word} at \"{}\" of {}, but {does}.", item.name, link.port, other.name),
            some_ports(placement.ports(plan, other), flow),
        ),
        _ => return None,
    };
    Some(Finding {
        code: "link-broken",
        severity: Severity::Must,
        place: Place::item(item),
        message,
        hint,
        mend: None,
    })
}

/// The first few ports that would do.
fn some_ports(ports: Vec<PortPlace>, flow: PortFlow) -> String {
    let names: Vec<String> =
        ports.into_iter().filter(|p| p.flow == flow).take(4).map(|p| format!("\"{}\"", p.name)).collect();
    match names.as_slice() {
        [] => "Choose another item; this one has no port for it.".into(),
        names => format!("Choose one of its ports: {}.", names.join(", ")),
    }
}

fn feed_of(plan: &Plan, item: &Item, of: ItemId) -> Option<Finding> {
    if plan.item(of).is_some_and(|f| f.field().is_some()) {
        return None;
    }
    Some(Finding {
        code: "link-broken",
        severity: Severity::Must,
        place: Place::item(item),
        message: format!("{} feeds a field that is not in the plan any more.", item.name),
        hint: "Choose the field that it feeds, or take it away.".into(),
        mend: Some(plan::Command::RemoveItem { id: item.id }),
    })
}

/// One finding for each ring: lines of which each begins where another one ends, all round.
pub(crate) fn rings(plan: &Plan, found: &mut Vec<Finding>) {
    let follow = |item: &Item| match &item.body {
        Body::Line(line) => line.from.as_ref().map(|l| (item.id, l.item)),
        _ => None,
    };
    let follows: BTreeMap<ItemId, ItemId> = plan.items.iter().filter_map(follow).collect();
    let mut seen = BTreeMap::<ItemId, ItemId>::new();
    for &first in follows.keys() {
        let mut at = first;
        // Each item is walked over once: a walk ends where an earlier one, or the same one, has been.
        while let (Some(&next), false) = (follows.get(&at), seen.contains_key(&at)) {
            seen.insert(at, first);
            at = next;
        }
        if seen.get(&at) == Some(&first) && follows.contains_key(&at) {
            found.extend(ring(plan, &follows, at));
        }
    }
}

fn ring(plan: &Plan, follows: &BTreeMap<ItemId, ItemId>, at: ItemId) -> Option<Finding> {
    let mut round = vec![at];
    let mut next = *follows.get(&at)?;
    while next != at {
        round.push(next);
        next = *follows.get(&next)?;
    }
    round.sort_unstable();
    let names: Vec<&str> =
        round.iter().take(6).filter_map(|id| plan.item(*id)).map(|i| i.name.as_str()).collect();
    let dots = if round.len() > 6 { ", …" } else { "" };
    Some(Finding {
        code: "link-ring",
        severity: Severity::Must,
        place: Place::item(plan.item(*round.first()?)?),
        message: match names.as_slice() {
            [only] => format!("{only} begins where it ends itself."),
            names => format!(
                "Each of {}{dots} begins where another of them ends: none has a place of its own.",
                names.join(", ")
            ),
        },
        hint: "Lay one of them free, at a place of its own.".into(),
        mend: None,
    })
}
