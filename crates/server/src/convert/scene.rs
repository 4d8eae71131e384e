//! The hall, sections and surfaces, from and to the wire.

use desk::DeskError;
use geometry::Point;
use plan::{
    Command, Grip, Hall, HallPart, HallPartKind, Plan, Refusal, Rgb, Section, SectionId, Slope, Surface,
    SurfaceId, SurfaceKind,
};
use sayings::{Arg, Saying, doing, gate, refusing, say};
use units::{Angle, Length};

use super::change::{Drafted, done};
use crate::wire::{GripRow, PartDraft, PartIs, PictureRow, SectionRow, SurfaceIs, SurfaceRow};

fn points(outline: Vec<[f64; 2]>) -> Vec<Point> {
    outline.into_iter().map(|[x, y]| Point::new(x, y)).collect()
}

/// Another hall: what was timed and taped in it stays.
pub(super) fn hall(
    plan: &Plan,
    (name, floor): (String, String),
    (outline, parts): (Vec<[f64; 2]>, Vec<PartDraft>),
    grip: GripRow,
) -> Drafted {
    let Some(floor) = Rgb::from_hex(&floor) else {
        let value: String = floor.chars().take(60).collect();
        let place = Arg::List(vec![say!(gate::AT_HALL).into(), say!(gate::AT_FLOOR).into()]);
        let (problem, next) = (say!(gate::FLOOR), say!(gate::FLOOR_NEXT));
        return Err(Refusal::new(place, say!(gate::QUOTED, text = value), problem, next).into());
    };
    let part = |part: PartDraft| HallPart {
        name: part.name,
        is: match part.is {
            PartIs::Pillar => HallPartKind::Pillar,
            PartIs::Door => HallPartKind::Door,
            PartIs::Exit => HallPartKind::Exit,
            PartIs::Aisle => HallPartKind::Aisle,
            PartIs::Table => HallPartKind::Table,
            PartIs::Overhead => HallPartKind::Overhead,
        },
        outline: points(part.outline),
        height: Length::mm(part.height),
    };
    let hall = Hall {
        name,
        floor,
        outline: points(outline),
        parts: parts.into_iter().map(part).collect(),
        grip: Grip { floor: grip.floor.into(), piece: grip.piece.into() },
        ..plan.hall.clone()
    };
    done(say!(doing::HALL), Command::SetHall { hall })
}

/// How floor and pieces rub, as it travels.
pub(super) fn grip_to_wire(grip: &Grip) -> GripRow {
    GripRow { floor: grip.floor.into(), piece: grip.piece.into() }
}

/// A section, new or known.
pub(super) fn put_section(plan: &Plan, id: Option<u32>, name: String, lead: String) -> Drafted {
    let known = |id| plan.sections.iter().any(|s| s.id == SectionId(id));
    let id = given(plan, id, known, refusing::WHAT_SECTION)?;
    let label = say!(doing::SECTION_PUT, name = &name);
    done(label, Command::PutSection { section: Section { id: SectionId(id), name, lead } })
}

/// Takes a section away.
pub(super) fn remove_section(plan: &Plan, id: u32) -> Drafted {
    let section = plan.sections.iter().find(|s| s.id == SectionId(id));
    let section = section.ok_or_else(|| gone(refusing::WHAT_SECTION, id))?;
    done(say!(doing::SECTION_REMOVE, name = &section.name), Command::RemoveSection { id: section.id })
}

/// A surface, new or known.
pub(super) fn put_surface(
    plan: &Plan,
    id: Option<u32>,
    (name, is): (String, SurfaceIs),
    (height, slope, uphill): (f64, f64, f64),
    outline: Vec<[f64; 2]>,
) -> Drafted {
    let known = |id| plan.surfaces.iter().any(|s| s.id == SurfaceId(id));
    let id = SurfaceId(given(plan, id, known, refusing::WHAT_SURFACE)?);
    let is = match is {
        SurfaceIs::Plank => SurfaceKind::Plank,
        SurfaceIs::Table => SurfaceKind::Table,
        SurfaceIs::WallTop => SurfaceKind::WallTop,
    };
    let label = say!(doing::SURFACE_PUT, name = &name);
    let slope = Slope { rise: Angle::deg(slope), uphill: Angle::deg(uphill) };
    let surface = Surface { id, name, is, height: Length::mm(height), slope, outline: points(outline) };
    done(label, Command::PutSurface { surface })
}

/// Takes a surface away.
pub(super) fn remove_surface(plan: &Plan, id: u32) -> Drafted {
    let surface = plan.surfaces.iter().find(|s| s.id == SurfaceId(id));
    let surface = surface.ok_or_else(|| gone(refusing::WHAT_SURFACE, id))?;
    done(say!(doing::SURFACE_REMOVE, name = &surface.name), Command::RemoveSurface { id: surface.id })
}

/// What is said of an id that the plan does not have; the words have a hole `id`.
pub(super) fn gone(what: Saying<1>, id: impl ToString) -> DeskError {
    DeskError::gone(what.with([("id", id.to_string().into())]))
}

/// The id that was named, if the plan has it, or the next one.
pub(super) fn given(
    plan: &Plan,
    id: Option<u32>,
    known: impl Fn(u32) -> bool,
    what: Saying<1>,
) -> Result<u32, DeskError> {
    match id {
        None => Ok(plan.fresh_id()),
        Some(id) if known(id) => Ok(id),
        Some(id) => Err(gone(what, id)),
    }
}

/// The sections of a plan.
pub(super) fn sections(plan: &Plan) -> Vec<SectionRow> {
    let row = |s: &Section| SectionRow { id: s.id.0, name: s.name.clone(), lead: s.lead.clone() };
    plan.sections.iter().map(row).collect()
}

/// The surfaces of a plan.
pub(super) fn surfaces(plan: &Plan) -> Vec<SurfaceRow> {
    let row = |s: &Surface| SurfaceRow {
        id: s.id.0,
        name: s.name.clone(),
        is: match s.is {
            SurfaceKind::Plank => SurfaceIs::Plank,
            SurfaceKind::Table => SurfaceIs::Table,
            SurfaceKind::WallTop => SurfaceIs::WallTop,
        },
        height: s.height.to_mm(),
        slope: s.slope.rise.to_deg(),
        uphill: s.slope.uphill.to_deg(),
        outline: s.outline.iter().map(|p| [p.x, p.y]).collect(),
    };
    plan.surfaces.iter().map(row).collect()
}

/// The source pictures of a plan.
pub(super) fn pictures(plan: &Plan) -> Vec<PictureRow> {
    let row =
        |p: &plan::Picture| PictureRow { id: p.id.0, name: p.name.clone(), width: p.width, height: p.height };
    plan.pictures.iter().map(row).collect()
}
