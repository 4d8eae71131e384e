//! What is needed, owned and short.

use desk::{Shortage, StockLine, WayOut};
use findings::grouped;
use plan::{KindId, Lot, Plan};

use super::count;
use super::said::said;
use crate::wire;

/// The stock report of a plan.
pub(crate) fn report(plan: &Plan, shortage: &Shortage) -> wire::StockReport {
    let lines = &shortage.summary.lines;
    let sum = |of: fn(&StockLine) -> u64| count(lines.iter().map(of).sum::<u64>());
    wire::StockReport {
        headline: headline(plan, shortage),
        needed: sum(|line| line.needed),
        owned: sum(|line| line.owned),
        usable: sum(|line| line.usable),
        rows: lines.iter().map(|line| row(plan, line)).collect(),
        ways_out: shortage.ways_out.iter().map(way_out).collect(),
        alike: desk::alike(plan).into_iter().map(alike).collect(),
    }
}

/// The state in one sentence.
fn headline(plan: &Plan, shortage: &Shortage) -> String {
    let name =
        |line: &StockLine| plan.colour(line.colour).map_or("A colour", |colour| &colour.name).to_owned();
    let short = shortage.summary.short();
    let colours = match short.as_slice() {
        [] => "The stock is enough".to_owned(),
        [one] => format!("{} is short by {}", name(one), grouped(one.short())),
        [one, two] => format!("{} and {} are short", name(one), name(two)),
        many => format!("{} colours are short", number(many.len())),
    };
    let over_as_laid = shortage.summary.lines.iter().any(|l| l.needed > l.usable);
    match shortage.missing {
        // What is laid keeps to the stock; it is the pictures that would take more.
        0 if !short.is_empty() && !over_as_laid => format!("{colours} for the pictures"),
        0 => colours,
        missing => format!("{colours}; {} pieces are missing whatever their colour", grouped(missing)),
    }
}

/// A small number as a word that begins a sentence.
fn number(n: usize) -> String {
    const WORDS: [&str; 9] = ["Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"];
    n.checked_sub(2).and_then(|at| WORDS.get(at)).map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

fn row(plan: &Plan, line: &StockLine) -> wire::StockRow {
    let kind = |id: KindId| plan.stock.kind(id).map(|kind| kind.name.clone()).unwrap_or_default();
    wire::StockRow {
        colour: line.colour.0,
        kind: kind(line.kind),
        needed: count(line.needed),
        wanted: count(line.wanted),
        owned: count(line.owned),
        usable: count(line.usable),
        offered: count(line.offered),
        lots: plan.stock.lots_of(line.kind, line.colour).map(lot).collect(),
        takers: line.takers.iter().map(|(item, pieces)| [item.0, count(*pieces)]).collect(),
        crates: count(line.crates),
    }
}

fn lot(lot: &Lot) -> wire::LotRow {
    wire::LotRow {
        id: lot.id.0,
        batch: lot.batch.clone(),
        owner: lot.owner.clone(),
        count: lot.count,
        offered: lot.offered,
        thickness: lot.thickness.map(|thickness| thickness.to_mm()),
        spare: lot.spare,
    }
}

fn way_out(way: &WayOut) -> wire::WayOut {
    match way {
        WayOut::OtherColour { from, to, pieces, difference, .. } => wire::WayOut::OtherColour {
            from: from.0,
            to: to.0,
            pieces: count(*pieces),
            difference: *difference,
        },
        WayOut::SmallerFields { fields } => wire::WayOut::SmallerFields {
            fields: fields.iter().map(|(item, lanes, ranks)| [item.0, *lanes, *ranks]).collect(),
        },
        WayOut::Buy { colour, pieces, worth, .. } => {
            wire::WayOut::Buy { colour: colour.0, pieces: count(*pieces), worth: *worth }
        }
        WayOut::Borrow { colour, lot, owner, pieces, .. } => wire::WayOut::Borrow {
            colour: colour.0,
            lot: lot.0,
            owner: owner.clone(),
            pieces: count(*pieces),
        },
    }
}

/// Two colours of the stock that get confused.
fn alike(pair: desk::Alike) -> wire::AlikeRow {
    let (why, said) = (pair.why.to_string(), said(&pair.why));
    wire::AlikeRow { a: pair.a.0, b: pair.b.0, why, said, difference: pair.difference }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_numbers_are_words() {
        assert_eq!((number(2), number(10), number(11)), ("Two".into(), "Ten".into(), "11".into()));
    }
}
