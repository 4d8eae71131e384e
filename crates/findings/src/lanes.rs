//! Lanes of lines, step by step: what stands one after another.

use plan::{Body, Fill, Item, Line, Placing, Plan, Spacing};

use crate::shape::Shape;

/// What a line and a filled area have in common.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Laid {
    pub spacing: Spacing,
    pub placed: Placing,
    pub kind: plan::KindId,
}

/// How an item is laid, if it is a line or an area filled with one.
pub(crate) fn laid(item: &Item) -> Option<Laid> {
    match &item.body {
        Body::Line(Line { spacing, placed, kind, .. }) | Body::Fill(Fill { spacing, placed, kind, .. }) => {
            Some(Laid { spacing: *spacing, placed: *placed, kind: *kind })
        }
        _ => None,
    }
}

/// How much larger its pieces are than the usual ones of 48 mm, on which everything was measured: all lengths of a
/// fall grow with the piece (the law of similarity; times grow with the root).
pub(crate) fn scale(plan: &Plan, kind: plan::KindId) -> f64 {
    plan.stock.kind(kind).map_or(1.0, |k| k.height.to_mm() / 48.0)
}

/// From one piece of a lane to the next.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    /// The earlier piece.
    pub from: usize,
    /// The later piece, one rank on.
    pub to: usize,
    /// Centre to centre on the floor, mm.
    pub pitch: f64,
    /// Face to face along the middle, mm.
    pub gap: f64,
    /// How far the later piece is turned against the earlier one, degrees, not signed.
    pub turn: f64,
}

/// All steps of all lanes of a shape; where a rank is missing there is none.
pub(crate) fn steps(shape: &Shape) -> impl Iterator<Item = Step> + '_ {
    let p = &shape.pieces;
    (1..shape.len()).filter_map(move |to| {
        let from = to - 1;
        (p.lane[from] == p.lane[to] && p.rank[to] == p.rank[from] + 1).then(|| step(shape, from, to))
    })
}

fn step(shape: &Shape, from: usize, to: usize) -> Step {
    let (a, b) = (shape.solid(from), shape.solid(to));
    let d = b.at.minus(a.at);
    let pitch = d.length();
    let cross = a.along.x * b.along.y - a.along.y * b.along.x;
    let dot = a.along.x * b.along.x + a.along.y * b.along.y;
    // Straight lanes are most of all steps, and their angle is nothing.
    let turn = if cross.abs() < 1e-6 && dot > 0.0 {
        0.0
    } else {
        units::maths::atan2(cross, dot).abs() * (180.0 / std::f64::consts::PI)
    };
    Step { from, to, pitch, gap: pitch - a.size.half_thick - b.size.half_thick, turn }
}
