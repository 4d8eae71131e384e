//! What every item has: name, place, surface, section, as-built offset and safety gaps.

use sayings::{gate, say};

use super::{Checked, SECTION, SURFACE, at_most, heading, length, named, point, unknown};
use crate::document::Plan;
use crate::gate::{MAX_CELLS, MAX_GAPS, MAX_ID, REACH_MM};
use crate::item::{AsBuilt, Body, Item};
use crate::place::Place;
use crate::refusal::Refusal;
use crate::trigger::SafetyGap;

pub(in crate::gate) fn locked(item: &Item) -> Refusal {
    Refusal::new(Place::item(item), say!(gate::THIS_ITEM), say!(gate::LOCKED), say!(gate::LOCKED_NEXT))
}

pub(in crate::gate) fn item(plan: &Plan, item: &Item) -> Checked {
    let place = Place::item(item);
    named(&Place::of(gate::AT_ITEM).at(gate::AT_NAME), &item.name)?;
    point(&place, item.at)?;
    heading(&place, item.heading)?;
    if item.surface.0 != 0 && !plan.surfaces.iter().any(|s| s.id == item.surface) {
        return Err(unknown(&place, SURFACE, item.surface.0));
    }
    if let Some(s) = item.section
        && !plan.sections.iter().any(|x| x.id == s)
    {
        return Err(unknown(&place, SECTION, s.0));
    }
    item.built.iter().try_for_each(|b| built(&place, b))?;
    if let Some(group) = item.group
        && !(1..=MAX_ID).contains(&group.0)
    {
        return Err(Refusal::new(
            place,
            say!(gate::GROUP, id = group.to_string()),
            say!(gate::RANGE, least = 1_u32, most = MAX_ID),
            say!(gate::NEXT_ID),
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

fn built(place: &Place<'_>, b: &AsBuilt) -> Checked {
    length(&place.at(gate::AT_BUILT_EAST), b.east, -REACH_MM, REACH_MM)?;
    length(&place.at(gate::AT_BUILT_NORTH), b.north, -REACH_MM, REACH_MM)?;
    heading(&place.at(gate::AT_BUILT), b.turn)
}

fn gaps(place: &Place<'_>, gaps: &[SafetyGap]) -> Checked {
    at_most(&place.at(gate::AT_GAPS), gate::N_GAPS, gaps.len(), MAX_GAPS)?;
    let mut free = 0;
    for (i, gap) in gaps.iter().enumerate() {
        let place = place.nth(gate::AT_GAP_NTH, i);
        let first = u64::from(gap.first);
        let end = first + u64::from(gap.count);
        if gap.count == 0 {
            return Err(Refusal::new(
                place,
                say!(gate::GAP_NONE),
                say!(gate::GAP_NONE_PROBLEM),
                say!(gate::GAP_NONE_NEXT),
            ));
        }
        if end > MAX_CELLS as u64 {
            return Err(Refusal::new(
                place,
                say!(gate::GAP_PIECE, n = end),
                say!(gate::GAP_BEYOND, most = MAX_CELLS),
                say!(gate::GAP_BEYOND_NEXT),
            ));
        }
        if first < free {
            return Err(Refusal::new(
                place,
                say!(gate::GAP_PIECE, n = first + 1),
                say!(gate::GAP_ORDER, n = free + 1),
                say!(gate::GAP_ORDER_NEXT),
            ));
        }
        free = end;
    }
    Ok(())
}
