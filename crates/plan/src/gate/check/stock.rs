//! Kinds, colours, lots, gear, and the stock as a whole.

use super::item::item_name;
use super::{Checked, length, name, named, short, unknown, within};
use crate::cells::EMPTY;
use crate::document::Plan;
use crate::gate::{MAX_COLOURS, colours_in};
use crate::ids::{ColourId, KindId};
use crate::item::{Body, Item};
use crate::line::Pattern;
use crate::refusal::Refusal;
use crate::stock::{Colour, Gear, GearKind, Kind, Lot, Stock};

pub(in crate::gate) fn kind(kind: &Kind) -> Checked {
    let place = format!("kind {}", short(&kind.name));
    named("kind, name", &kind.name)?;
    length(&format!("{place}, thickness"), kind.thickness, 0.5, 1_000.0)?;
    length(&format!("{place}, width"), kind.width, 1.0, 5_000.0)?;
    length(&format!("{place}, height"), kind.height, 1.0, 10_000.0)?;
    within(&format!("{place}, mass"), kind.mass.to_g(), " g", 0.01, 1.0e6)?;
    name(&format!("{place}, material"), &kind.material)
}

/// Codes that are taken for one another when read from afar: case and the usual look-alikes count as the same.
pub fn look_alike(code: &str) -> String {
    code.chars()
        .flat_map(char::to_uppercase)
        .map(|c| match c {
            'O' | 'Q' => '0',
            'I' | 'L' | '|' => '1',
            'Z' => '2',
            c => c,
        })
        .collect()
}

pub(in crate::gate) fn colour(colour: &Colour, others: &[Colour]) -> Checked {
    let place = format!("colour {}", short(&colour.name));
    named("colour, name", &colour.name)?;
    if colour.id.0 == EMPTY {
        return Err(Refusal::new(place, "id 0", "stands for \"no piece\"", "Give an id of 1 or more."));
    }
    let signs = colour.code.chars().count();
    let plain = colour.code.chars().all(|c| c.is_alphanumeric());
    if !(1..=3).contains(&signs) || !plain {
        return Err(Refusal::new(
            format!("{place}, code"),
            format!("\"{}\"", short(&colour.code)),
            "is not one to three letters or figures",
            "Give a short code that can be called across the hall.",
        ));
    }
    for other in others.iter().filter(|o| o.id != colour.id) {
        if other.name == colour.name {
            return Err(Refusal::new(
                place,
                format!("\"{}\"", short(&colour.name)),
                "is the name of another colour",
                "Give each colour a name of its own.",
            ));
        }
        if look_alike(&other.code) == look_alike(&colour.code) {
            return Err(Refusal::new(
                format!("{place}, code"),
                format!("\"{}\"", colour.code),
                format!("can be taken for \"{}\" of {}", other.code, short(&other.name)),
                "Give a code that differs in more than case, O and 0, I and 1, or Z and 2.",
            ));
        }
    }
    Ok(())
}

pub(in crate::gate) fn lot(lot: &Lot, stock: &Stock) -> Checked {
    let Some(colour) = stock.colour(lot.colour) else {
        return Err(unknown(&format!("lot {}", lot.id), "colour", lot.colour.0.into()));
    };
    let place = format!("lot {} of {}", lot.id, short(&colour.name));
    if stock.kind(lot.kind).is_none() {
        return Err(unknown(&place, "kind", lot.kind.0.into()));
    }
    name(&format!("{place}, batch"), &lot.batch)?;
    name(&format!("{place}, owner"), &lot.owner)?;
    within(&format!("{place}, count"), lot.count.into(), " pieces", 0.0, 1.0e9)?;
    within(&format!("{place}, offered"), lot.offered.into(), " pieces", 0.0, 1.0e9)?;
    within(&format!("{place}, spare"), lot.spare, "", 0.0, 0.5)?;
    if let Some(size) = lot.crate_size {
        within(&format!("{place}, crate size"), size.into(), " pieces", 1.0, 1.0e6)?;
    }
    if let Some(t) = lot.thickness {
        length(&format!("{place}, thickness"), t, 0.5, 1_000.0)?;
    }
    if let Some(m) = lot.mass {
        within(&format!("{place}, mass"), m.to_g(), " g", 0.01, 1.0e6)?;
    }
    Ok(())
}

pub(in crate::gate) fn gear(gear: &Gear) -> Checked {
    let place = format!("gear {}", short(&gear.name));
    named("gear, name", &gear.name)?;
    name(&format!("{place}, owner"), &gear.owner)?;
    within(&format!("{place}, count"), gear.count.into(), "", 0.0, 1.0e9)?;
    let most = 100_000.0;
    match &gear.what {
        GearKind::Comb { pitch, teeth } => {
            length(&format!("{place}, pitch"), *pitch, 1.0, 1_000.0)?;
            within(&format!("{place}, teeth"), (*teeth).into(), "", 2.0, 1_000.0)
        }
        GearKind::Plank { length: l, width, thickness } => {
            length(&format!("{place}, length"), *l, 1.0, most)?;
            length(&format!("{place}, width"), *width, 1.0, most)?;
            length(&format!("{place}, thickness"), *thickness, 0.1, 1_000.0)
        }
        GearKind::Support { height } => length(&format!("{place}, height"), *height, 0.1, most),
        GearKind::Cord { length: l } => length(&format!("{place}, length"), *l, 1.0, 1.0e7),
    }
}

pub(in crate::gate) fn stock(stock: &Stock) -> Checked {
    sorted("stock, kinds", stock.kinds.iter().map(|k| k.id.0.into()))?;
    sorted("stock, colours", stock.colours.iter().map(|c| c.id.0.into()))?;
    sorted("stock, lots", stock.lots.iter().map(|l| l.id.0))?;
    sorted("stock, gear", stock.gear.iter().map(|g| g.id.0))?;
    colour_count(stock.colours.len())?;
    stock.kinds.iter().try_for_each(kind)?;
    stock.colours.iter().try_for_each(|c| colour(c, &stock.colours))?;
    stock.lots.iter().try_for_each(|l| lot(l, stock))?;
    stock.gear.iter().try_for_each(gear)
}

pub(in crate::gate) fn colour_count(count: usize) -> Checked {
    if count <= MAX_COLOURS {
        return Ok(());
    }
    Err(Refusal::new(
        "stock, colours",
        format!("{count} colours"),
        format!("are more than the {MAX_COLOURS} that one plan may have"),
        "Leave out those that the event does not use.",
    ))
}

fn sorted(place: &str, ids: impl Iterator<Item = u32>) -> Checked {
    let mut last = 0;
    for id in ids {
        if id <= last {
            return Err(Refusal::new(
                place,
                format!("id {id}"),
                format!("stands after id {last}"),
                "Give ids from 1 in rising order, none twice.",
            ));
        }
        last = id;
    }
    Ok(())
}

/// A new stock must still have every kind and colour that an item uses, and in sizes that fit.
pub(in crate::gate) fn stock_still_serves(plan: &Plan, stock: &Stock) -> Checked {
    for item in &plan.items {
        for (kind, colour) in used_by(item) {
            if kind.is_some_and(|k| stock.kind(k).is_none())
                || colour.is_some_and(|c| stock.colour(c).is_none())
            {
                let missing =
                    colour.and_then(|c| plan.colour(c)).map_or("a kind".to_owned(), |c| short(&c.name));
                return Err(Refusal::new(
                    item_name(item),
                    missing,
                    "is used here but is not in the new stock",
                    "Keep it in the stock with a count of 0, or change the item first.",
                ));
            }
        }
        if let Some(kind) = laid_from(item).and_then(|k| stock.kind(k)) {
            fits_kind(item, kind)?;
        }
    }
    Ok(())
}

/// The kind of piece that the item's own distances must have room for.
fn laid_from(item: &Item) -> Option<KindId> {
    match &item.body {
        Body::Field(f) => Some(f.kind),
        Body::Line(l) => Some(l.kind),
        Body::Fill(f) => Some(f.kind),
        Body::Feed(f) => Some(f.kind),
        Body::Placeholder(_)
        | Body::Start(_)
        | Body::Stopper(_)
        | Body::Note(_)
        | Body::Dimension(_)
        | Body::Camera(_) => None,
    }
}

/// An item must have room for its kind of piece when that changes its size. Items of other kinds are fine.
pub(in crate::gate) fn fits_kind(item: &Item, kind: &Kind) -> Checked {
    if laid_from(item) != Some(kind.id) {
        return Ok(());
    }
    let place = item_name(item);
    match &item.body {
        Body::Field(f) => super::field::pitches(&place, kind, &f.frame),
        Body::Line(l) => super::line::distances(&place, kind, l),
        Body::Fill(f) => super::line::spacing(&place, kind, f.spacing),
        Body::Feed(f) => super::field::pitch(&place, "pitch", f.pitch, kind.thickness, "thick"),
        Body::Placeholder(_)
        | Body::Start(_)
        | Body::Stopper(_)
        | Body::Note(_)
        | Body::Dimension(_)
        | Body::Camera(_) => Ok(()),
    }
}

/// Kinds and colours that an item refers to.
pub(in crate::gate) fn used_by(item: &Item) -> Vec<(Option<KindId>, Option<ColourId>)> {
    match &item.body {
        Body::Field(f) => {
            let mut used: Vec<_> = colours_in(&f.cells).into_iter().map(|c| (None, Some(c))).collect();
            used.push((Some(f.kind), None));
            used.extend(f.wish.allowed.iter().flatten().map(|&c| (None, Some(c))));
            used
        }
        Body::Placeholder(p) => p.needs.iter().map(|n| (Some(n.kind), Some(n.colour))).collect(),
        Body::Line(l) => pattern_uses(l.kind, &l.colours),
        Body::Fill(f) => pattern_uses(f.kind, &f.colours),
        Body::Feed(f) => vec![(Some(f.kind), Some(f.colour))],
        Body::Start(_) | Body::Stopper(_) | Body::Note(_) | Body::Dimension(_) | Body::Camera(_) => {
            Vec::new()
        }
    }
}

fn pattern_uses(kind: KindId, pattern: &Pattern) -> Vec<(Option<KindId>, Option<ColourId>)> {
    let colours = pattern.named().into_iter().map(|c| (None, Some(c)));
    std::iter::once((Some(kind), None)).chain(colours).collect()
}
