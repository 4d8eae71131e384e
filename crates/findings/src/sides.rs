//! Lanes that stand so close beside one another that one drags the other along.

use plan::{Body, Command, Item, Plan};
use sayings::{found, say};
use units::Length;

use crate::finding::{Finding, Place, Severity, mm};
use crate::lanes::scale;
use crate::shape::Shape;

/// Lanes are independent from this clear distance on, for usual pieces, mm: none of 360 runs at 2 to 4 mm lost a piece of
/// the lane beside, up to 9 of 10 did at 1 mm and less (own runs of a rigid-body model, 2026).
const LEAST: f64 = 2.0;

/// One finding for each field or line whose lanes stand closer side by side.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let (kind, lanes, across) = match &item.body {
        Body::Field(f) => (f.kind, f.frame.lanes, f.frame.pitch_across),
        Body::Line(l) => (l.kind, l.lanes, l.pitch_across),
        _ => return,
    };
    let Some(kind) = plan.stock.kind(kind) else { return };
    let least = LEAST * scale(plan, kind.id);
    let clear = across.to_mm() - kind.width.to_mm();
    if lanes < 2 || shape.len() == 0 || clear >= least - 1e-9 {
        return;
    }
    let wanted = Length::mm(kind.width.to_mm() + least);
    let mut wider = item.clone();
    match &mut wider.body {
        Body::Field(f) => f.frame.pitch_across = wanted,
        Body::Line(l) => l.pitch_across = wanted,
        _ => return,
    }
    let mend = match &wider.body {
        Body::Field(f) => Command::SetFrame { id: item.id, frame: f.frame },
        _ => Command::PutItem { item: Box::new(wider) },
    };
    let one_by_one = matches!(&item.body, Body::Field(f) if f.frame.course != plan::LaneCourse::Together);
    found.push(Finding {
        code: "lanes-close",
        severity: if clear < 0.0 || one_by_one { Severity::Should } else { Severity::Note },
        place: Place::item(item),
        message: say!(found::SIDES, item = &item.name, clear = mm(clear), least = mm(least)),
        hint: say!(found::SIDES_HINT, pitch = mm(wanted.to_mm())),
        mend: Some(mend),
    });
}
