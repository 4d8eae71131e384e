//! Timed lines, from and to the wire.

use desk::DeskError;
use fall::law;
use plan::{Command, Hall, Plan, TimedLine};
use sayings::{doing, refusing, say};
use units::{Duration, Length};

use super::change::{Drafted, done};
use super::count;
use crate::wire::{TimedFit, TimedHall, TimedIs, TimedRow};

/// A time that went to the page and back is the same within this, s; lengths within a thousand of it, mm.
const SAME_S: f64 = 1e-6;

fn to_plan(row: TimedRow) -> TimedLine {
    TimedLine { pieces: row.pieces, gap: Length::mm(row.gap), took: Duration::s(row.took) }
}

fn to_wire(line: &TimedLine) -> TimedRow {
    TimedRow { pieces: line.pieces, gap: line.gap.to_mm(), took: line.took.to_s() }
}

/// The place of a timed line in the list. They have no ids: one is known by all that was put in.
fn place(hall: &Hall, row: TimedRow) -> Result<usize, DeskError> {
    let same = |t: &TimedLine| {
        t.pieces == row.pieces
            && (t.gap.to_mm() - row.gap).abs() <= 1e3 * SAME_S
            && (t.took.to_s() - row.took).abs() <= SAME_S
    };
    hall.timed.iter().position(same).ok_or_else(|| {
        DeskError::missing(say!(refusing::WHAT_TIMED, n = row.pieces), say!(refusing::MISSING_TAPES))
    })
}

/// A timed line, new or known.
pub(super) fn put(plan: &Plan, was: Option<TimedRow>, line: TimedRow) -> Drafted {
    let mut hall = plan.hall.clone();
    let label = match was {
        None => {
            hall.timed.push(to_plan(line));
            say!(doing::TIMED_PUT, n = line.pieces)
        }
        Some(was) => {
            let i = place(&hall, was)?;
            hall.timed[i] = to_plan(line);
            say!(doing::TIMED_CHANGE, n = line.pieces)
        }
    };
    done(label, Command::SetHall { hall })
}

/// Takes a timed line away.
pub(super) fn remove(plan: &Plan, line: TimedRow) -> Drafted {
    let mut hall = plan.hall.clone();
    hall.timed.remove(place(&hall, line)?);
    done(say!(doing::TIMED_REMOVE, n = line.pieces), Command::SetHall { hall })
}

/// The lines that were timed, and what they tell.
pub(crate) fn hall(change: u64, plan: &Plan) -> TimedHall {
    let fit = |(line, told): (&TimedLine, law::Timed)| TimedFit {
        line: to_wire(line),
        speed: told.speed,
        friction: told.friction,
        is: match told.is {
            law::TimedIs::Fine => TimedIs::Fine,
            law::TimedIs::TooFast => TimedIs::TooFast,
            law::TimedIs::TooSlow => TimedIs::TooSlow,
            law::TimedIs::TooWide => TimedIs::TooWide,
        },
    };
    TimedHall {
        change: count(change),
        lines: plan.hall.timed.iter().zip(law::timed(plan)).map(fit).collect(),
        piece: law::piece_friction(plan).into(),
        stated: plan.hall.grip.piece.into(),
    }
}
