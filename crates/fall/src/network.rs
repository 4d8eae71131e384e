//! The contact network of a plan: for each piece and each of its two ways to fall, which pieces it fells.

use std::sync::{Arc, OnceLock};

use placement::{Index, PieceId, Pieces, Placement};
use plan::{Body as ItemBody, Item, ItemId, Placing, Plan};
use rayon::prelude::*;

use crate::contacts::{
    Blocks, Bodies, Code, Limits, Over, Part, Plank, Rules, Shape, Shapes, Strand, Todo, cell_bounds,
    coarse_cell, is_near, is_within, turn_of, weave,
};
use crate::crossing::Crossings;
use crate::law::{Pace, tipping_angle};
use crate::passes::{Pass, Push, passes_and_starts};
use crate::run_outs::run_outs;
use crate::site::Site;
use crate::tempo::Tempo;

/// A piece and the way it falls: twice the piece's number, and one more when it falls back.
pub type State = u32;

/// Which way a piece falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Way {
    /// Along its heading.
    Forward = 0,
    /// Against it.
    Back = 1,
}

/// Whether a hit fells its target.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sure {
    /// It passed in all measured runs.
    Passes,
    /// It passed in some of them, or nobody measured it.
    Unsure,
}

/// One piece fells another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Edge {
    /// What falls, and which way.
    pub to: State,
    /// Microseconds from hit to hit in a running line, at the usual pace.
    pub delay_us: u32,
    /// Whether it surely does.
    pub sure: Sure,
}

/// One item in the network.
#[derive(Debug, Clone)]
pub(crate) struct Knot {
    pub(crate) item: ItemId,
    revision: u64,
    pub(crate) pieces: Arc<Pieces>,
    pub(crate) hand: bool,
    /// The slope on which it stands, from 1; 0 is anything level.
    plank: u16,
    part: Arc<Part>,
    over: Arc<Over>,
}

/// Which piece fells which, by item: edges within an item are kept as long as its pieces stay, those between items are
/// kept apart. About 24 bytes a piece in lines, 40 in staggered fields.
#[derive(Debug, Clone)]
pub struct Network {
    pub(crate) knots: Vec<Knot>,
    index: Index,
    pub(crate) shapes: Shapes,
    pub(crate) rules: Rules,
    pub(crate) blocks: Blocks,
    cell: f64,
    /// True when not all pieces stand on one level.
    levels: bool,
    starts: Vec<Push>,
    passes: Vec<Pass>,
    crossings: Crossings,
    usual: Arc<Tempo>,
    /// What flies out of curves, once somebody has asked.
    thrown: OnceLock<Arc<[(State, State)]>>,
    /// What the fall can reach where lines cross, once somebody has asked.
    reached: OnceLock<Arc<[u8]>>,
}

impl Network {
    /// The network of a plan from scratch; the same bits for any number of threads.
    pub fn of(plan: &Plan, placement: &Placement) -> Self {
        Self::with_limits(plan, placement, &Limits::default())
    }

    /// The same with other limits for what is turned, as somebody else may have measured them.
    pub fn with_limits(plan: &Plan, placement: &Placement, limits: &Limits) -> Self {
        let shapes = Shapes::of(plan, placement);
        let levels = has_levels(placement);
        let cell = coarse_cell(shapes.farthest(levels));
        let mut network = Self {
            knots: Vec::new(),
            index: Index::default(),
            rules: Rules::of(plan, limits),
            blocks: Blocks::of(plan, cell),
            usual: Arc::new(Tempo::of(plan, &shapes, Pace::Usual)),
            shapes,
            cell,
            levels,
            starts: Vec::new(),
            passes: Vec::new(),
            crossings: Crossings::default(),
            thrown: OnceLock::new(),
            reached: OnceLock::new(),
        };
        network.set_knots(plan, placement, Vec::new());
        let all = (0..network.knots.len()).map(|slot| Todo::new(slot, None)).collect();
        network.weave(all);
        network.crossings = Crossings::of(&network);
        (network.passes, network.starts) = passes_and_starts(plan, &network);
        network
    }

    /// Brings the network up to date: only items whose pieces changed, and their neighbours, are searched again.
    pub fn update(&mut self, plan: &Plan, placement: &Placement) {
        let shapes = Shapes::of(plan, placement);
        let limits = *self.rules.limits();
        let blocks = Blocks::of(plan, self.cell);
        let same = shapes == self.shapes && Rules::of(plan, &limits) == self.rules && blocks == self.blocks;
        if !same || has_levels(placement) != self.levels {
            // Sizes, friction, levels or fixed things changed: every hit may differ.
            *self = Self::with_limits(plan, placement, &limits);
            return;
        }
        self.usual = Arc::new(Tempo::of(plan, &self.shapes, Pace::Usual));
        self.thrown = OnceLock::new();
        self.reached = OnceLock::new();
        let before: Vec<(ItemId, Vec<(i32, i32)>)> = self.changed_cells(plan, placement);
        let old = std::mem::take(&mut self.knots);
        self.set_knots(plan, placement, old);
        self.weave_changed(&before);
        self.crossings = Crossings::of(self);
        (self.passes, self.starts) = passes_and_starts(plan, self);
    }

    /// Number of pieces.
    pub fn pieces(&self) -> u32 {
        self.index.len()
    }

    /// The numbers of pieces: items in order of id, pieces in order within the item.
    pub fn index(&self) -> &Index {
        &self.index
    }

    /// What a piece fells when it falls that way; nothing for a state that does not exist.
    pub fn edges(&self, state: State) -> impl Iterator<Item = Edge> + '_ {
        self.codes(state).map(|(to, code)| Edge {
            to,
            delay_us: self.usual.hop(code),
            sure: if code.unsure() { Sure::Unsure } else { Sure::Passes },
        })
    }

    /// Where the fall begins: the start pieces' pushes.
    pub fn starts(&self) -> &[Push] {
        &self.starts
    }

    /// Placeholders through which the fall passes.
    pub fn passes(&self) -> &[Pass] {
        &self.passes
    }

    /// The pieces of an item as the network was made from them.
    pub fn pieces_of(&self, item: ItemId) -> Option<&Arc<Pieces>> {
        self.knots.binary_search_by_key(&item, |k| k.item).ok().map(|i| &self.knots[i].pieces)
    }

    /// The name of a piece; `None` beyond the last one.
    pub fn piece_id(&self, piece: u32) -> Option<PieceId> {
        let (slot, local) = self.index.slot(piece)?;
        self.knots[slot].pieces.id(local as usize)
    }

    /// The size of a piece as it stands.
    pub(crate) fn shape_of(&self, piece: u32) -> Option<Shape> {
        let (slot, local) = self.index.slot(piece)?;
        let (p, i) = (&self.knots[slot].pieces, local as usize);
        Some(self.shapes.get(self.shapes.index(p.kind[i], p.pose[i])))
    }

    /// How steeply the fall of a piece runs down what it stands on, in degrees; negative where it runs up, 0 on the level and
    /// for a state that does not exist.
    pub fn slope(&self, state: State) -> f64 {
        self.plank_under(state / 2).map_or(0.0, |(plank, turn)| plank.down(turn, (state % 2) as u8))
    }

    /// The slope on which a piece stands, and its heading; `None` on the level.
    pub(crate) fn plank_under(&self, piece: u32) -> Option<(&Plank, u16)> {
        let (slot, local) = self.index.slot(piece)?;
        let plank = self.shapes.planks.get(self.knots[slot].plank)?;
        Some((plank, turn_of(f64::from(self.knots[slot].pieces.yaw[local as usize]))))
    }

    /// The table of delays for a state: that of the shape, on the slope where it stands.
    pub(crate) fn class_of(&self, state: State) -> Option<u8> {
        let class = self.shape_of(state / 2)?.class;
        let slope = self.plank_under(state / 2);
        Some(slope.map_or(class, |(plank, turn)| {
            self.shapes.planks.class(class, plank.down(turn, (state % 2) as u8))
        }))
    }

    /// Which way a piece falls by itself because it stands square to so steep a slope; beyond its tipping angle along the
    /// slope of [`Self::slope`].
    pub fn tips(&self, piece: u32) -> Option<Way> {
        let shape = self.shape_of(piece).filter(|s| s.falls)?;
        let down = self.slope(2 * piece);
        let tips = down.abs() > tipping_angle(shape.h, shape.d).to_degrees();
        tips.then_some(if down > 0.0 { Way::Forward } else { Way::Back })
    }

    /// Whether a plank above a piece leaves it too little room to fall.
    pub(crate) fn lies_low(&self, piece: u32) -> bool {
        let body = Site::of(self).body(piece);
        body.is_some_and(|b| self.blocks.lies_low(&b, self.shapes.get(b.shape).h))
    }

    /// Bytes of memory that it holds, without the placement's columns.
    pub fn bytes(&self) -> usize {
        let parts: usize = self.knots.iter().map(|k| k.part.bytes() + k.over.bytes()).sum();
        parts + self.index.bytes()
    }

    /// What a piece may take along although nothing falls onto it: pieces that stand shoulder to shoulder with it, less
    /// than 2 mm apart, and what stands at the flank of a crossing. Some runs took them. No plan counts on it, so a run of
    /// the fall leaves it out.
    pub fn strays(&self, state: State) -> impl Iterator<Item = State> + '_ {
        let (mut alone, mut base) = (None, 0);
        if let Some((slot, local)) = self.index.slot(state / 2) {
            let (knot, local) = (&self.knots[slot], 2 * local + state % 2);
            base = 2 * self.index.base(slot);
            alone = knot.over.edges(local).is_none().then(|| knot.part.beside(local));
        }
        let woven = self.listed(state).filter(|e| e.1.drags()).map(|e| e.0);
        let dragged = alone.into_iter().flatten().map(move |s| base + s).chain(woven);
        dragged.chain(self.crossings.strays(state))
    }

    /// What a state that falls may knock beside its line, as [`run_outs`](crate::run_outs) finds it: searched once for the
    /// falls, the touch map and the proposed gaps of a plan, and kept. `plan` is the one that the network is of.
    pub fn thrown(&self, plan: &Plan) -> &[(State, State)] {
        if let Some(known) = self.thrown.get() {
            return known;
        }
        // Searched before the lock is taken: the search shares its threads with others who may be asking for it.
        let found = run_outs(plan, self).into();
        self.thrown.get_or_init(|| found)
    }

    /// States that lie across a hit once they have fallen, where lines cross; what comes later may then stop.
    pub(crate) fn crossings(&self) -> &Crossings {
        &self.crossings
    }

    /// A piece that crosses the way of a hit flat, so that the hit may fail: it falls in the same fall and may come to lie
    /// across, or it stands in one of the two. No flat crossing was found on which both lines are sure.
    pub fn crossed_by(&self, from: State, to: State) -> Option<u32> {
        if self.crossings.is_empty() {
            return None;
        }
        let mut across = self.crossings.across(from, to).peekable();
        across.peek()?;
        let reached = self.reached.get_or_init(|| self.reached(true).into());
        across.find(|s| reached[*s as usize] == 1).map(|s| s / 2)
    }

    /// States over whose way another piece may fall, sorted.
    pub(crate) fn crossed(&self) -> Vec<State> {
        let mut all = Vec::new();
        for (slot, knot) in self.knots.iter().enumerate() {
            let base = 2 * self.index.base(slot);
            let alone = knot.part.crossed().filter(|s| knot.over.edges(*s).is_none());
            all.extend(alone.chain(knot.over.crossed.iter().copied()).map(|s| base + s));
        }
        all.sort_unstable();
        all
    }

    pub(crate) fn codes(&self, state: State) -> impl Iterator<Item = (State, Code)> + '_ {
        self.listed(state).filter(|e| !e.1.drags())
    }

    /// The first number of what a state fells, or 0: of no meaning but that it was read.
    pub(crate) fn glance(&self, state: State) -> u32 {
        let Some((slot, local)) = self.index.slot(state / 2) else { return 0 };
        self.knots[slot].part.edges(2 * local + state % 2).first().map_or(0, |e| e.0)
    }

    fn listed(&self, state: State) -> impl Iterator<Item = (State, Code)> + '_ {
        let mut own: &[(u32, Code)] = &[];
        let mut over = None;
        let mut base = 0;
        if let Some((slot, local)) = self.index.slot(state / 2) {
            let knot = &self.knots[slot];
            let local = 2 * local + state % 2;
            base = 2 * self.index.base(slot);
            over = knot.over.edges(local);
            if over.is_none() {
                own = knot.part.edges(local);
            }
        }
        let woven = over.unwrap_or(&[]).iter();
        own.iter()
            .map(move |e| (base + e.0, e.1))
            .chain(woven.map(|e| (2 * self.index.base(e.slot as usize) + e.state, e.code)))
    }

    pub(crate) fn strands(&self) -> Vec<Strand<'_>> {
        let mut strands = Vec::with_capacity(self.knots.len());
        for k in &self.knots {
            let bodies = Bodies { pieces: &k.pieces, shapes: &self.shapes, plank: k.plank };
            strands.push(Strand { bodies, cells: &k.part.cells, hand: k.hand });
        }
        strands
    }

    /// Whether a piece was placed by hand.
    pub(crate) fn is_by_hand(&self, piece: u32) -> bool {
        self.index.slot(piece).is_some_and(|(slot, _)| self.knots[slot].hand)
    }

    pub(crate) fn cell(&self) -> f64 {
        self.cell
    }

    /// Takes over the items; parts of items that did not change stay.
    fn set_knots(&mut self, plan: &Plan, placement: &Placement, old: Vec<Knot>) {
        let (shapes, rules, cell) = (&self.shapes, self.rules, self.cell);
        let fresh = |placed: &placement::Placed| -> Knot {
            let hand = plan.item(placed.item).is_some_and(by_hand);
            let plank = plan.item(placed.item).map_or(0, |i| shapes.plank_of(i));
            let kept = old.binary_search_by_key(&placed.item, |k| k.item).ok().map(|i| &old[i]);
            if let Some(k) = kept.filter(|k| is_same(k, placed, (hand, plank))) {
                return Knot { revision: placed.revision, ..k.clone() };
            }
            let bodies = Bodies { pieces: &placed.pieces, shapes, plank };
            let part = Arc::new(Part::of(&bodies, rules, hand, cell));
            let pieces = Arc::clone(&placed.pieces);
            Knot {
                item: placed.item,
                revision: placed.revision,
                pieces,
                hand,
                plank,
                part,
                over: Arc::default(),
            }
        };
        self.knots = placement.items().par_iter().map(fresh).collect();
        self.index = placement.index();
        self.renumber(&old);
    }

    /// After items came or went, edges between items must name their new places.
    fn renumber(&mut self, old: &[Knot]) {
        if old.is_empty() || old.iter().map(|k| k.item).eq(self.knots.iter().map(|k| k.item)) {
            return;
        }
        let place = |k: &Knot| {
            let at = self.knots.binary_search_by_key(&k.item, |n| n.item).ok()?;
            u32::try_from(at).ok()
        };
        let to: Vec<Option<u32>> = old.iter().map(place).collect();
        self.knots.par_iter_mut().for_each(|k| k.over = Arc::new(k.over.moved(&to)));
    }

    /// Items that change, are new or go, with the cells that they leave.
    fn changed_cells(&self, plan: &Plan, placement: &Placement) -> Vec<(ItemId, Vec<(i32, i32)>)> {
        let mut changed: Vec<(ItemId, Vec<(i32, i32)>)> = Vec::new();
        for k in &self.knots {
            let hand = plan.item(k.item).is_some_and(by_hand);
            let plank = plan.item(k.item).map_or(0, |i| self.shapes.plank_of(i));
            let same = placement.item(k.item).is_some_and(|p| is_same(k, p, (hand, plank)));
            if !same {
                changed.push((k.item, k.part.cells.clone()));
            }
        }
        let known = |id: ItemId| self.knots.binary_search_by_key(&id, |k| k.item).is_ok();
        changed.extend(placement.items().iter().filter(|p| !known(p.item)).map(|p| (p.item, Vec::new())));
        changed.sort_by_key(|c| c.0);
        changed
    }

    /// Weaves the items again that changed, and those near where they were or are.
    fn weave_changed(&mut self, changed: &[(ItemId, Vec<(i32, i32)>)]) {
        if changed.is_empty() {
            return;
        }
        let mut touched: Vec<(i32, i32)> = changed.iter().flat_map(|c| c.1.iter().copied()).collect();
        let is_changed = |id: ItemId| changed.binary_search_by_key(&id, |c| c.0).is_ok();
        for k in self.knots.iter().filter(|k| is_changed(k.item)) {
            touched.extend_from_slice(&k.part.cells);
        }
        touched.par_sort_unstable();
        touched.dedup();
        let around = cell_bounds(&touched);
        let touched = Arc::new(touched);
        let todo = (0..self.knots.len()).filter_map(|slot| {
            let k = &self.knots[slot];
            if is_changed(k.item) {
                return Some(Todo::new(slot, None));
            }
            let affected = k.part.cells.iter().any(|c| is_within(around, *c) && is_near(&touched, *c));
            affected.then(|| Todo::new(slot, Some(Arc::clone(&touched))))
        });
        let todo = todo.collect();
        self.weave(todo);
    }

    fn weave(&mut self, todo: Vec<Todo>) {
        let strands = self.strands();
        let before = |slot: usize| Arc::clone(&self.knots[slot].over);
        let given = (&self.shapes, self.rules, self.cell, self.levels);
        let overs = weave(&strands, todo, given, &self.blocks, &before);
        drop(strands);
        for (slot, over) in overs {
            self.knots[slot].over = over;
        }
    }
}

/// Whether pieces stand at more than one height.
fn has_levels(placement: &Placement) -> bool {
    let mut all = placement.items().iter().filter_map(|p| p.pieces.z.first());
    let Some(&first) = all.next() else { return false };
    let differs = |p: &placement::Placed| p.pieces.z.iter().any(|z| (z - first).abs() > 0.25);
    placement.items().par_iter().any(differs)
}

fn is_same(k: &Knot, placed: &placement::Placed, (hand, plank): (bool, u16)) -> bool {
    k.hand == hand
        && k.plank == plank
        && (k.revision == placed.revision && Arc::ptr_eq(&k.pieces, &placed.pieces))
}

/// Whether the pieces of an item are placed by hand and eye.
fn by_hand(item: &Item) -> bool {
    match &item.body {
        ItemBody::Line(l) => l.placed == Placing::Hand,
        ItemBody::Fill(f) => f.placed == Placing::Hand,
        _ => false,
    }
}
