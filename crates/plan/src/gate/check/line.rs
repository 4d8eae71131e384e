//! Lines and areas filled with a line.

use sayings::gate;

use super::field::Room;
use super::{Checked, KIND, LANES, heading, length, outline, unknown, within};
use crate::document::Plan;
use crate::fill::{Fill, Filling};
use crate::gate::{MAX_LANES, REACH_MM};
use crate::ids::{ItemId, KindId};
use crate::line::{Line, Spacing};
use crate::place::Place;
use crate::refusal::Refusal;
use crate::stock::Kind;

pub(super) fn line(plan: &Plan, place: &Place<'_>, own: ItemId, l: &Line) -> Checked {
    let kind = kind_of(plan, place, l.kind)?;
    within(&place.at(gate::AT_LANES), l.lanes.into(), LANES, 1.0, MAX_LANES)?;
    distances(place, kind, l)?;
    super::path::path(place, &l.path)?;
    super::path::bridges(place, &l.bridges)?;
    super::pattern::pattern(plan, place, &l.colours)?;
    for (what, link) in [(gate::AT_BEGINNING, &l.from), (gate::AT_END, &l.to)] {
        if let Some(link) = link {
            super::links::link(plan, &place.at(what), own, link)?;
        }
    }
    Ok(())
}

fn kind_of<'a>(plan: &'a Plan, place: &Place<'_>, kind: KindId) -> Result<&'a Kind, Refusal> {
    plan.stock.kind(kind).ok_or_else(|| unknown(place, KIND, kind.0.into()))
}

/// Its distances have room for pieces of this kind.
pub(super) fn distances(place: &Place<'_>, kind: &Kind, l: &Line) -> Checked {
    spacing(place, kind, l.spacing)?;
    // The distance between lanes says nothing while there is only one.
    let room = if l.lanes > 1 { Room::Wide(kind) } else { Room::None };
    super::field::pitch(place, gate::AT_PITCH_ACROSS, l.pitch_across, room)
}

pub(super) fn spacing(place: &Place<'_>, kind: &Kind, spacing: Spacing) -> Checked {
    match spacing {
        Spacing::Pitch { pitch } => super::field::pitch(place, gate::AT_PITCH, pitch, Room::Thick(kind)),
        Spacing::Gap { gap } => length(&place.at(gate::AT_CLEAR_GAP), gap, 0.0, 20_000.0),
    }
}

pub(super) fn fill(plan: &Plan, place: &Place<'_>, f: &Fill) -> Checked {
    let kind = kind_of(plan, place, f.kind)?;
    spacing(place, kind, f.spacing)?;
    outline(place, &f.outline)?;
    length(&place.at(gate::AT_RING), f.ring, 0.5, REACH_MM)?;
    super::pattern::pattern(plan, place, &f.colours)?;
    match f.with {
        Filling::Spiral => Ok(()),
        Filling::Waves { course } => heading(&place.at(gate::AT_COURSE), course),
        Filling::Curls { course, swing } => {
            heading(&place.at(gate::AT_COURSE), course)?;
            length(&place.at(gate::AT_SWING), swing, 0.0, REACH_MM)
        }
    }
}
