//! What the plan costs, and what is wrong with it.

use fall::Network;
use findings::{CheckInput, Checker, Finding};
use placement::Placement;
use plan::{Body, ColourId, Plan};
use sayings::{Said, found, say};

use crate::error::DeskError;
use crate::measure::FieldMeasure;
use crate::pace::{Hours, hours_to_place};
use crate::pictures::{PictureBank, PictureSource};
use crate::stock::StockSummary;

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

/// Adds up a plan from where its pieces stand and the measures of its fields.
pub fn cost(
    plan: &Plan,
    placement: &Placement,
    measures: &[FieldMeasure],
    stock: &crate::stock::StockSummary,
) -> Cost {
    let mut cost = Cost::default();
    let mut assumed = 0u64;
    for item in &plan.items {
        let Some(placed) = placement.item(item.id) else { continue };
        let needs = placed.needs(plan);
        let pieces: u64 = needs.iter().map(|n| u64::from(n.count)).sum();
        cost.pieces += pieces;
        cost.mass += mass(plan, needs);
        if let Body::Placeholder(p) = &item.body {
            assumed += pieces;
            cost.hours = cost.hours + Hours::exactly(p.hours.to_h());
        } else if item.field().is_none() {
            cost.hours = cost.hours + hours_to_place(placed);
            cost.changes += placed.changes();
        }
    }
    cost.hours = cost.hours + measures.iter().map(|m| m.hours).sum();
    cost.changes += measures.iter().map(|m| m.changes).sum::<u64>();
    cost.crates = stock.lines.iter().map(|l| l.crates).sum();
    cost.assumed = if cost.pieces == 0 { 0.0 } else { assumed as f64 / cost.pieces as f64 };
    cost
}

/// Mass of pieces in kg: a batch's measured mean where all lots of a colour have one, else the kind's.
fn mass(plan: &Plan, needs: &[plan::Need]) -> f64 {
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
    needs.iter().map(one).sum()
}

/// Below this CIEDE2000 two colours count as alike; builders told 7 apart with care, 4 hardly (common practice, no source).
const ALIKE_BELOW: f64 = 7.0;

/// Two colours that get confused, and by whom or where.
#[derive(Debug, Clone, PartialEq)]
pub struct Alike {
    /// One.
    pub a: ColourId,
    /// The other.
    pub b: ColourId,
    /// "in hall light", "by builders who do not see red".
    pub why: Said,
    /// CIEDE2000 under that condition.
    pub difference: f64,
}

/// Colours of the stock that get confused, the most alike first.
pub fn alike(plan: &Plan) -> Vec<Alike> {
    let colours = &plan.stock.colours;
    let fronts: Vec<_> = colours.iter().map(|c| crate::palette::linear(c.front)).collect();
    let pair = |c: &colour::Confusion| Alike {
        a: colours[c.first].id,
        b: colours[c.second].id,
        why: sight(c.sight),
        difference: c.difference,
    };
    let mut found: Vec<Alike> = colour::confusions(&fronts, ALIKE_BELOW).iter().map(pair).collect();
    found.sort_by(|x, y| x.difference.total_cmp(&y.difference).then(x.a.cmp(&y.a)).then(x.b.cmp(&y.b)));
    found
}

fn sight(sight: colour::Sight) -> Said {
    match sight {
        colour::Sight::Normal => say!(found::ALIKE_BY_ALL),
        colour::Sight::Protan => say!(found::ALIKE_BY_PROTAN),
        colour::Sight::Deutan => say!(found::ALIKE_BY_DEUTAN),
        colour::Sight::Tritan => say!(found::ALIKE_BY_TRITAN),
        colour::Sight::HallLight => say!(found::ALIKE_BY_LIGHT),
    }
}

/// What is wrong with a plan, worst first; placement and network are those of the plan.
pub fn findings(
    scene: (&Plan, &Placement, &Network),
    stock: &StockSummary,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<Vec<Finding>, DeskError> {
    find(&mut Checker::new(), scene, stock, (bank, source))
}

/// What is wrong with a plan, by a checker that keeps what still holds from one state of the plan to the next.
pub(crate) fn find(
    checker: &mut Checker,
    (plan, placement, network): (&Plan, &Placement, &Network),
    stock: &StockSummary,
    (bank, source): (&PictureBank, &dyn PictureSource),
) -> Result<Vec<Finding>, DeskError> {
    let alike: Vec<_> = alike(plan).into_iter().map(|a| (a.a, a.b, a.why)).collect();
    let mut covered = Vec::new();
    for item in &plan.items {
        let Some(field) = item.field() else { continue };
        if let Some(laid) = bank.wanted(plan, field, source, &|_| true)? {
            let shown: Vec<bool> = laid.empty.iter().map(|e| !e).collect();
            covered.push((item.id, field.frame.map().to_field(&shown)));
        }
    }
    let wanted: Vec<_> = stock.lines.iter().map(|l| (l.kind, l.colour, l.wanted)).collect();
    let input = CheckInput { alike: &alike, covered: &covered, wanted: &wanted };
    Ok(checker.check(plan, placement, network, &input))
}
