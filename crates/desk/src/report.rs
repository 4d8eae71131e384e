//! What the plan costs, and what is wrong with it.

use plan::{Body, Item, Plan};

use crate::measure::FieldMeasure;
use crate::pace::Hours;

/// Sums over the plan.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cost {
    /// Pieces of all items.
    pub pieces: u64,
    /// Net person-hours.
    pub hours: Hours,
    /// Mass of all pieces in kg.
    pub mass: f64,
    /// Full and begun crates, one colour each.
    pub crates: u64,
    /// Changes of colour along all lanes.
    pub changes: u64,
    /// Share of pieces that only placeholders ask for, 0 to 1.
    pub assumed: f64,
}

/// Adds up a plan from the measures of its fields.
pub fn cost(plan: &Plan, measures: &[FieldMeasure], stock: &crate::stock::StockSummary) -> Cost {
    let mut cost = Cost::default();
    let mut assumed = 0u64;
    for item in &plan.items {
        let pieces = pieces(item);
        cost.pieces += pieces;
        cost.mass += mass(plan, item);
        if let Body::Placeholder(p) = &item.body {
            assumed += pieces;
            cost.hours = cost.hours + Hours::exactly(p.hours.to_h());
        }
    }
    cost.hours = cost.hours + measures.iter().map(|m| m.hours).sum();
    cost.changes = measures.iter().map(|m| m.changes).sum();
    cost.crates = stock.lines.iter().map(|l| l.crates).sum();
    cost.assumed = if cost.pieces == 0 { 0.0 } else { assumed as f64 / cost.pieces as f64 };
    cost
}

fn pieces(item: &Item) -> u64 {
    item.needs().iter().map(|n| u64::from(n.count)).sum()
}

/// Mass of an item's pieces in kg: a batch's measured mean where all lots of a colour have one, else the kind's.
fn mass(plan: &Plan, item: &Item) -> f64 {
    let one = |n: &plan::Need| {
        let lots = plan.stock.lots_of(n.kind, n.colour);
        let (sum, count) = lots.fold((0.0, 0u64), |(sum, count), l| match l.mass {
            Some(m) => (sum + m.to_g() * f64::from(l.count), count + u64::from(l.count)),
            None => (sum, count),
        });
        let usual = plan.stock.kind(n.kind).map_or(0.0, |k| k.mass.to_g());
        let grams = if count > 0 { sum / count as f64 } else { usual };
        grams * f64::from(n.count) / 1_000.0
    };
    item.needs().iter().map(one).sum()
}
