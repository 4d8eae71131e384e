//! What was computed from the plan and still holds: forgotten item by item as commands touch them.

use std::collections::BTreeMap;
use std::sync::Arc;

use plan::{ItemId, Touched};

use crate::error::DeskError;
use crate::measure::{FieldMeasure, measure_field};
use crate::office::{Desk, lock};
use crate::snapshot::Snapshot;
use crate::ways_out::{Shortage, ways_out};

/// Results that still hold.
#[derive(Default)]
pub(crate) struct Derived {
    /// Counts every forgetting, so that a result that was overtaken while it was made is not kept.
    age: u64,
    measures: BTreeMap<ItemId, FieldMeasure>,
    shortage: Option<Arc<Shortage>>,
}

impl Derived {
    /// Drops what a command touched.
    pub(crate) fn forget(&mut self, touched: &Touched) {
        self.age += 1;
        self.shortage = None;
        if touched.stock || touched.scene {
            self.measures.clear();
        }
        for id in &touched.items {
            self.measures.remove(id);
        }
    }
}

impl Desk {
    /// Measures of all fields, in order of id; only those that changed are made again.
    pub fn measures(&self) -> Result<Vec<FieldMeasure>, DeskError> {
        let (snapshot, age, known) = self.look();
        let mut all = Vec::new();
        for item in snapshot.plan.items.iter().filter(|i| i.field().is_some()) {
            match known.get(&item.id) {
                Some(m) => all.push(*m),
                None => all.extend(measure_field(&snapshot.plan, item, &self.bank, self)?),
            }
        }
        let mut derived = lock(&self.derived);
        if derived.age == age {
            derived.measures = all.iter().map(|m| (m.item, *m)).collect();
        }
        Ok(all)
    }

    /// What is short and the ways out; made once for each state of the plan.
    pub fn shortage(&self) -> Result<Arc<Shortage>, DeskError> {
        let (snapshot, age, _) = self.look();
        if let Some(known) = lock(&self.derived).shortage.clone() {
            return Ok(known);
        }
        let made = Arc::new(ways_out(&snapshot.plan, &self.bank, self)?);
        let mut derived = lock(&self.derived);
        if derived.age == age {
            derived.shortage = Some(Arc::clone(&made));
        }
        Ok(made)
    }

    /// The plan, its age and the measures that hold for it, read under one lock.
    fn look(&self) -> (Arc<Snapshot>, u64, BTreeMap<ItemId, FieldMeasure>) {
        let derived = lock(&self.derived);
        (self.snapshot(), derived.age, derived.measures.clone())
    }
}
