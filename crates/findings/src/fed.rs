//! What the wave does not reach: whole items, lanes and runs; and what hangs on passages that may fail.

use fall::{Network, faces};
use geometry::Point;
use placement::Pieces;
use plan::{Body, Command, Item, ItemId, Plan};
use sayings::{Said, found, say};
use std::collections::BTreeMap;

use crate::finding::{Finding, Place, Severity, about, mm, nth};
use crate::reached::{Fate, Passage, Reached};
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
        message: say!(found::START_IDLE, item = &start.name, reach = mm(48.0)),
        hint: say!(found::START_IDLE_HINT),
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
    let name = |id: ItemId| plan.item(id).map(|i| &i.name);
    Some(Finding {
        code: "starts-meet",
        severity: Severity::Note,
        place: Place::item(item).at(at).lanes(lane, lane).ranks(rank, rank),
        message: say!(found::STARTS_MEET, a = name(a)?, b = name(b)?, item = &item.name, rank = nth(rank)),
        hint: say!(found::STARTS_MEET_HINT),
        mend: None,
    })
}

fn unsure(plan: &Plan, network: &Network, reached: &Reached, first: Passage) -> Option<Finding> {
    let (item, at, (lane, rank)) = where_is(plan, network, first.piece)?;
    Some(Finding {
        code: "fall-unsure",
        severity: Severity::Should,
        place: Place::item(item).at(at).lanes(lane, lane).ranks(rank, rank),
        message: say!(
            found::UNSURE,
            n = reached.perhaps,
            passages = say!(found::UNSURE_PASSAGES, n = reached.unsure.len() as u64),
            item = &item.name,
            lane = nth(lane),
            rank = nth(rank)
        ),
        hint: if first.crossed { say!(found::UNSURE_CROSSED_HINT) } else { say!(found::UNSURE_HINT) },
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
    let tell = |code, place, message: Said, hint: &Said| Finding {
        code,
        severity: Severity::Must,
        place,
        message,
        hint: hint.clone(),
        mend: None,
    };
    let total: u64 = standing.lanes.iter().map(|l| l.2).sum();
    if !standing.some_fall {
        let message = say!(found::UNFED, item = &item.name, n = total);
        found.push(tell("unfed", Place::item(item).at(at(0)), message, &hint));
        return;
    }
    if standing.lanes.len() > RANGES {
        let (first, last) = (standing.lanes[0].0, standing.lanes[standing.lanes.len() - 1].1);
        let message = say!(
            found::UNFED_BETWEEN,
            lanes = standing.count,
            item = &item.name,
            first = nth(first),
            last = nth(last),
            pieces = total
        );
        let place = Place::item(item).at(at(start_of(first))).lanes(first, last);
        found.push(tell("unfed", place, message, &hint));
    } else {
        for &(first, last, n) in &standing.lanes {
            let message = if first == last {
                say!(found::UNFED_LANE, lane = nth(first), item = &item.name, n = n)
            } else {
                say!(found::UNFED_LANES, first = nth(first), last = nth(last), item = &item.name, pieces = n)
            };
            let place = Place::item(item).at(at(start_of(first))).lanes(first, last);
            found.push(tell("unfed", place, message, &hint));
        }
    }
    if let Some(first) = standing.first {
        let (lane, rank) = (pieces.lane[first], pieces.rank[first]);
        let message = say!(
            found::CUT_OFF,
            runs = say!(found::CUT_OFF_RUNS, n = standing.runs),
            item = &item.name,
            n = standing.rest,
            lane = nth(lane),
            rank = nth(rank)
        );
        let place = Place::item(item).at(at(first)).lanes(lane, pieces.lane[standing.last]);
        found.push(tell("run-cut-off", place, message, &say!(found::CUT_OFF_HINT)));
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
                // What runs across is not entered there, however near it is brought.
                let faces = faces(piece.along.dot(other.along));
                if ahead && faces && clear >= piece.size.high && best.is_none_or(|b| clear < b.0) {
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
        message: say!(
            found::UNFED_FAR,
            item = &item.name,
            clear = about(clear),
            line = &river.name,
            reach = about(reach)
        ),
        hint: say!(found::UNFED_FAR_HINT, gap = about(close)),
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

fn hint(feeds: &Feeds<'_>, item: &Item) -> Said {
    match (&item.body, feeds.get(&item.id)) {
        (Body::Field(_), Some(feed)) => say!(found::UNFED_HINT_LINE, feed = &feed.name),
        (Body::Field(_), None) => say!(found::UNFED_HINT_FEED),
        (Body::Feed(_), _) => say!(found::UNFED_HINT_ENTRY),
        _ => say!(found::UNFED_HINT_START),
    }
}
