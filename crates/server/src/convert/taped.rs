//! Marks and taped distances, from and to the wire.

use desk::DeskError;
use findings::Taped;
use geometry::Point;
use plan::{Command, Hall, Mark, Plan, Tape};
use sayings::{Said, doing, refusing, say};
use units::Length;

use super::change::{Drafted, done};
use super::count;
use super::scene::gone;
use crate::wire::{MarkFit, MarkRow, TapeFit, TapeIs, TapeRow, TapedHall};

/// A length that went to the page and back is the same within this, mm.
const SAME_MM: f64 = 1e-6;

fn set(label: Said, hall: Hall) -> Drafted {
    done(label, Command::SetHall { hall })
}

fn point([x, y]: [f64; 2]) -> Point {
    Point::new(x, y)
}

/// The place of a mark in the list.
fn mark_at(hall: &Hall, name: &str) -> Result<usize, DeskError> {
    hall.marks.iter().position(|m| m.name == name).ok_or_else(|| gone(refusing::WHAT_MARK, name))
}

/// The place of a tape in the list. Tapes have no ids: one is known by all that it says.
fn tape_at(hall: &Hall, tape: &TapeRow) -> Result<usize, DeskError> {
    let same = |t: &Tape| {
        t.from == tape.from && t.to == tape.to && (t.length.to_mm() - tape.length).abs() <= SAME_MM
    };
    let at = hall.tapes.iter().position(same);
    at.ok_or_else(|| {
        let what = say!(refusing::WHAT_TAPE, from = &tape.from, to = &tape.to);
        DeskError::missing(what, say!(refusing::MISSING_TAPES))
    })
}

/// A mark, new or known; under a new name its tapes go along.
pub(super) fn put_mark(plan: &Plan, was: Option<String>, mark: MarkRow) -> Drafted {
    let mut hall = plan.hall.clone();
    let MarkRow { name, at } = mark;
    let at = point(at);
    let Some(was) = was else {
        hall.marks.push(Mark { name: name.clone(), at });
        return set(say!(doing::MARK_PUT, name = &name), hall);
    };
    let i = mark_at(&hall, &was)?;
    hall.marks[i] = Mark { name: name.clone(), at };
    if was == name {
        return set(say!(doing::MARK_MOVE, name = &name), hall);
    }
    for end in hall.tapes.iter_mut().flat_map(|t| [&mut t.from, &mut t.to]).filter(|end| **end == was) {
        end.clone_from(&name);
    }
    set(say!(doing::MARK_NAME, old = &was, name = &name), hall)
}

/// Takes a mark away, with what was taped from it and to it.
pub(super) fn remove_mark(plan: &Plan, name: &str) -> Drafted {
    let mut hall = plan.hall.clone();
    hall.marks.remove(mark_at(&hall, name)?);
    hall.tapes.retain(|t| t.from != name && t.to != name);
    set(say!(doing::MARK_REMOVE, name = name), hall)
}

/// A taped distance, new or known, with the marks that it needs and that are not there yet.
pub(super) fn put_tape(plan: &Plan, was: Option<&TapeRow>, tape: TapeRow, marks: Vec<MarkRow>) -> Drafted {
    let mut hall = plan.hall.clone();
    for mark in marks {
        let (name, at) = (mark.name, point(mark.at));
        // Somebody else may have given the name to another place meanwhile: then the gate refuses the second one.
        let known = |m: &Mark| m.name == name && m.at.minus(at).length() <= SAME_MM;
        if !hall.marks.iter().any(known) {
            hall.marks.push(Mark { name, at });
        }
    }
    let label = match was {
        None => say!(doing::TAPE_PUT, from = &tape.from, to = &tape.to),
        Some(_) => say!(doing::TAPE_CHANGE, from = &tape.from, to = &tape.to),
    };
    let now = Tape { from: tape.from, to: tape.to, length: Length::mm(tape.length) };
    match was {
        None => hall.tapes.push(now),
        Some(was) => {
            let i = tape_at(&hall, was)?;
            hall.tapes[i] = now;
        }
    }
    set(label, hall)
}

/// Takes a taped distance away; its marks stay.
pub(super) fn remove_tape(plan: &Plan, tape: &TapeRow) -> Drafted {
    let mut hall = plan.hall.clone();
    hall.tapes.remove(tape_at(&hall, tape)?);
    set(say!(doing::TAPE_REMOVE, from = &tape.from, to = &tape.to), hall)
}

/// Draws the hall as measured.
pub(super) fn draw(plan: &Plan) -> Drafted {
    let missing = || DeskError::missing(say!(refusing::WHAT_MEASURED), say!(refusing::MISSING_MEASURED));
    set(say!(doing::AS_MEASURED), findings::taped(&plan.hall).drawn.ok_or_else(missing)?)
}

/// The marks of a hall.
pub(super) fn marks(hall: &Hall) -> Vec<MarkRow> {
    hall.marks.iter().map(|m| MarkRow { name: m.name.clone(), at: [m.at.x, m.at.y] }).collect()
}

/// The hall as measured.
pub(crate) fn hall(change: u64, hall: &Hall) -> TapedHall {
    let taped = findings::taped(hall);
    let mark = |(i, row): (usize, MarkRow)| MarkFit {
        name: row.name,
        at: row.at,
        fitted: taped.at.get(i).map(|p| [p.x, p.y]),
        loose: taped.loose.binary_search(&i).is_ok(),
    };
    let tape = |(i, tape): (usize, &Tape)| TapeFit {
        from: tape.from.clone(),
        to: tape.to.clone(),
        length: tape.length.to_mm(),
        misfit: taped.misfit[i],
        is: is(&taped, i),
        too_long: taped.too_long[i],
    };
    let walls = taped.drawn.as_ref().map(|drawn| &drawn.outline).filter(|walls| **walls != hall.outline);
    TapedHall {
        change: count(change),
        marks: marks(hall).into_iter().enumerate().map(mark).collect(),
        tapes: hall.tapes.iter().enumerate().map(tape).collect(),
        spare: count(taped.spare),
        sigma: taped.sigma,
        walls: walls.into_iter().flatten().map(|p| [p.x, p.y]).collect(),
        draws: taped.drawn.is_some(),
    }
}

fn is(taped: &Taped, tape: usize) -> TapeIs {
    match taped.tapes[tape] {
        findings::TapeIs::Fine => TapeIs::Fine,
        findings::TapeIs::Doubted => TapeIs::Doubted,
        findings::TapeIs::Untrue => TapeIs::Untrue,
    }
}
