//! Fields that are laid at a pitch for which there is no comb.

use plan::{Command, FieldFrame, GearKind, Item, Plan};
use units::Length;

use crate::finding::{Finding, Place, Severity, mm};

/// How far a comb's pitch may differ from that of a field, in mm: over a comb of 40 pieces it adds up to 2 mm.
const SLACK_MM: f64 = 0.05;

/// One finding for each field with pieces whose pitch along the fall no comb has.
pub(crate) fn check(plan: &Plan, found: &mut Vec<Finding>) {
    let mut pitches: Vec<f64> = plan
        .stock
        .gear
        .iter()
        .filter_map(|g| match &g.what {
            GearKind::Comb { pitch, .. } if g.count > 0 => Some(pitch.to_mm()),
            _ => None,
        })
        .collect();
    pitches.sort_by(f64::total_cmp);
    pitches.dedup();
    for item in &plan.items {
        let Some(field) = item.field().filter(|f| f.cells.pieces() > 0) else { continue };
        let pitch = field.frame.pitch_along.to_mm();
        if pitches.iter().all(|p| (p - pitch).abs() > SLACK_MM) {
            found.push(finding(plan, item, &field.frame, &pitches));
        }
    }
}

fn finding(plan: &Plan, item: &Item, frame: &FieldFrame, pitches: &[f64]) -> Finding {
    let pitch = frame.pitch_along.to_mm();
    let thickness = item.field().and_then(|f| plan.stock.kind(f.kind)).map_or(0.0, |k| k.thickness.to_mm());
    let fitting = pitches.iter().copied().filter(|p| *p >= thickness);
    let nearest = fitting.min_by(|a, b| (a - pitch).abs().total_cmp(&(b - pitch).abs()));
    let (hint, mend) = match nearest {
        None => {
            ("Add the combs that you have to the stock, or lay it by eye and measure often.".to_owned(), None)
        }
        Some(p) => {
            let pitch_along = Length::mm(p);
            let frame = FieldFrame { pitch_along, stagger: frame.stagger.min(pitch_along), ..*frame };
            let hint = format!("Lay it at {} as the nearest comb does, or add a comb to the stock.", mm(p));
            (hint, Some(Command::SetFrame { id: item.id, frame }))
        }
    };
    Finding {
        code: "comb-missing",
        severity: Severity::Should,
        place: Place::item(item),
        message: format!("{} is laid at {}, and there is no comb of that pitch.", item.name, mm(pitch)),
        hint,
        mend,
    }
}
