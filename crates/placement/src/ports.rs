//! Ports in the hall: where the fall enters and leaves an item, as it really stands.

use std::sync::Arc;

use geometry::{Frame, Point};
use plan::{Body, Field, Item, ItemId, LaneCourse, Link, Placeholder, Plan, PortFlow};
use units::Angle;

use crate::course::{Course, Footing};
use crate::links::{Courses, courses_for, has_course};

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

/// How far to the side of a line's end another line begins or ends, in mm: two branches are then 30 mm apart, and lines
/// 26 to 44 mm apart were measured to split and to join.
const BRANCH_MM: f64 = 15.0;

/// The ports of a line or a fill, with how far to the left of its path they lie.
const COURSE_PORTS: [(&str, PortFlow, f64); 6] = [
    ("start", PortFlow::In, 0.0),
    ("end", PortFlow::Out, 0.0),
    ("start left", PortFlow::In, BRANCH_MM),
    ("start right", PortFlow::In, -BRANCH_MM),
    ("end left", PortFlow::Out, BRANCH_MM),
    ("end right", PortFlow::Out, -BRANCH_MM),
];

/// All ports of an item. Those of lines follow from all that they are linked to; who asks for many of them asks
/// [`crate::Placement::ports`].
pub fn ports(plan: &Plan, item: &Item) -> Vec<PortPlace> {
    let courses = courses_of(plan, item);
    ports_with(plan, item, &|id| courses.get(&id).cloned().flatten())
}

/// The port that a link names; `None` when there is none of that name.
pub fn port(plan: &Plan, link: &Link) -> Option<PortPlace> {
    let courses = courses_of(plan, plan.item(link.item)?);
    known_port(plan, link, &|id| courses.get(&id).cloned().flatten())
}

fn courses_of(plan: &Plan, item: &Item) -> Courses {
    if has_course(item) { courses_for(plan, &[item.id]) } else { Courses::new() }
}

/// All ports of an item, where the courses are known.
pub(crate) fn ports_with(
    plan: &Plan,
    item: &Item,
    course: &dyn Fn(ItemId) -> Option<Arc<Course>>,
) -> Vec<PortPlace> {
    let base = base(plan, item);
    let mut ports = match &item.body {
        Body::Field(f) => field_ports(plan, item, f, base),
        Body::Placeholder(p) => placeholder_ports(item, p, base),
        Body::Feed(f) => crate::feed::feed_ports(plan, item, f),
        Body::Line(_) | Body::Fill(_) => course(item.id).map_or_else(Vec::new, |c| course_ports(&c, base)),
        _ => Vec::new(),
    };
    raised(plan, item, &mut ports);
    ports
}

/// The port that a link names, where the courses are known.
pub(crate) fn known_port(
    plan: &Plan,
    link: &Link,
    course: &dyn Fn(ItemId) -> Option<Arc<Course>>,
) -> Option<PortPlace> {
    let item = plan.item(link.item)?;
    if let Body::Field(field) = &item.body
        && let Some(lane) = lane_number(&link.port)
    {
        // A field may have very many lanes; only the one that was asked for is made.
        let ports = Lanes::of(plan, item, field, base(plan, item));
        let lane = Some(lane).filter(|&lane| lane < field.frame.lanes)?;
        let mut of_lane = ports.of_lane(lane);
        raised(plan, item, &mut of_lane);
        return of_lane.into_iter().find(|p| p.name == link.port);
    }
    ports_with(plan, item, course).into_iter().find(|p| p.name == link.port)
}

/// The lane that `lane 3` or `lane 3 end` names, from 0.
fn lane_number(port: &str) -> Option<u32> {
    let number = port.strip_prefix("lane ")?;
    number.strip_suffix(" end").unwrap_or(number).parse::<u32>().ok()?.checked_sub(1)
}

/// Height of the surface of an item, of its lowest corner when it slopes.
fn base(plan: &Plan, item: &Item) -> f64 {
    plan.surface(item.surface).map_or(0.0, |s| s.height.to_mm())
}

/// Lifts ports that were found at the [`base`] by how much the surface rises up to them.
fn raised(plan: &Plan, item: &Item, ports: &mut [PortPlace]) {
    let Some(surface) = plan.surface(item.surface).filter(|s| !s.slope.is_level()) else { return };
    ports.iter_mut().for_each(|p| p.height += surface.height_at(p.at) - surface.height.to_mm());
}

/// Whether the fall comes in or goes out at a port of a line or a fill; `None` when they have none of that name.
pub(crate) fn course_flow(name: &str) -> Option<PortFlow> {
    COURSE_PORTS.iter().find(|p| p.0 == name).map(|p| p.1)
}

/// The place of a port of a line or a fill that starts and ends there.
pub(crate) fn course_port(name: &str, start: Option<Footing>, end: Option<Footing>) -> Option<Footing> {
    let &(_, flow, left) = COURSE_PORTS.iter().find(|p| p.0 == name)?;
    let (at, heading) = if flow == PortFlow::In { start? } else { end? };
    Some((Frame::new(at, heading).at(0.0, left), heading))
}

fn course_ports(course: &Course, base: f64) -> Vec<PortPlace> {
    let last = course.ranks().saturating_sub(1);
    let place = |&(name, flow, _): &(&str, PortFlow, f64)| {
        let (at, heading) = course_port(name, Some(course.start()), Some(course.end()))?;
        let rank = if flow == PortFlow::In { 0 } else { last };
        let height = base + course.height(rank);
        Some(PortPlace { name: name.into(), flow, at, heading, height, width: course.width() })
    };
    COURSE_PORTS.iter().filter_map(place).collect()
}

/// `entry` and `end` over all lanes, and `lane n` and `lane n end` for each. A lane that falls the other way is entered
/// at its last rank.
fn field_ports(plan: &Plan, item: &Item, field: &Field, base: f64) -> Vec<PortPlace> {
    let lanes = Lanes::of(plan, item, field, base);
    let f = &field.frame;
    let middle = f64::from(f.lanes.saturating_sub(1)) * f.pitch_across.to_mm() / 2.0;
    let all = f64::from(f.lanes) * f.pitch_across.to_mm();
    let place =
        |name: &str, flow, u| PortPlace { width: all, ..lanes.place(name.into(), flow, (u, middle), false) };
    let mut ports = vec![place("entry", PortFlow::In, 0.0), place("end", PortFlow::Out, lanes.end)];
    ports.extend((0..f.lanes).flat_map(|lane| lanes.of_lane(lane)));
    ports
}

/// The lanes of a field, for their ports.
struct Lanes<'a> {
    field: &'a Field,
    frame: Frame,
    heading: Angle,
    width: f64,
    /// Where the rank after the last one would stand, along the fall.
    end: f64,
    base: f64,
}

impl<'a> Lanes<'a> {
    fn of(plan: &Plan, item: &Item, field: &'a Field, base: f64) -> Self {
        let f = &field.frame;
        let width = plan.stock.kind(field.kind).map_or(f.pitch_across.to_mm(), |k| k.width.to_mm());
        let end = f64::from(f.ranks) * f.pitch_along.to_mm();
        Self { field, frame: item.stands(), heading: item.bearing(), width, end, base }
    }

    fn of_lane(&self, lane: u32) -> [PortPlace; 2] {
        let f = &self.field.frame;
        let (along, v) = (f.pitch_along.to_mm(), f64::from(lane) * f.pitch_across.to_mm());
        let shift = if lane % 2 == 1 { f.stagger.to_mm() } else { 0.0 };
        let back = lane % 2 == 1 && f.course != LaneCourse::Together;
        let (first, next) =
            if back { (self.end - along + shift, -along + shift) } else { (shift, self.end + shift) };
        [
            self.place(format!("lane {}", lane + 1), PortFlow::In, (first, v), back),
            self.place(format!("lane {} end", lane + 1), PortFlow::Out, (next, v), back),
        ]
    }

    fn place(&self, name: String, flow: PortFlow, (u, v): (f64, f64), back: bool) -> PortPlace {
        let heading = if back { self.heading + Angle::deg(180.0) } else { self.heading };
        PortPlace { name, flow, at: self.frame.at(u, v), heading, height: self.base, width: self.width }
    }
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
