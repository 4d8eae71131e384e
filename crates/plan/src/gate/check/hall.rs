//! The hall: outline, parts, grip, timed lines, marks and tapes.

use std::collections::BTreeSet;

use super::{Checked, at_most, length, name, named, outline, point, short, within};
use crate::gate::{MAX_HALL_PARTS, MAX_MARKS, MAX_TAPES, MAX_TIMED, REACH_MM};
use crate::hall::{Hall, HallPart, Mark, Tape, TimedLine};
use crate::refusal::Refusal;

pub(in crate::gate) fn hall(hall: &Hall) -> Checked {
    name("hall, name", &hall.name)?;
    if !hall.outline.is_empty() {
        outline("hall, outline", &hall.outline)?;
    }
    at_most("hall, parts", "parts", hall.parts.len(), MAX_HALL_PARTS)?;
    hall.parts.iter().enumerate().try_for_each(|(i, p)| part(i, p))?;
    grip("hall, grip of the floor", hall.grip.floor)?;
    grip("hall, grip of the pieces", hall.grip.piece)?;
    at_most("hall, timed lines", "lines", hall.timed.len(), MAX_TIMED)?;
    hall.timed.iter().enumerate().try_for_each(|(i, t)| timed(i, t))?;
    let names = marks(&hall.marks)?;
    at_most("hall, tapes", "tapes", hall.tapes.len(), MAX_TAPES)?;
    hall.tapes.iter().enumerate().try_for_each(|(i, t)| tape(i, t, &names))
}

fn part(i: usize, part: &HallPart) -> Checked {
    let place = match part.name.trim() {
        "" => format!("hall, part {}", i + 1),
        _ => format!("hall, part {}", short(&part.name)),
    };
    name(&format!("{place}, name"), &part.name)?;
    outline(&place, &part.outline)?;
    length(&format!("{place}, height"), part.height, 0.0, 1.0e6)
}

fn grip(place: &str, (least, most): (f64, f64)) -> Checked {
    within(place, least, "", 0.02, 1.5)?;
    within(place, most, "", 0.02, 1.5)?;
    if least <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{least} to {most}"),
        "is not from the least to the most",
        "Give the smaller figure first.",
    ))
}

fn timed(i: usize, t: &TimedLine) -> Checked {
    let place = format!("hall, timed line {}", i + 1);
    if t.pieces < 20 {
        return Err(Refusal::new(
            format!("{place}, pieces"),
            format!("{} pieces", t.pieces),
            "are too few to tell a speed",
            "Time a line of 20 pieces or more.",
        ));
    }
    within(&format!("{place}, pieces"), t.pieces.into(), " pieces", 20.0, 1.0e6)?;
    length(&format!("{place}, gap"), t.gap, 0.1, 1_000.0)?;
    within(&format!("{place}, time"), t.took.to_s(), " s", 0.001, 1.0e6)
}

fn marks(marks: &[Mark]) -> Result<BTreeSet<&str>, Refusal> {
    at_most("hall, marks", "marks", marks.len(), MAX_MARKS)?;
    let mut names = BTreeSet::new();
    for mark in marks {
        named("hall, mark, name", &mark.name)?;
        let place = format!("hall, mark {}", short(&mark.name));
        point(&place, mark.at)?;
        if !names.insert(mark.name.as_str()) {
            return Err(Refusal::new(
                place,
                format!("\"{}\"", short(&mark.name)),
                "is the name of another mark",
                "Give each mark a name of its own.",
            ));
        }
    }
    Ok(names)
}

fn tape(i: usize, tape: &Tape, marks: &BTreeSet<&str>) -> Checked {
    let place = format!("hall, tape {}", i + 1);
    if let Some(end) = [&tape.from, &tape.to].into_iter().find(|end| !marks.contains(end.as_str())) {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(end)),
            "is not a mark of the hall",
            "Add the mark first, or name one that is there.",
        ));
    }
    if tape.from == tape.to {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(&tape.from)),
            "is both ends of the tape",
            "Name two marks.",
        ));
    }
    length(&format!("{place}, length"), tape.length, 0.1, 2.0 * REACH_MM)
}
