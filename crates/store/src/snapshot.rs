//! Stored states of the plan, so that opening need not replay the whole journal.

use plan::Plan;
use rusqlite::{Connection, OptionalExtension};
use serde::Deserialize;

use crate::chain::{self, Hash};

/// Format of the JSON in which plans are stored.
pub(crate) const STATE_FORMAT: u32 = 1;
/// How many stored states are kept beside the first.
const KEPT: u32 = 2;

/// A row of the table `snapshot`.
#[derive(Debug, Clone)]
pub(crate) struct Snapshot {
    /// The change after which the plan was so.
    pub(crate) seq: u64,
    pub(crate) format: u32,
    /// Hash of that change: where the chain goes on.
    pub(crate) chain: Vec<u8>,
    pub(crate) hash: Vec<u8>,
    /// The plan as JSON.
    pub(crate) body: Vec<u8>,
}

impl Snapshot {
    pub(crate) fn new(seq: u64, chain: &Hash, plan: &Plan) -> Self {
        let body = serde_json::to_vec(plan).expect("a plan holds nothing that JSON cannot");
        let mut snapshot = Self { seq, format: STATE_FORMAT, chain: chain.to_vec(), hash: Vec::new(), body };
        snapshot.hash = snapshot.own_hash().to_vec();
        snapshot
    }

    fn own_hash(&self) -> Hash {
        chain::of_parts(&[&self.seq.to_le_bytes(), &self.format.to_le_bytes(), &self.chain, &self.body])
    }

    /// The plan, if every byte is as it was written and the gate takes every part of it.
    pub(crate) fn plan(&self) -> Result<Plan, String> {
        if self.hash != self.own_hash() {
            return Err(format!(
                "the stored state after change {} has other bytes than were written",
                self.seq
            ));
        }
        if self.format > STATE_FORMAT {
            return Err(format!("the stored state after change {} has format {}", self.seq, self.format));
        }
        through_gate(&self.body)
            .map_err(|e| format!("the stored state after change {} is no plan: {e}", self.seq))
    }

    /// Stores it and lets the oldest go; that with which the history begins always stays.
    pub(crate) fn insert(&self, db: &Connection) -> rusqlite::Result<()> {
        self.put(db)?;
        db.execute(
            "DELETE FROM snapshot WHERE seq > (SELECT min(seq) FROM snapshot) \
             AND seq NOT IN (SELECT seq FROM snapshot ORDER BY seq DESC LIMIT ?1)",
            [KEPT],
        )
        .map(drop)
    }

    pub(crate) fn put(&self, db: &Connection) -> rusqlite::Result<()> {
        db.execute(
            "INSERT OR REPLACE INTO snapshot (seq, format, chain, hash, body) VALUES (?1, ?2, ?3, ?4, ?5)",
            rusqlite::params![self.seq, self.format, self.chain, self.hash, self.body],
        )
        .map(drop)
    }

    /// The numbers of all stored states, newest first.
    pub(crate) fn numbers(db: &Connection) -> rusqlite::Result<Vec<u64>> {
        db.prepare("SELECT seq FROM snapshot ORDER BY seq DESC")?.query_map([], |r| r.get(0))?.collect()
    }

    pub(crate) fn read(db: &Connection, seq: u64) -> rusqlite::Result<Option<Self>> {
        db.query_row("SELECT seq, format, chain, hash, body FROM snapshot WHERE seq = ?1", [seq], |r| {
            Ok(Self { seq: r.get(0)?, format: r.get(1)?, chain: r.get(2)?, hash: r.get(3)?, body: r.get(4)? })
        })
        .optional()
    }
}

/// The part of a stored plan that the gate does not see.
#[derive(Deserialize)]
struct Ids {
    #[serde(default)]
    last_id: u32,
}

/// Reads a plan and passes every part of it through the gate, as if it had been built anew.
fn through_gate(body: &[u8]) -> Result<Plan, String> {
    let plan: Plan = serde_json::from_slice(body).map_err(|e| e.to_string())?;
    let ids: Ids = serde_json::from_slice(body).map_err(|e| e.to_string())?;
    let mut built = Plan::default();
    for command in plan.commands() {
        built.apply(&command).map_err(|e| e.to_string())?;
    }
    if built != plan {
        return Err("its lists are not in order".into());
    }
    if ids.last_id < largest_id(&plan) {
        return Err("its ids do not agree".into());
    }
    Ok(plan)
}

fn largest_id(plan: &Plan) -> u32 {
    let stock = &plan.stock;
    let short = stock.kinds.iter().map(|k| k.id.0).chain(stock.colours.iter().map(|c| c.id.0)).map(u32::from);
    let of_stock = short.chain(stock.lots.iter().map(|l| l.id.0)).chain(stock.gear.iter().map(|g| g.id.0));
    let of_scene = plan.surfaces.iter().map(|s| s.id.0).chain(plan.sections.iter().map(|s| s.id.0));
    let rest = plan.pictures.iter().map(|p| p.id.0).chain(plan.items.iter().map(|i| i.id.0));
    let groups = plan.items.iter().filter_map(|i| i.group.map(|g| g.0));
    of_stock.chain(of_scene).chain(rest).chain(groups).max().unwrap_or(0)
}
