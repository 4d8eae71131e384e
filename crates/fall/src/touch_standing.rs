//! What stands now and what topples what there: built items, open safety gaps, and hits across what is missing.

use plan::{Body, Item, ItemId, Plan, SafetyGap};
use rayon::prelude::*;

use crate::knock::kicks;
use crate::network::{Network, State};
use crate::slides::slides;
use crate::touch::{TouchMap, touch_graph};
use crate::touch_graph::Graph;
use crate::touch_hold::{Block, Holds, Opening, hold};

/// How much of the plan stands.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Built {
    /// The items that are built; all when absent.
    pub items: Option<Vec<ItemId>>,
    /// True while the safety gaps are open: their pieces are missing.
    pub gaps_open: bool,
}

/// An opening between two pieces that stand, with nothing but missing pieces between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Across {
    /// The state that slides towards the opening.
    pub from: State,
    /// The state that it would topple.
    pub to: State,
    /// The opening.
    pub opening: Opening,
    /// Whether it stops the fall.
    pub holds: Holds,
}

/// For every piece of the plan, how many pieces fall when it is touched as much as is built.
///
/// The whole plan's network is taken without the pieces that do not stand. Where pieces that would topple each other in
/// turn are missing, the pieces on both sides may still reach each other: if the opening does not hold surely by
/// [`hold`], the fall counts as passing, and so do slides from the ends of lines ([`slides`]), what flies out of curves
/// ([`Network::thrown`]) and pieces that may be dragged along ([`Network::strays`]). Unsure hits count as hits. Where fallen pieces may slide on a slick floor (least
/// friction at most 0.15) and the clear gap ahead or behind is 10 to 24 mm, a soft touch may start both ways, and
/// [`TouchMap::most`] counts both.
pub fn touch(plan: &Plan, network: &Network, built: &Built) -> TouchMap {
    let standing = Standing::of(plan, network, built);
    let (first, to) = (&standing.first[..], &standing.to[..]);
    let mut stands = standing.stands;
    let pieces = stands.len();
    stands.resize((first.len() - 1) / 2, false);
    let mut soft = standing.soft;
    soft.resize(stands.len(), false);
    let mut map = touch_graph(Graph { first, to }, &stands, &soft);
    map.forward.truncate(pieces);
    map.back.truncate(pieces);
    map.most.truncate(pieces);
    map
}

/// The openings in what stands: of safety gaps that are open, and of items that are not built yet, as far as fallen
/// pieces were seen to slide; on slopes only what follows from that is sure. In order of the sliding state.
pub fn openings(plan: &Plan, network: &Network, built: &Built) -> Vec<Across> {
    let sites = Sites::of(plan, network);
    let stands = standing_pieces(plan, network, built);
    let blocks = Blocks::of(plan);
    let states = 0..2 * network.pieces();
    states.into_par_iter().flat_map_iter(|s| across(&sites, &stands, &blocks, s)).collect()
}

/// The graph of what stands; behind the pieces one more for each placeholder that passes the fall on.
struct Standing {
    first: Vec<u32>,
    to: Vec<u32>,
    stands: Vec<bool>,
    soft: Vec<bool>,
}

impl Standing {
    fn of(plan: &Plan, network: &Network, built: &Built) -> Self {
        let sites = Sites::of(plan, network);
        let stands = standing_pieces(plan, network, built);
        let blocks = Blocks::of(plan);
        let entries = entries(network, built);
        let slides = slides(plan, network);
        let run_outs = network.thrown(plan);
        let floor = plan.hall.grip.floor.0.min(plan.hall.grip.floor.1);
        let rows: Vec<Rows> = chunks(network.pieces())
            .into_par_iter()
            .map(|(from, end)| {
                let mut rows = Rows::default();
                for s in 2 * from..2 * end {
                    rows.add_state(&sites, &stands, s, floor);
                    rows.to.extend(across(&sites, &stands, &blocks, s).into_iter().filter_map(passing));
                    rows.add_strays(network, (&slides, run_outs), &stands, s);
                    let at = entries.partition_point(|e| e.0 < s);
                    let passes = entries[at..].iter().take_while(|e| e.0 == s && stands[s as usize / 2]);
                    rows.to.extend(passes.map(|e| 2 * (network.pieces() + e.1)));
                    rows.ends.push(rows.to.len() as u32);
                }
                rows
            })
            .collect();
        let mut all = Self { first: vec![0], to: Vec::new(), stands, soft: Vec::new() };
        for part in rows {
            let base = all.to.len() as u32;
            all.first.extend(part.ends.iter().map(|e| base + e));
            all.to.extend(part.to);
            all.soft.extend(part.soft);
        }
        for pass in network.passes() {
            all.to.extend(pass.leave.iter().filter(|&&s| all.stands[s as usize / 2]));
            // The state of a placeholder that falls back is not used.
            all.first.extend([all.to.len() as u32; 2]);
        }
        all
    }
}

/// Rows of some states in turn.
#[derive(Default)]
struct Rows {
    ends: Vec<u32>,
    to: Vec<u32>,
    soft: Vec<bool>,
}

impl Rows {
    /// Adds what a state topples that stands. The piece is soft if one of its two states is.
    fn add_state(&mut self, sites: &Sites<'_>, stands: &[bool], s: State, floor: f64) {
        let piece = s as usize / 2;
        let mut soft = false;
        if stands[piece] {
            for (t, _) in sites.network.codes(s).filter(|&(t, _)| stands[t as usize / 2]) {
                self.to.push(t);
                soft |= sites.is_soft(s, t, floor);
            }
        }
        if s.is_multiple_of(2) {
            self.soft.push(soft);
        } else if let Some(last) = self.soft.last_mut() {
            *last |= soft;
        }
    }
}

impl Rows {
    /// Adds what a state may take along that stands, though no hit leads there: pieces at its side, those to which it
    /// slides from the end of a line, and those outside of its curve.
    fn add_strays(
        &mut self,
        network: &Network,
        (slides, run_outs): (&[Across], &[(State, State)]),
        stands: &[bool],
        s: State,
    ) {
        if stands[s as usize / 2] {
            let at = slides.partition_point(|a| a.from < s);
            let slid = slides[at..].iter().take_while(|a| a.from == s).map(|a| a.to);
            let at = run_outs.partition_point(|r| r.0 < s);
            let out = run_outs[at..].iter().take_while(|r| r.0 == s).map(|r| r.1);
            self.to.extend(network.strays(s).chain(slid).chain(out).filter(|&t| stands[t as usize / 2]));
        }
    }
}

fn passing(across: Across) -> Option<State> {
    (across.holds != Holds::Surely).then_some(across.to)
}

/// Ranges of pieces that are looked at by one thread each; the same for any number of threads.
fn chunks(pieces: u32) -> Vec<(u32, u32)> {
    (0..pieces).step_by(16_384).map(|from| (from, (from + 16_384).min(pieces))).collect()
}

/// States that fall into built placeholders, with the number of the passage, sorted.
fn entries(network: &Network, built: &Built) -> Vec<(State, u32)> {
    let mut entries = Vec::new();
    for (i, pass) in network.passes().iter().enumerate() {
        if is_built(built, pass.item) {
            entries.extend(pass.enter.iter().map(|&s| (s, i as u32)));
        }
    }
    entries.sort_unstable();
    entries
}

fn is_built(built: &Built, item: ItemId) -> bool {
    built.items.as_ref().is_none_or(|items| items.contains(&item))
}

pub(crate) fn standing_pieces(plan: &Plan, network: &Network, built: &Built) -> Vec<bool> {
    let mut stands = vec![false; network.pieces() as usize];
    for knot in &network.knots {
        if !is_built(built, knot.item) {
            continue;
        }
        let first = network.index().first(knot.item).unwrap_or(0) as usize;
        let gaps = match plan.item(knot.item) {
            Some(item) if built.gaps_open => &item.gaps[..],
            _ => &[],
        };
        let own = &mut stands[first..first + knot.pieces.len()];
        for (stands, &rank) in own.iter_mut().zip(&knot.pieces.rank) {
            *stands = !gaps.iter().any(|g| g.leaves_out(rank));
        }
    }
    stands
}

/// Where pieces are.
struct Sites<'a> {
    plan: &'a Plan,
    network: &'a Network,
}

impl<'a> Sites<'a> {
    fn of(plan: &'a Plan, network: &'a Network) -> Self {
        Self { plan, network }
    }

    /// Place, height and thickness of a piece, mm.
    fn piece(&self, piece: u32) -> Option<Site> {
        let (slot, local) = self.network.index().slot(piece)?;
        let (p, i) = (&self.network.knots[slot].pieces, local as usize);
        let shape = self.network.shape_of(piece)?;
        Some(Site { x: p.x[i], y: p.y[i], height: shape.h, thickness: shape.d })
    }

    fn is_soft(&self, s: State, t: State, floor: f64) -> bool {
        let (Some(a), Some(b)) = (self.piece(s / 2), self.piece(t / 2)) else { return false };
        let gap = a.clear_to(&b) * 48.0 / a.height.max(1e-3);
        kicks(gap, floor, None)
    }
}

#[derive(Clone, Copy)]
struct Site {
    x: f64,
    y: f64,
    height: f64,
    thickness: f64,
}

impl Site {
    /// Face to face, for pieces that stand one behind the other.
    fn clear_to(&self, other: &Self) -> f64 {
        let (dx, dy) = (other.x - self.x, other.y - self.y);
        (dx * dx + dy * dy).sqrt() - (self.thickness + other.thickness) / 2.0
    }
}

/// Missing pieces that are looked at behind one piece; brick ranks widen by one each rank.
const MISSING: usize = 400;

/// The openings before a state: what it would topple through missing pieces, as far as fallen pieces slide.
///
/// The missing pieces are followed by what they would topple, so that a fan of missing brick ranks opens as wide as the
/// ranks would have carried the fall.
fn across(sites: &Sites<'_>, stands: &[bool], blocks: &Blocks, s: State) -> Vec<Across> {
    if !stands[s as usize / 2] {
        return Vec::new();
    }
    let missing = |t: &State| !stands[*t as usize / 2];
    let mut seen: Vec<State> = sites.network.codes(s).map(|e| e.0).filter(missing).collect();
    let (Some(&next), Some(site)) = (seen.first(), sites.piece(s / 2)) else { return Vec::new() };
    let Some(beside) = sites.piece(next / 2) else { return Vec::new() };
    let gap = site.clear_to(&beside);
    let far = sites.network.farthest(sites.plan, s, site.height);
    let (mut found, mut at) = (Vec::<(State, f64)>::new(), 0);
    while at < seen.len() && at < MISSING {
        for (t, _) in sites.network.codes(seen[at]) {
            let clear = sites.piece(t / 2).map_or(f64::INFINITY, |p| site.clear_to(&p));
            let new = clear <= far && t / 2 != s / 2;
            if new && missing(&t) && !seen.contains(&t) {
                seen.push(t);
            } else if new && !missing(&t) && found.iter().all(|f| f.0 != t) {
                found.push((t, clear));
            }
        }
        at += 1;
    }
    found.sort_unstable_by_key(|f| f.0);
    let of = |(t, clear): (State, f64)| {
        let block = sites.piece(t / 2).map_or(Block::None, |p| blocks.between(sites, (&site, &p), next / 2));
        let opening = Opening { clear, gap, height: site.height, floor: blocks.floor, block };
        Across { from: s, to: t, opening, holds: sites.network.holds_between(s, t, hold(&opening)) }
    };
    found.into_iter().map(of).collect()
}

/// What stops slides: blocks that stand on the floor, and those of safety gaps.
struct Blocks {
    floor: (f64, f64),
    /// Corners of stoppers, and what they are.
    stoppers: Vec<([geometry::Point; 4], Block)>,
    /// Safety gaps with a stopper, and whose they are.
    gaps: Vec<(ItemId, SafetyGap)>,
}

impl Blocks {
    fn of(plan: &Plan) -> Self {
        let mut gaps = Vec::new();
        for item in &plan.items {
            gaps.extend(item.gaps.iter().filter(|g| g.stopper).map(|g| (item.id, *g)));
        }
        let stoppers = plan.items.iter().filter_map(stopper).collect();
        Self { floor: plan.hall.grip.floor, stoppers, gaps }
    }

    /// What stands between two pieces; `missing` is the first piece that is missing between them.
    fn between(&self, sites: &Sites<'_>, (a, b): (&Site, &Site), missing: u32) -> Block {
        let in_gap = sites.network.piece_id(missing).is_some_and(|id| {
            self.gaps.iter().any(|(item, gap)| *item == id.item && gap.leaves_out(id.rank))
        });
        if in_gap {
            return Block::Fixed;
        }
        let crosses = self.stoppers.iter().filter(|s| is_crossed(&s.0, a, b)).map(|s| s.1);
        // A fixed one counts more than a loose one before it.
        crosses.min_by_key(|b| *b != Block::Fixed).unwrap_or(Block::None)
    }
}

/// Least share of a piece's height that a fixed block was measured with; of 48 mm.
const BLOCK_HEIGHT: f64 = 24.0;

fn stopper(item: &Item) -> Option<([geometry::Point; 4], Block)> {
    let Body::Stopper(s) = &item.body else { return None };
    let block = match s.fixed {
        true if s.height.to_mm() >= BLOCK_HEIGHT - 0.5 => Block::Fixed,
        true => return None,
        false => Block::LooseStanding,
    };
    Some((item.outline()?, block))
}

/// Whether the way from one piece to the other crosses a block.
fn is_crossed(corners: &[geometry::Point; 4], a: &Site, b: &Site) -> bool {
    let side = |p: &geometry::Point| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    let length = ((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y)).max(1e-9);
    let along = |p: &geometry::Point| ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
    let left = corners.iter().any(|p| side(p) > 0.0);
    let right = corners.iter().any(|p| side(p) < 0.0);
    // The middle of the block lies between the two pieces.
    let middle = corners.iter().map(along).sum::<f64>() / 4.0;
    left && right && (0.0..=1.0).contains(&middle)
}
