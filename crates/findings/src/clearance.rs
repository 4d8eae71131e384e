//! Pieces under planks, tables and the decks of bridges that have too little room to fall.

use fall::{board, clear_height};
use geometry::{Point, contains};
use plan::{Body, Item, Plan};
use sayings::{Arg, found, say};

use crate::finding::{Finding, Severity, about};
use crate::shape::{Bounds, Shape};
use crate::tally::Tally;

/// So many candidates under one deck piece are looked at.
const LOOKS: usize = 400;

/// Pieces with too little room above them: the figure is what is clear, negative, and the worst is where it stands.
type Low = Tally<Point>;

fn add(into: &mut Option<Low>, shape: &Shape, i: usize, clear: f64) {
    Tally::add(into, shape, i, -clear, Point::new(shape.pieces.x[i], shape.pieces.y[i]));
}

fn finding(low: &Low, item: &Item, over: Arg, least: f64) -> Finding {
    let clear = -low.figure;
    Finding {
        code: "clearance-low",
        severity: Severity::Must,
        place: low.place(item, low.worst),
        message: say!(
            found::CLEARANCE,
            n = low.count,
            item = &item.name,
            clear = about(clear.max(0.0)),
            over = over,
            least = about(least)
        ),
        hint: say!(found::CLEARANCE_HINT, by = about(((least - clear) * 10.0).ceil() / 10.0)),
        mend: None,
    }
}

/// One finding for each surface under which pieces of this item have too little room.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    for surface in plan.surfaces.iter().filter(|s| s.id != item.surface && s.outline.len() >= 3) {
        let thick = board(plan, surface);
        let Some(bounds) = Bounds::around(surface.outline.iter().copied()) else { continue };
        let (mut low, mut needed) = (None, 0.0_f64);
        shape.near(bounds, &mut |i| {
            let piece = shape.solid(i);
            let least = clear_height(piece.size.high);
            let top = surface.height_at(piece.at);
            let clear = top - thick - piece.foot;
            if piece.foot < top - 1e-3 && clear < least - 1e-6 && contains(&surface.outline, piece.at) {
                add(&mut low, shape, i, clear);
                needed = needed.max(least);
            }
            true
        });
        found.extend(low.map(|low| finding(&low, item, (&surface.name).into(), needed)));
    }
}

/// One finding when pieces of `below` have too little room under a bridge of the line `above`.
pub(crate) fn under_bridge(
    plan: &Plan,
    (above, over): (&Item, &Shape),
    (below, under): (&Item, &Shape),
    found: &mut Vec<Finding>,
) {
    let Body::Line(line) = &above.body else { return };
    let Some(bounds) = under.bounds.filter(|_| !line.bridges.is_empty()) else { return };
    let thick = line.bridges.iter().map(|b| b.thickness.to_mm()).fold(0.0, f64::max);
    let pitch = plan.stock.kind(line.kind).map_or(15.0, |k| line.spacing.pitch(k.thickness).to_mm());
    let mut lowest = std::collections::BTreeMap::<usize, f64>::new();
    over.near(bounds, &mut |i| {
        let mut deck = over.solid(i);
        if deck.foot <= plan.height_at(above.surface, deck.at) + 0.5 {
            return true;
        }
        // The deck reaches from piece to piece.
        deck.size.half_thick = deck.size.half_thick.max(pitch / 2.0);
        let far = under.largest();
        let r = deck.radius() + units::maths::hypot(far.half_thick, far.half_wide);
        let mut looks = 0;
        under.near(Bounds::about(deck.at, r), &mut |j| {
            looks += 1;
            let mut piece = under.solid(j);
            let clear = deck.foot - thick - piece.foot;
            let same = std::ptr::eq(over, under)
                && over.pieces.rank[i].abs_diff(under.pieces.rank[j]) * (pitch as u32).max(1) < 300;
            if !same && piece.foot < deck.foot - 0.5 && clear < clear_height(piece.size.high) - 1e-6 {
                // Only where it stands over it counts, not how high.
                piece.foot = deck.foot;
                if piece.depth(&deck) > 0.01 {
                    let kept = lowest.entry(j).or_insert(clear);
                    *kept = kept.min(clear);
                }
            }
            looks < LOOKS
        });
        true
    });
    let (mut low, mut needed) = (None, 0.0_f64);
    for (j, clear) in lowest {
        add(&mut low, under, j, clear);
        needed = needed.max(clear_height(under.size(j).high));
    }
    let bridge = || say!(found::CLEARANCE_BRIDGE, item = &above.name).into();
    found.extend(low.map(|low| finding(&low, below, bridge(), needed)));
}
