//! Taped distances: tapes that cannot be true, marks that nothing fixes, and a hall that is not as it was drawn.

use std::collections::BTreeMap;

use geometry::{DistanceFit, FitError, Impossible, Point, Vector, fit_distances};
use plan::{Command, Hall, Item, Mark, Tape};
use sayings::{Arg, Said, found, say};

use crate::finding::{Finding, Place, Severity, about, mm};
use crate::shape::Shape;

/// A tape that fits worse than this is told, mm (common practice for steel tapes over 10 to 30 m, no source).
const MISFIT_MM: f64 = 20.0;
/// A hall that differs from its drawing by more than this is told, mm (same).
const OFF_MM: f64 = 20.0;
/// A hall is offered to be drawn as measured from this difference on, mm: a drawing is not read closer.
const DRAWN_MM: f64 = 0.5;
/// So many tapes are told one by one.
const TOLD: usize = 5;

/// What the fit says of a tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TapeIs {
    /// It fits, as far as the others tell.
    Fine,
    /// One of several that cannot all be true.
    Doubted,
    /// It cannot be true, by what all the others say.
    Untrue,
}

/// A hall as its tapes have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Taped {
    /// For each mark where it is found to be, in millimetres; empty where nothing can be fitted.
    pub at: Vec<Point>,
    /// Marks that the tapes do not fix, rising.
    pub loose: Vec<usize>,
    /// For each tape what it says less what the fitted marks are apart, in mm; `None` where nothing can be fitted.
    pub misfit: Vec<Option<f64>>,
    /// For each tape what is to be thought of it.
    pub tapes: Vec<TapeIs>,
    /// For each tape by how much it is longer than a way round over two others, mm, where by more than 20 mm.
    pub too_long: Vec<Option<f64>>,
    /// Distances more than the unknowns that they fix: with none to spare nothing checks the tapes.
    pub spare: usize,
    /// The standard deviation of one tape, in mm; 0 when none is to spare.
    pub sigma: f64,
    /// The hall drawn as measured: each corner of the walls moved with the mark that was drawn nearest to it, the marks
    /// where they were found. `None` where it is as it was drawn, and while the tapes contradict each other.
    pub drawn: Option<Hall>,
}

/// Fits the marks of a hall to its tapes and says what is to be thought of each tape.
pub fn taped(hall: &Hall) -> Taped {
    let nothing = Taped {
        at: Vec::new(),
        loose: Vec::new(),
        misfit: vec![None; hall.tapes.len()],
        tapes: vec![TapeIs::Fine; hall.tapes.len()],
        too_long: vec![None; hall.tapes.len()],
        spare: 0,
        sigma: 0.0,
        drawn: None,
    };
    // The gate lets no tape in whose marks are not there, so that tapes are numbered alike here and in the fit.
    let Some(fit) =
        by_number(hall).and_then(|tapes| fit_of(hall, &tapes).ok()).filter(|_| !hall.tapes.is_empty())
    else {
        return nothing;
    };
    let clash = clash(&fit);
    let mut taped = Taped { misfit: fit.misfit.iter().copied().map(Some).collect(), ..nothing };
    for no in fit.impossible.iter().filter(|no| no.misfit > MISFIT_MM) {
        // The worst comes first.
        taped.too_long[no.long].get_or_insert(no.misfit);
    }
    match &clash {
        Clash::None => {}
        Clash::One(i) | Clash::Sole(i, _) => taped.tapes[*i] = TapeIs::Untrue,
        Clash::Several(worst) => worst.iter().for_each(|&i| taped.tapes[i] = TapeIs::Doubted),
        Clash::Triangle(no) => {
            no.tapes().into_iter().for_each(|i| taped.tapes[i] = TapeIs::Doubted);
        }
    }
    let off = moved(hall, &fit);
    if matches!(clash, Clash::None) && off.iter().any(|by| by.length() > DRAWN_MM) {
        taped.drawn = Some(as_measured(hall, &fit, &off));
    }
    Taped { at: fit.at, loose: fit.loose, spare: fit.spare, sigma: fit.sigma, ..taped }
}

/// The tapes by the numbers of their marks; `None` where a mark is not there.
fn by_number(hall: &Hall) -> Option<Vec<(usize, usize, f64)>> {
    let numbers = numbers(hall);
    let number = |name: &str| numbers.get(name).copied();
    hall.tapes.iter().map(|t| Some((number(&t.from)?, number(&t.to)?, t.length.to_mm()))).collect()
}

fn numbers(hall: &Hall) -> BTreeMap<&str, usize> {
    hall.marks.iter().enumerate().map(|(i, m)| (m.name.as_str(), i)).collect()
}

fn fit_of(hall: &Hall, tapes: &[(usize, usize, f64)]) -> Result<DistanceFit, FitError> {
    let marks: Vec<Point> = hall.marks.iter().map(|m| m.at).collect();
    fit_distances(&marks, tapes)
}

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
    let numbers = numbers(hall);
    let number = |name: &str| numbers.get(name).copied();
    let mut named: Vec<(&Tape, (usize, usize, f64))> = Vec::new();
    for tape in &hall.tapes {
        match (number(&tape.from), number(&tape.to)) {
            (Some(a), Some(b)) => named.push((tape, (a, b, tape.length.to_mm()))),
            _ => found.push(without_mark(tape)),
        }
    }
    let tapes: Vec<_> = named.iter().map(|t| t.1).collect();
    let fit = match fit_of(hall, &tapes) {
        Ok(fit) => fit,
        Err(e) => {
            found.push(tell(
                "tape-misfit",
                Severity::Should,
                no_fit(hall, &named, &e),
                say!(found::TAPE_AGAIN),
            ));
            return measured;
        }
    };
    let tapes: Vec<&Tape> = named.iter().map(|t| t.0).collect();
    misfits(hall, &fit, &tapes, found);
    let clash = found.iter().any(|f| f.code == "tape-misfit");
    loose(hall, &fit, clash, found);
    // Wrong tapes move marks too: then the drawing is not to blame yet.
    if !clash {
        off_the_drawing(hall, &fit, &mut measured);
    }
    measured
}

fn tell(code: &'static str, severity: Severity, message: Said, hint: Said) -> Finding {
    Finding { code, severity, place: Place::hall(), message, hint, mend: None }
}

/// Why the tapes cannot be fitted. The gate lets none of it in but too many marks.
fn no_fit(hall: &Hall, tapes: &[(&Tape, (usize, usize, f64))], error: &FitError) -> Said {
    let ends = |i: usize| tapes.get(i).map_or(("", ""), |(t, _)| (t.from.as_str(), t.to.as_str()));
    match *error {
        FitError::TooMany(marks) => {
            say!(found::TAPE_TOO_MANY, marks = marks as u64, most = geometry::MOST_MARKS as u64)
        }
        FitError::NoSuchMark { tape, .. } => {
            let (from, to) = ends(tape);
            say!(found::TAPE_MARK, from = from, to = to)
        }
        FitError::SameMark(tape) => {
            let (from, to) = ends(tape);
            say!(found::TAPE_SAME, from = from, to = to)
        }
        FitError::BadLength { tape, length } => {
            let (from, to) = ends(tape);
            say!(
                found::TAPE_LENGTH,
                from = from,
                to = to,
                length = mm(length),
                least = mm(0.0),
                most = mm(1e9)
            )
        }
        FitError::BadPlace(mark) => {
            say!(found::TAPE_PLACE, mark = hall.marks.get(mark).map_or("", |m| m.name.as_str()))
        }
    }
}

fn without_mark(tape: &Tape) -> Finding {
    let message = say!(found::TAPE_MARK, from = &tape.from, to = &tape.to);
    tell("tape-misfit", Severity::Should, message, say!(found::TAPE_MARK_HINT))
}

/// Which tapes cannot all be true.
enum Clash {
    /// All may be true.
    None,
    /// This one is wrong beyond doubt.
    One(usize),
    /// This one is wrong: of so many triangles that no drawing can satisfy it is the only tape that all have.
    Sole(usize, usize),
    /// These fit worst, the worst first; any of them may be the wrong one.
    Several(Vec<usize>),
    /// Three that no drawing can satisfy.
    Triangle(Impossible),
}

/// The tape that is wrong beyond doubt alone, or else those that fit worst.
fn clash(fit: &DistanceFit) -> Clash {
    let mut worst: Vec<usize> = (0..fit.misfit.len()).filter(|&i| fit.misfit[i].abs() > MISFIT_MM).collect();
    worst.sort_by(|&a, &b| fit.misfit[b].abs().total_cmp(&fit.misfit[a].abs()).then(a.cmp(&b)));
    // With one distance to spare every tape is as suspect as the others.
    let suspect = fit.suspect.filter(|_| fit.spare > 1 && (!worst.is_empty() || fit.sigma > MISFIT_MM));
    if let Some((suspect, _)) = suspect {
        return Clash::One(suspect);
    }
    if let Some((tape, triangles)) = sole(&fit.impossible) {
        return Clash::Sole(tape, triangles);
    }
    if !worst.is_empty() && fit.sigma > MISFIT_MM {
        return Clash::Several(worst);
    }
    fit.impossible.first().filter(|no| no.misfit > MISFIT_MM).map_or(Clash::None, |&no| Clash::Triangle(no))
}

/// The one tape that all impossible triangles have in common, and how many those are. In each of them a tape is wrong; one
/// that all share explains them, where two others would have to be wrong without it.
fn sole(impossible: &[Impossible]) -> Option<(usize, usize)> {
    let broken: Vec<[usize; 3]> =
        impossible.iter().filter(|no| no.misfit > MISFIT_MM).map(Impossible::tapes).collect();
    let (first, others) = broken.split_first().filter(|(_, others)| !others.is_empty())?;
    let mut shared = first.iter().filter(|tape| others.iter().all(|three| three.contains(tape)));
    let tape = shared.next()?;
    shared.next().is_none().then_some((*tape, broken.len()))
}

/// The clash in words.
fn misfits(hall: &Hall, fit: &DistanceFit, tapes: &[&Tape], found: &mut Vec<Finding>) {
    let numbers = numbers(hall);
    let apart = |t: &Tape| {
        let at = |name: &str| numbers.get(name).map(|&i| fit.at[i]);
        at(&t.from).zip(at(&t.to)).map_or(0.0, |(a, b)| b.minus(a).length())
    };
    let name = |i: usize| Arg::from(say!(found::TAPE, from = &tapes[i].from, to = &tapes[i].to));
    let (message, hint) = match clash(fit) {
        Clash::None => return,
        Clash::One(suspect) => {
            let t = tapes[suspect];
            let message = say!(
                found::TAPE_SUSPECT,
                from = &t.from,
                to = &t.to,
                length = about(t.length.to_mm()),
                apart = about(apart(t))
            );
            (message, say!(found::TAPE_SUSPECT_HINT))
        }
        Clash::Sole(tape, triangles) => {
            let t = tapes[tape];
            let message = say!(
                found::TAPE_SOLE,
                from = &t.from,
                to = &t.to,
                length = about(t.length.to_mm()),
                n = triangles as u64
            );
            (message, say!(found::TAPE_SUSPECT_HINT))
        }
        Clash::Several(worst) => {
            let names: Vec<Arg> = worst.iter().take(TOLD).map(|&i| name(i)).collect();
            let most = about(fit.misfit[worst[0]].abs());
            (say!(found::TAPE_MISFIT, most = most, tapes = names), say!(found::TAPE_MISFIT_HINT))
        }
        Clash::Triangle(no) => {
            let message = say!(
                found::TAPE_LONG,
                long = name(no.long),
                by = about(no.misfit),
                a = name(no.short.0),
                b = name(no.short.1)
            );
            (message, say!(found::TAPE_LONG_HINT))
        }
    };
    found.push(tell("tape-misfit", Severity::Should, message, hint));
}

/// Marks that nothing fixes. Tapes that contradict each other may leave one without a place that is taped well enough:
/// then only marks with too few tapes are told.
fn loose(hall: &Hall, fit: &DistanceFit, clash: bool, found: &mut Vec<Finding>) {
    let taped = |name: &str| hall.tapes.iter().filter(|t| t.from == name || t.to == name).count();
    let marks = fit.loose.iter().filter_map(|&i| hall.marks.get(i));
    let loose: Vec<&Mark> = marks.filter(|m| !clash || taped(&m.name) < 2).collect();
    if loose.is_empty() {
        return;
    }
    let mut names: Vec<Arg> = loose.iter().take(8).map(|m| (&m.name).into()).collect();
    if loose.len() > 8 {
        names.push("…".into());
    }
    found.push(tell(
        "mark-loose",
        Severity::Note,
        say!(found::LOOSE, marks = names),
        say!(found::LOOSE_HINT),
    ));
}

/// How far each mark lies from where it was drawn.
fn moved(hall: &Hall, fit: &DistanceFit) -> Vec<Vector> {
    hall.marks.iter().zip(&fit.at).map(|(m, at)| at.minus(m.at)).collect()
}

/// The hall with its marks where they were found, and each corner of the walls moved with the mark nearest to it.
fn as_measured(hall: &Hall, fit: &DistanceFit, moved: &[Vector]) -> Hall {
    let with_nearest = |p: &Point| {
        let near = (0..moved.len()).min_by(|&a, &b| {
            let far = |i: usize| hall.marks[i].at.minus(*p).length();
            far(a).total_cmp(&far(b))
        });
        near.map_or(*p, |i| p.plus(moved[i]))
    };
    let mut drawn = hall.clone();
    drawn.outline = hall.outline.iter().map(with_nearest).collect();
    drawn.marks.iter_mut().zip(&fit.at).for_each(|(m, at)| m.at = *at);
    drawn
}

/// Marks that lie elsewhere than drawn, and the walls moved with the nearest of them.
fn off_the_drawing(hall: &Hall, fit: &DistanceFit, measured: &mut Measured) {
    let moved = moved(hall, fit);
    let farthest = (0..moved.len()).max_by(|&a, &b| moved[a].length().total_cmp(&moved[b].length()));
    let Some(worst) = farthest.filter(|&i| moved[i].length() > OFF_MM) else { return };
    let as_measured = as_measured(hall, fit, &moved);
    measured.walls.clone_from(&as_measured.outline);
    measured.marks = hall.marks.iter().zip(&moved).map(|(m, by)| (m.name.clone(), m.at, *by)).collect();
    let message = say!(found::HALL_OFF, mark = &hall.marks[worst].name, off = about(moved[worst].length()));
    let mut finding = tell("hall-off", Severity::Should, message, say!(found::HALL_OFF_HINT));
    finding.mend = Some(Command::SetHall { hall: as_measured });
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
    if let Some((place, stands)) = crate::hall::beyond(plan, &measured.walls, item, shape) {
        found.push(Finding {
            code: "outside-hall",
            severity: Severity::Should,
            place,
            message: say!(found::OUTSIDE_MEASURED, stands = stands),
            hint: match nearest(measured, item.stands().origin) {
                Some((mark, off)) => say!(found::OUTSIDE_MEASURED_MARK, mark = mark, off = off),
                None => say!(found::OUTSIDE_MEASURED_HINT),
            },
            mend: None,
        });
    }
}

/// A mark that the tapes put elsewhere than it was drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkOff {
    /// Its name.
    pub mark: String,
    /// From where it was drawn to where it was measured, mm.
    pub off: Vector,
}

/// The mark that was drawn nearest to a place and how far the tapes say that it lies off; what stands about it is likely
/// off by as much. `None` without tapes, where they contradict each other, and where the hall is as it was drawn.
pub fn mark_off(hall: &Hall, at: Point) -> Option<MarkOff> {
    let measured = measure(hall);
    near(&measured, at).map(|(mark, _, off)| MarkOff { mark: mark.clone(), off: *off })
}

fn near(measured: &Measured, at: Point) -> Option<&(String, Point, Vector)> {
    let away = |m: &&(String, Point, Vector)| m.1.minus(at).length();
    measured.marks.iter().min_by(|a, b| away(a).total_cmp(&away(b)))
}

/// The same in words.
fn nearest(measured: &Measured, at: Point) -> Option<(&str, Said)> {
    let (name, _, off) = near(measured, at)?;
    // What shows as nothing at one decimal is not worth a word.
    let some = |v: f64| (v.abs() >= 0.05).then(|| about(v.abs()));
    let along = some(off.x).map(|by| match off.x > 0.0 {
        true => say!(found::OFF_EAST, by = by),
        false => say!(found::OFF_WEST, by = by),
    });
    let across = some(off.y).map(|by| match off.y > 0.0 {
        true => say!(found::OFF_NORTH, by = by),
        false => say!(found::OFF_SOUTH, by = by),
    });
    let both = match (along, across) {
        (Some(a), Some(b)) => say!(found::OFF_BOTH, a = a, b = b),
        (a, b) => a.or(b)?,
    };
    Some((name, both))
}
