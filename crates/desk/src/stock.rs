//! Stock against plan: needed, wanted, owned and short, by kind and colour.

use std::collections::BTreeMap;

use plan::{ColourId, ItemId, KindId, Need, Plan};

/// One kind and colour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockLine {
    /// Kind.
    pub kind: KindId,
    /// Colour.
    pub colour: ColourId,
    /// Pieces that the plan takes as it is laid.
    pub needed: u64,
    /// Pieces that the pictures would take if the stock did not matter; never less than nothing.
    pub wanted: u64,
    /// Owned, spare included.
    pub owned: u64,
    /// Usable, spare kept back.
    pub usable: u64,
    /// Could be lent in addition.
    pub offered: u64,
    /// Who takes them, by item.
    pub takers: Vec<(ItemId, u64)>,
    /// Full and begun crates for what is needed; crates of 1 000 where no lot says otherwise.
    pub crates: u64,
}

/// All of it, least left first.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StockSummary {
    /// Lines; kinds and colours that are neither owned, needed nor wanted are left out.
    pub lines: Vec<StockLine>,
}

/// Pieces in a crate where no lot says otherwise (common practice: 1 000 to 1 500).
const USUAL_CRATE: u64 = 1_000;

impl StockLine {
    /// What is left after the plan as laid; negative when short.
    pub fn left(&self) -> i64 {
        self.usable as i64 - self.needed as i64
    }

    /// How many the pictures would like beyond what is usable.
    pub fn short(&self) -> u64 {
        self.wanted.max(self.needed).saturating_sub(self.usable)
    }
}

impl StockSummary {
    /// Lines that are short, worst first.
    pub fn short(&self) -> Vec<&StockLine> {
        let mut short: Vec<_> = self.lines.iter().filter(|l| l.short() > 0).collect();
        short.sort_by_key(|l| (std::cmp::Reverse(l.short()), l.kind, l.colour));
        short
    }
}

/// Adds up the plan as laid; `wanted` is what the pictures would take freely, by kind and colour.
pub fn stock_summary(plan: &Plan, wanted: &BTreeMap<(KindId, ColourId), u64>) -> StockSummary {
    let mut takers: BTreeMap<(KindId, ColourId), Vec<(ItemId, u64)>> = BTreeMap::new();
    for (item, needs) in placement::needs_of_all(plan) {
        for Need { kind, colour, count } in needs {
            let list = takers.entry((kind, colour)).or_default();
            match list.last_mut() {
                Some((id, n)) if *id == item => *n += u64::from(count),
                _ => list.push((item, count.into())),
            }
        }
    }
    let mut keys: Vec<(KindId, ColourId)> = takers.keys().copied().collect();
    keys.extend(plan.stock.lots.iter().map(|l| (l.kind, l.colour)));
    keys.extend(wanted.iter().filter(|(_, n)| **n > 0).map(|(k, _)| *k));
    keys.sort_unstable();
    keys.dedup();
    let line = |(kind, colour)| {
        let takers = takers.get(&(kind, colour)).cloned().unwrap_or_default();
        let needed: u64 = takers.iter().map(|t| t.1).sum();
        let mut lots = plan.stock.lots_of(kind, colour);
        let crate_size = lots.find_map(|l| l.crate_size).map_or(USUAL_CRATE, u64::from);
        StockLine {
            kind,
            colour,
            needed,
            wanted: wanted.get(&(kind, colour)).copied().unwrap_or(needed),
            owned: plan.stock.owned(kind, colour),
            usable: plan.stock.usable(kind, colour),
            offered: plan.stock.lots_of(kind, colour).map(|l| u64::from(l.offered)).sum(),
            takers,
            crates: needed.div_ceil(crate_size),
        }
    };
    let mut lines: Vec<StockLine> = keys.into_iter().map(line).collect();
    lines.sort_by_key(|l| (l.usable as i64 - l.wanted.max(l.needed) as i64, l.kind, l.colour));
    StockSummary { lines }
}
