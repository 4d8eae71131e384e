//! What every item has: name, place, surface, section, as-built offset and safety gaps.

use super::{Checked, at_most, heading, length, named, point, short, unknown};
use crate::document::Plan;
use crate::gate::{MAX_CELLS, MAX_GAPS, MAX_ID, REACH_MM};
use crate::item::{AsBuilt, Body, Item};
use crate::refusal::Refusal;
use crate::trigger::SafetyGap;

pub(in crate::gate) fn item_name(item: &Item) -> String {
    format!("{} {}", item.sort(), short(&item.name))
}

pub(in crate::gate) fn locked(item: &Item) -> Refusal {
    Refusal::new(item_name(item), "this item", "is locked", "Unlock it first.")
}

pub(in crate::gate) fn item(plan: &Plan, item: &Item) -> Checked {
    let place = item_name(item);
    named("item, name", &item.name)?;
    point(&place, item.at)?;
    heading(&place, item.heading)?;
    if item.surface.0 != 0 && !plan.surfaces.iter().any(|s| s.id == item.surface) {
        return Err(unknown(&place, "surface", item.surface.0));
    }
    if let Some(s) = item.section
        && !plan.sections.iter().any(|x| x.id == s)
    {
        return Err(unknown(&place, "section", s.0));
    }
    item.built.iter().try_for_each(|b| built(&place, b))?;
    if let Some(group) = item.group
        && !(1..=MAX_ID).contains(&group.0)
    {
        return Err(Refusal::new(
            place,
            format!("group {group}"),
            format!("is not from 1 to {MAX_ID}"),
            "Take the next id that the plan gives.",
        ));
    }
    gaps(&place, &item.gaps)?;
    match &item.body {
        Body::Field(f) => super::field::field(plan, &place, f),
        Body::Placeholder(p) => super::placeholder::placeholder(plan, &place, p),
        Body::Line(l) => super::line::line(plan, &place, item.id, l),
        Body::Fill(f) => super::line::fill(plan, &place, f),
        Body::Feed(f) => super::feed::feed(plan, &place, item.id, f),
        Body::Start(s) => super::trigger::start(&place, s),
        Body::Stopper(s) => super::trigger::stopper(&place, s),
        Body::Note(n) => super::sign::note(&place, n),
        Body::Dimension(d) => super::sign::dimension(&place, d),
        Body::Camera(c) => super::sign::camera(&place, c),
    }
}

fn built(place: &str, b: &AsBuilt) -> Checked {
    length(&format!("{place}, built too far east"), b.east, -REACH_MM, REACH_MM)?;
    length(&format!("{place}, built too far north"), b.north, -REACH_MM, REACH_MM)?;
    heading(&format!("{place}, as built"), b.turn)
}

fn gaps(place: &str, gaps: &[SafetyGap]) -> Checked {
    at_most(&format!("{place}, safety gaps"), "gaps", gaps.len(), MAX_GAPS)?;
    let mut free = 0;
    for (i, gap) in gaps.iter().enumerate() {
        let place = format!("{place}, safety gap {}", i + 1);
        let first = u64::from(gap.first);
        let end = first + u64::from(gap.count);
        if gap.count == 0 {
            return Err(Refusal::new(
                place,
                "a count of 0",
                "leaves no piece out",
                "Give a count of 1 or more, or take the gap away.",
            ));
        }
        if end > MAX_CELLS as u64 {
            return Err(Refusal::new(
                place,
                format!("piece {end}"),
                format!("is beyond the {MAX_CELLS} pieces that one item may have"),
                "Name pieces of the item.",
            ));
        }
        if first < free {
            return Err(Refusal::new(
                place,
                format!("piece {}", first + 1),
                format!("lies before piece {}, where the gap before it ends", free + 1),
                "Give gaps in rising order that do not overlap.",
            ));
        }
        free = end;
    }
    Ok(())
}
