//! What the wave does not reach: whole items, lanes and runs; and what hangs on passages that may fail.

use fall::Network;
use geometry::Point;
use placement::Pieces;
use plan::{Body, Command, Item, ItemId, Plan};
use std::collections::BTreeMap;

use crate::finding::{Finding, Place, Severity, about, grouped, nth, so_many};
use crate::reached::{Fate, Reached};
use crate::seen::{Seen, lane_ends};
use crate::shape::Bounds;

/// An item whose first pieces stand this far ahead of where a lane ends was meant to be fed by it, mm.
const MEANT: f64 = 300.0;
/// To this clear gap it is closed, for usual pieces, mm: the usual comb of 15 mm leaves it.
const CLOSE: f64 = 7.5;
/// So many items that stand are asked what they are too far from.
const ASKED: usize = 200;
/// More ranges of lanes than this are told as one.
const RANGES: usize = 4;

/// Findings about starts that push nothing, fronts that meet, parts that nothing feeds, and passages that may fail.
pub(crate) fn check(
    plan: &Plan,
    (network, reached): (&Network, &Reached),
    seen: &BTreeMap<ItemId, Seen<'_>>,
    found: &mut Vec<Finding>,
) {
    if network.starts().is_empty() {
        return;
    }
    for push in network.starts().iter().filter(|p| p.states.is_empty()) {
        found.extend(plan.item(push.item).map(idle));
    }
    for ((a, b), piece) in &reached.meetings {
        found.extend(meeting(plan, network, (*a, *b), *piece));
    }
    if let Some(&first) = reached.unsure.first() {
        found.extend(unsure(plan, network, reached, first));
    }
    let (mut asked, feeds) = (0, feeds(plan));
    for item in &plan.items {
        let fates = reached.of_item(network, item.id);
        if let Some(pieces) = network.pieces_of(item.id).filter(|_| fates.contains(&Fate::Stands)) {
            let all_stand = fates.iter().all(|f| *f == Fate::Stands);
            // Each of these looks at all items; more would not be told anyway.
            asked += usize::from(all_stand);
            match seen.get(&item.id).filter(|_| all_stand && asked <= ASKED).and_then(|s| too_far(s, seen)) {
                Some(finding) => found.push(finding),
                None => unfed((&feeds, item), (pieces, fates), found),
            }
        }
    }
}

fn idle(start: &Item) -> Finding {
    Finding {
        code: "start-idle",
        severity: Severity::Must,
        place: Place::item(start).at(start.stands().origin),
        message: format!("{} pushes nothing: no piece stands within 48\u{a0}mm before it.", start.name),
        hint: "Move it before the first piece, and turn it along the fall.".into(),
        mend: None,
    }
}

/// The item of a piece, the place of the piece, and its lane and rank.
fn where_is<'a>(plan: &'a Plan, network: &Network, piece: u32) -> Option<(&'a Item, Point, (u32, u32))> {
    let (item, local) = network.index().piece(piece)?;
    let pieces = network.pieces_of(item)?;
    let i = local as usize;
    Some((plan.item(item)?, Point::new(pieces.x[i], pieces.y[i]), (pieces.lane[i], pieces.rank[i])))
}

fn meeting(plan: &Plan, network: &Network, (a, b): (ItemId, ItemId), piece: u32) -> Option<Finding> {
    let (item, at, (lane, rank)) = where_is(plan, network, piece)?;
    let name = |id: ItemId| plan.item(id).map(|i| i.name.clone());
    Some(Finding {
        code: "starts-meet",
        severity: Severity::Note,
        place: Place::item(item).at(at).lanes(lane, lane).ranks(rank, rank),
        message: format!(
            "What {} and {} start meets in {}, about rank {}.",
            name(a)?,
            name(b)?,
            item.name,
            nth(rank)
        ),
        hint: "Nothing is lost; move a start or its time if they are to meet elsewhere.".into(),
        mend: None,
    })
}

fn unsure(plan: &Plan, network: &Network, reached: &Reached, first: u32) -> Option<Finding> {
    let (item, at, (lane, rank)) = where_is(plan, network, first)?;
    Some(Finding {
        code: "fall-unsure",
        severity: Severity::Should,
        place: Place::item(item).at(at).lanes(lane, lane).ranks(rank, rank),
        message: format!(
            "{} on {} that may fail; the first leads to {}, lane {}, rank {}.",
            so_many(reached.perhaps, "piece hangs", "pieces hang"),
            so_many(reached.unsure.len() as u64, "passage", "passages"),
            item.name,
            nth(lane),
            nth(rank),
        ),
        hint: "Close the gap or lessen the turn there, or try it out on this floor.".into(),
        mend: None,
    })
}

/// Lanes of an item of which no piece falls, and what else of it stands.
#[derive(Default)]
struct Standing {
    /// Ranges of lanes of which all stand, from 0, with how many pieces.
    lanes: Vec<(u32, u32, u64)>,
    /// Lanes that are not fed in all.
    count: u64,
    /// In lanes of which some fall: pieces that stand, and the first of them.
    rest: u64,
    runs: u64,
    first: Option<usize>,
    last: usize,
    /// True when some piece of the item falls.
    some_fall: bool,
}

impl Standing {
    fn of(pieces: &Pieces, fates: &[Fate]) -> Self {
        let mut all = Self::default();
        let mut from = 0;
        while from < fates.len() {
            let lane = pieces.lane[from];
            let end = from + pieces.lane[from..].partition_point(|&l| l == lane);
            let stand = fates[from..end].iter().filter(|f| **f == Fate::Stands).count();
            if stand == end - from {
                all.whole(lane, stand as u64);
            } else {
                all.some_fall = true;
                all.part(fates, from, end);
            }
            from = end;
        }
        all
    }

    fn whole(&mut self, lane: u32, pieces: u64) {
        self.count += 1;
        match self.lanes.last_mut() {
            // Lanes without any piece between them do not part a range.
            Some((_, last, n)) if *last + 1 == lane => (*last, *n) = (lane, *n + pieces),
            _ => self.lanes.push((lane, lane, pieces)),
        }
    }

    fn part(&mut self, fates: &[Fate], from: usize, end: usize) {
        let mut before = false;
        for (i, fate) in fates.iter().enumerate().take(end).skip(from) {
            let stands = *fate == Fate::Stands;
            if stands {
                self.rest += 1;
                self.runs += u64::from(!before);
                self.first.get_or_insert(i);
                self.last = i;
            }
            before = stands;
        }
    }
}

fn unfed((feeds, item): (&Feeds<'_>, &Item), (pieces, fates): (&Pieces, &[Fate]), found: &mut Vec<Finding>) {
    let standing = Standing::of(pieces, fates);
    let at = |i: usize| Point::new(pieces.x[i], pieces.y[i]);
    let start_of = |lane: u32| pieces.lane.partition_point(|&l| l < lane);
    let hint = hint(feeds, item);
    let tell = |code, place, message: String, hint: &str| Finding {
        code,
        severity: Severity::Must,
        place,
        message,
        hint: hint.into(),
        mend: None,
    };
    let total: u64 = standing.lanes.iter().map(|l| l.2).sum();
    if !standing.some_fall {
        let message =
            format!("The wave does not enter {}: {} stand.", item.name, so_many(total, "piece", "pieces"));
        found.push(tell("unfed", Place::item(item).at(at(0)), message, &hint));
        return;
    }
    if standing.lanes.len() > RANGES {
        let (first, last) = (standing.lanes[0].0, standing.lanes[standing.lanes.len() - 1].1);
        let message = format!(
            "{} of {} between {} and {} are not fed: {} stand.",
            so_many(standing.count, "lane", "lanes"),
            item.name,
            nth(first),
            nth(last),
            so_many(total, "piece", "pieces"),
        );
        let place = Place::item(item).at(at(start_of(first))).lanes(first, last);
        found.push(tell("unfed", place, message, &hint));
    } else {
        for &(first, last, n) in &standing.lanes {
            let message = if first == last {
                format!("Lane {} of {} is not fed: {} stand.", nth(first), item.name, grouped(n))
            } else {
                format!(
                    "Lanes {} to {} of {} are not fed: {} stand.",
                    nth(first),
                    nth(last),
                    item.name,
                    grouped(n)
                )
            };
            let place = Place::item(item).at(at(start_of(first))).lanes(first, last);
            found.push(tell("unfed", place, message, &hint));
        }
    }
    if let Some(first) = standing.first {
        let (lane, rank) = (pieces.lane[first], pieces.rank[first]);
        let message = format!(
            "The wave cannot enter {} of {}: {} stand, the first in lane {} from rank {} on.",
            so_many(standing.runs, "run", "runs"),
            item.name,
            so_many(standing.rest, "piece", "pieces"),
            nth(lane),
            nth(rank),
        );
        let place = Place::item(item).at(at(first)).lanes(lane, pieces.lane[standing.last]);
        let hint = "Close the gap before it, fill the empty cells, or lead a line to it.";
        found.push(tell("run-cut-off", place, message, hint));
    }
}

/// A finding when some lane that falls ends before an item, and only the gap is too wide.
fn too_far(mill: &Seen<'_>, seen: &BTreeMap<ItemId, Seen<'_>>) -> Option<Finding> {
    let bounds = mill.shape.bounds?.wider(MEANT);
    let mut best = None::<(f64, f64, &Item, Point, geometry::Vector)>;
    for river in seen.values().filter(|s| s.item.id != mill.item.id && s.shape.touches(&bounds)) {
        for end in lane_ends(river.shape) {
            let piece = river.shape.solid(end);
            if river.fates.get(end) != Some(&Fate::Falls) || piece.size.high <= 0.0 {
                continue;
            }
            let (r, p) = (MEANT + piece.radius(), piece.at);
            mill.shape.near(Bounds::about(p, r), &mut |j| {
                let other = mill.shape.solid(j);
                let (u, v) = piece.local(other.at);
                let clear = u - piece.size.half_thick - other.reach(piece.along);
                let ahead = v.abs() < piece.size.half_wide + other.reach(piece.left()) - 0.5;
                if ahead && clear >= piece.size.high && best.is_none_or(|b| clear < b.0) {
                    best = Some((clear, piece.size.high, river.item, other.at, piece.along));
                }
                true
            });
        }
    }
    let (clear, reach, river, at, along) = best.filter(|b| b.0 <= MEANT)?;
    let close = CLOSE * reach / 48.0;
    let item = mill.item;
    // A line that begins at another item goes where that one stands; one that only leads to another is laid there anew.
    let follows = matches!(&item.body, Body::Line(l) if l.from.is_some());
    let movable = !follows && item.built.is_none() && !matches!(item.body, Body::Feed(_));
    let to = item.at.plus(along.times(close - clear));
    Some(Finding {
        code: "unfed",
        severity: Severity::Must,
        place: Place::item(item).at(at),
        message: format!(
            "The wave cannot enter {}: its first piece is {} away from the end of {}; a falling piece reaches {}.",
            item.name,
            about(clear),
            river.name,
            about(reach)
        ),
        hint: format!("Close it to {}.", about(close)),
        mend: movable.then_some(Command::MoveItem { id: item.id, at: to, heading: item.heading }),
    })
}

/// The first feed of each field that has one.
pub(crate) type Feeds<'a> = BTreeMap<ItemId, &'a Item>;

pub(crate) fn feeds(plan: &Plan) -> Feeds<'_> {
    let mut feeds = Feeds::new();
    for item in &plan.items {
        if let Body::Feed(feed) = &item.body {
            feeds.entry(feed.of).or_insert(item);
        }
    }
    feeds
}

fn hint(feeds: &Feeds<'_>, item: &Item) -> String {
    match (&item.body, feeds.get(&item.id)) {
        (Body::Field(_), Some(feed)) => {
            format!("Lead a line to {}, or see where the fall stops before it.", feed.name)
        }
        (Body::Field(_), None) => "Put a feed before its first rank and lead a line to it.".into(),
        (Body::Feed(_), _) => "Lead a line to its entry.".into(),
        _ => "Lead the fall to its beginning, or put a start there.".into(),
    }
}
