//! Ways out of a shortage: another colour, a smaller field, buying, borrowing.

use std::collections::BTreeMap;

use colour::{FieldWanted, Flow, Problem};
use plan::{ColourId, Field, Item, ItemId, KindId, LotId, Plan};

use crate::error::DeskError;
use crate::matching::{ExactAnswer, wanted_field};
use crate::palette::Choice;
use crate::pictures::{PictureBank, PictureSource};
use crate::stock::{StockSummary, stock_summary};
use sayings::{refusing, say};

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
    /// Make one field smaller, or all of them evenly, until all pictures are within the stock.
    SmallerFields {
        /// Which, with the lanes and ranks that each would have.
        fields: Vec<(ItemId, u32, u32)>,
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

/// Stock against plan, with what the pictures would take freely: all that findings need, without the ways out.
pub fn stock_wanted(
    plan: &Plan,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<StockSummary, DeskError> {
    Ok(summary_with(plan, free_use(plan, bank, source)?.as_ref()))
}

/// Pieces that the pictures of a plan would take freely, by kind and colour.
pub(crate) type FreeUse = Vec<((KindId, ColourId), u64)>;

/// What the pictures would take freely; `None` where no field has a picture, or a picture is missing.
pub(crate) fn free_use(
    plan: &Plan,
    bank: &PictureBank,
    source: &dyn PictureSource,
) -> Result<Option<FreeUse>, DeskError> {
    let Some(all) = All::of(plan, bank, source)? else { return Ok(None) };
    let free = colour::match_free(&all.problem, &mut |_| Flow::Go);
    let free = free.map_err(|e| DeskError::no_match(e.said_by_number()))?;
    Ok(Some(all.by_entry(&free.used)))
}

/// Stock against plan: the pictures freely, everything else as it is laid.
pub(crate) fn summary_with(plan: &Plan, free: Option<&FreeUse>) -> StockSummary {
    let Some(free) = free else { return stock_summary(plan, &BTreeMap::new()) };
    let mut wanted: BTreeMap<_, u64> = free.iter().copied().collect();
    let pictured: Vec<ItemId> = pictured(plan).map(|(item, _)| item.id).collect();
    let others = placement::needs_of_all(plan).into_iter().filter(|(id, _)| !pictured.contains(id));
    for need in others.flat_map(|(_, needs)| needs) {
        *wanted.entry((need.kind, need.colour)).or_default() += u64::from(need.count);
    }
    stock_summary(plan, &wanted)
}

/// Whether the pictures of two states of a plan would take the same freely: where a field stands does not matter.
pub(crate) fn pictures_alike(a: &Plan, b: &Plan) -> bool {
    a.stock.colours == b.stock.colours
        && a.stock.kinds == b.stock.kinds
        && a.hall.floor == b.hall.floor
        && a.pictures == b.pictures
        && pictured(a).map(|(i, f)| (i.id, f)).eq(pictured(b).map(|(i, f)| (i.id, f)))
}

/// Whether two states of a plan have the same shortage and the same ways out of it.
pub(crate) fn shortage_alike(a: &Plan, b: &Plan) -> bool {
    a.stock == b.stock && pictures_alike(a, b) && placement::needs_of_all(a) == placement::needs_of_all(b)
}

/// The fields with a picture, in order of id.
fn pictured(plan: &Plan) -> impl Iterator<Item = (&Item, &Field)> {
    plan.items.iter().filter_map(|i| Some((i, i.field()?))).filter(|(_, f)| f.picture.is_some())
}

/// Finds what is short and how to get by.
///
/// `known` is the proven match of all pictured fields of this very plan, where somebody has it already.
pub fn ways_out(
    plan: &Plan,
    bank: &PictureBank,
    source: &dyn PictureSource,
    known: Option<&ExactAnswer>,
) -> Result<Shortage, DeskError> {
    let Some(all) = All::of(plan, bank, source)? else {
        return Ok(Shortage { summary: stock_summary(plan, &BTreeMap::new()), ..Shortage::default() });
    };
    let error = |e: colour::MatchError| DeskError::no_match(e.said_by_number());
    let free = colour::match_free(&all.problem, &mut |_| Flow::Go).map_err(error)?;
    let summary = summary_with(plan, Some(&all.by_entry(&free.used)));
    let cells: u64 = free.used.iter().sum();
    let missing = cells.saturating_sub(all.problem.stock.iter().sum());
    if summary.short().is_empty() {
        return Ok(Shortage { summary, ways_out: Vec::new(), missing });
    }
    let mut ways = borrow(plan, &summary);
    let made;
    let exact = match known.filter(|k| all.is_answered_by(k)) {
        Some(known) => Some(known),
        None => {
            made = all.exact().map_err(error)?;
            made.as_ref()
        }
    };
    if let Some(exact) = exact {
        let short: Vec<_> = summary.short().iter().map(|l| (l.kind, l.colour)).collect();
        ways.extend(all.other_colours(&free.cells, &exact.cells, &short));
    }
    let prices = exact.map(|e| e.prices.as_slice());
    ways.extend(all.buy(&summary, prices));
    ways.extend(all.smaller(plan, bank, source)?);
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
        let items: Vec<_> = pictured(plan).collect();
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

    /// The proven match; `None` when the stock cannot fill the cells.
    fn exact(&self) -> Result<Option<ExactAnswer>, colour::MatchError> {
        match colour::match_exact(&self.problem, &mut |_| Flow::Go) {
            Ok(m) => Ok(Some(ExactAnswer { cells: m.cells, prices: m.prices })),
            Err(colour::MatchError::StockTooSmall { .. } | colour::MatchError::FieldsShort { .. }) => {
                Ok(None)
            }
            Err(e) => Err(e),
        }
    }

    fn is_answered_by(&self, known: &ExactAnswer) -> bool {
        let lengths = |cells: &[Vec<u16>]| cells.iter().map(Vec::len).collect::<Vec<_>>();
        let own: Vec<_> = self.problem.fields.iter().map(|f| f.cells.len()).collect();
        lengths(&known.cells) == own && known.prices.len() == self.choice.entries.len()
    }

    fn by_entry(&self, used: &[u64]) -> FreeUse {
        self.choice.entries.iter().copied().zip(used.iter().copied()).collect()
    }

    fn other_colours(
        &self,
        free: &[Vec<u16>],
        exact: &[Vec<u16>],
        short: &[(KindId, ColourId)],
    ) -> Vec<WayOut> {
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
        // Who stands in for a short colour comes before who stands in for the stand-ins; then the smallest visible
        // change first; ties by the order of the colours, which the map already has.
        let is_short = |w: &WayOut| matches!(w, WayOut::OtherColour { kind, from, .. } if short.contains(&(*kind, *from)));
        ways.sort_by(|a, b| is_short(b).cmp(&is_short(a)).then(change(a).total_cmp(&change(b))));
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

    /// The one field whose shrinking costs the fewest pieces; where no single one helps, all of them evenly.
    fn smaller(
        &self,
        plan: &Plan,
        bank: &PictureBank,
        source: &dyn PictureSource,
    ) -> Result<Option<WayOut>, DeskError> {
        let own: Vec<Vec<u64>> =
            self.problem.fields.iter().map(|f| self.free_use(f.clone())).collect::<Result<_, _>>()?;
        let alone = (0..self.items.len()).map(|at| vec![at]);
        let together = (self.items.len() > 1).then(|| (0..self.items.len()).collect::<Vec<_>>());
        let mut best: Option<(u64, WayOut)> = None;
        for chosen in alone.chain(together) {
            if best.is_some() && chosen.len() > 1 {
                break;
            }
            let Some((lost, way)) = self.shrink(plan, bank, source, &own, &chosen)? else { continue };
            if best.as_ref().is_none_or(|(least, _)| lost < *least) {
                best = Some((lost, way));
            }
        }
        Ok(best.map(|(_, way)| way))
    }

    /// Shrinks the chosen fields until everything is within the stock; hands back the cells lost.
    fn shrink(
        &self,
        plan: &Plan,
        bank: &PictureBank,
        source: &dyn PictureSource,
        own: &[Vec<u64>],
        chosen: &[usize],
    ) -> Result<Option<(u64, WayOut)>, DeskError> {
        let mut frames: Vec<plan::FieldFrame> = chosen.iter().map(|&at| self.items[at].1.frame).collect();
        let rest =
            sum((0..own.len()).filter(|at| !chosen.contains(at)).map(|at| &own[at]), self.choice.stock.len());
        let mut used: Vec<Vec<u64>> = chosen.iter().map(|&at| own[at].clone()).collect();
        let mut estimated = false;
        for _ in 0..MOST_TRIES {
            let over = self.over(&sum(used.iter(), rest.len()), &rest);
            if over <= 1.0 && !estimated {
                let before: usize = chosen.iter().map(|&at| self.items[at].1.frame.len()).sum();
                let after: usize = frames.iter().map(plan::FieldFrame::len).sum();
                let fields =
                    chosen.iter().zip(&frames).map(|(&at, f)| (self.items[at].0.id, f.lanes, f.ranks));
                return Ok(Some((
                    (before - after) as u64,
                    WayOut::SmallerFields { fields: fields.collect() },
                )));
            }
            if over <= 1.0 {
                // The estimate is within the stock; now it is counted.
                for ((frame, used), &at) in frames.iter().zip(&mut used).zip(chosen) {
                    *used = self.use_on(plan, at, *frame, bank, source)?;
                }
                estimated = false;
                continue;
            }
            let scale = over.sqrt().recip().min(0.985);
            for ((frame, used), &at) in frames.iter_mut().zip(&mut used).zip(chosen) {
                let (lanes, ranks) = (f64::from(frame.lanes) * scale, f64::from(frame.ranks) * scale);
                if !over.is_finite() || lanes < LEAST_SIDE || ranks < LEAST_SIDE {
                    return Ok(None);
                }
                (frame.lanes, frame.ranks) = (lanes as u32, ranks as u32);
                *used = self.use_about(plan, at, *frame, bank, source)?;
            }
            estimated = true;
        }
        Ok(None)
    }

    /// What one field would take on another grid, from a coarse one of the same shape where it is large.
    fn use_about(
        &self,
        plan: &Plan,
        at: usize,
        frame: plan::FieldFrame,
        bank: &PictureBank,
        source: &dyn PictureSource,
    ) -> Result<Vec<u64>, DeskError> {
        let scale = (COARSE / frame.len() as f64).sqrt();
        if scale >= 0.5 {
            return self.use_on(plan, at, frame, bank, source);
        }
        let part = |n: u32| ((f64::from(n) * scale) as u32).max(1);
        let coarse = plan::FieldFrame { lanes: part(frame.lanes), ranks: part(frame.ranks), ..frame };
        let times = frame.len() as f64 / coarse.len() as f64;
        let used = self.use_on(plan, at, coarse, bank, source)?;
        Ok(used.iter().map(|&n| (n as f64 * times).ceil() as u64).collect())
    }

    /// What one field would take freely on another grid.
    fn use_on(
        &self,
        plan: &Plan,
        at: usize,
        frame: plan::FieldFrame,
        bank: &PictureBank,
        source: &dyn PictureSource,
    ) -> Result<Vec<u64>, DeskError> {
        let mut field = Field::empty(self.items[at].1.kind, frame);
        field.picture.clone_from(&self.items[at].1.picture);
        field.wish.clone_from(&self.items[at].1.wish);
        match wanted_field(plan, &field, &self.choice, bank, source, &|_| true)? {
            Some(wanted) => self.free_use(wanted),
            None => Err(DeskError::no_match(say!(refusing::MATCH_BARE))),
        }
    }

    fn free_use(&self, field: FieldWanted) -> Result<Vec<u64>, DeskError> {
        let problem = Problem { fields: vec![field], stock: self.problem.stock.clone() };
        let free = colour::match_free(&problem, &mut |_| Flow::Go);
        free.map(|f| f.used).map_err(|e| DeskError::no_match(e.said_by_number()))
    }

    /// By what factor the chosen fields' use must fall; infinite when the others alone are over.
    fn over(&self, chosen: &[u64], rest: &[u64]) -> f64 {
        let mut worst = 1.0f64;
        for ((&chosen, &rest), &stock) in chosen.iter().zip(rest).zip(&self.problem.stock) {
            if rest > stock {
                return f64::INFINITY;
            }
            if chosen + rest > stock {
                worst = worst.max(chosen as f64 / (stock - rest) as f64);
            }
        }
        worst
    }
}

/// How often a shrunken field is tried; each try shrinks by what the last one was over.
const MOST_TRIES: usize = 16;

/// Cells of the coarse grid on which large fields are tried before they are counted.
const COARSE: f64 = 20_000.0;

/// Fields are not shrunk to fewer lanes or ranks than this: no picture is left.
const LEAST_SIDE: f64 = 8.0;

fn sum<'a>(parts: impl Iterator<Item = &'a Vec<u64>>, len: usize) -> Vec<u64> {
    parts.fold(vec![0; len], |total, part| total.iter().zip(part).map(|(a, b)| a + b).collect())
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
