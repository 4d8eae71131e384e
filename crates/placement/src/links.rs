//! Lines that carry on from or lead to one another: which course follows from which, and what to do about rings.
//!
//! Where a line starts follows from its link `from`, where it ends from its start and its link `to`. A line carries on
//! only where the fall goes out and leads only to where it comes in; other links count as not there. Links that close a
//! ring, so that a place would follow from itself, count as not there; which ones these are does not depend on where the
//! search begins, since all links within a strongly connected part are void.

use std::collections::BTreeMap;
use std::sync::Arc;

use geometry::Vector;
use plan::{Body, Item, ItemId, Line, Link, Plan, PortFlow};

use crate::course::{Course, Footing};
use crate::ports::{course_flow, course_port, known_port};
use crate::rings::strong_parts;

/// The courses of some items by id; an item without one has no path, as a fill that does not fit.
pub(crate) type Courses = BTreeMap<ItemId, Option<Arc<Course>>>;

/// The items that an item follows.
pub(crate) fn follows(item: &Item) -> impl Iterator<Item = ItemId> {
    let (line, feed) = match &item.body {
        Body::Line(line) => (Some(line), None),
        Body::Feed(feed) => (None, Some(feed.of)),
        _ => (None, None),
    };
    links(line).map(|l| l.item).chain(feed)
}

fn links(line: Option<&Line>) -> impl Iterator<Item = &Link> {
    line.into_iter().flat_map(|l| l.from.iter().chain(&l.to))
}

/// True for items with a course.
pub(crate) fn has_course(item: &Item) -> bool {
    matches!(item.body, Body::Line(_) | Body::Fill(_))
}

/// How the surface of an item rises to the east and to the north.
fn grade(plan: &Plan, item: &Item) -> Vector {
    plan.surface(item.surface).map_or(Vector { x: 0.0, y: 0.0 }, plan::Surface::grade)
}

/// The courses of an item and of all that it follows.
pub(crate) fn courses_for(plan: &Plan, first: &[ItemId]) -> Courses {
    let mut wanted: BTreeMap<ItemId, &Item> = BTreeMap::new();
    let mut open: Vec<ItemId> = first.to_vec();
    while let Some(id) = open.pop() {
        let Some(item) = plan.item(id).filter(|i| has_course(i)) else { continue };
        if wanted.insert(id, item).is_none() {
            open.extend(follows(item));
        }
    }
    resolve(plan, &wanted.into_values().collect::<Vec<_>>(), &|_| None)
}

/// The courses of `items`, which are sorted by id; those of others that they follow come from `known`. Whoever follows
/// one of `items` must be among them as well.
pub(crate) fn resolve(
    plan: &Plan,
    items: &[&Item],
    known: &dyn Fn(ItemId) -> Option<Arc<Course>>,
) -> Courses {
    let places = Places::of(items);
    let (order, parts) = parts(&places.follows);
    let mut starts: Vec<Option<Footing>> = vec![None; items.len()];
    let mut courses: Courses = BTreeMap::new();
    for node in order {
        let (i, is_end) = (node / 2, node % 2 == 1);
        let item = items[i];
        // The other end of a link that does not close a ring was found before.
        let follow = |link: &Link, flow: PortFlow| {
            let other = places.node(link, flow);
            if other.is_some_and(|other| parts[other] == parts[node]) {
                return None;
            }
            match other {
                Some(other) => {
                    let end = courses.get(&link.item).and_then(|c| c.as_deref().map(Course::end));
                    course_port(&link.port, starts[other / 2], end)
                }
                None => {
                    let port = known_port(plan, link, known).filter(|p| p.flow == flow);
                    port.map(|p| (p.at, p.heading))
                }
            }
        };
        match (&item.body, is_end) {
            (Body::Line(line), false) => {
                let own = (item.stands().origin, item.bearing());
                starts[i] = Some(line.from.as_ref().and_then(|l| follow(l, PortFlow::Out)).unwrap_or(own));
            }
            (Body::Line(line), true) => {
                let own = (item.stands().origin, item.bearing());
                let target = line.to.as_ref().and_then(|l| follow(l, PortFlow::In));
                let course = Course::of_line(item, line, &plan.stock, starts[i].unwrap_or(own), target)
                    .on_slope(grade(plan, item), target.is_some());
                courses.insert(item.id, Some(Arc::new(course)));
            }
            (Body::Fill(fill), false) => {
                let course = Course::of_fill(item, fill, &plan.stock).ok();
                let course = course.map(|c| Arc::new(c.on_slope(grade(plan, item), false)));
                starts[i] = course.as_ref().map(|c| c.start());
                courses.insert(item.id, course);
            }
            _ => {}
        }
    }
    courses
}

/// The starts (2 i) and ends (2 i + 1) of items, and what each follows from.
struct Places<'a> {
    items: &'a [&'a Item],
    follows: Vec<Vec<usize>>,
}

impl<'a> Places<'a> {
    fn of(items: &'a [&'a Item]) -> Self {
        let mut places = Self { items, follows: Vec::new() };
        for (i, item) in items.iter().enumerate() {
            let (mut start, mut end) = (Vec::new(), vec![2 * i]);
            if let Body::Line(line) = &item.body {
                start.extend(line.from.as_ref().and_then(|l| places.node(l, PortFlow::Out)));
                end.extend(line.to.as_ref().and_then(|l| places.node(l, PortFlow::In)));
            }
            places.follows.extend([start, end]);
        }
        places
    }

    /// The place that a link names, if it is among these and the fall goes that way there.
    fn node(&self, link: &Link, flow: PortFlow) -> Option<usize> {
        let i = self.items.binary_search_by_key(&link.item, |item| item.id).ok()?;
        (course_flow(&link.port)? == flow).then_some(2 * i + usize::from(flow == PortFlow::Out))
    }
}

/// The nodes in such an order that each comes after all that it follows from, and the part of each: nodes that follow
/// from one another in a ring are in the same part, starts before ends.
fn parts(follows: &[Vec<usize>]) -> (Vec<usize>, Vec<u32>) {
    let part = strong_parts(follows.len(), |v| &follows[v], |w| w);
    let mut order: Vec<usize> = (0..follows.len()).collect();
    order.sort_unstable_by_key(|&v| (part[v], v % 2, v));
    (order, part)
}
