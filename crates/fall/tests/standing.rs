//! What falls of what stands: open gaps, items that are not built yet, soft touches, splits and joins.

mod common;

use std::collections::BTreeSet;

use common::*;
use fall::{Block, Built, Holds, TouchMap, openings, touch};
use plan::{Item, ItemId, Plan, SafetyGap};

fn all(plan: &Plan) -> TouchMap {
    touch(plan, &network(plan), &Built::default())
}

fn open(plan: &Plan) -> TouchMap {
    touch(plan, &network(plan), &Built { items: None, gaps_open: true })
}

fn gap(plan: &mut Plan, item: ItemId, first: u32, count: u32, stopper: bool) {
    let at = plan.items.iter().position(|i| i.id == item).expect("the item is in the plan");
    let item: &mut Item = &mut plan.items[at];
    item.gaps.push(SafetyGap { first, count, stopper });
}

/// A search over the network's own edges and strays, for a plan that stands whole.
fn by_hand(network: &fall::Network, from: &[u32]) -> u32 {
    let (mut seen, mut stack): (BTreeSet<u32>, _) = (from.iter().copied().collect(), from.to_vec());
    while let Some(s) = stack.pop() {
        let hits = network.edges(s).map(|e| e.to);
        stack.extend(hits.chain(network.strays(s)).filter(|&t| seen.insert(t)));
    }
    seen.iter().map(|s| s / 2).collect::<BTreeSet<_>>().len() as u32
}

/// `safety_gap.csv`: pitch 15 mm, three left out, an opening of 52.5 mm: held 40 of 40 at friction 0.3, 0 of 40 at 0.15.
#[test]
fn three_left_out_hold_on_a_floor_that_grips_and_not_on_a_slick_one() {
    for (mu, stopper, forward) in [(0.3, false, 20), (0.15, false, 57), (0.15, true, 20), (0.3, true, 20)] {
        let mut p = plan(mu);
        let line = put(&mut p, 0.0, 0.0, 0.0, field(1, 60, 15.0, 25.0, 0.0));
        gap(&mut p, line, 20, 3, stopper);
        let map = open(&p);
        assert_eq!(map.forward[0], forward, "friction {mu}, stopper {stopper}");
        // Backwards from the end: 37 pieces stand behind the gap.
        assert_eq!(map.back[59], if forward == 57 { 57 } else { 37 });
        assert_eq!((map.forward[20], map.most[22]), (0, 0), "what is left out does not stand");
        assert_eq!(all(&p).forward[0], 60);
        let seen = openings(&p, &network(&p), &Built { items: None, gaps_open: true });
        assert_eq!(seen.len(), 2, "from either side");
        assert!((seen[0].opening.clear - 52.5).abs() < 1e-6 && (seen[0].opening.gap - 7.5).abs() < 1e-6);
        assert_eq!(seen[0].opening.block, if stopper { Block::Fixed } else { Block::None });
        assert_eq!(seen[0].holds == Holds::Surely, forward == 20);
    }
}

/// One left out at 15 mm stops nothing on any floor (`safety_gap.csv`, 0 of 40 held at 0.15 and at 0.3).
#[test]
fn one_left_out_stops_nothing() {
    for mu in [0.15, 0.2, 0.3] {
        let mut p = plan(mu);
        let line = put(&mut p, 0.0, 0.0, 0.0, field(1, 60, 15.0, 25.0, 0.0));
        gap(&mut p, line, 20, 1, false);
        assert_eq!(open(&p).forward[0], 59);
    }
}

#[test]
fn a_gap_across_a_field_opens_all_its_lanes() {
    let mut p = plan(0.3);
    let f = put(&mut p, 0.0, 0.0, 0.0, field(5, 30, 15.0, 27.0, 0.0));
    gap(&mut p, f, 10, 3, false);
    let map = open(&p);
    for lane in 0..5 {
        assert_eq!(map.forward[lane * 30], 10);
        assert_eq!(map.forward[lane * 30 + 13], 17);
    }
}

#[test]
fn a_stopper_that_stands_in_the_opening_holds_like_one_of_the_gap() {
    for (fixed, falls) in [(true, 20), (false, 57)] {
        let mut p = plan(0.15);
        let line = put(&mut p, 0.0, 0.0, 0.0, field(1, 60, 15.0, 25.0, 0.0));
        gap(&mut p, line, 20, 3, false);
        let mm = units::Length::mm;
        let block = plan::Stopper { thickness: mm(7.5), width: mm(40.0), height: mm(48.0), fixed };
        put(&mut p, 315.0, 0.0, 0.0, plan::Body::Stopper(block));
        // The whole plan's network is that of the pieces without the block, since the block stands only for a while.
        let mut closed = p.clone();
        closed.items.truncate(1);
        let map = touch(&p, &network(&closed), &Built { items: None, gaps_open: true });
        assert_eq!(map.forward[0], falls);
    }
}

#[test]
fn items_that_are_not_built_yet_open_the_line() {
    let mut p = plan(0.3);
    let a = put(&mut p, 0.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
    let b = put(&mut p, 150.0, 0.0, 0.0, field(1, 2, 15.0, 25.0, 0.0));
    let c = put(&mut p, 180.0, 0.0, 0.0, field(1, 10, 15.0, 25.0, 0.0));
    let n = network(&p);
    let with = |items: &[ItemId]| touch(&p, &n, &Built { items: Some(items.to_vec()), gaps_open: false });
    assert_eq!(with(&[a, b, c]).forward[0], 22);
    // 37.5 mm between: the fall passes without them (`safety_gap.csv`, 0 of 40 held at 0.3).
    assert_eq!(with(&[a, c]).forward[0], 20);
    assert_eq!(with(&[a]).forward[0], 10);
    assert_eq!(with(&[c]).forward[12], 10);
    assert_eq!(with(&[c]).forward[0], 0);
    assert_eq!(with(&[]).worst(3), vec![]);
}

/// A soft touch on a slick floor starts both ways at clear gaps of 12 and 20 mm, at 7.5 mm and on a floor that grips it
/// does not (`backward_line.csv`).
#[test]
fn a_soft_touch_on_a_slick_floor_takes_both_ways() {
    for (mu, pitch, most) in [(0.15, 19.5, 40), (0.15, 27.5, 40), (0.15, 15.0, 26), (0.3, 19.5, 26)] {
        let mut p = plan(mu);
        put(&mut p, 0.0, 0.0, 0.0, field(1, 40, pitch, 25.0, 0.0));
        let map = all(&p);
        assert_eq!((map.forward[14], map.back[14]), (26, 15));
        assert_eq!(map.most[14], most, "friction {mu}, pitch {pitch}");
    }
}

/// `backward_touch.csv`, 32 mm between branches: a branch knocked back takes what is behind it and the trunk, not the
/// other branch; the trunk knocked back takes only the trunk. At a join the trunk takes both branches.
#[test]
fn backward_touches_through_splits_and_joins_are_as_measured() {
    let mut split = plan(0.3);
    put(&mut split, 0.0, 0.0, 0.0, field(1, 16, 15.0, 25.0, 0.0));
    put(&mut split, 240.0, -16.0, 0.0, field(1, 14, 15.0, 25.0, 0.0));
    put(&mut split, 240.0, 16.0, 0.0, field(1, 14, 15.0, 25.0, 0.0));
    let map = all(&split);
    assert_eq!(map.forward[0], 44);
    assert_eq!(map.back[16 + 7], 8 + 16, "branch and trunk");
    assert_eq!(map.back[10], 11, "trunk only");
    assert_eq!(map.forward[16 + 7], 7, "the rest of the branch");
    let mut join = plan(0.3);
    put(&mut join, 0.0, -16.0, 0.0, field(1, 14, 15.0, 25.0, 0.0));
    put(&mut join, 0.0, 16.0, 0.0, field(1, 14, 15.0, 25.0, 0.0));
    put(&mut join, 210.0, 0.0, 0.0, field(1, 16, 15.0, 25.0, 0.0));
    let map = all(&join);
    assert_eq!(map.back[28 + 5], 6 + 28, "the trunk takes both branches");
    assert_eq!(map.back[6], 7, "a branch takes what is behind it");
    assert_eq!(map.forward[6], 8 + 16, "the rest of the branch and the trunk");
}

#[test]
fn a_mixed_plan_equals_searches_over_the_network() {
    let mut p = plan(0.3);
    put(&mut p, 0.0, 0.0, 0.0, field(1, 50, 15.0, 25.0, 0.0));
    put(&mut p, 750.0, -16.0, 0.0, field(1, 30, 15.0, 25.0, 0.0));
    put(&mut p, 750.0, 16.0, 0.0, field(1, 30, 15.0, 25.0, 0.0));
    put(&mut p, 1200.0, -40.0, 0.0, field(8, 20, 15.0, 24.5, 7.5));
    put(&mut p, 1500.0, 10.0, 90.0, field(1, 20, 15.0, 25.0, 0.0));
    let n = network(&p);
    let map = touch(&p, &n, &Built::default());
    assert!(map.exact);
    for piece in 0..n.pieces() {
        let i = piece as usize;
        assert_eq!(map.forward[i], by_hand(&n, &[2 * piece]), "piece {piece}");
        assert_eq!(map.back[i], by_hand(&n, &[2 * piece + 1]), "piece {piece}");
    }
}
