//! Kinds, colours, lots, gear, and the stock as a whole.

use sayings::{Arg, gate, say};

use super::field::Room;
use super::{COLOUR, Checked, GRAMS, KIND, PIECES, PLAIN, length, name, named, no_id, unknown, within};
use crate::cells::EMPTY;
use crate::document::Plan;
use crate::gate::{MAX_COLOURS, colours_in};
use crate::ids::{ColourId, KindId};
use crate::item::{Body, Item};
use crate::line::Pattern;
use crate::place::{Place, quoted, short};
use crate::refusal::Refusal;
use crate::stock::{Colour, Gear, GearKind, Kind, Lot, Stock};

const STOCK: Place<'static> = Place::of(gate::AT_STOCK);

pub(in crate::gate) fn kind(kind: &Kind) -> Checked {
    let place = Place::named(gate::AT_KIND_OF, &kind.name);
    named(&Place::of(gate::AT_KIND).at(gate::AT_NAME), &kind.name)?;
    length(&place.at(gate::AT_THICKNESS), kind.thickness, 0.5, 1_000.0)?;
    length(&place.at(gate::AT_WIDTH), kind.width, 1.0, 5_000.0)?;
    length(&place.at(gate::AT_HEIGHT), kind.height, 1.0, 10_000.0)?;
    within(&place.at(gate::AT_MASS), kind.mass.to_g(), GRAMS, 0.01, 1.0e6)?;
    name(&place.at(gate::AT_MATERIAL), &kind.material)
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
    let place = Place::named(gate::AT_COLOUR_OF, &colour.name);
    named(&Place::of(gate::AT_COLOUR).at(gate::AT_NAME), &colour.name)?;
    if colour.id.0 == EMPTY {
        return Err(no_id(&place, say!(gate::ID_NONE)));
    }
    let signs = colour.code.chars().count();
    let plain = colour.code.chars().all(|c| c.is_alphanumeric());
    if !(1..=3).contains(&signs) || !plain {
        return Err(Refusal::new(
            place.at(gate::AT_CODE),
            quoted(&colour.code),
            say!(gate::CODE),
            say!(gate::CODE_NEXT),
        ));
    }
    for other in others.iter().filter(|o| o.id != colour.id) {
        if other.name == colour.name {
            return Err(Refusal::new(
                place,
                quoted(&colour.name),
                say!(gate::COLOUR_TWICE),
                say!(gate::COLOUR_TWICE_NEXT),
            ));
        }
        if look_alike(&other.code) == look_alike(&colour.code) {
            return Err(Refusal::new(
                place.at(gate::AT_CODE),
                quoted(&colour.code),
                say!(gate::CODE_ALIKE, code = &other.code, name = short(&other.name)),
                say!(gate::CODE_ALIKE_NEXT),
            ));
        }
    }
    Ok(())
}

pub(in crate::gate) fn lot(lot: &Lot, stock: &Stock) -> Checked {
    let Some(colour) = stock.colour(lot.colour) else {
        return Err(unknown(
            &Place::named(gate::AT_LOT_OF, &lot.id.to_string()),
            COLOUR,
            lot.colour.0.into(),
        ));
    };
    let place = Place::lot(lot.id.0, &colour.name);
    if stock.kind(lot.kind).is_none() {
        return Err(unknown(&place, KIND, lot.kind.0.into()));
    }
    name(&place.at(gate::AT_BATCH), &lot.batch)?;
    name(&place.at(gate::AT_OWNER), &lot.owner)?;
    within(&place.at(gate::AT_COUNT), lot.count.into(), PIECES, 0.0, 1.0e9)?;
    within(&place.at(gate::AT_OFFERED), lot.offered.into(), PIECES, 0.0, 1.0e9)?;
    within(&place.at(gate::AT_SPARE), lot.spare, PLAIN, 0.0, 0.5)?;
    if let Some(size) = lot.crate_size {
        within(&place.at(gate::AT_CRATE), size.into(), PIECES, 1.0, 1.0e6)?;
    }
    if let Some(t) = lot.thickness {
        length(&place.at(gate::AT_THICKNESS), t, 0.5, 1_000.0)?;
    }
    if let Some(m) = lot.mass {
        within(&place.at(gate::AT_MASS), m.to_g(), GRAMS, 0.01, 1.0e6)?;
    }
    Ok(())
}

pub(in crate::gate) fn gear(gear: &Gear) -> Checked {
    let place = Place::named(gate::AT_GEAR_OF, &gear.name);
    named(&Place::of(gate::AT_GEAR).at(gate::AT_NAME), &gear.name)?;
    name(&place.at(gate::AT_OWNER), &gear.owner)?;
    within(&place.at(gate::AT_COUNT), gear.count.into(), PLAIN, 0.0, 1.0e9)?;
    let most = 100_000.0;
    match &gear.what {
        GearKind::Comb { pitch, teeth } => {
            length(&place.at(gate::AT_PITCH), *pitch, 1.0, 1_000.0)?;
            within(&place.at(gate::AT_TEETH), (*teeth).into(), PLAIN, 2.0, 1_000.0)
        }
        GearKind::Plank { length: l, width, thickness } => {
            length(&place.at(gate::AT_LENGTH), *l, 1.0, most)?;
            length(&place.at(gate::AT_WIDTH), *width, 1.0, most)?;
            length(&place.at(gate::AT_THICKNESS), *thickness, 0.1, 1_000.0)
        }
        GearKind::Support { height } => length(&place.at(gate::AT_HEIGHT), *height, 0.1, most),
        GearKind::Cord { length: l } => length(&place.at(gate::AT_LENGTH), *l, 1.0, 1.0e7),
    }
}

pub(in crate::gate) fn stock(stock: &Stock) -> Checked {
    sorted(&STOCK.at(gate::AT_KINDS), stock.kinds.iter().map(|k| k.id.0.into()))?;
    sorted(&STOCK.at(gate::AT_COLOURS), stock.colours.iter().map(|c| c.id.0.into()))?;
    sorted(&STOCK.at(gate::AT_LOTS), stock.lots.iter().map(|l| l.id.0))?;
    sorted(&STOCK.at(gate::AT_GEAR), stock.gear.iter().map(|g| g.id.0))?;
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
        STOCK.at(gate::AT_COLOURS),
        say!(gate::N_COLOURS, n = count),
        say!(gate::PLAN_FULL, most = MAX_COLOURS),
        say!(gate::PLAN_FULL_COLOURS),
    ))
}

fn sorted(place: &Place<'_>, ids: impl Iterator<Item = u32>) -> Checked {
    let mut last = 0;
    for id in ids {
        if id <= last {
            return Err(Refusal::new(
                place,
                say!(gate::ID, id = id.to_string()),
                say!(gate::ORDER, id = last.to_string()),
                say!(gate::ORDER_NEXT),
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
                let missing = match colour.and_then(|c| plan.colour(c)) {
                    Some(colour) => Arg::from(short(&colour.name)),
                    None => say!(gate::STOCK_LACKS_KIND).into(),
                };
                return Err(Refusal::new(
                    Place::item(item),
                    missing,
                    say!(gate::STOCK_LACKS),
                    say!(gate::STOCK_LACKS_NEXT),
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
    let place = Place::item(item);
    match &item.body {
        Body::Field(f) => super::field::pitches(&place, kind, &f.frame),
        Body::Line(l) => super::line::distances(&place, kind, l),
        Body::Fill(f) => super::line::spacing(&place, kind, f.spacing),
        Body::Feed(f) => super::field::pitch(&place, gate::AT_PITCH, f.pitch, Room::Thick(kind)),
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
