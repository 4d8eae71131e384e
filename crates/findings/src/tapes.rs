//! Taped distances: tapes that cannot be true, marks that nothing fixes, and a hall that is not as it was drawn.

use geometry::{DistanceFit, Point, Vector, fit_distances};
use plan::{Command, Hall, Item, Tape};

use crate::finding::{Finding, Place, Severity, about};
use crate::shape::Shape;

/// A tape that fits worse than this is told, mm (common practice for steel tapes over 10 to 30 m, no source).
const MISFIT_MM: f64 = 20.0;
/// A hall that differs from its drawing by more than this is told, mm (same).
const OFF_MM: f64 = 20.0;
/// So many tapes are told one by one.
const TOLD: usize = 5;

/// What the tapes say of the hall.
#[derive(Debug, Default)]
pub(crate) struct Measured {
    /// What is wrong with the tapes and the drawing.
    pub found: Vec<Finding>,
    /// The walls as measured, where they differ from the drawing.
    pub walls: Vec<Point>,
    /// The marks then, as drawn, with how far they lie off.
    marks: Vec<(String, Point, Vector)>,
}

/// Fits the marks of a hall to its tapes.
pub(crate) fn measure(hall: &Hall) -> Measured {
    let mut measured = Measured::default();
    if hall.tapes.is_empty() {
        return measured;
    }
    let found = &mut measured.found;
    let number = |name: &str| hall.marks.iter().position(|m| m.name == name);
    let mut named: Vec<(&Tape, (usize, usize, f64))> = Vec::new();
    for tape in &hall.tapes {
        match (number(&tape.from), number(&tape.to)) {
            (Some(a), Some(b)) => named.push((tape, (a, b, tape.length.to_mm()))),
            _ => found.push(without_mark(tape)),
        }
    }
    let marks: Vec<Point> = hall.marks.iter().map(|m| m.at).collect();
    let tapes: Vec<_> = named.iter().map(|t| t.1).collect();
    let fit = match fit_distances(&marks, &tapes) {
        Ok(fit) => fit,
        Err(e) => {
            found.push(tell("tape-misfit", Severity::Should, e.to_string(), "Measure it again.", None));
            return measured;
        }
    };
    let tapes: Vec<&Tape> = named.iter().map(|t| t.0).collect();
    misfits(hall, &fit, &tapes, found);
    loose(hall, &fit, found);
    // Wrong tapes move marks too: then the drawing is not to blame yet.
    if !measured.found.iter().any(|f| f.code == "tape-misfit") {
        off_the_drawing(hall, &fit, &mut measured);
    }
    measured
}

fn tell(
    code: &'static str,
    severity: Severity,
    message: String,
    hint: &str,
    mend: Option<Command>,
) -> Finding {
    Finding { code, severity, place: Place::words("the hall"), message, hint: hint.into(), mend }
}

fn without_mark(tape: &Tape) -> Finding {
    let message = format!("The tape from {} to {} names a mark that is not there.", tape.from, tape.to);
    tell("tape-misfit", Severity::Should, message, "Draw the mark, or take the tape away.", None)
}

/// The tape that is wrong beyond doubt alone, or else those that fit worst.
fn misfits(hall: &Hall, fit: &DistanceFit, tapes: &[&Tape], found: &mut Vec<Finding>) {
    let apart = |t: &Tape| {
        let at = |name: &str| hall.marks.iter().position(|m| m.name == name).map(|i| fit.at[i]);
        at(&t.from).zip(at(&t.to)).map_or(0.0, |(a, b)| b.minus(a).length())
    };
    let mut worst: Vec<usize> = (0..tapes.len()).filter(|&i| fit.misfit[i].abs() > MISFIT_MM).collect();
    worst.sort_by(|&a, &b| fit.misfit[b].abs().total_cmp(&fit.misfit[a].abs()).then(a.cmp(&b)));
    // With one distance to spare every tape is as suspect as the others.
    let suspect = fit.suspect.filter(|_| fit.spare > 1 && (!worst.is_empty() || fit.sigma > MISFIT_MM));
    if let Some((suspect, _)) = suspect {
        let t = tapes[suspect];
        let message = format!(
            "The tape from {} to {} says {}; with all the others they are {} apart.",
            t.from,
            t.to,
            about(t.length.to_mm()),
            about(apart(t)),
        );
        found.push(tell("tape-misfit", Severity::Should, message, "Measure this one again first.", None));
        return;
    }
    if let Some(&first) = worst.first().filter(|_| fit.sigma > MISFIT_MM) {
        let names: Vec<String> =
            worst.iter().take(TOLD).map(|&i| format!("{} to {}", tapes[i].from, tapes[i].to)).collect();
        let message = format!(
            "The tapes do not fit together: even at the best {} remain, at {}.",
            about(fit.misfit[first].abs()),
            names.join(", "),
        );
        let hint = "Measure these again; with one distance more it can be told which one is wrong.";
        found.push(tell("tape-misfit", Severity::Should, message, hint, None));
        return;
    }
    if let Some(no) = fit.impossible.first().filter(|no| no.misfit > MISFIT_MM) {
        let name = |i: usize| format!("{} to {}", tapes[i].from, tapes[i].to);
        let message = format!(
            "The tape from {} is longer by {} than those from {} and {} together.",
            name(no.long),
            about(no.misfit),
            name(no.short.0),
            name(no.short.1),
        );
        found.push(tell("tape-misfit", Severity::Should, message, "Measure all three again.", None));
    }
}

fn loose(hall: &Hall, fit: &DistanceFit, found: &mut Vec<Finding>) {
    if fit.loose.is_empty() {
        return;
    }
    let mut names: Vec<&str> =
        fit.loose.iter().take(8).filter_map(|&i| hall.marks.get(i)).map(|m| m.name.as_str()).collect();
    if fit.loose.len() > 8 {
        names.push("…");
    }
    let message = format!("The tapes do not fix {}.", names.join(", "));
    found.push(tell("mark-loose", Severity::Note, message, "Tape each mark from two others at least.", None));
}

/// Marks that lie elsewhere than drawn, and the walls moved with the nearest of them.
fn off_the_drawing(hall: &Hall, fit: &DistanceFit, measured: &mut Measured) {
    let moved: Vec<Vector> = hall.marks.iter().zip(&fit.at).map(|(m, at)| at.minus(m.at)).collect();
    let farthest = (0..moved.len()).max_by(|&a, &b| moved[a].length().total_cmp(&moved[b].length()));
    let Some(worst) = farthest.filter(|&i| moved[i].length() > OFF_MM) else { return };
    let with_nearest = |p: &Point| {
        let near = (0..moved.len()).min_by(|&a, &b| {
            let far = |i: usize| hall.marks[i].at.minus(*p).length();
            far(a).total_cmp(&far(b))
        });
        near.map_or(*p, |i| p.plus(moved[i]))
    };
    measured.walls = hall.outline.iter().map(with_nearest).collect();
    measured.marks = hall.marks.iter().zip(&moved).map(|(m, by)| (m.name.clone(), m.at, *by)).collect();
    let mut as_measured = hall.clone();
    as_measured.outline.clone_from(&measured.walls);
    as_measured.marks.iter_mut().zip(&fit.at).for_each(|(m, at)| m.at = *at);
    let message = format!(
        "The hall is not as it was drawn: {} lies {} off, by the tapes.",
        hall.marks[worst].name,
        about(moved[worst].length())
    );
    let mend = Some(Command::SetHall { hall: as_measured });
    let hint = "Take the measured places over; `standfast shift` moves a whole section along with its mark.";
    let mut finding = tell("hall-off", Severity::Should, message, hint, mend);
    finding.place.at = Some(hall.marks[worst].at);
    measured.found.push(finding);
}

/// One finding when an item stands within the walls as drawn and beyond those that were measured.
pub(crate) fn check(
    measured: &Measured,
    item: &Item,
    shape: &Shape,
    plan: &plan::Plan,
    found: &mut Vec<Finding>,
) {
    if measured.walls.len() < 3 || found.iter().any(|f| f.code == "outside-hall") {
        return;
    }
    if let Some(mut finding) = crate::hall::beyond(plan, &measured.walls, item, shape) {
        finding.severity = Severity::Should;
        finding.message = finding.message.replace("outside the hall", "outside the hall as measured");
        finding.hint = format!(
            "Move it within the measured walls, or its whole section with `standfast shift`{}, or measure them again.",
            nearest(measured, item.stands().origin)
        );
        found.push(finding);
    }
}

/// How far the mark that was drawn nearest to a place lies off; a section about it is likely off by as much.
fn nearest(measured: &Measured, at: Point) -> String {
    let away = |m: &&(String, Point, Vector)| m.1.minus(at).length();
    let near = measured.marks.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
    let way = |v: f64, plus, minus| {
        // What shows as nothing at one decimal is not worth a word.
        (v.abs() >= 0.05).then(|| format!("{} {}", about(v.abs()), if v > 0.0 { plus } else { minus }))
    };
    let Some((name, _, off)) = near else { return String::new() };
    let parts: Vec<String> =
        [way(off.x, "east", "west"), way(off.y, "north", "south")].into_iter().flatten().collect();
    if parts.is_empty() {
        String::new()
    } else {
        format!(" (mark {name} lies {} of where it was drawn)", parts.join(" and "))
    }
}
