//! Sections that are moved, from and to the wire.

use desk::{SectionStands, Shifted};
use findings::{Finding, Severity};
use geometry::Point;
use plan::{Command, Plan, Refusal, SectionId, Which};
use sayings::{doing, refusing, say};
use units::{Angle, Length};

use super::change::{Drafted, done};
use super::scene::gone;
use super::{count, state};
use crate::wire::{self, SectionMove};

/// Findings that are told of a move that is tried.
const TOLD: usize = 20;

/// The command that moves a section.
pub(crate) fn command(section: SectionId, by: &SectionMove) -> Command {
    Command::Shift {
        which: Which::Section(section),
        east: Length::mm(by.east),
        north: Length::mm(by.north),
        turn: Angle::deg(by.turn),
        about: Point::new(by.about[0], by.about[1]),
    }
}

/// Moves and turns a section as one step.
pub(super) fn shift(plan: &Plan, section: u32, by: &SectionMove) -> Drafted {
    let id = SectionId(section);
    let known = plan.sections.iter().find(|s| s.id == id);
    let known = known.ok_or_else(|| gone(refusing::WHAT_SECTION, section))?;
    done(say!(doing::SHIFT_SECTION, name = &known.name), command(id, by))
}

/// Where a section stands.
pub(crate) fn stands(stands: &SectionStands) -> wire::SectionStands {
    wire::SectionStands {
        change: count(stands.change),
        items: stands.items.iter().map(|id| id.0).collect(),
        middle: stands.middle.map(|p| [p.x, p.y]),
        measured: stands
            .measured
            .as_ref()
            .map(|m| wire::MarkOff { mark: m.mark.clone(), off: [m.off.x, m.off.y] }),
    }
}

/// What a move would do.
pub(crate) fn tried(shifted: &Shifted) -> wire::SectionTried {
    let row = |&id: &plan::ItemId| {
        let item = shifted.plan.item(id)?;
        let outline = shifted.placement.item(id).and_then(|placed| placed.extent(&shifted.plan));
        Some(wire::MovedRow {
            item: id.0,
            at: [item.at.x, item.at.y],
            outline: outline.iter().flatten().map(|p| [p.x, p.y]).collect(),
        })
    };
    let counts = |found: &[Finding]| {
        [Severity::Must, Severity::Should].map(|s| count(found.iter().filter(|f| f.severity == s).count()))
    };
    let found = shifted.found.as_ref();
    wire::SectionTried {
        items: shifted.items.iter().chain(&shifted.again).filter_map(row).collect(),
        again: shifted.again.iter().map(|id| id.0).collect(),
        counts: found.map(|[now, then]| [counts(now), counts(then)]),
        findings: found.iter().flat_map(|f| &f[1]).take(TOLD).map(state::finding).collect(),
        refused: None,
    }
}

/// Why the plan would not take it.
pub(crate) fn refused(refusal: &Refusal) -> wire::SectionTried {
    let refused = super::trial::refused(refusal).refused;
    wire::SectionTried { items: Vec::new(), again: Vec::new(), counts: None, findings: Vec::new(), refused }
}
