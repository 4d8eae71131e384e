//! Keeps what was found for each item and each pair of near items, so that a change costs what it touches.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use fall::Network;
use placement::{Pieces, Placement};
use plan::{Body, Command, Gear, Hall, Item, ItemId, Kind, Link, Need, Plan, Surface};
use rayon::prelude::*;
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity};
use crate::overlap::{Block, Thing};
use crate::reach::{Meant, reach_of};
use crate::reached::Reached;
use crate::seen::Seen;
use crate::shape::{Bounds, Shape};
use crate::tapes::{self, Measured};
use crate::wrong_feed;
use crate::{
    CheckInput, bridges, clearance, comb, fed, gaps, hall, overlap, reach, repair, sides, slope, spacing,
    turn, unlaid,
};

mod about;

/// More pairs of near items than this are not compared; the rest is told as one finding.
const MOST_PAIRS: usize = 20_000;
/// So many times two items are asked whether they are near.
const MOST_LOOKS: usize = 4_000_000;
/// More findings of one check than this are one mistake made many times.
const MOST_OF_ONE: usize = 200;

/// Finds the same as [`crate::check`], and looks again only at what changed since it was asked last.
#[derive(Debug, Default)]
pub struct Checker {
    basis: Basis,
    measured: Measured,
    repairs: BTreeMap<ItemId, Repair>,
    items: BTreeMap<ItemId, Kept>,
    pairs: BTreeMap<(ItemId, ItemId), Vec<Finding>>,
}

/// Whether a field can be reached into, and what stood around it when that was asked.
#[derive(Debug)]
struct Repair {
    around: Vec<Block>,
    found: Vec<Finding>,
}

/// What every item's findings hang on besides the item.
#[derive(Debug, Default, PartialEq, Clone)]
struct Basis {
    kinds: Vec<Kind>,
    gear: Vec<Gear>,
    surfaces: Vec<Surface>,
    hall: Option<Hall>,
}

#[derive(Debug, Clone)]
struct Kept {
    item: Item,
    shape: Arc<Shape>,
    block: Option<Block>,
    leads_on: bool,
    needs: Vec<Need>,
    found: Vec<Finding>,
    /// Made in this round, so that its pairs have to be made again.
    fresh: bool,
}

impl Checker {
    /// One that has seen nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Everything that the checks find in a plan, the worst first. `placement` and
    /// `network` are those of the plan.
    pub fn check(
        &mut self,
        plan: &Plan,
        placement: &Placement,
        network: &Network,
        input: &CheckInput<'_>,
    ) -> Vec<Finding> {
        let basis = Basis {
            kinds: plan.stock.kinds.clone(),
            gear: plan.stock.gear.clone(),
            surfaces: plan.surfaces.clone(),
            hall: Some(plan.hall.clone()),
        };
        if basis != self.basis {
            *self = Self { measured: tapes::measure(&plan.hall), basis, ..Self::default() };
        }
        self.look_at_items(plan, placement, network);
        let mut found: Vec<Finding> = self.items.values().flat_map(|k| k.found.iter().cloned()).collect();
        found.extend(self.measured.found.iter().cloned());
        self.look_at_repairs(plan, &mut found);
        let all = self.look_at_pairs(plan, placement);
        found.extend(self.pairs.values().flatten().cloned());
        if !all {
            found.push(too_many_near());
        }
        let needs: Vec<(ItemId, Vec<Need>)> =
            self.items.iter().map(|(id, k)| (*id, k.needs.clone())).collect();
        crate::whole(plan, placement, &needs, input, &mut found);
        let reached = Reached::of(network);
        if !network.starts().is_empty() {
            let seen = self.seen(network, &reached);
            fed::check(plan, (network, &reached), &seen, &mut found);
            wrong_feed::check(plan, &seen, &mut found);
            slope::starts(plan, network, &mut found);
        }
        found.sort_by(|a, b| a.order().cmp(&b.order()));
        found.iter_mut().for_each(|f| f.mend = f.mend.take().filter(|mend| may_mend(plan, mend)));
        capped(found)
    }

    /// What is wrong with some items of a plan and between them and what stands near them, the worst first: what each
    /// shows alone, with one other item, and in its links. What asks the whole plan (stock, starts, the reach of the
    /// wave) is not told, and what asks whether the wave goes on behind a line is told from its links alone.
    ///
    /// It keeps nothing; of what it knows from its last check it uses what still holds.
    pub fn about(&self, plan: &Plan, placement: &Placement, ids: &[ItemId]) -> Vec<Finding> {
        about::about(self, plan, placement, ids)
    }

    fn seen<'a>(&'a self, network: &Network, reached: &'a Reached) -> BTreeMap<ItemId, Seen<'a>> {
        let see =
            |k: &'a Kept| Seen { item: &k.item, shape: &k.shape, fates: reached.of_item(network, k.item.id) };
        self.items.iter().map(|(id, k)| (*id, see(k))).collect()
    }

    /// Makes again the findings of each item that is new, changed or placed again; forgets those that are gone.
    fn look_at_items(&mut self, plan: &Plan, placement: &Placement, network: &Network) {
        let leads_on = leads_on(plan, placement, network);
        let mut old = std::mem::take(&mut self.items);
        let jobs: Vec<(&Item, Option<Kept>)> = plan.items.iter().map(|i| (i, old.remove(&i.id))).collect();
        let look = |(item, kept): (&Item, Option<Kept>)| {
            let leads_on = leads_on.contains(&item.id);
            let placed = placement.item(item.id);
            let same = |k: &Kept| {
                k.leads_on == leads_on
                    && placed.is_some_and(|p| Arc::ptr_eq(&p.pieces, &k.shape.pieces))
                    && k.item == *item
            };
            match kept.filter(same) {
                Some(kept) => Kept { fresh: false, ..kept },
                None => Kept {
                    needs: placed.map_or_else(Vec::new, |p| p.needs(plan).to_vec()),
                    ..Kept::new(plan, &self.measured, (item, placed.map(|p| &p.pieces)), leads_on)
                },
            }
        };
        let kept: Vec<Kept> = jobs.into_par_iter().map(look).collect();
        self.items = kept.into_iter().map(|k| (k.item.id, k)).collect();
    }

    /// Asks again for each field that changed, or around which something did.
    fn look_at_repairs(&mut self, plan: &Plan, found: &mut Vec<Finding>) {
        let mut old = std::mem::take(&mut self.repairs);
        let blocks: Vec<(ItemId, Block)> =
            self.items.iter().filter_map(|(id, k)| Some((*id, k.block.filter(|_| k.blocks())?))).collect();
        let fields: Vec<&Kept> = self.items.values().filter(|k| k.item.field().is_some()).collect();
        // Each field asks each block: with more than this nobody would wait for the answer.
        if fields.len().saturating_mul(blocks.len()) > MOST_LOOKS {
            return;
        }
        let jobs: Vec<(&Kept, Option<Repair>)> =
            fields.into_iter().map(|k| (k, old.remove(&k.item.id))).collect();
        let look = |(kept, repair): (&Kept, Option<Repair>)| {
            let own = kept.thing().bounds()?;
            let others = blocks.iter().filter(|(id, _)| *id != kept.item.id).map(|(_, b)| b);
            let around = repair::near(&own, others);
            if let Some(repair) = repair.filter(|r| !kept.fresh && r.around == around) {
                return Some((kept.item.id, repair));
            }
            let mut found = Vec::new();
            repair::check(plan, &kept.item, &kept.shape, &around, &mut found);
            Some((kept.item.id, Repair { around, found }))
        };
        self.repairs = jobs.into_par_iter().filter_map(look).collect();
        found.extend(self.repairs.values().flat_map(|r| r.found.iter().cloned()));
    }

    /// Makes again the findings of each near pair of which one is fresh. False when there were too many.
    fn look_at_pairs(&mut self, plan: &Plan, placement: &Placement) -> bool {
        let (near, all) = near(plan, &self.items);
        let mut old = std::mem::take(&mut self.pairs);
        let jobs: Vec<_> = near.into_iter().map(|pair| (pair, old.remove(&pair))).collect();
        let look = |(pair, kept): ((ItemId, ItemId), Option<Vec<Finding>>)| {
            let (a, b) = (&self.items[&pair.0], &self.items[&pair.1]);
            match kept {
                Some(found) if !a.fresh && !b.fresh => (pair, found),
                _ => (pair, between((plan, placement), a, b)),
            }
        };
        self.pairs = jobs.into_par_iter().map(look).collect();
        all
    }
}

impl Kept {
    fn new(
        plan: &Plan,
        measured: &Measured,
        (item, pieces): (&Item, Option<&Arc<Pieces>>),
        leads_on: bool,
    ) -> Self {
        let mut kept = Self::unchecked(plan, (item, pieces), leads_on);
        let shape = &kept.shape;
        let mut found = Vec::new();
        comb::check(plan, item, &mut found);
        comb::stretched(plan, item, shape, &mut found);
        spacing::check(plan, item, shape, &mut found);
        turn::check(plan, item, shape, &mut found);
        sides::check(plan, item, shape, &mut found);
        slope::check(plan, item, shape, &mut found);
        bridges::check(plan, item, shape, &mut found);
        gaps::check(item, shape, &mut found);
        hall::check(plan, item, shape, &mut found);
        tapes::check(measured, item, shape, plan, &mut found);
        clearance::check(plan, item, shape, &mut found);
        clearance::under_bridge(plan, (item, shape), (item, shape), &mut found);
        // The gate keeps the pieces of a field apart.
        if item.field().is_none() {
            overlap::within(item, shape, &mut found);
        }
        reach::into_itself(plan, item, shape, leads_on, &mut found);
        if shape.len() == 0 {
            unlaid::fill(plan, item, &mut found);
        }
        kept.found = found;
        kept
    }

    /// What stands there, before anything is looked at.
    fn unchecked(plan: &Plan, (item, pieces): (&Item, Option<&Arc<Pieces>>), leads_on: bool) -> Self {
        let nothing = || Arc::new(placement::place_item(&bare(item), &plan.stock));
        let shape = Shape::new(plan, &pieces.map_or_else(nothing, Arc::clone));
        Self {
            item: item.clone(),
            block: Block::of(plan, item),
            shape: Arc::new(shape),
            leads_on,
            needs: Vec::new(),
            found: Vec::new(),
            fresh: true,
        }
    }

    /// Whether nobody can kneel where it stands.
    fn blocks(&self) -> bool {
        !matches!(self.item.body, Body::Stopper(_))
    }

    fn thing(&self) -> Thing<'_> {
        Thing { item: &self.item, shape: &self.shape, block: self.block }
    }
}

/// Whether the gate would take a mend: a locked item is not changed.
fn may_mend(plan: &Plan, mend: &Command) -> bool {
    let id = match mend {
        Command::PutItem { item } => item.id,
        Command::MoveItem { id, .. } | Command::SetFrame { id, .. } | Command::RemoveItem { id } => *id,
        _ => return true,
    };
    plan.item(id).is_none_or(|item| !item.locked)
}

/// The item without what makes pieces: a start where it is.
fn bare(item: &Item) -> Item {
    let body = Body::Start(plan::Start { width: units::Length::ZERO, after: units::Duration::ZERO });
    Item { body, ..item.clone() }
}

/// Whether the last piece of some lane of a line hits something.
fn hits_on(item: &Item, pieces: &Pieces, network: &Network) -> bool {
    let Some(first) = network.index().first(item.id).filter(|_| crate::lanes::laid(item).is_some()) else {
        return false;
    };
    let mut from = 0;
    while from < pieces.len() {
        let lane = pieces.lane[from];
        from += pieces.lane[from..].partition_point(|&l| l == lane);
        if network.edges(2 * (first + from as u32 - 1)).next().is_some() {
            return true;
        }
    }
    false
}

/// Lines and fills whose end some link takes on or that hit something, and lines that lead to a port.
fn leads_on(plan: &Plan, placement: &Placement, network: &Network) -> BTreeSet<ItemId> {
    let mut all = BTreeSet::new();
    for item in &plan.items {
        if placement.item(item.id).is_some_and(|p| hits_on(item, &p.pieces, network)) {
            all.insert(item.id);
        }
        let Body::Line(line) = &item.body else { continue };
        if line.to.is_some() {
            all.insert(item.id);
        }
        all.extend(line.from.as_ref().filter(|l| l.port.starts_with("end")).map(|l| l.item));
    }
    all
}

/// The pairs of items whose bounds come near one another, by id; false when there are more than can be compared.
fn near(plan: &Plan, items: &BTreeMap<ItemId, Kept>) -> (Vec<(ItemId, ItemId)>, bool) {
    let mut all: Vec<(Bounds, ItemId)> = items
        .values()
        .filter_map(|k| {
            let reach = reach_of(plan, &k.item).map_or(1.0, |r| r.most());
            Some((k.thing().bounds()?.wider(reach), k.item.id))
        })
        .collect();
    // Along the longer side of the hall fewer items lie beside one another.
    let spread = |low: fn(&Bounds) -> f64| {
        let values = all.iter().map(|(b, _)| low(b));
        let (least, most) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        most - least
    };
    type Side = fn(&Bounds) -> f64;
    let (from, to): (Side, Side) = if spread(|b| b.west) >= spread(|b| b.south) {
        (|b| b.west, |b| b.east)
    } else {
        (|b| b.south, |b| b.north)
    };
    all.sort_by(|a, b| from(&a.0).total_cmp(&from(&b.0)).then(a.1.cmp(&b.1)));
    let (mut pairs, mut looks) = (Vec::new(), 0);
    for (i, (a, id)) in all.iter().enumerate() {
        for (b, other) in all[i + 1..].iter().take_while(|(b, _)| from(b) <= to(a)) {
            looks += 1;
            if a.meets(b) {
                pairs.push((*id.min(other), *id.max(other)));
            }
            if pairs.len() == MOST_PAIRS || looks == MOST_LOOKS {
                pairs.sort_unstable();
                return (pairs, false);
            }
        }
    }
    pairs.sort_unstable();
    (pairs, true)
}

fn between((plan, placement): (&Plan, &Placement), a: &Kept, b: &Kept) -> Vec<Finding> {
    let mut found = Vec::new();
    overlap::between(&a.thing(), &b.thing(), &mut found);
    // Those that stand in one another are not told again as too close.
    if !found.is_empty() {
        return found;
    }
    let (x, y) = ((&a.item, &*a.shape), (&b.item, &*b.shape));
    clearance::under_bridge(plan, x, y, &mut found);
    clearance::under_bridge(plan, y, x, &mut found);
    if let Some(at) = transfers((plan, placement), &a.item, &b.item) {
        reach::into_other(plan, x, y, &Meant { at: at.clone(), leads_on: a.leads_on }, &mut found);
        reach::into_other(plan, y, x, &Meant { at, leads_on: b.leads_on }, &mut found);
    }
    found
}

/// Where two items lead into one another, or begin at the same item; `None` when all of them may touch, as a feed and
/// its field.
fn transfers((plan, placement): (&Plan, &Placement), a: &Item, b: &Item) -> Option<Vec<geometry::Point>> {
    if feeds(a, b) || feeds(b, a) {
        return None;
    }
    let (la, lb) = (links(a), links(b));
    let direct = la.iter().filter(|l| l.item == b.id).chain(lb.iter().filter(|l| l.item == a.id));
    let shared = la.iter().filter(|l| lb.iter().any(|m| m.item == l.item));
    let shared_too = lb.iter().filter(|l| la.iter().any(|m| m.item == l.item));
    let all = direct.chain(shared).chain(shared_too);
    Some(all.filter_map(|l| placement.port(plan, l)).map(|p| p.at).collect())
}

fn feeds(a: &Item, b: &Item) -> bool {
    matches!(&a.body, Body::Feed(f) if f.of == b.id)
}

fn links(item: &Item) -> Vec<&Link> {
    match &item.body {
        Body::Line(l) => l.from.iter().chain(&l.to).collect(),
        _ => Vec::new(),
    }
}

/// At most so many findings of one check, and after them one more that says how many there are besides.
fn capped(found: Vec<Finding>) -> Vec<Finding> {
    let mut counts = BTreeMap::<&'static str, (usize, Severity)>::new();
    let mut kept = Vec::with_capacity(found.len());
    for f in found {
        // Sorted by severity: the last one seen is the least grave of those that are left out.
        let (count, severity) = counts.entry(f.code).or_insert((0, f.severity));
        *count += 1;
        if *count <= MOST_OF_ONE {
            kept.push(f);
        } else if *count == MOST_OF_ONE + 1 {
            *severity = f.severity;
        }
    }
    let more =
        counts.into_iter().filter(|(_, (n, _))| *n > MOST_OF_ONE).map(|(code, (n, severity))| Finding {
            code,
            severity,
            place: Place::plan(),
            message: say!(found::MORE, n = (n - MOST_OF_ONE) as u64),
            hint: say!(found::MORE_HINT),
            mend: None,
        });
    let mut all: Vec<(Finding, bool)> =
        kept.into_iter().map(|f| (f, false)).chain(more.map(|f| (f, true))).collect();
    // The sort is stable, and those that are told are in their order; a rest is never what is read first of its check.
    all.sort_by_key(|(f, rest)| (f.severity, f.code, *rest));
    all.into_iter().map(|(f, _)| f).collect()
}

fn too_many_near() -> Finding {
    Finding {
        code: "too-many-near",
        severity: Severity::Should,
        place: Place::plan(),
        message: say!(found::NEAR),
        hint: say!(found::NEAR_HINT),
        mend: None,
    }
}

/// What is found in one item whose pieces stand so.
#[cfg(test)]
pub(crate) fn found_in(plan: &Plan, item: &Item, pieces: &Arc<Pieces>) -> Vec<Finding> {
    Kept::new(plan, &Measured::default(), (item, Some(pieces)), false).found
}

/// What is found between two items whose pieces stand so.
#[cfg(test)]
pub(crate) fn found_between(plan: &Plan, a: (&Item, &Arc<Pieces>), b: (&Item, &Arc<Pieces>)) -> Vec<Finding> {
    let kept = |(item, pieces): (&Item, &Arc<Pieces>)| {
        Kept::new(plan, &Measured::default(), (item, Some(pieces)), false)
    };
    between((plan, &Placement::of(plan)), &kept(a), &kept(b))
}
