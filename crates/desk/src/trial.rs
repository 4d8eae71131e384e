//! Items that are tried while somebody draws: where their pieces would stand and what would be wrong with them. The plan
//! does not change, and only what the items touch is placed again.

use std::sync::TryLockError;

use findings::{Checker, Finding};
use placement::Placement;
use plan::{Body, Filling, Item, ItemId, Leg, Plan, Refusal, Touched};

use crate::arrange::step;
use crate::error::DeskError;
use crate::office::Desk;
use sayings::{gate, say};

/// More pieces than this are not placed while somebody draws: a slip of a few figures in a length must not hold up the
/// next look. It is told from the drafts alone, before anything is placed; the pieces of feeds do not count.
pub(crate) const MOST_PIECES: f64 = 2_000_000.0;

/// What a trial is to tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TryWhat {
    /// Where the pieces would stand.
    Pieces,
    /// That, and what would be wrong.
    PiecesAndFindings,
}

/// The plan as it would be with some items.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The change of the plan that it was made from.
    pub change: u64,
    /// The plan as it would be.
    pub plan: Plan,
    /// Where its pieces would stand.
    pub placement: Placement,
    /// The items that were tried, in the order in which they were given.
    pub items: Vec<ItemId>,
    /// What would be wrong with them and between them and what stands near, the worst first; what asks for the
    /// stock or for the fall of the whole plan is not among it.
    pub findings: Vec<Finding>,
}

impl Desk {
    /// Tries items that are made from the plan as it is.
    ///
    /// # Errors
    /// What `make` says, and [`DeskError::Refused`] when the gate would not take an item or there are too many pieces to
    /// be tried.
    pub fn try_items(
        &self,
        what: TryWhat,
        make: impl FnOnce(&Plan) -> Result<Vec<Item>, DeskError>,
    ) -> Result<Trial, DeskError> {
        let scene = self.scene();
        let tried = make(&scene.snapshot.plan)?;
        let items: Vec<ItemId> = tried.iter().map(|i| i.id).collect();
        let pieces: f64 = tried.iter().map(|i| about_so_many(&scene.snapshot.plan, i)).sum();
        if pieces.is_nan() || pieces > MOST_PIECES {
            return Err(too_many(pieces));
        }
        let mut plan = Plan::clone(&scene.snapshot.plan);
        let mut touched = Touched::default();
        for item in tried {
            let command = step(plan.item(item.id), item);
            touched.items.extend(plan.apply(&command)?.touched.items);
        }
        let mut placement = Placement::clone(&scene.placement);
        placement.update(&plan, &touched);
        let findings = match what {
            TryWhat::Pieces => Vec::new(),
            TryWhat::PiecesAndFindings => self.found_about(&plan, &placement, &items),
        };
        Ok(Trial { change: scene.snapshot.change, plan, placement, items, findings })
    }

    /// What is wrong with some items of a plan that may not be the desk's, and between them and what stands near.
    pub(crate) fn found_about(&self, plan: &Plan, placement: &Placement, items: &[ItemId]) -> Vec<Finding> {
        match self.makers.checker.try_lock() {
            Ok(checker) => checker.about(plan, placement, items),
            Err(TryLockError::Poisoned(checker)) => checker.into_inner().about(plan, placement, items),
            // Somebody has all findings made: nobody who draws waits for that.
            Err(TryLockError::WouldBlock) => Checker::new().about(plan, placement, items),
        }
    }
}

fn too_many(pieces: f64) -> DeskError {
    Refusal::new(
        say!(gate::AT_DRAFT),
        say!(gate::DRAFT_PIECES, n = pieces as u64),
        say!(gate::DRAFT_PROBLEM, most = MOST_PIECES as u64),
        say!(gate::DRAFT_NEXT),
    )
    .into()
}

/// About how many pieces an item has, before any of them is placed.
fn about_so_many(plan: &Plan, item: &Item) -> f64 {
    let thickness = |kind| plan.stock.kind(kind).map_or(1.0, |k| k.thickness.to_mm());
    let along = |length: f64, spacing: plan::Spacing, kind| {
        length / spacing.pitch(units::Length::mm(thickness(kind))).to_mm().max(0.5)
    };
    match &item.body {
        Body::Field(f) => f64::from(f.frame.lanes) * f64::from(f.frame.ranks),
        Body::Line(l) => {
            let length: f64 = l.path.iter().map(length_of).sum();
            along(length, l.spacing, l.kind) * f64::from(l.lanes)
        }
        Body::Fill(f) => {
            let swings = match f.with {
                Filling::Curls { swing, .. } => 1.0 + 4.0 * swing.to_mm() / f.ring.to_mm().max(0.5),
                _ => 1.0,
            };
            let length = geometry::area(&f.outline).abs() / f.ring.to_mm().max(0.5) * swings;
            along(length, f.spacing, f.kind)
        }
        _ => 0.0,
    }
}

/// The length of a leg, mm; that of a curve is told from its chords.
fn length_of(leg: &Leg) -> f64 {
    match leg {
        Leg::Straight { length } => length.to_mm(),
        Leg::Arc { radius, turn } => radius.to_mm() * turn.to_rad().abs(),
        Leg::Spiral { radius, ring, turns, .. } => {
            let middle = radius.to_mm() + ring.to_mm() * turns / 2.0;
            2.0 * std::f64::consts::PI * middle.abs() * turns
        }
        Leg::Through { points } => {
            let from = std::iter::once(geometry::Point::default()).chain(points.iter().copied());
            from.zip(points).map(|(a, b)| b.minus(a).length()).sum()
        }
    }
}
