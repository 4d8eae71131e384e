//! From the rows of a list to a stock, keeping the ids of what is known already.

use std::collections::{BTreeSet, HashMap};

use plan::{Colour, ColourId, Gear, Kind, KindId, Lot, LotId, Stock};

use super::codes;
use super::read::{StockRead, StockRow};

/// The stock that a list describes.
///
/// With `existing`, colours known by name, else by code, keep their ids, and so do lots of the same kind, colour,
/// batch and owner; the list replaces all lots. Kinds, gear and colours that the list does not name stay.
/// Without it, ids count from 1 in the order of the list, and a kind that is only known by its name is taken to be
/// of the usual size.
pub fn to_stock(read: &StockRead, existing: Option<&Stock>) -> Stock {
    let old = existing.cloned().unwrap_or_default();
    let mut build = Build::new(&old, &read.rows);
    for row in &read.rows {
        build.row(row);
    }
    build.finish(old.gear.clone())
}

struct Build<'a> {
    kinds: Vec<Kind>,
    colours: Vec<Colour>,
    lots: Vec<Lot>,
    of_name: HashMap<String, ColourId>,
    of_code: HashMap<String, ColourId>,
    old_lots: HashMap<(KindId, ColourId, &'a str, &'a str), Vec<LotId>>,
    codes: BTreeSet<String>,
    colour_ids: BTreeSet<u16>,
    lot_ids: BTreeSet<u32>,
    /// Colours that the list already described; later rows only add lots.
    described: BTreeSet<ColourId>,
    expected: usize,
}

impl<'a> Build<'a> {
    fn new(old: &'a Stock, rows: &'a [StockRow]) -> Self {
        let mut old_lots: HashMap<_, Vec<LotId>> = HashMap::new();
        for l in old.lots.iter().rev() {
            old_lots.entry((l.kind, l.colour, l.batch.as_str(), l.owner.as_str())).or_default().push(l.id);
        }
        let written = rows.iter().filter_map(|r| r.code.as_deref());
        let known = old.colours.iter().map(|c| c.code.as_str());
        let names: BTreeSet<&str> =
            rows.iter().map(|r| r.name.as_str()).chain(old.colours.iter().map(|c| c.name.as_str())).collect();
        Self {
            kinds: old.kinds.clone(),
            colours: old.colours.clone(),
            lots: Vec::with_capacity(rows.len()),
            of_name: old.colours.iter().map(|c| (c.name.clone(), c.id)).collect(),
            of_code: old.colours.iter().map(|c| (c.code.clone(), c.id)).collect(),
            old_lots,
            codes: written.chain(known).map(plan::look_alike).collect(),
            colour_ids: old
                .colours
                .iter()
                .map(|c| c.id.0)
                .chain(rows.iter().filter_map(|r| r.colour_id))
                .collect(),
            lot_ids: old.lots.iter().map(|l| l.id.0).chain(rows.iter().filter_map(|r| r.lot_id)).collect(),
            described: BTreeSet::new(),
            expected: names.len(),
        }
    }

    fn row(&mut self, row: &'a StockRow) {
        let colour = self.colour(row);
        let Some(count) = row.count else { return };
        let kind = self.kind(row.kind.as_deref());
        let known = self.old_lots.get_mut(&(kind, colour, row.batch.as_str(), row.owner.as_str()));
        let id = row.lot_id.map(LotId).or_else(|| known.and_then(Vec::pop));
        let id = id.unwrap_or_else(|| LotId(next_free(&mut self.lot_ids)));
        self.lots.push(Lot {
            id,
            kind,
            colour,
            batch: row.batch.clone(),
            owner: row.owner.clone(),
            count,
            offered: row.offered,
            spare: row.spare,
            crate_size: row.crate_size,
            thickness: row.thickness,
            mass: row.mass,
        });
    }

    fn colour(&mut self, row: &StockRow) -> ColourId {
        let by_code = || row.code.as_ref().and_then(|c| self.of_code.get(c));
        let known = self.of_name.get(&row.name).or_else(by_code).copied();
        let id = row.colour_id.map(ColourId).or(known);
        let id = id.unwrap_or_else(|| ColourId(next_free_colour(&mut self.colour_ids)));
        if !self.described.insert(id) {
            return id;
        }
        let place = self.colours.iter().position(|c| c.id == id);
        let code = row.code.clone().or_else(|| place.map(|i| self.colours[i].code.clone()));
        let code =
            code.unwrap_or_else(|| codes::propose(&row.name, &self.codes, self.expected).unwrap_or_default());
        self.codes.insert(plan::look_alike(&code));
        self.of_name.insert(row.name.clone(), id);
        let (name, finish) = (row.name.clone(), row.finish);
        let colour = Colour { id, name, code, front: row.front, back: row.back, edge: row.edge, finish };
        match place {
            Some(i) => self.colours[i] = colour,
            None => self.colours.push(colour),
        }
        id
    }

    /// The kind with this name, or `#` and an id; the first one when no name is given.
    fn kind(&mut self, name: Option<&str>) -> KindId {
        let by_id = name.and_then(|n| n.strip_prefix('#')).and_then(|n| n.parse().ok()).map(KindId);
        let found = match name {
            None => self.kinds.first(),
            Some(n) => {
                let with_id = self.kinds.iter().find(|k| Some(k.id) == by_id);
                with_id.or_else(|| self.kinds.iter().find(|k| k.name == n))
            }
        };
        if let Some(kind) = found {
            return kind.id;
        }
        let id = KindId(self.kinds.iter().map(|k| k.id.0).max().unwrap_or(0).saturating_add(1));
        let usual = Kind::usual(id);
        self.kinds.push(Kind { name: name.map_or(usual.name.clone(), str::to_owned), ..usual });
        id
    }

    fn finish(self, gear: Vec<Gear>) -> Stock {
        let Self { kinds, mut colours, mut lots, .. } = self;
        colours.sort_by_key(|c| c.id);
        lots.sort_by_key(|l| l.id);
        Stock { kinds, colours, lots, gear }
    }
}

/// An id above all others, so that one that was taken away is not given again while a higher one remains.
fn next_free(ids: &mut BTreeSet<u32>) -> u32 {
    let id = ids.last().map_or(1, |&n| n.saturating_add(1));
    ids.insert(id);
    id
}

fn next_free_colour(ids: &mut BTreeSet<u16>) -> u16 {
    let id = ids.last().map_or(1, |&n| n.saturating_add(1));
    ids.insert(id);
    id
}
