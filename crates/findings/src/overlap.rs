//! Pieces and things that would stand in one another.

use geometry::{Point, contains, overlap_depth};
use plan::{Item, Plan};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity, mm};
use crate::lanes::laid;
use crate::shape::{Bounds, Shape, Solid};
use crate::tally::Tally;

/// Outlines and pieces may reach into one another by so much, in mm: rounding, not a design.
const SLACK_MM: f64 = 0.01;
/// So many partners of one piece are looked at; a heap of pieces is told without comparing each with each.
const PARTNERS: usize = 8;
/// So many candidates of one piece are looked at in all.
const LOOKS: usize = 400;

/// What of an item can stand in something else.
#[derive(Clone, Copy)]
pub(crate) struct Thing<'a> {
    pub item: &'a Item,
    /// Its pieces; may be none.
    pub shape: &'a Shape,
    /// Its outline, for fields, placeholders and stoppers.
    pub block: Option<Block>,
}

/// An outline with a foot and a top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Block {
    corners: [Point; 4],
    foot: f64,
    top: f64,
}

impl Block {
    pub(crate) fn of(plan: &Plan, item: &Item) -> Option<Self> {
        let high = match &item.body {
            plan::Body::Placeholder(p) => p.height.to_mm(),
            plan::Body::Stopper(s) => s.height.to_mm(),
            plan::Body::Field(f) => plan.stock.kind(f.kind).map_or(0.0, |k| k.height.to_mm()),
            _ => return None,
        };
        let corners = item.outline()?;
        // On a slope it stands from its lowest corner up to its highest one.
        let feet = corners.map(|c| plan.height_at(item.surface, c));
        let foot = feet.into_iter().fold(f64::INFINITY, f64::min);
        let top = feet.into_iter().fold(f64::NEG_INFINITY, f64::max) + high.max(1.0);
        Some(Self { corners, foot, top })
    }

    /// Whether a point of the floor is in it.
    pub(crate) fn holds(&self, p: Point) -> bool {
        contains(&self.corners, p)
    }

    pub(crate) fn bounds(&self) -> Option<Bounds> {
        Bounds::around(self.corners.iter().copied())
    }
}

/// What overlaps of a pair, or of an item with itself: the figure is how deep, and the worst is where it stands.
type Met = Tally<Point>;

fn add(into: &mut Option<Met>, shape: &Shape, i: usize, depth: f64) {
    if depth > 0.0 {
        Tally::add(into, shape, i, depth, Point::new(shape.pieces.x[i], shape.pieces.y[i]));
    }
}

impl Thing<'_> {
    /// The least upright rectangle around the pieces and the outline.
    pub(crate) fn bounds(&self) -> Option<Bounds> {
        let block = self.block.and_then(|b| b.bounds());
        match (self.shape.bounds, block) {
            (Some(a), Some(b)) => Some(a.with(&b)),
            (a, b) => a.or(b),
        }
    }

    /// A stopper stands among pieces on purpose, where some are left out while the crew builds.
    fn among_pieces(&self) -> bool {
        matches!(self.item.body, plan::Body::Stopper(_))
    }
}

/// One finding when pieces or outlines of two items stand in one another: outlines where both have one, else pieces.
pub(crate) fn between(a: &Thing<'_>, b: &Thing<'_>, found: &mut Vec<Finding>) {
    match (a.block, b.block) {
        (Some(x), Some(y))
            if !(a.among_pieces() ^ b.among_pieces()) || a.shape.len() + b.shape.len() == 0 =>
        {
            let depth = overlap_depth(&x.corners, &y.corners);
            if x.foot < y.top && y.foot < x.top && depth > SLACK_MM {
                found.push(of_outlines(a.item, b.item, depth, middle(&x.corners, &y.corners)));
            }
        }
        _ if a.shape.len() > 0 && b.shape.len() > 0 => {
            found.extend(pieces(a.shape, b.shape).map(|met| of_pieces(a.item, b.item, &met)));
        }
        (_, Some(block)) => found.extend(inside(a, &block).map(|met| of_pieces(a.item, b.item, &met))),
        (Some(block), None) => found.extend(inside(b, &block).map(|met| of_pieces(b.item, a.item, &met))),
        (None, None) => {}
    }
}

/// One finding when pieces of one item stand in one another, as where a line crosses itself.
pub(crate) fn within(item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let p = &shape.pieces;
    let mut met = None;
    for i in 0..shape.len() {
        let piece = shape.solid(i);
        // Those next to it in its lane are told as a gap that is too narrow.
        let apart = |j: usize| p.lane[i] != p.lane[j] || p.rank[i].abs_diff(p.rank[j]) > 1;
        add(&mut met, shape, i, deepest(&piece, shape, piece.radius(), &apart));
    }
    found.extend(met.map(|met| of_itself(item, &met)));
}

/// The pieces of `a` that stand in pieces of `b`.
fn pieces(a: &Shape, b: &Shape) -> Option<Met> {
    let (mut met, reach) = (None, b.largest());
    let reach = units::maths::hypot(reach.half_thick.max(reach.high / 2.0), reach.half_wide);
    let common = b.bounds?.wider(reach);
    a.near(common, &mut |i| {
        add(&mut met, a, i, deepest(&a.solid(i), b, reach, &|_| true));
        true
    });
    met
}

/// How deep a piece stands in some other of those that are asked; `radius` is that of the largest. 0 in none.
fn deepest(piece: &Solid, others: &Shape, radius: f64, asked: &dyn Fn(usize) -> bool) -> f64 {
    let (mut deepest, mut partners, mut looks) = (0.0_f64, 0, 0);
    others.near(Bounds::about(piece.at, piece.radius() + radius), &mut |j| {
        looks += 1;
        if asked(j) {
            let depth = piece.depth(&others.solid(j));
            if depth > SLACK_MM {
                deepest = deepest.max(depth);
                partners += 1;
            }
        }
        partners < PARTNERS && looks < LOOKS
    });
    deepest
}

/// The pieces that stand in a block.
fn inside(thing: &Thing<'_>, block: &Block) -> Option<Met> {
    let (mut met, shape) = (None, thing.shape);
    let left_out = |i: usize| thing.item.gaps.iter().any(|g| g.leaves_out(shape.pieces.rank[i]));
    let reach = shape.largest();
    let within = block.bounds()?.wider(units::maths::hypot(reach.high, reach.half_wide));
    shape.near(within, &mut |i| {
        let piece = shape.solid(i);
        if piece.foot < block.top && block.foot < piece.foot + piece.size.high && !left_out(i) {
            let depth = overlap_depth(&piece.corners(), &block.corners);
            if depth > SLACK_MM {
                add(&mut met, shape, i, depth);
            }
        }
        true
    });
    met
}

/// The middle of what the upright rectangles around two outlines share.
fn middle(a: &[Point; 4], b: &[Point; 4]) -> Point {
    let around = |o: &[Point; 4]| Bounds::around(o.iter().copied());
    let (Some(a), Some(b)) = (around(a), around(b)) else { return Point::new(0.0, 0.0) };
    let x = (a.west.max(b.west) + a.east.min(b.east)) / 2.0;
    let y = (a.south.max(b.south) + a.north.min(b.north)) / 2.0;
    Point::new(x, y)
}

fn of_outlines(a: &Item, b: &Item, depth: f64, at: Point) -> Finding {
    Finding {
        code: "items-overlap",
        severity: Severity::Must,
        place: Place::item(a).at(at),
        message: say!(found::OVERLAP, a = &a.name, b = &b.name, depth = mm(depth)),
        hint: say!(found::OVERLAP_HINT),
        mend: None,
    }
}

fn of_pieces(a: &Item, b: &Item, met: &Met) -> Finding {
    Finding {
        code: "items-overlap",
        severity: Severity::Must,
        place: met.place(a, met.worst),
        message: say!(found::OVERLAP_PIECES, n = met.count, a = &a.name, b = &b.name, depth = mm(met.figure)),
        hint: if laid(a).is_some() && laid(b).is_some() {
            say!(found::OVERLAP_LINES_HINT)
        } else {
            say!(found::OVERLAP_HINT)
        },
        mend: None,
    }
}

fn of_itself(item: &Item, met: &Met) -> Finding {
    Finding {
        code: "crosses-itself",
        severity: Severity::Must,
        place: met.place(item, met.worst),
        message: say!(found::CROSSES, item = &item.name, pieces = met.count, depth = mm(met.figure)),
        hint: say!(found::CROSSES_HINT),
        mend: None,
    }
}
