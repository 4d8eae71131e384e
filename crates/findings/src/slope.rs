//! Slopes on which pieces do not stand by themselves, or slide, and starts that push uphill.

use fall::Network;
use geometry::Point;
use plan::{Command, Item, Plan, Slope, Surface};
use sayings::{found, say};
use units::{Angle, maths};

use crate::finding::{Finding, Place, Severity, about, tenths};
use crate::shape::Shape;
use crate::tally::Tally;

/// Up to this share of the slope at which a piece tips, all lines of measured runs stood until they were pushed: 8° of
/// 8.88° for the usual piece; at 10° all fell unasked (198 own runs of rigid bodies, `ramp.csv` of crate `fall`).
const STOOD: f64 = 8.0 / 8.880_659;
/// Pieces that stand on too steep a slope: the figure is the slope under them over the one at which they tip.
type Steep = Tally<Worst>;

/// The worst of them.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Worst {
    at: Point,
    /// The slope at which it tips, degrees.
    tips: f64,
    /// Size in the direction in which it tips, and height, mm.
    size: (f64, f64),
}

/// At most one finding about pieces that tip on the slope of an item's surface, and one about those that slide.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let Some(surface) = plan.surface(item.surface).filter(|s| !s.slope.is_level()) else { return };
    let grade = surface.grade();
    let degrees = |rise: f64| maths::atan2(rise.abs(), 1.0).to_degrees();
    let (mut steep, mut near): (Option<Steep>, Option<Steep>) = (None, None);
    for i in 0..shape.len() {
        let piece = shape.solid(i);
        let side = |rise: f64, half: f64| {
            let tips = maths::atan2(2.0 * half, piece.size.high).to_degrees();
            (degrees(rise) / tips, Worst { at: piece.at, tips, size: (2.0 * half, piece.size.high) })
        };
        let along = side(grade.dot(piece.along), piece.size.half_thick);
        let across = side(grade.dot(piece.left()), piece.size.half_wide);
        let (figure, worst) = if along.0 >= across.0 { along } else { across };
        match figure {
            f if f > 1.0 => Tally::add(&mut steep, shape, i, figure, worst),
            f if f > STOOD + 1e-6 => Tally::add(&mut near, shape, i, figure, worst),
            _ => {}
        }
    }
    let worst = steep.map(|t| (t, Severity::Must)).or(near.map(|t| (t, Severity::Should)));
    found.extend(worst.map(|(t, severity)| too_steep(item, surface, &t, severity)));
    let grip = plan.hall.grip.floor;
    if shape.len() > 0 && maths::tan(surface.slope.rise.to_rad()) > grip.0.min(grip.1) {
        found.push(slides(item, surface, grip.0.min(grip.1)));
    }
}

fn too_steep(item: &Item, surface: &Surface, steep: &Steep, severity: Severity) -> Finding {
    let worst = steep.worst;
    let (size, high) = worst.size;
    let degrees = steep.figure * worst.tips;
    // In the same direction, as steep as lines were seen to stand, down to a tenth of a degree.
    let rise = surface.slope.rise.to_deg();
    let lower = (rise * STOOD / steep.figure * 10.0 + 1e-6).floor() / 10.0;
    let (item_is, surface_is) = (&item.name, &surface.name);
    let message = match severity {
        Severity::Must => say!(
            found::STEEP,
            n = steep.count,
            item = item_is,
            surface = surface_is,
            slope = tenths(degrees),
            thick = about(size),
            high = about(high),
            tips = tenths(worst.tips)
        ),
        _ => say!(
            found::STEEP_NEAR,
            n = steep.count,
            item = item_is,
            surface = surface_is,
            slope = tenths(degrees),
            thick = about(size),
            high = about(high),
            tips = tenths(worst.tips)
        ),
    };
    let slope = Slope { rise: Angle::deg(lower), ..surface.slope };
    let mended = Surface { slope, ..surface.clone() };
    Finding {
        code: "slope-steep",
        severity,
        place: steep.place(item, worst.at),
        message,
        hint: say!(found::STEEP_HINT, surface = surface_is, slope = tenths(lower)),
        mend: Some(Command::PutSurface { surface: mended }),
    }
}

fn slides(item: &Item, surface: &Surface, grip: f64) -> Finding {
    let holds = maths::atan2(grip, 1.0).to_degrees();
    Finding {
        code: "slope-slick",
        severity: Severity::Should,
        place: Place::item(item),
        message: say!(
            found::SLICK,
            item = &item.name,
            surface = &surface.name,
            slope = tenths(surface.slope.rise.to_deg()),
            holds = tenths(holds)
        ),
        hint: say!(found::SLICK_HINT),
        mend: None,
    }
}

/// Starts whose first push goes uphill and may die out after a piece or two.
pub(crate) fn starts(plan: &Plan, network: &Network, found: &mut Vec<Finding>) {
    for push in network.starts() {
        let Some(start) = plan.item(push.item) else { continue };
        let Some(state) = push.dies.first() else { continue };
        found.push(Finding {
            code: "start-uphill",
            severity: Severity::Should,
            place: Place::item(start).at(start.stands().origin),
            message: say!(found::UPHILL, item = &start.name, slope = tenths(-network.slope(*state))),
            hint: say!(found::UPHILL_HINT),
            mend: None,
        });
    }
}
