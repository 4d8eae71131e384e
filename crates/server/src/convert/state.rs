//! The plan at a glance.

use colour::Srgb8;
use desk::{Cost, FieldMeasure, FoundAt, Hours, Snapshot, StockSummary};
use findings::{Finding, Severity};
use placement::Placement;
use plan::{Body, Colour, Field, Item, Plan, Rgb};

use super::said::{label_said, said};
use super::{count, draft, gear, hall, saved, scene, wish};
use crate::wire;

/// The plan at a glance, from its snapshot and the measures of its fields.
pub(crate) fn state(
    snapshot: &Snapshot,
    measures: &[FieldMeasure],
    placement: &Placement,
    role: wire::Role,
) -> wire::State {
    let plan = &*snapshot.plan;
    let summary = desk::stock_summary(plan, &Default::default());
    wire::State {
        name: plan.name.clone(),
        hall: plan.hall.name.clone(),
        floor: plan.hall.floor.to_string(),
        floor_plan: hall::hall(plan),
        kinds: plan.stock.kinds.iter().map(hall::kind).collect(),
        file: snapshot.file.clone(),
        project: snapshot.project.clone(),
        saved: saved(snapshot),
        notes: snapshot.notes.clone(),
        undo: snapshot.undo.as_ref().map(|l| l.words().to_owned()),
        undo_said: snapshot.undo.as_ref().and_then(label_said),
        redo: snapshot.redo.as_ref().map(|l| l.words().to_owned()),
        redo_said: snapshot.redo.as_ref().and_then(label_said),
        sections: scene::sections(plan),
        surfaces: scene::surfaces(plan),
        pictures: scene::pictures(plan),
        colours: plan.stock.colours.iter().map(colour_row).collect(),
        gear: plan.stock.gear.iter().map(gear::to_wire).collect(),
        items: plan.items.iter().map(|item| item_row(plan, item, measures, placement)).collect(),
        cost: cost(plan, placement, measures, &summary),
        role,
    }
}

/// What is wrong with the plan.
pub(crate) fn findings(found: &FoundAt) -> wire::Findings {
    wire::Findings { change: count(found.snapshot.change), list: found.list.iter().map(finding).collect() }
}

/// A finding as it travels.
pub(crate) fn finding(finding: &Finding) -> wire::FindingRow {
    wire::FindingRow {
        code: finding.code.to_owned(),
        severity: match finding.severity {
            Severity::Must => wire::Severity::Must,
            Severity::Should => wire::Severity::Should,
            Severity::Note => wire::Severity::Note,
        },
        item: finding.place.item.map(|item| item.0),
        place: finding.place.words.to_string(),
        at: finding.place.at.map(|at| [at.x, at.y]),
        message: finding.message.to_string(),
        hint: finding.hint.to_string(),
        said: wire::FindingSaid {
            place: said(&finding.place.words),
            message: said(&finding.message),
            hint: said(&finding.hint),
        },
        mend: finding.mend.is_some(),
    }
}

fn colour_row(colour: &Colour) -> wire::ColourRow {
    wire::ColourRow {
        id: colour.id.0,
        name: colour.name.clone(),
        code: colour.code.clone(),
        front: colour.front.to_string(),
        back: colour.back.to_string(),
        edge: colour.edge.to_string(),
        ink: ink(colour.front).to_owned(),
    }
}

/// Black or white, whichever contrasts more with the ground (contrast ratio of WCAG 2.2).
fn ink(ground: Rgb) -> &'static str {
    let light = Srgb8 { r: ground.r, g: ground.g, b: ground.b }.to_linear().relative_luminance();
    let (to_black, to_white) = ((light + 0.05) / 0.05, 1.05 / (light + 0.05));
    if to_black >= to_white { "#000000" } else { "#ffffff" }
}

fn item_row(plan: &Plan, item: &Item, measures: &[FieldMeasure], placement: &Placement) -> wire::ItemRow {
    let placed = placement.item(item.id);
    let outline = placed.and_then(|placed| placed.extent(plan));
    let measure = measures.iter().find(|measure| measure.item == item.id);
    let needs = placed.map_or(&[][..], |placed| placed.needs(plan));
    let pieces: u64 = needs.iter().map(|need| u64::from(need.count)).sum();
    let section = item.section.and_then(|id| plan.sections.iter().find(|section| section.id == id));
    let (hours, body) = match &item.body {
        Body::Field(field) => {
            let hours = measure.map_or([0.0, 0.0], |m| [m.hours.low, m.hours.high]);
            (hours, wire::BodyRow::Field(Box::new(field_row(plan, field, measure))))
        }
        Body::Placeholder(p) => (
            [p.hours.to_h(); 2],
            wire::BodyRow::Placeholder {
                length: p.length.to_mm(),
                width: p.width.to_mm(),
                height: p.height.to_mm(),
                who: p.who.clone(),
            },
        ),
        Body::Note(n) => ([0.0; 2], wire::BodyRow::Note(draft::note_to_wire(n))),
        Body::Dimension(d) => ([0.0; 2], wire::BodyRow::Dimension(draft::dimension_to_wire(d))),
        Body::Camera(c) => ([0.0; 2], wire::BodyRow::Camera(draft::camera_to_wire(c))),
        _ => {
            let hours = placed.map_or(Hours::NONE, desk::hours_to_place);
            ([hours.low, hours.high], wire::BodyRow::Plain {})
        }
    };
    wire::ItemRow {
        id: item.id.0,
        name: item.name.clone(),
        section: section.map(|section| section.name.clone()).unwrap_or_default(),
        surface: item.surface.0,
        locked: item.locked,
        group: item.group.map(|g| g.0),
        pieces: count(pieces),
        x: item.at.x,
        y: item.at.y,
        heading: item.heading.to_deg(),
        hours,
        sort: item.sort().to_owned(),
        outline: outline.iter().flatten().map(|p| [p.x, p.y]).collect(),
        pitch: hall::pitch(plan, item),
        ports: hall::ports(plan, placement, item),
        gaps: hall::gaps(placement, item),
        body,
    }
}

fn field_row(plan: &Plan, field: &Field, measure: Option<&FieldMeasure>) -> wire::FieldRow {
    let frame = &field.frame;
    let (columns, rows) = frame.map().picture_size();
    let (along0, across0, along1, across1) = field.extent();
    let usage = field.picture.as_ref();
    let picture = usage.and_then(|usage| plan.picture(usage.picture));
    let compared = measure.filter(|measure| measure.has_picture);
    wire::FieldRow {
        lanes: frame.lanes,
        ranks: frame.ranks,
        pitch_along: frame.pitch_along.to_mm(),
        pitch_across: frame.pitch_across.to_mm(),
        stagger: frame.stagger.to_mm(),
        fall: wish::fall_to_wire(frame.fall),
        columns,
        rows,
        size: [along1 - along0, across1 - across0],
        picture: usage.map(|usage| usage.picture.0),
        picture_name: picture.map(|picture| picture.name.clone()).unwrap_or_default(),
        contrast: usage.map_or(0.0, |usage| usage.contrast),
        wish: wish::to_wire(&field.wish),
        by_hand: count(field.by_hand.count()),
        runs_per_lane: measure.map_or(0.0, |measure| measure.runs_per_lane),
        difference: compared.map(|measure| measure.difference),
        difference_seen: compared.map(|measure| measure.difference_seen),
        pieces_seen_singly: compared.is_some_and(|measure| measure.seen_singly),
        look: look(plan, field),
    }
}

/// Changes whenever a picture of the field would: a hash of everything that is drawn (FNV-1a, 64 bit).
pub(crate) fn look(plan: &Plan, field: &Field) -> String {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    let mut add = |part: u64| hash = (hash ^ part).wrapping_mul(0x0000_0100_0000_01b3);
    let picture = field.picture.as_ref().and_then(|usage| plan.picture(usage.picture)).map(|p| &p.sha256);
    let words = format!(
        "{:?} {:?} {picture:?} {:?} {:?} {:?} {:?}",
        field.frame,
        field.picture,
        field.wish.seen_as,
        plan.hall.floor,
        plan.stock.kind(field.kind),
        plan.stock.colours,
    );
    words.bytes().for_each(|byte| add(byte.into()));
    field.cells.as_slice().iter().for_each(|&cell| add(cell.into()));
    format!("{hash:016x}")
}

fn cost(plan: &Plan, placement: &Placement, measures: &[FieldMeasure], summary: &StockSummary) -> wire::Cost {
    let cost: Cost = desk::cost(plan, placement, measures, summary);
    wire::Cost {
        pieces: count(cost.pieces),
        hours: [cost.hours.low, cost.hours.high],
        mass: cost.mass,
        crates: count(cost.crates),
        changes: count(cost.changes),
        assumed: cost.assumed,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ink_is_legible_on_every_ground() {
        // 4.5 : 1 is what WCAG 2.2 asks of text; black or white reaches it on any ground.
        for step in 0..64u32 {
            let at = |shift: u32| ((step >> shift & 3) * 85) as u8;
            let ground = Rgb { r: at(0), g: at(2), b: at(4) };
            let light = Srgb8 { r: ground.r, g: ground.g, b: ground.b }.to_linear().relative_luminance();
            let ratio = if ink(ground) == "#000000" { (light + 0.05) / 0.05 } else { 1.05 / (light + 0.05) };
            assert!(ratio >= 4.5, "{ground}: {ratio}");
        }
    }
}
