//! The placement of a whole plan, kept up to date item by item.

use std::sync::Arc;

use plan::{Body, Item, ItemId, Plan, Touched};
use rayon::prelude::*;

use crate::feed::place_feed;
use crate::pieces::Pieces;
use crate::place::{middle, place_item};

/// The pieces of one item and when they were placed.
#[derive(Debug, Clone)]
pub struct Placed {
    /// The item.
    pub item: ItemId,
    /// Grows each time the item is placed again; results derived from the pieces may be kept under it.
    pub revision: u64,
    /// The pieces, `z` above the floor. Shared, so that a reader keeps what it has while the plan goes on.
    pub pieces: Arc<Pieces>,
    /// Height of the surface and of a piece's centre above it, in mm: what else the pieces depend on.
    heights: (f64, f64),
}

/// The pieces of all items of a plan, in order of item id.
#[derive(Debug, Clone, Default)]
pub struct Placement {
    items: Vec<Placed>,
    last_revision: u64,
}

impl Placement {
    /// The placement of a plan from scratch. The same bits for any number of threads.
    pub fn of(plan: &Plan) -> Self {
        let mut placement = Self::default();
        let places = plan.items.par_iter().map(|item| place(plan, item, 1));
        placement.items = places.collect();
        placement.last_revision = 1;
        placement
    }

    /// Places again what a command touched; the pieces of all other items stay the very same.
    ///
    /// `touched` is what [`Plan::apply`] returned for the command that led to `plan`, or several of them in a row.
    pub fn update(&mut self, plan: &Plan, touched: &Touched) {
        self.last_revision += 1;
        for &id in &touched.items {
            self.refresh(plan, id);
        }
        if touched.stock || touched.scene {
            // Heights hang on kinds and surfaces; only items whose own height changed are placed again.
            let moved: Vec<ItemId> =
                self.items.iter().filter(|p| is_raised(plan, p)).map(|p| p.item).collect();
            moved.into_iter().for_each(|id| self.refresh(plan, id));
        }
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

    /// True when no item has a piece.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    fn refresh(&mut self, plan: &Plan, id: ItemId) {
        let place_of = self.items.binary_search_by_key(&id, |p| p.item);
        match (plan.item(id), place_of) {
            (Some(item), Ok(i)) => self.items[i] = place(plan, item, self.last_revision),
            (Some(item), Err(i)) => self.items.insert(i, place(plan, item, self.last_revision)),
            (None, Ok(i)) => {
                self.items.remove(i);
            }
            (None, Err(_)) => {}
        }
    }
}

fn heights(plan: &Plan, item: &Item) -> (f64, f64) {
    let surface = plan.surfaces.iter().find(|s| s.id == item.surface).map_or(0.0, |s| s.height.to_mm());
    let above = match &item.body {
        Body::Feed(f) => plan.stock.kind(f.kind).map_or(0.0, |k| k.height.to_mm() / 2.0),
        _ => item.field().map_or(0.0, |f| middle(f, &plan.stock)),
    };
    (surface, above)
}

fn is_raised(plan: &Plan, placed: &Placed) -> bool {
    plan.item(placed.item).is_some_and(|item| heights(plan, item) != placed.heights)
}

fn place(plan: &Plan, item: &Item, revision: u64) -> Placed {
    let heights = heights(plan, item);
    let mut pieces = match &item.body {
        Body::Feed(feed) => place_feed(plan, item, feed),
        _ => place_item(item, &plan.stock),
    };
    pieces.z.fill((heights.0 + heights.1) as f32);
    Placed { item: item.id, revision, pieces: Arc::new(pieces), heights }
}
