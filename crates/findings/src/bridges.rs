//! Steps of bridges that a wave cannot climb.

use fall::{Climb, climb};
use plan::{Body, Bridge, Command, Item, Plan};
use sayings::{Said, found, say};
use units::Length;

use crate::finding::{Finding, Place, Severity, mm};
use crate::lanes::scale;
use crate::shape::Shape;

/// A step that every run climbed, for usual pieces, mm (see [`climb`]).
const ALWAYS: f64 = 7.5;

/// One finding for each bridge with steps too high.
pub(crate) fn check(plan: &Plan, item: &Item, _: &Shape, found: &mut Vec<Finding>) {
    let Body::Line(line) = &item.body else { return };
    let scale = scale(plan, line.kind);
    let thick = plan.stock.kind(line.kind).map_or(Length::ZERO, |k| k.thickness);
    let gap = (line.spacing.pitch(thick) - thick).to_mm();
    for (i, bridge) in line.bridges.iter().enumerate() {
        // A bridge lower than its step has one step of its own height.
        let step = bridge.step.to_mm().min(bridge.height.to_mm());
        let two = bridge.per_step >= 2;
        let (severity, what) = match climb(step / scale, gap / scale) {
            Climb::Surely => continue,
            Climb::WithTwo if two => continue,
            Climb::WithTwo => (Severity::Should, say!(found::BRIDGE_TWO, most = mm(ALWAYS * scale))),
            Climb::Perhaps if two => (Severity::Should, say!(found::BRIDGE_PERHAPS)),
            Climb::Perhaps | Climb::Not => (Severity::Must, say!(found::BRIDGE_STOPS)),
        };
        found.push(finding(item, (i, line.bridges.len()), bridge, (step, scale), (severity, what)));
    }
}

fn finding(
    item: &Item,
    (i, of): (usize, usize),
    bridge: &Bridge,
    (step, scale): (f64, f64),
    (severity, what): (Severity, Said),
) -> Finding {
    let which = if of > 1 {
        say!(found::BRIDGE_NTH, number = i as u64 + 1, item = &item.name)
    } else {
        say!(found::BRIDGE_THE, item = &item.name)
    };
    let mut mended = item.clone();
    if let Body::Line(line) = &mut mended.body {
        line.bridges[i].step = Length::mm(ALWAYS * scale);
    }
    Finding {
        code: "bridge-steep",
        severity,
        place: Place::item(item),
        message: say!(found::BRIDGE, bridge = which, step = mm(step), n = bridge.per_step, what = what),
        hint: say!(found::BRIDGE_HINT, step = mm(ALWAYS * scale)),
        mend: Some(Command::PutItem { item: Box::new(mended) }),
    }
}
