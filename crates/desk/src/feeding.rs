//! How to feed a field: each way judged by the fall itself, and the items that lay one.
//!
//! The judgement is that of the network and the wave, as for the plan: the feed stands before lanes that are all full, on the
//! floor, surface and pitch of the field, and a running line leads to it.

use fall::{Ask, Fall, Network, STANDS_US, run};
use placement::{Advice, Means, Placement, Works};
use plan::{
    Body, ColourId, Command, EMPTY, Feed, Field, FieldFrame, Hand, Item, ItemId, LaneCourse, Link, Plan,
    Start,
};
use sayings::{Said, feeding, say};
use units::{Angle, Duration, Length};

/// More lanes than this show nothing new, and ranks behind the first ones fall like them.
const LANES: u32 = 40;
/// See [`LANES`].
const RANKS: u32 = 8;
/// Pieces of the line that leads to the feed: it runs steadily by then.
const LEAD: u32 = 20;
/// The first pieces of that line that are pushed together, so that it runs on uphill as well.
const PUSHED: u32 = 3;
/// Where a line leads to at a feed, and at a field whose lanes fall in turn.
const ENTRY: &str = "entry";
/// See [`ENTRY`].
const FIRST_LANE: &str = "lane 1";
/// The field in the plan that is tried.
const FIELD: ItemId = ItemId(1);

/// The ways to feed a field, for a line that comes from this side, seen along the fall; best first. Empty when the item is no
/// field.
pub fn feed_ways(plan: &Plan, item: &Item, side: Hand) -> Vec<Advice> {
    placement::feed_ways(plan, item, side, &|field, feed| judged(&tried(plan, item, field, feed)))
}

/// The steps that lay a way of feeding: another course of the lanes where it takes one, and a feed for each edge at which lanes
/// begin.
pub fn feed_steps(plan: &Plan, of: &Item, advice: &Advice, colour: ColourId) -> Vec<Command> {
    let Body::Field(field) = &of.body else { return Vec::new() };
    let mut field = field.clone();
    let mut steps = Vec::new();
    if let Means::Course(course) = advice.means
        && field.frame.course != course
    {
        field.frame.course = course;
        let body = Body::Field(field.clone());
        steps.push(Command::PutItem { item: Box::new(Item { body, ..of.clone() }) });
    }
    let feeds =
        feeds(plan, of, &field, advice.feed.map(|way| placement::feed_of(plan, &field, of.id, way, colour)));
    steps.extend(feeds.into_iter().map(|item| Command::PutItem { item: Box::new(item) }));
    steps
}

/// The feed items for all edges at which lanes of the field begin.
fn feeds(plan: &Plan, of: &Item, field: &Field, feed: Option<Feed>) -> Vec<Item> {
    let Some(feed) = feed else { return Vec::new() };
    let opposed = field.frame.course == LaneCourse::Opposed && field.frame.lanes > 1;
    let edges: &[(&str, f64)] = match opposed {
        true => &[(" feed", 0.0), (" feed, far edge", 180.0)],
        false => &[(" feed", 0.0)],
    };
    let one = |(i, (suffix, turn)): (u32, &(&str, f64))| Item {
        heading: of.heading + Angle::deg(*turn),
        surface: of.surface,
        section: of.section,
        ..Item::new(
            ItemId(plan.fresh_id().saturating_add(i)),
            free_name(plan, &format!("{}{suffix}", of.name)),
            of.at,
            Body::Feed(feed),
        )
    };
    (0..).zip(edges).map(one).collect()
}

fn free_name(plan: &Plan, wish: &str) -> String {
    let taken = |name: &str| plan.item_by_name(name).is_some();
    let numbered = (2..=plan.items.len() + 2).map(|i| format!("{wish} {i}"));
    std::iter::once(wish.to_owned()).chain(numbered).find(|n| !taken(n)).unwrap_or_else(|| wish.to_owned())
}

/// The plan in which a feed is tried: the field with full lanes, the feed, and a line to each of its entries.
fn tried(plan: &Plan, item: &Item, field: &Field, feed: Option<&Feed>) -> Plan {
    let mut tried = Plan::default();
    tried.surfaces.clone_from(&plan.surfaces);
    tried.stock.kinds.clone_from(&plan.stock.kinds);
    tried.stock.gear.clone_from(&plan.stock.gear);
    tried.hall.grip = plan.hall.grip;
    tried.hall.timed.clone_from(&plan.hall.timed);
    let f = &field.frame;
    let frame = FieldFrame { lanes: f.lanes.min(LANES), ranks: f.ranks.min(RANKS), ..*f };
    let full = full(field.kind, frame);
    let of = Item {
        heading: item.heading,
        surface: item.surface,
        ..Item::new(FIELD, String::new(), item.at, Body::Field(full.clone()))
    };
    tried.items.push(of.clone());
    let mut feeds = feeds(&tried, &of, &full, feed.map(|feed| Feed { of: FIELD, ..*feed }));
    (FIELD.0 + 1..).zip(&mut feeds).for_each(|(id, feed)| feed.id = ItemId(id));
    let led = if feeds.is_empty() { vec![of] } else { feeds.clone() };
    tried.items.extend(feeds);
    for item in &led {
        let port = if feed.is_some() { ENTRY } else { FIRST_LANE };
        let link = Link { item: item.id, port: port.into() };
        if let Some(entry) = placement::port(&tried, &link) {
            lead_to(&mut tried, item, &entry, field);
        }
    }
    tried
}

fn full(kind: plan::KindId, frame: FieldFrame) -> Field {
    let mut field = Field::empty(kind, frame);
    let colour = EMPTY.wrapping_add(1);
    field.cells = vec![colour; frame.len()].into();
    field
}

/// A line that leads straight to a port, and the pushes that start it.
fn lead_to(plan: &mut Plan, item: &Item, entry: &placement::PortPlace, field: &Field) {
    let pitch = placement::feed_pitch(plan, field);
    let (sin, cos) = entry.heading.sin_cos();
    let behind = |way: f64| geometry::Point::new(entry.at.x - way * cos, entry.at.y - way * sin);
    let mut put = |at, body| {
        let id = ItemId(plan.items.len() as u32 + 1);
        let put =
            Item { heading: entry.heading, surface: item.surface, ..Item::new(id, String::new(), at, body) };
        plan.items.push(put);
    };
    let frame = FieldFrame::new(1, LEAD, pitch, field.frame.pitch_across);
    let start = |i: u32| f64::from(LEAD - i) * pitch.to_mm();
    put(behind(start(0)), Body::Field(full(field.kind, frame)));
    for i in 0..PUSHED {
        let push = Start { width: Length::mm(1.0), after: Duration::ZERO };
        put(behind(start(i)), Body::Start(push));
    }
}

/// How surely the fall reaches every lane of the field.
fn judged(plan: &Plan) -> (Works, Said) {
    let network = Network::of(plan, &Placement::of(plan));
    let fall = |unsure_passes| {
        let ask = Ask { unsure_passes, ..Ask::default() };
        run(plan, &network, &ask, &|_| true).unwrap_or_default()
    };
    let (surely, at_most) = (standing_lanes(&network, &fall(false)), standing_lanes(&network, &fall(true)));
    let lanes = plan.items.first().and_then(Item::field).map_or(0, |f| f.frame.lanes);
    match (surely, at_most) {
        (0, _) => (Works::Sure, say!(feeding::FALLS)),
        (n, 0) => (Works::Unsure, say!(feeding::FALLS_PERHAPS, n = n, lanes = lanes)),
        (_, n) => (Works::No, say!(feeding::FALLS_NOT, n = n, lanes = lanes)),
    }
}

/// Lanes of the field in which some piece stands.
fn standing_lanes(network: &Network, fall: &Fall) -> u32 {
    let (Some(pieces), Some(first)) = (network.pieces_of(FIELD), network.index().first(FIELD)) else {
        return 0;
    };
    let times = &fall.hit_us[first as usize..];
    let mut stand: Vec<u32> =
        pieces.lane.iter().zip(times).filter(|(_, hit)| **hit == STANDS_US).map(|(lane, _)| *lane).collect();
    stand.dedup();
    stand.len() as u32
}
