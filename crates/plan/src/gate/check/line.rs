//! Lines and areas filled with a line.

use units::Length;

use super::{Checked, heading, length, outline, unknown, within};
use crate::document::Plan;
use crate::fill::{Fill, Filling};
use crate::gate::{MAX_LANES, REACH_MM};
use crate::ids::{ItemId, KindId};
use crate::line::{Line, Spacing};
use crate::refusal::Refusal;
use crate::stock::Kind;

pub(super) fn line(plan: &Plan, place: &str, own: ItemId, l: &Line) -> Checked {
    let kind = kind_of(plan, place, l.kind)?;
    within(&format!("{place}, lanes"), l.lanes.into(), " lanes", 1.0, MAX_LANES)?;
    distances(place, kind, l)?;
    super::path::path(place, &l.path)?;
    super::path::bridges(place, &l.bridges)?;
    super::pattern::pattern(plan, place, &l.colours)?;
    for (what, link) in [("beginning", &l.from), ("end", &l.to)] {
        if let Some(link) = link {
            super::links::link(plan, &format!("{place}, {what}"), own, link)?;
        }
    }
    Ok(())
}

fn kind_of<'a>(plan: &'a Plan, place: &str, kind: KindId) -> Result<&'a Kind, Refusal> {
    plan.stock.kind(kind).ok_or_else(|| unknown(place, "kind", kind.0.into()))
}

/// Its distances have room for pieces of this kind.
pub(super) fn distances(place: &str, kind: &Kind, l: &Line) -> Checked {
    spacing(place, kind, l.spacing)?;
    // The distance between lanes says nothing while there is only one.
    let width = if l.lanes > 1 { kind.width } else { Length::ZERO };
    super::field::pitch(place, "pitch between lanes", l.pitch_across, width, "wide")
}

pub(super) fn spacing(place: &str, kind: &Kind, spacing: Spacing) -> Checked {
    match spacing {
        Spacing::Pitch { pitch } => super::field::pitch(place, "pitch", pitch, kind.thickness, "thick"),
        Spacing::Gap { gap } => length(&format!("{place}, clear gap"), gap, 0.0, 20_000.0),
    }
}

pub(super) fn fill(plan: &Plan, place: &str, f: &Fill) -> Checked {
    let kind = kind_of(plan, place, f.kind)?;
    spacing(place, kind, f.spacing)?;
    outline(place, &f.outline)?;
    length(&format!("{place}, ring"), f.ring, 0.5, REACH_MM)?;
    super::pattern::pattern(plan, place, &f.colours)?;
    match f.with {
        Filling::Spiral => Ok(()),
        Filling::Waves { course } => heading(&format!("{place}, course"), course),
        Filling::Curls { course, swing } => {
            heading(&format!("{place}, course"), course)?;
            length(&format!("{place}, swing"), swing, 0.0, REACH_MM)
        }
    }
}
