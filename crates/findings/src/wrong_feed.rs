//! Three ways to feed a field that were measured not to work, recognised by how the pieces stand.

use std::collections::BTreeMap;

use geometry::Point;
use plan::{Body, Command, Enter, Feed, FeedWay, Field, Item, ItemId, Plan};
use sayings::{Said, found, say};

use crate::fed::feeds;
use crate::finding::{Finding, Place, Severity, nth};
use crate::reached::Fate;
use crate::seen::Seen;
use crate::shape::{Bounds, Shape};

/// A line that runs within this distance before the first rank is meant to feed it, mm.
const BEFORE: f64 = 60.0;
/// Cosine of 60°: a piece turned farther than that against another one stands across it.
const ACROSS: f64 = 0.5;
/// So many fields, and stops of each line, are looked at.
const ASKED: usize = 200;
/// So many lanes of a field are looked at, spread over all of them.
const LANES: usize = 64;

/// Findings about fields that no feed serves although something was laid to feed them. At most one for each field.
pub(crate) fn check(plan: &Plan, seen: &BTreeMap<ItemId, Seen<'_>>, found: &mut Vec<Finding>) {
    let feeds = feeds(plan);
    let unfed = |s: &&Seen<'_>| {
        s.item.field().is_some_and(|f| f.frame.lanes > 1)
            && s.fates.contains(&Fate::Stands)
            && !feeds.contains_key(&s.item.id)
    };
    // Each of them looks at all lines; more would not be told anyway.
    let asked: Vec<&Seen<'_>> = seen.values().filter(unfed).take(ASKED).collect();
    let stops = if asked.is_empty() { Vec::new() } else { stops(seen) };
    for mill in asked {
        let Some(field) = mill.item.field() else { continue };
        let wrong = square(plan, mill, field, &stops)
            .or_else(|| along_the_edge(plan, mill, field, seen))
            .or_else(|| rank_in_line(plan, mill, field));
        found.extend(wrong);
    }
}

/// The first piece of each lane that a wave would have to enter, as indices, and whether it falls.
fn entries(seen: &Seen<'_>) -> Vec<(usize, bool)> {
    let p = &seen.shape.pieces;
    let mut entries = Vec::new();
    let mut from = 0;
    while from < p.len() {
        let lane = p.lane[from];
        entries.push((from, seen.fates.get(from) == Some(&Fate::Falls)));
        from += p.lane[from..].partition_point(|&l| l == lane);
    }
    entries
}

/// A plain line that runs along the edge, beside the lanes.
fn along_the_edge(
    plan: &Plan,
    mill: &Seen<'_>,
    field: &Field,
    seen: &BTreeMap<ItemId, Seen<'_>>,
) -> Option<Finding> {
    let entries = entries(mill);
    let standing: Vec<usize> = entries.iter().filter(|e| !e.1).map(|e| e.0).collect();
    let step = (standing.len() / LANES).max(1);
    let asked: Vec<usize> = standing.iter().step_by(step).copied().collect();
    let mut best = None::<(usize, &Seen<'_>)>;
    for line in seen.values().filter(|s| is_line(s.item)) {
        let beside = asked.iter().filter(|&&i| runs_past(mill.shape, i, line)).count();
        if beside * 2 > asked.len() && beside >= 2 && best.is_none_or(|(n, _)| beside > n) {
            best = Some((beside, line));
        }
    }
    let (_, line) = best?;
    let message = say!(found::MISFED_EDGE, line = &line.item.name, field = &mill.item.name);
    Some(finding(plan, mill, field, standing.first().copied(), message))
}

/// A line, or a field of one lane, which is the same.
fn is_line(item: &Item) -> bool {
    match &item.body {
        Body::Line(_) | Body::Fill(_) => true,
        Body::Field(f) => f.frame.lanes == 1,
        _ => false,
    }
}

/// Whether falling pieces of a line stand across the way before a piece.
fn runs_past(shape: &Shape, i: usize, line: &Seen<'_>) -> bool {
    let piece = shape.solid(i);
    let r = BEFORE + 30.0;
    let around = Bounds::about(piece.at, r);
    if !line.shape.touches(&around) {
        return false;
    }
    let mut past = false;
    line.shape.near(around, &mut |j| {
        let other = line.shape.solid(j);
        let (u, v) = piece.local(other.at);
        let turned = (piece.along.x * other.along.x + piece.along.y * other.along.y).abs();
        past |= line.fates.get(j) == Some(&Fate::Falls)
            && turned < ACROSS
            && (-BEFORE..0.0).contains(&u)
            && v.abs() < 30.0;
        !past
    });
    past
}

/// Some lanes are hit and those beside them stand: ranks in line pass nothing sideways.
fn rank_in_line(plan: &Plan, mill: &Seen<'_>, field: &Field) -> Option<Finding> {
    let entries = entries(mill);
    let hit = entries.iter().filter(|e| e.1).count();
    if hit == 0 || hit == entries.len() {
        return None;
    }
    let lanes = entries.len() as u64;
    let message = say!(found::MISFED_RANK, lanes = lanes, field = &mill.item.name, n = hit as u64);
    Some(finding(plan, mill, field, entries.iter().find(|e| !e.1).map(|e| e.0), message))
}

/// The last pieces that fall before lines that stand from there on.
fn stops<'a>(seen: &'a BTreeMap<ItemId, Seen<'a>>) -> Vec<(&'a Seen<'a>, usize)> {
    let mut all = Vec::new();
    for line in seen.values().filter(|s| is_line(s.item)) {
        let p = &line.shape.pieces;
        let stops = |i: &usize| {
            p.lane[*i] == p.lane[*i + 1]
                && line.fates.get(*i) == Some(&Fate::Falls)
                && line.fates.get(*i + 1) == Some(&Fate::Stands)
        };
        let here = (0..p.len().saturating_sub(1)).filter(stops).map(|i| (line, i));
        all.extend(here.take(ASKED));
    }
    all
}

/// A piece of the field stands square in a gap of a line, which stops there.
fn square(plan: &Plan, mill: &Seen<'_>, field: &Field, stops: &[(&Seen<'_>, usize)]) -> Option<Finding> {
    for &(line, i) in stops.iter().filter(|s| s.0.item.id != mill.item.id) {
        if let Some(at) = square_between(line.shape, i, mill) {
            let rank = nth(line.shape.pieces.rank[i]);
            let message =
                say!(found::MISFED_SQUARE, field = &mill.item.name, line = &line.item.name, rank = rank);
            let mut told = finding(plan, mill, field, None, message);
            told.place.at = Some(at);
            return Some(told);
        }
    }
    None
}

/// Where a piece of the field pokes into the way of a falling piece, turned by 60° or more.
fn square_between(line: &Shape, i: usize, mill: &Seen<'_>) -> Option<Point> {
    let piece = line.solid(i);
    let r = piece.size.high + 30.0;
    let around = Bounds::about(piece.at, r);
    let mut met = None;
    mill.shape.near(around, &mut |j| {
        let other = mill.shape.solid(j);
        let (u, v) = piece.local(other.at);
        let turned = (piece.along.x * other.along.x + piece.along.y * other.along.y).abs();
        let in_the_way = v.abs() < piece.size.half_wide + other.reach(piece.left());
        if turned < ACROSS && (0.0..piece.size.high).contains(&u) && in_the_way {
            met = Some(other.at);
        }
        met.is_none()
    });
    met
}

fn finding(plan: &Plan, mill: &Seen<'_>, field: &Field, at: Option<usize>, message: Said) -> Finding {
    let place = Place::item(mill.item);
    Finding {
        code: "feed-not-working",
        severity: Severity::Must,
        place: match at {
            Some(i) => place.at(mill.shape.solid(i).at),
            None => place,
        },
        message,
        hint: say!(found::MISFED_HINT),
        mend: mend(plan, mill.item, field),
    }
}

/// A feed of brick ranks, entered in the middle: 640 of 640 lanes fell.
fn mend(plan: &Plan, item: &Item, field: &Field) -> Option<Command> {
    let colour = field.cells.as_slice().iter().copied().find(|&c| c != plan::EMPTY)?;
    let feed = Feed {
        of: item.id,
        way: FeedWay::Brick { enter: Enter::Middle },
        kind: field.kind,
        colour: plan::ColourId(colour),
        pitch: field.frame.pitch_along,
    };
    let feed = Item {
        id: ItemId(plan.fresh_id()),
        name: format!("Feed of {}", item.name),
        built: None,
        gaps: Vec::new(),
        locked: false,
        body: Body::Feed(feed),
        ..item.clone()
    };
    Some(Command::PutItem { item: Box::new(feed) })
}
