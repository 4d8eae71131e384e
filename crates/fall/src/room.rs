//! How much room a falling piece needs above it: one rule for the fall and for what is said of planks and bridges.

use plan::{GearKind, Plan, Surface, SurfaceKind};

/// Clear height for usual pieces, mm: a turning piece of 48 mm sweeps 48.6 mm, its diagonal; the rest is for boards
/// that sag and pieces that hop (common practice, no source).
const LEAST: f64 = 55.0;

/// The clear height, mm, that a piece of a height (mm) needs to fall.
pub fn clear_height(height: f64) -> f64 {
    LEAST * height / 48.0
}

/// How much of a surface's height is its board, mm. Nobody says from which plank a surface is made: the thinnest one that
/// there is leaves the most room. Tables count as thin.
pub fn board(plan: &Plan, surface: &Surface) -> f64 {
    let planks = plan.stock.gear.iter().filter(|g| g.count > 0).filter_map(|g| match g.what {
        GearKind::Plank { thickness, .. } => Some(thickness.to_mm()),
        _ => None,
    });
    match surface.is {
        SurfaceKind::Plank => planks.min_by(f64::total_cmp).unwrap_or(0.0),
        _ => 0.0,
    }
}
