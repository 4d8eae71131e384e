//! A section that stands elsewhere than it was drawn: about which point it turns, how far the tapes say that it lies off,
//! and what a move would do.

use findings::{Finding, MarkOff};
use geometry::Point;
use placement::{Placed, Placement};
use plan::{Command, ItemId, Plan, SectionId, Touched};

use crate::error::DeskError;
use crate::office::Desk;
use crate::trial::MOST_PIECES;
use sayings::{refusing, say};

/// Where a section stands.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionStands {
    /// The change of the plan that it is of.
    pub change: u64,
    /// Its items, rising.
    pub items: Vec<ItemId>,
    /// The middle of the box around all of it, about which it is turned; `None` without items.
    pub middle: Option<Point>,
    /// How far the mark nearest to its middle lies off, by the tapes.
    pub measured: Option<MarkOff>,
}

/// The plan as it would be after a move.
#[derive(Debug, Clone)]
pub struct Shifted {
    /// The plan.
    pub plan: Plan,
    /// Where its pieces would stand.
    pub placement: Placement,
    /// The items that are moved, rising.
    pub items: Vec<ItemId>,
    /// Items that are laid again because they follow what is moved.
    pub again: Vec<ItemId>,
    /// What is wrong with all of these and what stands near, now and then, the worst first; `None` where there are too many
    /// pieces to look at meanwhile.
    pub found: Option<[Vec<Finding>; 2]>,
}

/// The middle of the box around all that some items take of the floor, and around the places of those that take none.
pub fn middle_of(plan: &Plan, placement: &Placement, items: &[ItemId]) -> Option<Point> {
    let mut corners: Vec<Point> = Vec::new();
    for item in items.iter().filter_map(|&id| plan.item(id)) {
        match placement.item(item.id).and_then(|placed| placed.extent(plan)) {
            Some(outline) => corners.extend(outline),
            None => corners.push(item.at),
        }
    }
    let first = *corners.first()?;
    let (mut least, mut most) = (first, first);
    for p in corners {
        least = Point::new(least.x.min(p.x), least.y.min(p.y));
        most = Point::new(most.x.max(p.x), most.y.max(p.y));
    }
    Some(Point::new((least.x + most.x) / 2.0, (least.y + most.y) / 2.0))
}

/// Items that were not moved and whose pieces stand elsewhere now. `moved` is rising.
pub fn laid_again(was: &Placement, now: &Placement, moved: &[ItemId]) -> Vec<ItemId> {
    let other = |p: &&Placed| was.item(p.item).is_none_or(|old| old.pieces != p.pieces);
    let still = |p: &&Placed| moved.binary_search(&p.item).is_err();
    now.items().iter().filter(still).filter(other).map(|p| p.item).collect()
}

/// The items of a section, rising.
pub fn items_of(plan: &Plan, section: SectionId) -> Vec<ItemId> {
    plan.items.iter().filter(|i| i.section == Some(section)).map(|i| i.id).collect()
}

impl Desk {
    /// Where a section stands and how far it may lie off.
    ///
    /// # Errors
    /// [`DeskError::Missing`] without such a section.
    pub fn section_stands(&self, section: SectionId) -> Result<SectionStands, DeskError> {
        let scene = self.scene();
        let plan = &scene.snapshot.plan;
        if !plan.sections.iter().any(|s| s.id == section) {
            return Err(DeskError::gone(say!(refusing::WHAT_SECTION, id = section.to_string())));
        }
        let items = items_of(plan, section);
        let middle = middle_of(plan, &scene.placement, &items);
        let measured = middle.and_then(|at| findings::mark_off(&plan.hall, at));
        Ok(SectionStands { change: scene.snapshot.change, items, middle, measured })
    }

    /// What the plan would be after a move; nothing is changed.
    ///
    /// # Errors
    /// [`DeskError::Refused`] when the gate would not take it.
    pub fn try_shift(&self, command: &Command) -> Result<Shifted, DeskError> {
        let scene = self.scene();
        let mut plan = Plan::clone(&scene.snapshot.plan);
        let touched: Touched = plan.apply(command)?.touched;
        let mut placement = Placement::clone(&scene.placement);
        placement.update(&plan, &touched);
        let mut items = touched.items;
        items.sort_unstable();
        items.dedup();
        let again = laid_again(&scene.placement, &placement, &items);
        let all: Vec<ItemId> = items.iter().chain(&again).copied().collect();
        let pieces: usize = all.iter().filter_map(|&id| placement.item(id)).map(|p| p.pieces.len()).sum();
        let found = (pieces as f64 <= MOST_PIECES).then(|| {
            [
                self.found_about(&scene.snapshot.plan, &scene.placement, &all),
                self.found_about(&plan, &placement, &all),
            ]
        });
        Ok(Shifted { plan, placement, items, again, found })
    }
}
