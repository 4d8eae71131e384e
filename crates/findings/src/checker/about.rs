//! The findings about a few items, for somebody who draws them: what would take long for the whole plan is left out.

use std::borrow::Cow;

use super::*;
use crate::links;

/// So many items near the ones that are asked for are compared with them.
const MOST_NEAR: usize = 2_000;

pub(super) fn about(checker: &Checker, plan: &Plan, placement: &Placement, ids: &[ItemId]) -> Vec<Finding> {
    let asked: BTreeSet<ItemId> = ids.iter().copied().collect();
    let ends = ends_taken_on(plan);
    let leads_on =
        |item: &Item| matches!(&item.body, Body::Line(line) if line.to.is_some()) || ends.contains(&item.id);
    // Taped places are compared with the drawing once for each state of the hall.
    let known = checker.basis.hall.as_ref() == Some(&plan.hall);
    let made = if known { None } else { Some(tapes::measure(&plan.hall)) };
    let measured = made.as_ref().unwrap_or(&checker.measured);
    let pieces = |item: &Item| placement.item(item.id).map(|p| &p.pieces);
    let items: Vec<&Item> = asked.iter().filter_map(|&id| plan.item(id)).collect();
    let look = |item: &&Item| Kept::new(plan, measured, (item, pieces(item)), leads_on(item));
    let kept: Vec<Kept> = items.par_iter().map(look).collect();

    let mut found: Vec<Finding> = Vec::new();
    for (item, kept) in items.iter().zip(&kept) {
        found.extend(kept.found.iter().cloned());
        links::of_item((plan, placement), item, &mut found);
        unlaid::feed((plan, placement), item, &mut found);
    }
    let mut rings = Vec::new();
    links::rings(plan, &mut rings);
    found.extend(rings.into_iter().filter(|f| f.place.item.is_some_and(|id| asked.contains(&id))));

    let others = near_ones(checker, (plan, placement), &kept, &asked, &leads_on);
    repairs(plan, &kept, &others, &mut found);
    let mut pairs = Vec::new();
    for (i, a) in kept.iter().enumerate() {
        let Some(around) = wide(plan, a) else { continue };
        let rest = kept[i + 1..].iter().chain(others.iter().map(Cow::as_ref));
        pairs.extend(rest.filter(|b| wide(plan, b).is_some_and(|w| w.meets(&around))).map(|b| (a, b)));
        pairs.truncate(MOST_PAIRS);
    }
    let pair = |&(a, b): &(&Kept, &Kept)| {
        let (a, b) = if a.item.id < b.item.id { (a, b) } else { (b, a) };
        between((plan, placement), a, b)
    };
    found.extend(pairs.par_iter().map(pair).collect::<Vec<_>>().into_iter().flatten());
    found.sort_by(|a, b| a.order().cmp(&b.order()));
    found.iter_mut().for_each(|f| f.mend = f.mend.take().filter(|mend| may_mend(plan, mend)));
    capped(found)
}

/// Lines and fills at whose end another line begins.
fn ends_taken_on(plan: &Plan) -> BTreeSet<ItemId> {
    let from = |item: &Item| match &item.body {
        Body::Line(line) => line.from.as_ref().filter(|l| l.port.starts_with("end")).map(|l| l.item),
        _ => None,
    };
    plan.items.iter().filter_map(from).collect()
}

/// The bounds of an item, and what its pieces reach around them.
fn wide(plan: &Plan, kept: &Kept) -> Option<Bounds> {
    let reach = reach_of(plan, &kept.item).map_or(1.0, |r| r.most());
    Some(kept.thing().bounds()?.wider(reach))
}

/// The other items that stand so near that they could have to do with one of these. What was kept of them is used
/// where it still holds.
fn near_ones<'a>(
    checker: &'a Checker,
    (plan, placement): (&Plan, &Placement),
    asked: &[Kept],
    ids: &BTreeSet<ItemId>,
    leads_on: &(dyn Fn(&Item) -> bool + Sync),
) -> Vec<Cow<'a, Kept>> {
    // Beside a field somebody kneels who wants to reach into it.
    let knees = |k: &Kept| k.item.field().and_then(|_| Some(repair::knees(&k.thing().bounds()?)));
    let wide: Vec<Bounds> = asked.iter().flat_map(|k| [wide(plan, k), knees(k)]).flatten().collect();
    let near = |item: &&Item| {
        let bounds = rough(plan, placement, item);
        !ids.contains(&item.id) && bounds.is_some_and(|b| wide.iter().any(|w| w.meets(&b)))
    };
    let near: Vec<&Item> = plan.items.iter().filter(near).take(MOST_NEAR).collect();
    let look = |item: &&Item| {
        let pieces = placement.item(item.id).map(|p| &p.pieces);
        let kept = checker
            .items
            .get(&item.id)
            .filter(|k| pieces.is_some_and(|p| Arc::ptr_eq(p, &k.shape.pieces)) && k.item == **item);
        match kept {
            // Sizes of kinds and heights of surfaces are in the shape as well.
            Some(kept)
                if checker.basis.kinds == plan.stock.kinds && checker.basis.surfaces == plan.surfaces =>
            {
                Cow::Borrowed(kept)
            }
            _ => Cow::Owned(Kept::unchecked(plan, (item, pieces), leads_on(item))),
        }
    };
    near.par_iter().map(look).collect()
}

/// A rectangle around an item and all that its pieces reach, without a look at each piece.
fn rough(plan: &Plan, placement: &Placement, item: &Item) -> Option<Bounds> {
    let reach = reach_of(plan, item).map_or(1.0, |r| r.most());
    let largest = |k: &Kind| units::maths::hypot(k.thickness.to_mm(), k.width.to_mm()) / 2.0;
    let half = plan.stock.kinds.iter().map(largest).fold(0.0, f64::max);
    let centres = placement.item(item.id).and_then(|p| p.bounds);
    let pieces = centres.and_then(|b| Bounds::around(b.into_iter())).map(|b| b.wider(half));
    let block = Block::of(plan, item).and_then(|b| b.bounds());
    let both = match (pieces, block) {
        (Some(a), Some(b)) => Some(a.with(&b)),
        (a, b) => a.or(b),
    };
    both.map(|b| b.wider(reach))
}

/// Whether one can reach into the fields that are asked for.
fn repairs(plan: &Plan, asked: &[Kept], others: &[Cow<'_, Kept>], found: &mut Vec<Finding>) {
    let all = asked.iter().chain(others.iter().map(Cow::as_ref));
    let blocks: Vec<(ItemId, Block)> =
        all.filter_map(|k| Some((k.item.id, k.block.filter(|_| k.blocks())?))).collect();
    for kept in asked.iter().filter(|k| k.item.field().is_some()) {
        let Some(own) = kept.thing().bounds() else { continue };
        let around = repair::near(&own, blocks.iter().filter(|(id, _)| *id != kept.item.id).map(|(_, b)| b));
        repair::check(plan, &kept.item, &kept.shape, &around, found);
    }
}
