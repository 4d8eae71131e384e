//! Ports in the hall: where the fall enters and leaves an item, as it really stands.

use geometry::{Frame, Point};
use plan::{Body, Field, Item, LaneCourse, Link, Placeholder, Plan, PortFlow};
use units::Angle;

/// A port in the hall.
#[derive(Debug, Clone, PartialEq)]
pub struct PortPlace {
    /// Its name within the item.
    pub name: String,
    /// In or out.
    pub flow: PortFlow,
    /// In: the centre of the first piece. Out: where the centre of the next piece would stand.
    pub at: Point,
    /// In which direction the fall runs there.
    pub heading: Angle,
    /// Height above the floor of what the piece stands on there, mm.
    pub height: f64,
    /// How wide the port is across the fall, mm.
    pub width: f64,
}

/// All ports of an item.
pub fn ports(plan: &Plan, item: &Item) -> Vec<PortPlace> {
    let base = plan.surfaces.iter().find(|s| s.id == item.surface).map_or(0.0, |s| s.height.to_mm());
    match &item.body {
        Body::Field(f) => field_ports(plan, item, f, base),
        Body::Placeholder(p) => placeholder_ports(item, p, base),
        Body::Feed(f) => crate::feed::feed_ports(plan, item, f),
        _ => Vec::new(),
    }
}

/// The port that a link names; `None` when there is none of that name.
pub fn port(plan: &Plan, link: &Link) -> Option<PortPlace> {
    let item = plan.item(link.item)?;
    ports(plan, item).into_iter().find(|p| p.name == link.port)
}

/// `entry` and `end` over all lanes, and `lane n` and `lane n end` for each. A lane that falls the other way is entered
/// at its last rank.
fn field_ports(plan: &Plan, item: &Item, field: &Field, base: f64) -> Vec<PortPlace> {
    let frame = item.stands();
    let f = &field.frame;
    let (along, across) = (f.pitch_along.to_mm(), f.pitch_across.to_mm());
    let width = plan.stock.kind(field.kind).map_or(across, |k| k.width.to_mm());
    let heading = item.bearing();
    let place = |name: String, flow, u: f64, v: f64, width: f64, heading| PortPlace {
        name,
        flow,
        at: frame.at(u, v),
        heading,
        height: base,
        width,
    };
    let middle = f64::from(f.lanes.saturating_sub(1)) * across / 2.0;
    let all = f64::from(f.lanes) * across;
    let end = f64::from(f.ranks) * along;
    let mut ports = vec![
        place("entry".into(), PortFlow::In, 0.0, middle, all, heading),
        place("end".into(), PortFlow::Out, end, middle, all, heading),
    ];
    for lane in 0..f.lanes {
        let v = f64::from(lane) * across;
        let shift = if lane % 2 == 1 { f.stagger.to_mm() } else { 0.0 };
        let back = lane % 2 == 1 && f.course != LaneCourse::Together;
        let (first, next, h) = if back {
            (end - along + shift, -along + shift, heading + Angle::deg(180.0))
        } else {
            (shift, end + shift, heading)
        };
        ports.push(place(format!("lane {}", lane + 1), PortFlow::In, first, v, width, h));
        ports.push(place(format!("lane {} end", lane + 1), PortFlow::Out, next, v, width, h));
    }
    ports
}

fn placeholder_ports(item: &Item, p: &Placeholder, base: f64) -> Vec<PortPlace> {
    let frame: Frame = item.stands();
    let heading = item.bearing();
    let place = |port: &plan::Port| PortPlace {
        name: port.name.clone(),
        flow: port.flow,
        at: frame.at(port.at.x, port.at.y),
        heading: heading + port.direction,
        height: base + port.height.to_mm(),
        width: port.width.to_mm(),
    };
    p.ports.iter().map(place).collect()
}
