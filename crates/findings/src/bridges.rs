//! Steps of bridges that a wave cannot climb.

use plan::{Body, Bridge, Command, Item, Plan};
use sayings::{found, say};
use units::Length;

use crate::finding::{Finding, Place, Severity, mm};
use crate::lanes::scale;
use crate::shape::Shape;

/// One step that every run climbed, for usual pieces, mm (27 of 27 runs; own runs of a rigid-body model, 2026).
const ALWAYS: f64 = 7.5;
/// The highest step that runs climbed, with two pieces on each step or more (18 of 18); with one piece a step, a clear
/// gap of 7.5 mm and a floor of 0.3 none did. Steps of 22.5 mm stopped 44 of 54 runs.
const WITH_TWO: f64 = 15.0;

/// One finding for each bridge with steps too high.
pub(crate) fn check(plan: &Plan, item: &Item, _: &Shape, found: &mut Vec<Finding>) {
    let Body::Line(line) = &item.body else { return };
    let scale = scale(plan, line.kind);
    for (i, bridge) in line.bridges.iter().enumerate() {
        // A bridge lower than its step has one step of its own height.
        let step = bridge.step.to_mm().min(bridge.height.to_mm());
        if step <= ALWAYS * scale + 1e-6 || step <= WITH_TWO * scale + 1e-6 && bridge.per_step >= 2 {
            continue;
        }
        found.push(finding(item, line.bridges.len(), i, bridge, (step, scale)));
    }
}

fn finding(item: &Item, of: usize, i: usize, bridge: &Bridge, (step, scale): (f64, f64)) -> Finding {
    let too_high = step > WITH_TWO * scale + 1e-6;
    let which = if of > 1 {
        say!(found::BRIDGE_NTH, number = i as u64 + 1, item = &item.name)
    } else {
        say!(found::BRIDGE_THE, item = &item.name)
    };
    let (severity, what) = if too_high {
        (Severity::Must, say!(found::BRIDGE_STOPS))
    } else {
        (Severity::Should, say!(found::BRIDGE_TWO, most = mm(ALWAYS * scale)))
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
