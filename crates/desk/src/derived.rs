//! What was computed from the plan and still holds: forgotten as commands touch it.

use std::collections::BTreeMap;
use std::sync::Arc;

use colour::Raster;
use fall::Network;
use placement::Placement;
use plan::{Field, ItemId, Plan, Touched};
use rayon::prelude::*;

use crate::error::DeskError;
use crate::measure::{FieldMeasure, measure_field};
use crate::office::{Desk, lock};
use crate::physics::{Physics, Woven};
use crate::snapshot::Snapshot;
use crate::stock::StockSummary;
use crate::views::{View, draw_field, draw_source, draw_whole};
use crate::ways_out::{FreeUse, Shortage, free_use, pictures_alike, shortage_alike, summary_with, ways_out};
use sayings::{Said, refusing, say};

/// Findings and the plan that they are of.
#[derive(Debug, Clone)]
pub struct FoundAt {
    /// The plan.
    pub snapshot: Arc<Snapshot>,
    /// The findings, worst first.
    pub list: Arc<Vec<findings::Finding>>,
}

type Measures = BTreeMap<ItemId, (Field, FieldMeasure)>;

/// Results that still hold.
#[derive(Default)]
pub(crate) struct Derived {
    /// Counts every forgetting, so that a result that was overtaken while it was made is not kept.
    pub(crate) age: u64,
    /// With the field that each was made from: one that was only moved is as right as before.
    measures: Arc<Measures>,
    shortage: Option<Arc<Shortage>>,
    /// The last shortage and the plan it was made from: most changes, such as a move, leave it as it was.
    last_shortage: Option<(Arc<Plan>, Arc<Shortage>)>,
    /// The same for what the pictures would take freely.
    last_free: Option<(Arc<Plan>, Arc<FreeUse>)>,
    findings: Option<FoundAt>,
    pub(crate) physics: Physics,
}

impl Derived {
    /// Drops what a command touched.
    pub(crate) fn forget(&mut self, touched: &Touched) {
        self.age += 1;
        self.shortage = None;
        self.findings = None;
        self.physics.forget(touched);
        if touched.stock || touched.scene {
            self.measures = Arc::default();
        }
    }
}

impl Desk {
    /// Measures of all fields, in order of id; only those that changed are made again.
    pub fn measures(&self) -> Result<Vec<FieldMeasure>, DeskError> {
        let (snapshot, age, known) = self.look();
        let fields: Vec<_> = snapshot.plan.items.iter().filter_map(|i| i.field().map(|f| (i, f))).collect();
        let measure = |(item, field): &(&plan::Item, &Field)| match known.get(&item.id) {
            // The cells of an untouched field are the same ones, so that this compares a few figures.
            Some((of, m)) if of == *field => Ok(Some(*m)),
            _ => measure_field(&snapshot.plan, item, &self.bank, self),
        };
        let measured: Vec<_> = fields.par_iter().map(measure).collect::<Result<_, DeskError>>()?;
        let kept = fields.iter().zip(&measured);
        let kept: Measures = kept.filter_map(|((_, f), m)| m.map(|m| (m.item, ((*f).clone(), m)))).collect();
        let mut derived = lock(&self.derived);
        if derived.age == age {
            derived.measures = Arc::new(kept);
        }
        Ok(measured.into_iter().flatten().collect())
    }

    /// What is short and the ways out; made once for each state of the plan.
    pub fn shortage(&self) -> Result<Arc<Shortage>, DeskError> {
        let (snapshot, age, _) = self.look();
        if let Some(known) = lock(&self.derived).shortage.clone() {
            return Ok(known);
        }
        let last = lock(&self.derived).last_shortage.clone();
        let made = match last.filter(|(of, _)| shortage_alike(of, &snapshot.plan)) {
            Some((_, known)) => known,
            None => Arc::new(ways_out(&snapshot.plan, &self.bank, self, None)?),
        };
        let mut derived = lock(&self.derived);
        derived.last_shortage = Some((Arc::clone(&snapshot.plan), Arc::clone(&made)));
        if derived.age == age {
            derived.shortage = Some(Arc::clone(&made));
        }
        Ok(made)
    }

    /// Stock against plan, with what the pictures would take freely. The pictures are matched again only when one of them,
    /// its field or a colour has changed.
    fn stock_wanted(&self, plan: &Arc<Plan>) -> Result<StockSummary, DeskError> {
        let last = lock(&self.derived).last_free.clone();
        let free = match last.filter(|(of, _)| pictures_alike(of, plan)) {
            Some((_, known)) => known,
            None => match free_use(plan, &self.bank, self)? {
                Some(made) => Arc::new(made),
                None => return Ok(summary_with(plan, None)),
            },
        };
        lock(&self.derived).last_free = Some((Arc::clone(plan), Arc::clone(&free)));
        Ok(summary_with(plan, Some(&free)))
    }

    /// What would be wrong with another state of the plan, of which these things were touched since the state at hand. Only what
    /// they touch is placed and searched again, and what still holds is kept, so that the next state is quick too.
    pub(crate) fn findings_after(
        &self,
        woven: &Woven,
        plan: &Arc<Plan>,
        touched: &Touched,
    ) -> Result<Vec<findings::Finding>, DeskError> {
        let mut placement = Placement::clone(&woven.scene.placement);
        placement.update(plan, touched);
        let mut network = Network::clone(&woven.network);
        network.update(plan, &placement);
        let stock = self.stock_wanted(plan)?;
        let mut checker = lock(&self.makers.checker);
        crate::report::find(&mut checker, (plan, &placement, &network), &stock, (&self.bank, self))
    }

    /// What is wrong with the plan, worst first; made once for each state of the plan.
    pub fn findings(&self) -> Result<FoundAt, DeskError> {
        let age = {
            let derived = lock(&self.derived);
            if let Some(known) = &derived.findings {
                return Ok(known.clone());
            }
            derived.age
        };
        let woven = self.woven();
        let snapshot = Arc::clone(&woven.scene.snapshot);
        // Taken out first: nobody may hold this lock while a picture is read from the store.
        let known = {
            let derived = lock(&self.derived);
            derived.shortage.clone().filter(|_| derived.age == age)
        };
        let stock = match known {
            Some(known) => known.summary.clone(),
            None => self.stock_wanted(&snapshot.plan)?,
        };
        let scene = (&*snapshot.plan, &*woven.scene.placement, &*woven.network);
        let list = {
            let mut checker = lock(&self.makers.checker);
            Arc::new(crate::report::find(&mut checker, scene, &stock, (&self.bank, self))?)
        };
        let made = FoundAt { snapshot, list };
        let mut derived = lock(&self.derived);
        if derived.age == age {
            derived.findings = Some(made.clone());
        }
        Ok(made)
    }

    /// Draws a field, or what a variant would make of it, `width` pixels wide.
    pub fn draw(
        &self,
        item: ItemId,
        variant: Option<u32>,
        view: View,
        width: u32,
    ) -> Result<Raster, DeskError> {
        let snapshot = self.snapshot();
        let field = field_of(&snapshot.plan, item)?;
        let kept = variant
            .map(|id| {
                self.variant(id).ok_or_else(|| missing(say!(refusing::WHAT_VARIANT, id = id.to_string())))
            })
            .transpose()?;
        let cells =
            kept.as_ref().and_then(|v| v.outcome.cells.iter().find(|(i, _)| *i == item)).map(|(_, c)| c);
        // A variant of a field that has another size by now cannot be drawn on it.
        if cells.is_some_and(|c| c.len() != field.frame.len()) {
            return Err(missing(say!(refusing::WHAT_VARIANT_SIZE)));
        }
        draw_field(&snapshot.plan, field, cells, view, width)
    }

    /// Draws the picture that a field shows, cut and fitted to it; `None` without a picture.
    pub fn draw_source(&self, item: ItemId, width: u32) -> Result<Option<Raster>, DeskError> {
        let snapshot = self.snapshot();
        draw_source(&snapshot.plan, field_of(&snapshot.plan, item)?, width, &self.bank, self)
    }

    /// The whole picture of a field, uncut, its longer side `longest` pixels; `None` when it has none.
    pub fn draw_whole(&self, item: ItemId, longest: u32) -> Result<Option<Raster>, DeskError> {
        let snapshot = self.snapshot();
        draw_whole(&snapshot.plan, field_of(&snapshot.plan, item)?, longest, &self.bank, self)
    }

    /// The plan, its age and the measures that hold for it, read under one lock.
    fn look(&self) -> (Arc<Snapshot>, u64, Arc<Measures>) {
        let derived = lock(&self.derived);
        (self.snapshot(), derived.age, Arc::clone(&derived.measures))
    }
}

fn field_of(plan: &Plan, id: ItemId) -> Result<&Field, DeskError> {
    plan.item(id)
        .and_then(plan::Item::field)
        .ok_or_else(|| missing(say!(refusing::WHAT_FIELD, id = id.to_string())))
}

fn missing(what: Said) -> DeskError {
    DeskError::missing(what, say!(refusing::MISSING_CHOOSE))
}
