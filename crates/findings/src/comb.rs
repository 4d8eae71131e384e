//! Fields and lines that are laid at a pitch for which there is no comb.

use plan::{Body, Command, FieldFrame, GearKind, Item, KindId, Placing, Plan, Spacing};
use sayings::{found, say};
use units::Length;

use crate::finding::{Finding, Place, Severity, mm};
use crate::lanes::{laid, steps};
use crate::shape::Shape;

/// How far a comb's pitch may differ from that of a field, in mm: over a comb of 40 pieces it adds up to 2 mm.
const SLACK_MM: f64 = 0.05;
/// How far a line's real pitch may differ from its comb's before the comb no longer sets it, in mm (common practice).
const STRETCH_MM: f64 = 0.3;

/// One finding for a field with pieces, or a line set by a comb, whose pitch along the fall no comb has.
pub(crate) fn check(plan: &Plan, item: &Item, found: &mut Vec<Finding>) {
    let Some((pitch, kind)) = laid_at(plan, item) else { return };
    let combs = plan.stock.gear.iter().filter_map(|g| match &g.what {
        GearKind::Comb { pitch, .. } if g.count > 0 => Some(pitch.to_mm()),
        _ => None,
    });
    let mut pitches: Vec<f64> = combs.collect();
    pitches.sort_by(f64::total_cmp);
    if pitches.iter().all(|p| (p - pitch).abs() > SLACK_MM) {
        found.push(finding(plan, item, (pitch, kind), &pitches));
    }
}

/// One finding when a line that is set by a comb had to be stretched or pressed to meet what it leads to.
pub(crate) fn stretched(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let (Some((pitch, _)), Body::Line(_)) = (laid_at(plan, item), &item.body) else { return };
    // Along a curve the chord is shorter than the way, so only straight steps tell.
    let straight = steps(shape).filter(|s| s.turn < 0.5);
    let Some(off) = straight.map(|s| s.pitch - pitch).max_by(|a, b| a.abs().total_cmp(&b.abs())) else {
        return;
    };
    if off.abs() <= STRETCH_MM || off.abs() > pitch / 2.0 {
        return;
    }
    found.push(Finding {
        code: "comb-stretched",
        severity: Severity::Should,
        place: Place::item(item),
        message: say!(found::COMB_STRETCHED, item = &item.name, pitch = mm(pitch + off), comb = mm(pitch)),
        hint: say!(found::COMB_STRETCHED_HINT),
        mend: None,
    });
}

/// The pitch at which an item is set by a comb, and its kind.
fn laid_at(plan: &Plan, item: &Item) -> Option<(f64, KindId)> {
    if let Some(field) = item.field() {
        return (field.cells.pieces() > 0).then(|| (field.frame.pitch_along.to_mm(), field.kind));
    }
    let laid = laid(item).filter(|l| l.placed == Placing::Comb)?;
    let thickness = plan.stock.kind(laid.kind)?.thickness;
    Some((laid.spacing.pitch(thickness).to_mm(), laid.kind))
}

fn finding(plan: &Plan, item: &Item, (pitch, kind): (f64, KindId), pitches: &[f64]) -> Finding {
    let thickness = plan.stock.kind(kind).map_or(0.0, |k| k.thickness.to_mm());
    let fitting = pitches.iter().copied().filter(|p| *p >= thickness);
    let nearest = fitting.min_by(|a, b| (a - pitch).abs().total_cmp(&(b - pitch).abs()));
    let (hint, mend) = match nearest {
        None => (say!(found::COMB_MISSING_ADD), None),
        Some(p) => {
            let hint = say!(found::COMB_MISSING_NEAREST, nearest = mm(p), pitch = mm(pitch));
            (hint, mend(item, Length::mm(p)))
        }
    };
    Finding {
        code: "comb-missing",
        severity: Severity::Should,
        place: Place::item(item),
        message: say!(found::COMB_MISSING, item = &item.name, pitch = mm(pitch)),
        hint,
        mend,
    }
}

fn mend(item: &Item, pitch: Length) -> Option<Command> {
    let mut mended = item.clone();
    match &mut mended.body {
        Body::Field(f) => {
            let frame = FieldFrame { pitch_along: pitch, stagger: f.frame.stagger.min(pitch), ..f.frame };
            return Some(Command::SetFrame { id: item.id, frame });
        }
        Body::Line(l) => l.spacing = Spacing::Pitch { pitch },
        Body::Fill(f) => f.spacing = Spacing::Pitch { pitch },
        _ => return None,
    }
    Some(Command::PutItem { item: Box::new(mended) })
}
