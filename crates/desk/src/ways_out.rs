//! Ways out of a shortage: another colour, a smaller field, buying, borrowing.

use std::collections::BTreeMap;

use colour::{FieldWanted, Flow, Problem};
use plan::{ColourId, Field, Item, ItemId, KindId, LotId, Plan};

use crate::error::DeskError;
use crate::matching::wanted_field;
use crate::palette::Choice;
use crate::pictures::{PictureBank, PictureSource};
use crate::stock::{StockSummary, stock_summary};

/// A way out of a shortage.
#[derive(Debug, Clone, PartialEq)]
pub enum WayOut {
    /// Let another colour stand in, as the proven least change does it.
    OtherColour {
        /// Kind of the pieces.
        kind: KindId,
        /// The colour that is short.
        from: ColourId,
        /// The colour that stands in.
        to: ColourId,
        /// How many pieces.
        pieces: u64,
        /// Mean CIEDE2000 of the cells concerned, before and after.
        difference: [f64; 2],
    },
    /// Make a field smaller, so far that its picture is within the stock beside all others.
    SmallerField {
        /// Which.
        item: ItemId,
        /// Lanes it would have.
        lanes: u32,
        /// Ranks it would have.
        ranks: u32,
    },
    /// Buy so many.
    Buy {
        /// Kind of the pieces.
        kind: KindId,
        /// Of which colour.
        colour: ColourId,
        /// How many.
        pieces: u64,
        /// CIEDE2000 that the first of them would save.
        worth: f64,
    },
    /// Borrow from an owner who offered.
    Borrow {
        /// Kind of the pieces.
        kind: KindId,
        /// Of which colour.
        colour: ColourId,
        /// From which lot.
        lot: LotId,
        /// From whom.
        owner: String,
        /// How many.
        pieces: u64,
    },
}

/// All pictures of a plan beside its stock: what they would take freely, and how to get by.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shortage {
    /// Stock against plan, with what the pictures would take freely.
    pub summary: StockSummary,
    /// Ways out, smallest visible change first; empty when nothing is short.
    pub ways_out: Vec<WayOut>,
    /// How many pieces are missing in all, whatever their colour; 0 when every cell can be filled.
    pub missing: u64,
}

/// Finds what is short and how to get by.
pub fn ways_out(plan: &Plan, bank: &PictureBank, source: &dyn PictureSource) -> Result<Shortage, DeskError> {
    let Some(all) = All::of(plan, bank, source)? else {
        return Ok(Shortage { summary: stock_summary(plan, &BTreeMap::new()), ..Shortage::default() });
    };
    let error = |e: colour::MatchError| DeskError::Match(e.to_string());
    let free = colour::match_free(&all.problem, &mut |_| Flow::Go).map_err(error)?;
    let summary = stock_summary(plan, &all.wanted(plan, &free.used));
    let cells: u64 = free.used.iter().sum();
    let missing = cells.saturating_sub(all.problem.stock.iter().sum());
    if summary.short().is_empty() {
        return Ok(Shortage { summary, ways_out: Vec::new(), missing });
    }
    let mut ways = borrow(plan, &summary);
    let exact = match colour::match_exact(&all.problem, &mut |_| Flow::Go) {
        Ok(exact) => Some(exact),
        Err(colour::MatchError::StockTooSmall { .. }) => None,
        Err(e) => return Err(error(e)),
    };
    if let Some(exact) = &exact {
        ways.extend(all.other_colours(&free.cells, &exact.cells));
    }
    let prices = exact.as_ref().map(|e| e.prices.as_slice());
    ways.extend(all.buy(&summary, prices));
    ways.extend(all.smaller(plan, bank, source, &summary)?);
    Ok(Shortage { summary, ways_out: ways, missing })
}

/// Every field with a picture, as one problem.
struct All<'a> {
    problem: Problem,
    choice: Choice,
    items: Vec<(&'a Item, &'a Field)>,
}

impl<'a> All<'a> {
    fn of(plan: &'a Plan, bank: &PictureBank, source: &dyn PictureSource) -> Result<Option<Self>, DeskError> {
        let with_picture = |i: &'a Item| Some((i, i.field()?)).filter(|(_, f)| f.picture.is_some());
        let items: Vec<_> = plan.items.iter().filter_map(with_picture).collect();
        let mut kinds: Vec<KindId> = items.iter().map(|(_, f)| f.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let ids: Vec<ItemId> = items.iter().map(|(i, _)| i.id).collect();
        let choice = Choice::of(plan, &kinds, &ids);
        if items.is_empty() || choice.entries.is_empty() {
            return Ok(None);
        }
        let mut fields = Vec::with_capacity(items.len());
        for (_, field) in &items {
            fields.extend(wanted_field(plan, field, &choice, bank, source, &|_| true)?);
        }
        if fields.len() != items.len() {
            return Ok(None);
        }
        Ok(Some(Self { problem: Problem { fields, stock: choice.stock.clone() }, choice, items }))
    }

    /// What the plan would take: the pictures freely, everything else as it is laid.
    fn wanted(&self, plan: &Plan, free: &[u64]) -> BTreeMap<(KindId, ColourId), u64> {
        let mut wanted: BTreeMap<_, u64> =
            self.choice.entries.iter().copied().zip(free.iter().copied()).collect();
        let others = plan.items.iter().filter(|i| !self.items.iter().any(|(x, _)| x.id == i.id));
        for need in others.flat_map(Item::needs) {
            *wanted.entry((need.kind, need.colour)).or_default() += u64::from(need.count);
        }
        wanted
    }

    fn other_colours(&self, free: &[Vec<u16>], exact: &[Vec<u16>]) -> Vec<WayOut> {
        let mut sums: BTreeMap<(u16, u16), (u64, f64, f64)> = BTreeMap::new();
        for (field, (a, b)) in self.problem.fields.iter().zip(free.iter().zip(exact)) {
            let labs: Vec<_> = field.palette.iter().map(|c| c.to_lab()).collect();
            for i in (0..a.len()).filter(|&i| a[i] != b[i] && a[i] != colour::EMPTY && b[i] != colour::EMPTY)
            {
                let lab = field.wanted[i].to_lab();
                let sum = sums.entry((a[i], b[i])).or_default();
                sum.0 += 1;
                sum.1 += colour::ciede2000(lab, labs[usize::from(a[i])]);
                sum.2 += colour::ciede2000(lab, labs[usize::from(b[i])]);
            }
        }
        let way = |(&(from, to), &(pieces, before, after)): (&(u16, u16), &(u64, f64, f64))| {
            let (kind, from) = self.choice.entries[usize::from(from)];
            let (_, to) = self.choice.entries[usize::from(to)];
            let n = pieces as f64;
            WayOut::OtherColour { kind, from, to, pieces, difference: [before / n, after / n] }
        };
        let mut ways: Vec<_> = sums.iter().map(way).collect();
        // The smallest visible change first; ties by the order of the colours, which the map already has.
        ways.sort_by(|a, b| change(a).total_cmp(&change(b)));
        ways
    }

    fn buy(&self, summary: &StockSummary, prices: Option<&[i64]>) -> Vec<WayOut> {
        let way = |line: &crate::stock::StockLine| {
            let index = self.choice.index(line.kind, line.colour).map(usize::from);
            let price = index.and_then(|i| prices?.get(i).copied()).unwrap_or(0);
            WayOut::Buy {
                kind: line.kind,
                colour: line.colour,
                pieces: line.short(),
                worth: price as f64 / 1_000.0,
            }
        };
        let mut ways: Vec<_> = summary.short().into_iter().map(way).collect();
        ways.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
        ways
    }

    /// The field that takes most of what is short, shrunk until everything is within the stock.
    fn smaller(
        &self,
        plan: &Plan,
        bank: &PictureBank,
        source: &dyn PictureSource,
        summary: &StockSummary,
    ) -> Result<Option<WayOut>, DeskError> {
        let Some(at) = self.hungriest(summary) else { return Ok(None) };
        let (item, field) = self.items[at];
        let mut frame = field.frame;
        for _ in 0..12 {
            let shrunk = self.with_frame(plan, at, frame, bank, source)?;
            let used = shrunk.used;
            let over = self.over(&used, &shrunk.own);
            if over <= 1.0 {
                return Ok(Some(WayOut::SmallerField {
                    item: item.id,
                    lanes: frame.lanes,
                    ranks: frame.ranks,
                }));
            }
            if !over.is_finite() {
                return Ok(None);
            }
            let scale = over.sqrt().recip().min(0.985);
            let (lanes, ranks) = (f64::from(frame.lanes) * scale, f64::from(frame.ranks) * scale);
            if lanes < 8.0 || ranks < 8.0 {
                return Ok(None);
            }
            (frame.lanes, frame.ranks) = (lanes as u32, ranks as u32);
        }
        Ok(None)
    }

    fn hungriest(&self, summary: &StockSummary) -> Option<usize> {
        let short = summary.short();
        let hunger = |at: usize| -> u64 {
            let needs = self.items[at].0.needs();
            let takes = |l: &&crate::stock::StockLine| {
                needs
                    .iter()
                    .filter(|n| (n.kind, n.colour) == (l.kind, l.colour))
                    .map(|n| u64::from(n.count))
                    .sum::<u64>()
            };
            short.iter().map(takes).sum()
        };
        (0..self.items.len())
            .max_by_key(|&at| (hunger(at), self.items[at].1.cells.len(), std::cmp::Reverse(at)))
    }

    /// Free use with one field on another grid: in all, and of that field alone.
    fn with_frame(
        &self,
        plan: &Plan,
        at: usize,
        frame: plan::FieldFrame,
        bank: &PictureBank,
        source: &dyn PictureSource,
    ) -> Result<FreeUse, DeskError> {
        let mut field = Field::empty(self.items[at].1.kind, frame);
        field.picture.clone_from(&self.items[at].1.picture);
        field.wish.clone_from(&self.items[at].1.wish);
        let count = |fields: Vec<FieldWanted>| {
            let problem = Problem { fields, stock: self.problem.stock.clone() };
            let free = colour::match_free(&problem, &mut |_| Flow::Go);
            free.map(|f| f.used).map_err(|e| DeskError::Match(e.to_string()))
        };
        let Some(own) = wanted_field(plan, &field, &self.choice, bank, source, &|_| true)? else {
            return Err(DeskError::Match("The field shows no picture.".into()));
        };
        let own = count(vec![own])?;
        let mut rest = self.problem.fields.clone();
        rest.remove(at);
        let rest = if rest.is_empty() { vec![0; own.len()] } else { count(rest)? };
        Ok(FreeUse { used: own.iter().zip(&rest).map(|(a, b)| a + b).collect(), own })
    }

    /// By how much the shrunk field must still give way; infinite when the others alone are over.
    fn over(&self, used: &[u64], own: &[u64]) -> f64 {
        let mut worst = 1.0f64;
        for ((&used, &own), &stock) in used.iter().zip(own).zip(&self.problem.stock) {
            if used > stock {
                let room = stock.saturating_sub(used - own);
                worst = worst.max(own as f64 / room as f64);
            }
        }
        worst
    }
}

/// Free use by palette index.
struct FreeUse {
    used: Vec<u64>,
    own: Vec<u64>,
}

fn change(way: &WayOut) -> f64 {
    match way {
        WayOut::OtherColour { difference, .. } => difference[1] - difference[0],
        _ => 0.0,
    }
}

fn worth(way: &WayOut) -> f64 {
    match way {
        WayOut::Buy { worth, .. } => *worth,
        _ => 0.0,
    }
}

fn borrow(plan: &Plan, summary: &StockSummary) -> Vec<WayOut> {
    let mut ways = Vec::new();
    for line in summary.short() {
        let mut short = line.short();
        let mut lots: Vec<_> = plan.stock.lots_of(line.kind, line.colour).filter(|l| l.offered > 0).collect();
        lots.sort_by_key(|l| (std::cmp::Reverse(l.offered), l.id));
        for lot in lots {
            let pieces = short.min(lot.offered.into());
            if pieces > 0 {
                let owner = lot.owner.clone();
                ways.push(WayOut::Borrow {
                    kind: line.kind,
                    colour: line.colour,
                    lot: lot.id,
                    owner,
                    pieces,
                });
            }
            short -= pieces;
        }
    }
    ways
}
