//! Changes of several items, from the wire.

use desk::{Arrange, Arranged, Axis, DeskError, Edge};
use geometry::{Point, Vector};
use plan::{Command, ItemId, Plan, SectionId};
use sayings::{Arg, doing, gate, say};
use units::Angle;

use super::draft;
use crate::wire::{ArrangeHow, AxisOf, EdgeOf, ItemDraft};

/// So many signs of a label are kept.
const LABEL: usize = 200;

/// Adds and changes items, in the order in which they are sent. They may lead to items that the plan has, and to one another.
pub(super) fn put(plan: &Plan, drafts: Vec<ItemDraft>, label: &str) -> Result<Arranged, DeskError> {
    if drafts.is_empty() {
        return Err(DeskError::Refused(plan::Refusal::new(
            say!(gate::AT_ITEMS),
            say!(gate::NONE),
            say!(gate::NONE_PUT),
            say!(gate::NONE_PUT_NEXT),
        )));
    }
    let items = draft::items(plan, drafts)?;
    let is_new = |id: ItemId| plan.item(id).is_none();
    let added: Vec<ItemId> = items.iter().map(|i| i.id).filter(|&id| is_new(id)).collect();
    let names = items.iter().take(3).map(|i| i.name.as_str().into()).collect();
    let label = match label.trim() {
        "" => say!(doing::PUT, names = Arg::List(names)).into(),
        label => label.chars().filter(|c| !c.is_control()).take(LABEL).collect::<String>().into(),
    };
    let steps = items.into_iter().map(|item| desk::step(plan.item(item.id), item)).collect();
    Ok(Arranged { label, command: Command::Together { steps }, added, notes: Vec::new() })
}

/// Takes several items away.
pub(super) fn take(plan: &Plan, items: &[u32]) -> Result<Arranged, DeskError> {
    desk::take(plan, &ids(items))
}

/// Does something with several items.
pub(super) fn arrange(plan: &Plan, items: &[u32], how: &ArrangeHow) -> Result<Arranged, DeskError> {
    let vector = |[x, y]: [f64; 2]| Vector { x, y };
    let point = |[x, y]: [f64; 2]| Point::new(x, y);
    let how = match *how {
        ArrangeHow::Move { by } => Arrange::Move { by: vector(by) },
        ArrangeHow::Turn { about, by } => Arrange::Turn { about: point(about), by: Angle::deg(by) },
        ArrangeHow::Mirror { through, along } => {
            Arrange::Mirror { through: point(through), along: Angle::deg(along) }
        }
        ArrangeHow::Copy { by, times, turn } => {
            Arrange::Copy { by: vector(by), times, turn: Angle::deg(turn) }
        }
        ArrangeHow::Grid { columns, rows, column, row } => {
            Arrange::Grid { columns, rows, column: vector(column), row: vector(row) }
        }
        ArrangeHow::Align { edge } => Arrange::Align {
            edge: match edge {
                EdgeOf::West => Edge::West,
                EdgeOf::East => Edge::East,
                EdgeOf::South => Edge::South,
                EdgeOf::North => Edge::North,
                EdgeOf::MiddleX => Edge::MiddleX,
                EdgeOf::MiddleY => Edge::MiddleY,
            },
        },
        ArrangeHow::Distribute { along } => Arrange::Distribute {
            along: match along {
                AxisOf::X => Axis::X,
                AxisOf::Y => Axis::Y,
            },
        },
        ArrangeHow::Group {} => Arrange::Group,
        ArrangeHow::Ungroup {} => Arrange::Ungroup,
        ArrangeHow::Lock {} => Arrange::Lock,
        ArrangeHow::Unlock {} => Arrange::Unlock,
        ArrangeHow::Section { section } => Arrange::Section { section: section.map(SectionId) },
    };
    desk::arrange(plan, &ids(items), &how)
}

fn ids(items: &[u32]) -> Vec<ItemId> {
    items.iter().copied().map(ItemId).collect()
}
