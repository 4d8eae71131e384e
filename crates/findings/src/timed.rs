//! Timed lines that no pieces of this size can have run like.

use fall::law::{self, Timed, TimedIs};
use plan::{Plan, TimedLine};
use sayings::{Arg, Given, Said, Unit, found, say};

use crate::finding::{Finding, Place, Severity, mm};

/// One finding for each timed line that does not count.
pub(crate) fn check(plan: &Plan, found: &mut Vec<Finding>) {
    for (line, told) in plan.hall.timed.iter().zip(law::timed(plan)) {
        let Some((message, hint)) = untrue(line, &told) else { continue };
        let (code, severity, place) = ("timed-untrue", Severity::Should, Place::hall());
        found.push(Finding { code, severity, place, message, hint, mend: None });
    }
}

/// Why a line cannot have run so, and what to do; nothing when it can.
fn untrue(line: &TimedLine, told: &Timed) -> Option<(Said, Said)> {
    let (n, gap) = (u64::from(line.pieces), mm(line.gap.to_mm()));
    let took = seconds(line.took.to_s());
    let (least, most) = (seconds(told.can_take.0), seconds(told.can_take.1));
    match told.is {
        TimedIs::Fine => None,
        TimedIs::TooWide => Some((say!(found::TIMED_WIDE, n = n, gap = gap), say!(found::TIMED_WIDE_HINT))),
        TimedIs::TooFast => Some((
            say!(found::TIMED_FAST, n = n, gap = gap, took = took, least = least),
            say!(found::TIMED_HINT),
        )),
        TimedIs::TooSlow => Some((
            say!(found::TIMED_SLOW, n = n, gap = gap, took = took, most = most),
            say!(found::TIMED_HINT),
        )),
    }
}

/// Seconds, to a thousandth as they are read off a film.
fn seconds(s: f64) -> Arg {
    Given::new((s * 1e3).round() / 1e3, Unit::Seconds).into()
}
