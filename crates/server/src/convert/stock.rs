//! What is needed, owned and short.

use desk::{Shortage, StockLine, WayOut};
use plan::{KindId, Lot, Plan};
use sayings::{Arg, Said, say, telling};

use super::count;
use super::said::said;
use crate::wire;

/// The stock report of a plan.
pub(crate) fn report(plan: &Plan, shortage: &Shortage) -> wire::StockReport {
    let lines = &shortage.summary.lines;
    let sum = |of: fn(&StockLine) -> u64| count(lines.iter().map(of).sum::<u64>());
    let headline = headline(plan, shortage);
    wire::StockReport {
        headline: headline.to_string(),
        headline_said: said(&headline),
        needed: sum(|line| line.needed),
        owned: sum(|line| line.owned),
        usable: sum(|line| line.usable),
        rows: lines.iter().map(|line| row(plan, line)).collect(),
        ways_out: shortage.ways_out.iter().map(way_out).collect(),
        alike: desk::alike(plan).into_iter().map(alike).collect(),
    }
}

/// The state in one sentence.
fn headline(plan: &Plan, shortage: &Shortage) -> Said {
    let name = |line: &StockLine| match plan.colour(line.colour) {
        Some(colour) => Arg::from(&colour.name),
        None => say!(telling::STOCK_COLOUR).into(),
    };
    let short = shortage.summary.short();
    let colours = match short.as_slice() {
        [] => say!(telling::STOCK_ENOUGH),
        [one] => say!(telling::STOCK_SINGLE, colour = name(one), pieces = one.short()),
        [one, two] => say!(telling::STOCK_TWO, a = name(one), b = name(two)),
        many => say!(telling::STOCK_SEVERAL, n = number(many.len())),
    };
    let over_as_laid = shortage.summary.lines.iter().any(|l| l.needed > l.usable);
    match shortage.missing {
        // What is laid keeps to the stock; it is the pictures that would take more.
        0 if !short.is_empty() && !over_as_laid => say!(telling::STOCK_PICTURES, what = colours),
        0 => colours,
        missing => say!(telling::STOCK_MISSING, what = colours, pieces = missing),
    }
}

/// A small number as a word that begins a sentence.
fn number(n: usize) -> Arg {
    match n {
        3 => say!(telling::N_THREE).into(),
        4 => say!(telling::N_FOUR).into(),
        5 => say!(telling::N_FIVE).into(),
        6 => say!(telling::N_SIX).into(),
        7 => say!(telling::N_SEVEN).into(),
        8 => say!(telling::N_EIGHT).into(),
        9 => say!(telling::N_NINE).into(),
        10 => say!(telling::N_TEN).into(),
        n => n.into(),
    }
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
        let words = [3, 10, 11].map(|n| number(n).to_string());
        assert_eq!(words, ["Three", "Ten", "11"]);
    }
}
