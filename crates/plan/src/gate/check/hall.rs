//! The hall: outline, parts, grip, timed lines, marks and tapes.

use std::collections::BTreeSet;

use sayings::{Given, Unit, gate, say};

use super::{Checked, PIECES, PLAIN, SECONDS, at_most, length, name, named, outline, point, within};
use crate::gate::{MAX_HALL_PARTS, MAX_MARKS, MAX_TAPES, MAX_TIMED, REACH_MM};
use crate::hall::{Hall, HallPart, Mark, Tape, TimedLine};
use crate::place::{Place, quoted};
use crate::refusal::Refusal;

const HALL: Place<'static> = Place::of(gate::AT_HALL);

pub(in crate::gate) fn hall(hall: &Hall) -> Checked {
    name(&HALL.at(gate::AT_NAME), &hall.name)?;
    if !hall.outline.is_empty() {
        outline(&HALL.at(gate::AT_OUTLINE), &hall.outline)?;
    }
    at_most(&HALL.at(gate::AT_PARTS), gate::N_PARTS, hall.parts.len(), MAX_HALL_PARTS)?;
    hall.parts.iter().enumerate().try_for_each(|(i, p)| part(i, p))?;
    grip(&HALL.at(gate::AT_GRIP_FLOOR), hall.grip.floor)?;
    grip(&HALL.at(gate::AT_GRIP_PIECES), hall.grip.piece)?;
    at_most(&HALL.at(gate::AT_TIMED_ALL), gate::N_LINES, hall.timed.len(), MAX_TIMED)?;
    hall.timed.iter().enumerate().try_for_each(|(i, t)| timed(i, t))?;
    let names = marks(&hall.marks)?;
    at_most(&HALL.at(gate::AT_TAPES), gate::N_TAPES, hall.tapes.len(), MAX_TAPES)?;
    hall.tapes.iter().enumerate().try_for_each(|(i, t)| tape(i, t, &names))
}

fn part(i: usize, part: &HallPart) -> Checked {
    let place = match part.name.trim() {
        "" => HALL.nth(gate::AT_PART, i),
        _ => HALL.part(gate::AT_PART_OF, &part.name),
    };
    name(&place.at(gate::AT_NAME), &part.name)?;
    outline(&place, &part.outline)?;
    length(&place.at(gate::AT_HEIGHT), part.height, 0.0, 1.0e6)
}

fn grip(place: &Place<'_>, (least, most): (f64, f64)) -> Checked {
    within(place, least, PLAIN, 0.02, 1.5)?;
    within(place, most, PLAIN, 0.02, 1.5)?;
    if least <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        say!(gate::N_SPAN, least = Given::new(least, Unit::None), most = Given::new(most, Unit::None)),
        say!(gate::GRIP),
        say!(gate::GRIP_NEXT),
    ))
}

fn timed(i: usize, t: &TimedLine) -> Checked {
    let place = HALL.nth(gate::AT_TIMED, i);
    if t.pieces < 20 {
        return Err(Refusal::new(
            place.at(gate::AT_PIECES),
            say!(gate::N_TIMED, n = u64::from(t.pieces)),
            say!(gate::TIMED),
            say!(gate::TIMED_NEXT),
        ));
    }
    within(&place.at(gate::AT_PIECES), t.pieces.into(), PIECES, 20.0, 1.0e6)?;
    length(&place.at(gate::AT_TIMED_GAP), t.gap, 0.1, 1_000.0)?;
    within(&place.at(gate::AT_TIME), t.took.to_s(), SECONDS, 0.001, 1.0e6)
}

fn marks(marks: &[Mark]) -> Result<BTreeSet<&str>, Refusal> {
    at_most(&HALL.at(gate::AT_MARKS), gate::N_MARKS, marks.len(), MAX_MARKS)?;
    let mut names = BTreeSet::new();
    for mark in marks {
        named(&HALL.at(gate::AT_MARK).at(gate::AT_NAME), &mark.name)?;
        let place = HALL.part(gate::AT_MARK_OF, &mark.name);
        point(&place, mark.at)?;
        if !names.insert(mark.name.as_str()) {
            return Err(Refusal::new(
                place,
                quoted(&mark.name),
                say!(gate::MARK_TWICE),
                say!(gate::MARK_TWICE_NEXT),
            ));
        }
    }
    Ok(names)
}

fn tape(i: usize, tape: &Tape, marks: &BTreeSet<&str>) -> Checked {
    let place = HALL.nth(gate::AT_TAPE, i);
    if let Some(end) = [&tape.from, &tape.to].into_iter().find(|end| !marks.contains(end.as_str())) {
        return Err(Refusal::new(place, quoted(end), say!(gate::MARK_NONE), say!(gate::MARK_NONE_NEXT)));
    }
    if tape.from == tape.to {
        return Err(Refusal::new(
            place,
            quoted(&tape.from),
            say!(gate::TAPE_ENDS),
            say!(gate::TAPE_ENDS_NEXT),
        ));
    }
    length(&place.at(gate::AT_LENGTH), tape.length, 0.1, 2.0 * REACH_MM)
}
