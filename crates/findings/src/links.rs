//! Links of lines to ports that are not there, and rings of links.

use std::collections::BTreeMap;

use placement::{Placement, PortPlace};
use plan::{Body, Item, ItemId, Link, Plan, PortFlow};
use sayings::{Arg, Said, found, say};

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
    let (name, port) = (&item.name, &link.port);
    let (message, hint) = match (plan.item(link.item), placement.port(plan, link)) {
        (None, _) => (
            match flow {
                PortFlow::Out => say!(found::LINK_GONE_FROM, item = name),
                PortFlow::In => say!(found::LINK_GONE_TO, item = name),
            },
            say!(found::LINK_GONE_HINT),
        ),
        (Some(other), None) => (
            match flow {
                PortFlow::Out => say!(found::LINK_PORT_FROM, item = name, port = port, other = &other.name),
                PortFlow::In => say!(found::LINK_PORT_TO, item = name, port = port, other = &other.name),
            },
            some_ports(placement.ports(plan, other), flow),
        ),
        (Some(other), Some(there)) if there.flow != flow => (
            match flow {
                PortFlow::Out => say!(found::LINK_FLOW_FROM, item = name, port = port, other = &other.name),
                PortFlow::In => say!(found::LINK_FLOW_TO, item = name, port = port, other = &other.name),
            },
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
fn some_ports(ports: Vec<PortPlace>, flow: PortFlow) -> Said {
    let quoted = |p: PortPlace| say!(found::QUOTED, name = &p.name).into();
    let names: Vec<Arg> = ports.into_iter().filter(|p| p.flow == flow).take(4).map(quoted).collect();
    if names.is_empty() {
        return say!(found::LINK_PORT_NONE);
    }
    say!(found::LINK_PORT_CHOOSE, ports = names)
}

fn feed_of(plan: &Plan, item: &Item, of: ItemId) -> Option<Finding> {
    if plan.item(of).is_some_and(|f| f.field().is_some()) {
        return None;
    }
    Some(Finding {
        code: "link-broken",
        severity: Severity::Must,
        place: Place::item(item),
        message: say!(found::LINK_FIELD, item = &item.name),
        hint: say!(found::LINK_FIELD_HINT),
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
    let named = round.iter().take(6).filter_map(|id| plan.item(*id));
    let mut names: Vec<Arg> = named.map(|i| (&i.name).into()).collect();
    if round.len() > 6 {
        names.push("…".into());
    }
    Some(Finding {
        code: "link-ring",
        severity: Severity::Must,
        place: Place::item(plan.item(*round.first()?)?),
        message: match names.as_slice() {
            [only] => say!(found::RING_SELF, item = only.clone()),
            _ => say!(found::RING, items = names),
        },
        hint: say!(found::RING_HINT),
        mend: None,
    })
}
