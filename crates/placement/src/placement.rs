//! The placement of a whole plan, kept up to date item by item.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use geometry::Point;
use plan::{Body, Item, ItemId, KindId, Link, Need, Plan, Touched};
use rayon::prelude::*;

use crate::course::Course;
use crate::index::Index;
use crate::links::{follows, has_course, resolve};
use crate::needs::{around, changes, counted};
use crate::pieces::Pieces;
use crate::place::{middle, pieces_of};
use crate::ports::{PortPlace, known_port, ports_with};
use crate::room::{MOST_PIECES, left_out, wanted};

/// The pieces of one item and when they were placed.
#[derive(Debug, Clone)]
pub struct Placed {
    /// The item.
    pub item: ItemId,
    /// Grows each time the item is placed again; results derived from the pieces may be kept under it.
    pub revision: u64,
    /// The pieces, `z` above the floor. Shared, so that a reader keeps what it has while the plan goes on.
    pub pieces: Arc<Pieces>,
    /// The path of a line or a fill; `None` for others, and for an area that cannot be filled as asked.
    pub course: Option<Arc<Course>>,
    /// Least and most x and y of the centres; `None` without pieces.
    pub bounds: Option<[Point; 2]>,
    /// How many pieces the item asks for; a few more for a field whose lanes fall in turn and that has empty cells.
    pub wanted: u64,
    /// True when it has no piece because there would be too many in the whole plan: see [`crate::MOST_PIECES`].
    pub left_out: bool,
    ground: Ground,
    needs: OnceLock<Vec<Need>>,
    changes: OnceLock<u64>,
}

/// What else the pieces of an item depend on, in mm: the height of its surface above the middle of the floor plan and how
/// that rises to the east and to the north, and of its kind the thickness, the width and half the height.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Ground {
    surface: [f64; 3],
    kind: (f64, f64, f64),
}

/// The pieces of all items of a plan, in order of item id.
#[derive(Debug, Clone)]
pub struct Placement {
    items: Vec<Placed>,
    last_revision: u64,
    most: u64,
}

impl Default for Placement {
    fn default() -> Self {
        Self { items: Vec::new(), last_revision: 0, most: MOST_PIECES }
    }
}

impl Placed {
    /// As [`crate::extent`] of the item in the plan that this is a placement of, from the pieces at hand.
    pub fn extent(&self, plan: &Plan) -> Option<[Point; 4]> {
        let item = plan.item(self.item)?;
        if has_course(item) || matches!(item.body, Body::Feed(_)) {
            return around(plan, &self.pieces);
        }
        item.outline()
    }

    fn asked(&self) -> Asked {
        Asked { item: self.item, course: self.course.clone(), wanted: self.wanted }
    }

    /// What the item takes from the stock, by kind and colour, in that order; placeholders state it themselves, and of a
    /// line that is left out nothing is counted. Counted once and kept.
    pub fn needs(&self, plan: &Plan) -> &[Need] {
        self.needs.get_or_init(|| match plan.item(self.item) {
            Some(item) if self.pieces.is_empty() => item.stated_needs(),
            _ => counted(&self.pieces),
        })
    }

    /// Changes of colour along its lanes; empty cells of a field are none. Counted once and kept.
    pub fn changes(&self) -> u64 {
        *self.changes.get_or_init(|| changes(&self.pieces))
    }
}

impl Placement {
    /// The placement of a plan from scratch. The same bits for any number of threads.
    pub fn of(plan: &Plan) -> Self {
        Self::at_most(plan, MOST_PIECES)
    }

    /// The same with room for `most` pieces instead of [`MOST_PIECES`], for machines with less memory. In order of id,
    /// items that do not fit beside those before them are left out; their courses and ports are known all the same.
    pub fn at_most(plan: &Plan, most: u64) -> Self {
        let lines: Vec<&Item> = plan.items.iter().filter(|item| has_course(item)).collect();
        let courses = resolve(plan, &lines, &|_| None);
        let count = |item: &Item| {
            let course = courses.get(&item.id).cloned().flatten();
            let wanted = wanted(plan, item, course.as_deref());
            Asked { item: item.id, course, wanted }
        };
        let asked: Vec<Asked> = plan.items.par_iter().map(count).collect();
        let out = left_out(asked.iter().map(|a| (a.item, a.wanted)), most);
        let work = asked.into_par_iter().zip(&plan.items);
        let places = work.map(|(a, item)| place(plan, item, a, (out.contains(&item.id), 1)));
        Self { items: places.collect(), last_revision: 1, most }
    }

    /// Places again what a command touched and what follows it: lines that are linked to it, directly or over others,
    /// and the feeds of a touched field. What comes out as it was keeps its revision and shares its pieces, and so do all
    /// other items.
    ///
    /// `touched` is what [`Plan::apply`] returned for the command that led to `plan`, or several of them in a row.
    pub fn update(&mut self, plan: &Plan, touched: &Touched) {
        self.last_revision += 1;
        let mut again: BTreeSet<ItemId> = touched.items.iter().copied().collect();
        if touched.stock || touched.scene {
            // Heights and pitches hang on kinds and surfaces; only items whose own changed are placed again.
            again.extend(self.items.iter().filter(|p| is_raised(plan, p)).map(|p| p.item));
        }
        let all = with_followers(plan, &again);
        let lines: Vec<&Item> =
            all.iter().filter_map(|&id| plan.item(id)).filter(|i| has_course(i)).collect();
        let courses = resolve(plan, &lines, &|id| self.course(id));
        self.remove_gone(plan, &all);
        let items: Vec<&Item> = all.iter().filter_map(|&id| plan.item(id)).collect();
        let count = |item: &&Item| {
            let course = courses.get(&item.id).cloned().flatten();
            Asked { item: item.id, wanted: wanted(plan, item, course.as_deref()), course }
        };
        let asked: Vec<Asked> = items.par_iter().map(count).collect();
        let out = self.left_out(plan, &asked);
        // Room that was given up or taken lets others in or puts them out.
        let changed = self.items.iter().filter(|p| !all.contains(&p.item));
        let changed: Vec<Asked> =
            changed.filter(|p| p.left_out != out.contains(&p.item)).map(Placed::asked).collect();
        again.extend(changed.iter().map(|a| a.item));
        let work: Vec<Asked> = asked.into_iter().chain(changed).collect();
        let fresh: Vec<Placed> =
            work.into_par_iter().filter_map(|a| self.fresh(plan, a, &out, &again)).collect();
        self.put(fresh);
    }

    /// The items in order of id.
    pub fn items(&self) -> &[Placed] {
        &self.items
    }

    /// The pieces of one item.
    pub fn item(&self, id: ItemId) -> Option<&Placed> {
        self.items.binary_search_by_key(&id, |p| p.item).ok().map(|i| &self.items[i])
    }

    /// Number of pieces of all items.
    pub fn len(&self) -> usize {
        self.items.iter().map(|p| p.pieces.len()).sum()
    }

    /// For how many pieces it has room.
    pub fn most(&self) -> u64 {
        self.most
    }

    /// True when no item has a piece.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Numbers for all pieces.
    pub fn index(&self) -> Index {
        Index::of(self.items.iter().map(|p| (p.item, p.pieces.len())))
    }

    /// All ports of an item of the plan that this is the placement of.
    pub fn ports(&self, plan: &Plan, item: &Item) -> Vec<PortPlace> {
        ports_with(plan, item, &|id| self.course(id))
    }

    /// The port that a link names, in the plan that this is the placement of; `None` when there is none of that name.
    pub fn port(&self, plan: &Plan, link: &Link) -> Option<PortPlace> {
        known_port(plan, link, &|id| self.course(id))
    }

    /// What an item takes from the stock, by kind and colour, in that order.
    pub fn needs(&self, plan: &Plan, id: ItemId) -> Vec<Need> {
        self.item(id).map_or_else(Vec::new, |placed| placed.needs(plan).to_vec())
    }

    fn course(&self, id: ItemId) -> Option<Arc<Course>> {
        self.item(id)?.course.clone()
    }

    /// The items that have no room, when `asked` are those that ask anew.
    fn left_out(&self, plan: &Plan, asked: &[Asked]) -> BTreeSet<ItemId> {
        let anew: BTreeMap<ItemId, u64> = asked.iter().map(|a| (a.item, a.wanted)).collect();
        let as_before = |id| self.item(id).map_or(0, |p| p.wanted);
        let all =
            plan.items.iter().map(|i| (i.id, anew.get(&i.id).copied().unwrap_or_else(|| as_before(i.id))));
        left_out(all, self.most)
    }

    /// The item placed again; `None` when it only follows a touched one and comes out as it was.
    fn fresh(
        &self,
        plan: &Plan,
        asked: Asked,
        out: &BTreeSet<ItemId>,
        touched: &BTreeSet<ItemId>,
    ) -> Option<Placed> {
        let item = plan.item(asked.item)?;
        let is_out = out.contains(&item.id);
        let kept = self.item(item.id).filter(|k| !touched.contains(&item.id) && k.left_out == is_out);
        if kept.is_some_and(|k| asked.course.is_some() && k.course == asked.course) {
            return None;
        }
        let fresh = place(plan, item, asked, (is_out, self.last_revision));
        let same =
            |k: &Placed| k.pieces == fresh.pieces && k.course == fresh.course && k.wanted == fresh.wanted;
        if kept.is_some_and(same) { None } else { Some(fresh) }
    }

    fn remove_gone(&mut self, plan: &Plan, ids: &BTreeSet<ItemId>) {
        if ids.iter().any(|&id| plan.item(id).is_none()) {
            self.items.retain(|p| !ids.contains(&p.item) || plan.item(p.item).is_some());
        }
    }

    /// Takes freshly placed items in, sorted by id.
    fn put(&mut self, fresh: Vec<Placed>) {
        let mut added = Vec::new();
        for placed in fresh {
            match self.items.binary_search_by_key(&placed.item, |p| p.item) {
                Ok(i) => self.items[i] = placed,
                Err(_) => added.push(placed),
            }
        }
        if !added.is_empty() {
            self.items.extend(added);
            self.items.sort_by_key(|p| p.item);
        }
    }
}

/// The ids and those of all items that follow one of them, directly or over others.
fn with_followers(plan: &Plan, ids: &BTreeSet<ItemId>) -> BTreeSet<ItemId> {
    let mut followers: BTreeMap<ItemId, Vec<ItemId>> = BTreeMap::new();
    for item in &plan.items {
        for leader in follows(item) {
            followers.entry(leader).or_default().push(item.id);
        }
    }
    let mut all = ids.clone();
    let mut open: Vec<ItemId> = ids.iter().copied().collect();
    while let Some(id) = open.pop() {
        for &follower in followers.get(&id).into_iter().flatten() {
            if all.insert(follower) {
                open.push(follower);
            }
        }
    }
    all
}

fn ground(plan: &Plan, item: &Item) -> Ground {
    let surface = plan.surface(item.surface).map_or([0.0; 3], |s| {
        let grade = s.grade();
        [s.height_at(Point::new(0.0, 0.0)), grade.x, grade.y]
    });
    let kind = kind_of(item).and_then(|id| plan.stock.kind(id));
    let size =
        kind.map_or((0.0, 0.0, 0.0), |k| (k.thickness.to_mm(), k.width.to_mm(), middle(k.id, &plan.stock)));
    Ground { surface, kind: size }
}

fn kind_of(item: &Item) -> Option<KindId> {
    match &item.body {
        Body::Field(f) => Some(f.kind),
        Body::Line(l) => Some(l.kind),
        Body::Fill(f) => Some(f.kind),
        Body::Feed(f) => Some(f.kind),
        _ => None,
    }
}

fn is_raised(plan: &Plan, placed: &Placed) -> bool {
    plan.item(placed.item).is_some_and(|item| ground(plan, item) != placed.ground)
}

/// What an item asks for before it is laid.
#[derive(Debug)]
struct Asked {
    item: ItemId,
    course: Option<Arc<Course>>,
    wanted: u64,
}

fn place(plan: &Plan, item: &Item, asked: Asked, (left_out, revision): (bool, u64)) -> Placed {
    let ground = ground(plan, item);
    let Asked { course, wanted, .. } = asked;
    let mut pieces = match left_out {
        true => Pieces::with_capacity(item.id, 0),
        false => pieces_of(plan, item, course.as_deref()),
    };
    let [height, east, north] = ground.surface;
    if (east, north) != (0.0, 0.0) {
        let rise = |i: usize| height + east * pieces.x[i] + north * pieces.y[i];
        let lifted: Vec<f32> =
            pieces.z.iter().enumerate().map(|(i, z)| (f64::from(*z) + rise(i)) as f32).collect();
        pieces.z = lifted;
    } else if height != 0.0 {
        pieces.z.iter_mut().for_each(|z| *z = (f64::from(*z) + height) as f32);
    }
    let bounds = bounds(&pieces);
    Placed {
        item: item.id,
        revision,
        pieces: Arc::new(pieces),
        course,
        bounds,
        wanted,
        left_out,
        ground,
        needs: OnceLock::new(),
        changes: OnceLock::new(),
    }
}

fn bounds(pieces: &Pieces) -> Option<[Point; 2]> {
    let range = |values: &[f64]| {
        let ends = (f64::INFINITY, f64::NEG_INFINITY);
        values.iter().fold(ends, |(least, most), &v| (v.min(least), v.max(most)))
    };
    let ((x0, x1), (y0, y1)) = (range(&pieces.x), range(&pieces.y));
    (!pieces.is_empty()).then(|| [Point::new(x0, y0), Point::new(x1, y1)])
}
