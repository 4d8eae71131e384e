//! Aligning and distributing. What stands where another item is, a line that carries on or a feed, is moved with that one
//! and not by itself; items of one group are moved as one.

use std::collections::BTreeMap;

use geometry::Vector;
use plan::{Body, Command, Item, Plan};
use sayings::{Saying, doing, gate, say};

use super::{Around, Arranged, Axis, Boxes, Edge, both, names, refused, step};
use crate::error::DeskError;

/// Items that are moved as one, and the box around them.
struct Unit<'a> {
    items: Vec<&'a Item>,
    around: Around,
}

/// The units of some items, in the order of their first item.
fn units<'a>(plan: &Plan, items: &[&'a Item], least: usize) -> Result<Vec<Unit<'a>>, DeskError> {
    let boxes = Boxes::of(plan);
    let mut units: BTreeMap<(Option<u32>, u32), Unit<'a>> = BTreeMap::new();
    let follows = |i: &Item| match &i.body {
        Body::Line(line) => line.from.is_some(),
        Body::Feed(_) => true,
        _ => false,
    };
    for &item in items.iter().filter(|i| !follows(i)) {
        let around = boxes.around(item);
        let key = item.group.map_or((None, item.id.0), |group| (Some(group.0), 0));
        match units.get_mut(&key) {
            Some(unit) => {
                unit.items.push(item);
                unit.around = both(unit.around, around);
            }
            None => _ = units.insert(key, Unit { items: vec![item], around }),
        }
    }
    if units.len() < least {
        let next = say!(gate::FEW_PLACES_NEXT, least = least);
        return Err(refused(say!(gate::AT_ITEMS), names(items), say!(gate::FEW_PLACES), next));
    }
    let mut units: Vec<Unit<'a>> = units.into_values().collect();
    units.sort_by_key(|unit| unit.items[0].id);
    Ok(units)
}

fn moved(verb: Saying<1>, items: &[&Item], moves: Vec<(Unit<'_>, Vector)>) -> Arranged {
    let far = moves.into_iter().filter(|(_, by)| by.x != 0.0 || by.y != 0.0);
    let steps = far.flat_map(|(unit, by)| {
        let moved: Vec<Command> = unit.items.iter().map(|i| step(Some(i), i.moved(by))).collect();
        moved
    });
    Arranged {
        label: verb.with([("names", names(items))]).into(),
        command: Command::Together { steps: steps.collect() },
        added: Vec::new(),
        notes: Vec::new(),
    }
}

pub(super) fn align(plan: &Plan, items: &[&Item], edge: Edge) -> Result<Arranged, DeskError> {
    let units = units(plan, items, 2)?;
    let all = units.iter().map(|u| u.around).reduce(both).unwrap_or_default();
    let place = |a: &Around| match edge {
        Edge::West => a[0],
        Edge::South => a[1],
        Edge::East => a[2],
        Edge::North => a[3],
        Edge::MiddleX => (a[0] + a[2]) / 2.0,
        Edge::MiddleY => (a[1] + a[3]) / 2.0,
    };
    let along = match edge {
        Edge::West | Edge::East | Edge::MiddleX => Axis::X,
        Edge::South | Edge::North | Edge::MiddleY => Axis::Y,
    };
    let moves = units.into_iter().map(|unit| {
        let far = place(&all) - place(&unit.around);
        (unit, vector(along, far))
    });
    Ok(moved(doing::ALIGN, items, moves.collect()))
}

pub(super) fn distribute(plan: &Plan, items: &[&Item], along: Axis) -> Result<Arranged, DeskError> {
    let mut units = units(plan, items, 3)?;
    let ends = |u: &Unit<'_>| match along {
        Axis::X => (u.around[0], u.around[2]),
        Axis::Y => (u.around[1], u.around[3]),
    };
    let middle = |u: &Unit<'_>| ends(u).0 + ends(u).1;
    units.sort_by(|a, b| middle(a).total_cmp(&middle(b)).then(a.items[0].id.cmp(&b.items[0].id)));
    let (Some(first), Some(last)) = (units.first(), units.last()) else {
        return Ok(moved(doing::DISTRIBUTE, items, vec![]));
    };
    let room = ends(last).1 - ends(first).0;
    let taken: f64 = units.iter().map(|u| ends(u).1 - ends(u).0).sum();
    let gap = (room - taken) / (units.len() - 1) as f64;
    let (count, mut at) = (units.len(), ends(first).0);
    let mut moves = Vec::with_capacity(count);
    for (n, unit) in units.into_iter().enumerate() {
        let (low, high) = ends(&unit);
        // The outermost ones stay to the last bit.
        let far = if n == 0 || n + 1 == count { 0.0 } else { at - low };
        at += high - low + gap;
        moves.push((unit, vector(along, far)));
    }
    Ok(moved(doing::DISTRIBUTE, items, moves))
}

fn vector(along: Axis, far: f64) -> Vector {
    match along {
        Axis::X => Vector { x: far, y: 0.0 },
        Axis::Y => Vector { x: 0.0, y: far },
    }
}
