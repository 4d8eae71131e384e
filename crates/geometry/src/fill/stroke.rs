//! The longest to-and-fro stroke through an outline, in the frame of its courses.

use crate::Point;
use crate::polygon::{bounding_box, sides};

/// More courses than this are not laid.
const MOST_COURSES: f64 = 20_000.0;
/// More meetings of a side with a course than this are not looked at.
const MOST_MEETINGS: f64 = 2e7;
/// Distances may fall short of what is asked by so much, in mm, so that courses along a wall fit in spite of rounding.
const SLACK_MM: f64 = 1e-7;

/// What is asked of the courses; x runs along them.
pub(super) struct Courses {
    /// From one course to the next.
    pub(super) spacing: f64,
    /// How far above its lowest place the first course lies.
    pub(super) shift: f64,
    /// How far a course keeps from the outline.
    pub(super) clear: f64,
    /// How far the middle of a turn keeps from the outline.
    pub(super) clear_turn: f64,
    /// The least length of a course between two turns, so that the turns do not meet.
    pub(super) least: f64,
    /// Ends lie at whole multiples of this; anywhere when 0.
    pub(super) lattice: f64,
}

/// Courses from below to above, each from one end to the next.
#[derive(Debug, Clone, Default)]
pub(super) struct Stroke {
    /// The height of the first course.
    pub(super) lowest: f64,
    /// Along the courses: the start, each turn, the end.
    pub(super) ends: Vec<f64>,
    /// True when the first course leads to growing x.
    pub(super) rightwards: bool,
    /// Sum of the courses and turns as straight and half round.
    pub(super) length: f64,
}

/// A stretch of a line that keeps its distance from the outline.
#[derive(Debug, Clone, Copy)]
struct Free {
    low: f64,
    high: f64,
}

/// A stretch in which a turn can stand, with the stretches of the courses below and above that it joins,
/// and the best stroke that ends with a turn to the right at its high end, or to the left at its low end.
struct Turn {
    at: Free,
    below: usize,
    above: usize,
    best: [Best; 2],
}

#[derive(Clone, Copy)]
struct Best {
    /// Up to where the course above begins; below 0 when there is none.
    length: f64,
    /// The turn before, in the list of the level below; none when this is the first.
    before: Option<usize>,
}

const RIGHT: usize = 0;
const LEFT: usize = 1;
const NONE: Best = Best { length: -1.0, before: None };

/// The longest stroke, of length 0 when there is no room; `None` when there are too many courses.
pub(super) fn longest(outline: &[Point], ask: &Courses) -> Option<Stroke> {
    let (low, high) = bounding_box(outline)?;
    let first = low.y + ask.clear + ask.shift;
    let count = ((high.y - ask.clear + SLACK_MM - first) / ask.spacing).floor() + 1.0;
    if count > MOST_COURSES {
        return None;
    }
    if count < 1.0 {
        return Some(Stroke::default());
    }
    let count = count as usize;
    let heights: Vec<f64> = (0..count).map(|k| first + ask.spacing * k as f64).collect();
    let middles: Vec<f64> = heights[1..].iter().map(|v| v - 0.5 * ask.spacing).collect();
    let courses = free(outline, &heights, ask.clear, ask)?;
    let turns = free(outline, &middles, ask.clear_turn, ask)?;
    let mut levels: Vec<Vec<Turn>> = Vec::with_capacity(turns.len());
    let mut best = (0.0, None);
    for (k, course) in courses.iter().enumerate() {
        // A single course is a stroke too.
        for (i, f) in course.iter().enumerate() {
            if f.high - f.low > best.0 {
                best = (f.high - f.low, Some(End { level: k, index: i, side: None }));
            }
        }
    }
    for (k, stretches) in turns.iter().enumerate() {
        let level =
            join(stretches, (&courses[k], &courses[k + 1]), k.checked_sub(1).map(|b| &levels[b]), ask);
        for (index, turn) in level.iter().enumerate() {
            let above = courses[k + 1][turn.above];
            for (side, last) in [(RIGHT, turn.at.high - above.low), (LEFT, above.high - turn.at.low)] {
                if turn.best[side].length >= 0.0 && turn.best[side].length + last > best.0 {
                    best = (turn.best[side].length + last, Some(End { level: k, index, side: Some(side) }));
                }
            }
        }
        levels.push(level);
    }
    Some(best.1.map(|end| trace(&end, best.0, &heights, &courses, &levels)).unwrap_or_default())
}

/// Where the best stroke ends: on the course above a turn, or (without a side) a course alone.
struct End {
    level: usize,
    index: usize,
    side: Option<usize>,
}

fn trace(end: &End, length: f64, heights: &[f64], courses: &[Vec<Free>], levels: &[Vec<Turn>]) -> Stroke {
    let Some(last) = end.side else {
        let f = courses[end.level][end.index];
        return Stroke { lowest: heights[end.level], ends: vec![f.low, f.high], rightwards: true, length };
    };
    let (mut level, mut index, mut side) = (end.level, end.index, last);
    let above = courses[level + 1][levels[level][index].above];
    let mut ends = vec![if side == RIGHT { above.low } else { above.high }];
    loop {
        let turn = &levels[level][index];
        ends.push(if side == RIGHT { turn.at.high } else { turn.at.low });
        match turn.best[side].before {
            Some(before) => (level, index, side) = (level - 1, before, 1 - side),
            None => {
                let below = courses[level][turn.below];
                ends.push(if side == RIGHT { below.low } else { below.high });
                break;
            }
        }
    }
    ends.reverse();
    Stroke { lowest: heights[level], ends, rightwards: side == RIGHT, length }
}

/// The turns of one level, each with the best way to it.
fn join(
    stretches: &[Free],
    (below, above): (&[Free], &[Free]),
    before: Option<&Vec<Turn>>,
    ask: &Courses,
) -> Vec<Turn> {
    let holds = |course: &[Free], at: &Free| {
        let i = course.partition_point(|f| f.high < at.high - SLACK_MM);
        course.get(i).filter(|f| f.low <= at.low + SLACK_MM).map(|_| i)
    };
    let half_round = 0.5 * std::f64::consts::PI * ask.spacing;
    let mut turns = Vec::new();
    for at in stretches {
        let (Some(b), Some(a)) = (holds(below, at), holds(above, at)) else { continue };
        let alone = [at.high - below[b].low, below[b].high - at.low];
        let mut best =
            alone.map(|length| if length >= ask.least { Best { length, before: None } } else { NONE });
        let level = before.map(Vec::as_slice).unwrap_or_default();
        // Turns are in the order of their stretches, so those that lead into this course stand together.
        let from = level.partition_point(|t| t.above < b);
        for (i, t) in level.iter().enumerate().skip(from).take_while(|(_, t)| t.above == b) {
            for (side, course) in [(RIGHT, at.high - t.at.low), (LEFT, t.at.high - at.low)] {
                let so_far = t.best[1 - side].length;
                if so_far >= 0.0 && course >= ask.least && so_far + course > best[side].length {
                    best[side] = Best { length: so_far + course, before: Some(i) };
                }
            }
        }
        for best in best.iter_mut().filter(|b| b.length >= 0.0) {
            best.length += half_round;
        }
        turns.push(Turn { at: *at, below: b, above: a, best });
    }
    turns
}

/// For each height the stretches that are inside the outline and keep `clear` from it, from low to high.
fn free(outline: &[Point], heights: &[f64], clear: f64, ask: &Courses) -> Option<Vec<Vec<Free>>> {
    let clear = clear - SLACK_MM;
    let Some(&first) = heights.first() else { return Some(Vec::new()) };
    let number = |v: f64| ((v - first) / ask.spacing).clamp(-1.0, heights.len() as f64);
    let range = |(a, b): (Point, Point)| {
        let low = number(a.y.min(b.y) - clear).ceil().max(0.0) as usize;
        let high = number(a.y.max(b.y) + clear).floor() as i64;
        low..((high + 1).max(0) as usize).min(heights.len())
    };
    let meetings: f64 = sides(outline).map(|side| range(side).len() as f64).sum();
    if meetings > MOST_MEETINGS {
        return None;
    }
    let mut blocked: Vec<Vec<Free>> = vec![Vec::new(); heights.len()];
    let mut walls: Vec<Vec<f64>> = vec![Vec::new(); heights.len()];
    for side in sides(outline) {
        for k in range(side) {
            blocked[k].extend(capsule(side, clear, heights[k]));
            let (a, b) = side;
            if (a.y > heights[k]) != (b.y > heights[k]) {
                walls[k].push(a.x + (heights[k] - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        }
    }
    Some(blocked.into_iter().zip(walls).map(|(b, w)| gaps(b, w, ask.lattice)).collect())
}

/// What is left of a line between blocked stretches, inside the outline, with its ends on the lattice.
fn gaps(mut blocked: Vec<Free>, mut walls: Vec<f64>, lattice: f64) -> Vec<Free> {
    blocked.sort_by(|a, b| a.low.total_cmp(&b.low));
    walls.sort_by(f64::total_cmp);
    let mut found = Vec::new();
    let mut reached = f64::INFINITY;
    for (i, stretch) in blocked.iter().enumerate() {
        if i > 0 && stretch.low > reached {
            let middle = 0.5 * (reached + stretch.low);
            // Inside after an odd number of walls; walls are blocked, so that a gap is all inside or all outside.
            if walls.partition_point(|w| *w < middle) % 2 == 1 {
                let (low, high) = on_lattice(reached, stretch.low, lattice);
                if low <= high {
                    found.push(Free { low, high });
                }
            }
        }
        reached = if i == 0 { stretch.high } else { reached.max(stretch.high) };
    }
    found
}

fn on_lattice(low: f64, high: f64, lattice: f64) -> (f64, f64) {
    if lattice > 0.0 {
        ((low / lattice).ceil() * lattice, (high / lattice).floor() * lattice)
    } else {
        (low, high)
    }
}

/// The stretch of the level line at height `v` that is nearer to a side than `clear`: one stretch, since the places
/// near a straight piece are convex. It is that within the circles around both ends and the band between them.
fn capsule((a, b): (Point, Point), clear: f64, v: f64) -> Option<Free> {
    let mut found: Option<Free> = None;
    let mut reach = |low: f64, high: f64| {
        found =
            Some(found.map_or(Free { low, high }, |f| Free { low: f.low.min(low), high: f.high.max(high) }));
    };
    for end in [a, b] {
        let square = clear * clear - (v - end.y) * (v - end.y);
        if square > 0.0 {
            reach(end.x - square.sqrt(), end.x + square.sqrt());
        }
    }
    let side = b.minus(a);
    let Some(off) = side.left().unit().map(|n| n.times(clear)) else { return found };
    let back = off.times(-1.0);
    let band = [a.plus(off), b.plus(off), b.plus(back), a.plus(back)];
    for (p, q) in sides(&band) {
        if (p.y > v) != (q.y > v) {
            let u = p.x + (v - p.y) / (q.y - p.y) * (q.x - p.x);
            reach(u, u);
        }
    }
    found
}
