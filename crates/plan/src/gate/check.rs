//! What the gate asks of each value. Every refusal names the place, the value and the next step.

use geometry::Point;
use units::{Angle, Length};

use super::{MAX_CELLS, MAX_COLOURS, MAX_NAME, REACH_MM, colours_in};
use crate::cells::{CellMask, Cells, EMPTY};
use crate::document::Plan;
use crate::field::{Field, FieldFrame, MatchWish, PictureUse, SeenAs};
use crate::ids::{ColourId, KindId};
use crate::item::{Body, Item, Need, Placeholder};
use crate::line::Pattern;
use crate::refusal::Refusal;
use crate::scene::{Picture, Surface};
use crate::stock::{Colour, Gear, GearKind, Kind, Lot, Stock};

type Checked = Result<(), Refusal>;

pub(super) fn item_name(item: &Item) -> String {
    format!("{} {}", item.sort(), short(&item.name))
}

/// A name as it is quoted in a message: at most 60 signs of it.
fn short(name: &str) -> String {
    let mut signs = name.chars();
    let head: String = signs.by_ref().take(60).collect();
    if signs.next().is_some() { format!("{head}…") } else { head }
}

pub(super) fn name(place: &str, name: &str) -> Checked {
    let signs = name.chars().count();
    if signs > MAX_NAME {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(name)),
            format!("has {signs} signs"),
            format!("Use at most {MAX_NAME}."),
        ));
    }
    if let Some(c) = name.chars().find(|c| c.is_control()) {
        return Err(Refusal::new(
            place,
            format!("the sign U+{:04X}", c as u32),
            "cannot be printed",
            "Leave it out of the name.",
        ));
    }
    Ok(())
}

fn named(place: &str, text: &str) -> Checked {
    if text.trim().is_empty() {
        return Err(Refusal::new(place, "\"\"", "is empty", "Give it a name."));
    }
    name(place, text)
}

fn within(place: &str, value: f64, unit: &str, least: f64, most: f64) -> Checked {
    if value >= least && value <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{value}{unit}"),
        format!("is not from {least} to {most}{unit}"),
        "Give a value in that range.",
    ))
}

fn length(place: &str, value: Length, least: f64, most: f64) -> Checked {
    within(place, value.to_mm(), " mm", least, most)
}

pub(super) fn point(place: &str, at: Point) -> Checked {
    length(&format!("{place}, east"), Length::mm(at.x), -REACH_MM, REACH_MM)?;
    length(&format!("{place}, north"), Length::mm(at.y), -REACH_MM, REACH_MM)
}

pub(super) fn heading(place: &str, heading: Angle) -> Checked {
    within(&format!("{place}, heading"), heading.to_deg(), "°", -3600.0, 3600.0)
}

pub(super) fn kind(kind: &Kind) -> Checked {
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

pub(super) fn colour(colour: &Colour, others: &[Colour]) -> Checked {
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

pub(super) fn lot(lot: &Lot, stock: &Stock) -> Checked {
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

pub(super) fn gear(gear: &Gear) -> Checked {
    let place = format!("gear {}", short(&gear.name));
    named("gear, name", &gear.name)?;
    name(&format!("{place}, owner"), &gear.owner)?;
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

pub(super) fn stock(stock: &Stock) -> Checked {
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

pub(super) fn colour_count(count: usize) -> Checked {
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

/// A new stock must still have every kind and colour that an item uses.
pub(super) fn stock_still_serves(plan: &Plan, stock: &Stock) -> Checked {
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
    }
    Ok(())
}

/// Kinds and colours that an item refers to.
pub(super) fn used_by(item: &Item) -> Vec<(Option<KindId>, Option<ColourId>)> {
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
        Body::Start(_) | Body::Stopper(_) => Vec::new(),
    }
}

fn pattern_uses(kind: KindId, pattern: &Pattern) -> Vec<(Option<KindId>, Option<ColourId>)> {
    let colours = pattern.named().into_iter().map(|c| (None, Some(c)));
    std::iter::once((Some(kind), None)).chain(colours).collect()
}

pub(super) fn surface(s: &Surface) -> Checked {
    let place = format!("surface {}", short(&s.name));
    named("surface, name", &s.name)?;
    if s.id.0 == 0 {
        return Err(Refusal::new(place, "id 0", "is the floor", "Give an id of 1 or more."));
    }
    length(&format!("{place}, height"), s.height, 0.0, 100_000.0)?;
    if s.outline.len() < 3 || s.outline.len() > 10_000 {
        return Err(Refusal::new(
            place,
            format!("an outline of {} corners", s.outline.len()),
            "is not a surface",
            "Give three corners or more, at most 10 000.",
        ));
    }
    s.outline.iter().try_for_each(|p| point(&place, *p))
}

pub(super) fn section_name(text: &str) -> Checked {
    named("section, name", text)
}

pub(super) fn picture(p: &Picture) -> Checked {
    let place = format!("picture {}", short(&p.name));
    named("picture, name", &p.name)?;
    if p.name.contains(['/', '\\']) || p.name == ".." || p.name == "." {
        return Err(Refusal::new(place, "its name", "leads to a folder", "Give the bare file name."));
    }
    let hex = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
    if p.sha256.len() != 64 || !p.sha256.bytes().all(hex) {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(&p.sha256)),
            "is not a SHA-256 in lower-case hex",
            "Import the picture again.",
        ));
    }
    within(&format!("{place}, width"), p.width.into(), " pixels", 1.0, 100_000.0)?;
    within(&format!("{place}, height"), p.height.into(), " pixels", 1.0, 100_000.0)
}

pub(super) fn item(plan: &Plan, item: &Item) -> Checked {
    let place = item_name(item);
    named("item, name", &item.name)?;
    point(&place, item.at)?;
    heading(&place, item.heading)?;
    if item.surface.0 != 0 && !plan.surfaces.iter().any(|s| s.id == item.surface) {
        return Err(unknown(&place, "surface", item.surface.0));
    }
    if let Some(s) = item.section
        && !plan.sections.iter().any(|x| x.id == s)
    {
        return Err(unknown(&place, "section", s.0));
    }
    match &item.body {
        Body::Field(f) => field(plan, &place, f),
        Body::Placeholder(p) => placeholder(plan, &place, p),
        Body::Line(_) | Body::Fill(_) | Body::Feed(_) | Body::Start(_) | Body::Stopper(_) => Ok(()),
    }
}

fn field(plan: &Plan, place: &str, f: &Field) -> Checked {
    frame(plan, place, f.kind, &f.frame)?;
    if let Some(p) = &f.picture {
        picture_use(plan, place, p)?;
    }
    wish(plan, place, &f.wish)?;
    cells(plan, place, f, &f.cells)?;
    mask(place, f, &f.by_hand)
}

pub(super) fn frame(plan: &Plan, place: &str, kind: KindId, f: &FieldFrame) -> Checked {
    let Some(kind) = plan.stock.kind(kind) else {
        return Err(unknown(place, "kind", kind.0.into()));
    };
    for (what, n) in [("lanes", f.lanes), ("ranks", f.ranks)] {
        if n == 0 {
            let place = format!("{place}, {what}");
            return Err(Refusal::new(place, "0", "leaves nothing to lay", "Give 1 or more."));
        }
    }
    let cells = u64::from(f.lanes) * u64::from(f.ranks);
    if cells > MAX_CELLS as u64 {
        return Err(Refusal::new(
            place,
            format!("{} lanes x {} ranks", f.lanes, f.ranks),
            format!("are {cells} cells, more than the {MAX_CELLS} of one field"),
            "Split the picture over several fields.",
        ));
    }
    pitch(place, "pitch along the fall", f.pitch_along, kind.thickness, "thick")?;
    pitch(place, "pitch between lanes", f.pitch_across, kind.width, "wide")?;
    length(&format!("{place}, stagger"), f.stagger, 0.0, f.pitch_along.to_mm())
}

fn pitch(place: &str, what: &str, pitch: Length, piece: Length, word: &str) -> Checked {
    let place = format!("{place}, {what}");
    length(&place, pitch, 0.5, 20_000.0)?;
    if pitch >= piece {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{} mm", pitch.to_mm()),
        format!("has no room for a piece, which is {} mm {word}", piece.to_mm()),
        format!("Use at least {} mm.", piece.to_mm()),
    ))
}

pub(super) fn picture_use(plan: &Plan, place: &str, p: &PictureUse) -> Checked {
    if plan.picture(p.picture).is_none() {
        return Err(unknown(place, "picture", p.picture.0));
    }
    within(&format!("{place}, contrast"), p.contrast, "", -1.0, 1.0)?;
    let Some(c) = p.crop else { return Ok(()) };
    let inside = [c.left, c.top, c.right, c.bottom].iter().all(|v| (0.0..=1.0).contains(v));
    if inside && c.left < c.right && c.top < c.bottom {
        return Ok(());
    }
    Err(Refusal::new(
        format!("{place}, crop"),
        format!("{}, {} to {}, {}", c.left, c.top, c.right, c.bottom),
        "is not a part of the picture",
        "Give shares from 0 to 1, left before right and top before bottom.",
    ))
}

pub(super) fn wish(plan: &Plan, place: &str, w: &MatchWish) -> Checked {
    length(&format!("{place}, seen from"), w.seen_from, 100.0, 1.0e6)?;
    within(&format!("{place}, fewer changes"), w.fewer_changes, "", 0.0, 5.0)?;
    within(&format!("{place}, importance"), w.weight.into(), "", 1.0, 100.0)?;
    if let SeenAs::Standing { eye } = w.seen_as {
        length(&format!("{place}, eye distance"), eye.distance, 100.0, 1.0e6)?;
        length(&format!("{place}, eye height"), eye.height, 50.0, 1.0e5)?;
        heading(&format!("{place}, eye bearing"), eye.bearing)?;
    }
    for c in w.allowed.iter().flatten() {
        if plan.colour(*c).is_none() {
            return Err(unknown(place, "colour", c.0.into()));
        }
    }
    Ok(())
}

pub(super) fn cells(plan: &Plan, place: &str, f: &Field, cells: &Cells) -> Checked {
    size(place, f, cells.len())?;
    colours_in(cells).iter().try_for_each(|c| cell_colour(plan, place, c.0))
}

pub(super) fn mask(place: &str, f: &Field, mask: &CellMask) -> Checked {
    size(place, f, mask.len())
}

fn size(place: &str, f: &Field, len: usize) -> Checked {
    if len == f.frame.len() {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{len} cells"),
        format!("do not fill {} lanes x {} ranks", f.frame.lanes, f.frame.ranks),
        format!("Give {} cells.", f.frame.len()),
    ))
}

pub(super) fn cell_colour(plan: &Plan, place: &str, colour: u16) -> Checked {
    if colour == EMPTY || plan.colour(ColourId(colour)).is_some() {
        return Ok(());
    }
    Err(unknown(place, "colour", colour.into()))
}

fn placeholder(plan: &Plan, place: &str, p: &Placeholder) -> Checked {
    length(&format!("{place}, length"), p.length, 1.0, REACH_MM)?;
    length(&format!("{place}, width"), p.width, 1.0, REACH_MM)?;
    length(&format!("{place}, height"), p.height, 0.0, 100_000.0)?;
    within(&format!("{place}, hours"), p.hours.to_h(), " h", 0.0, 100_000.0)?;
    name(&format!("{place}, who"), &p.who)?;
    p.needs.iter().try_for_each(|n| need(plan, place, n))?;
    for port in &p.ports {
        let place = format!("{place}, port {}", short(&port.name));
        named(&place, &port.name)?;
        point(&place, port.at)?;
        heading(&place, port.direction)?;
        length(&format!("{place}, height"), port.height, -10_000.0, 100_000.0)?;
        length(&format!("{place}, width"), port.width, 0.0, REACH_MM)?;
    }
    if let Some(d) = p.delay {
        within(&format!("{place}, least delay"), d.least.to_s(), " s", 0.0, 1.0e6)?;
        within(&format!("{place}, longest delay"), d.most.to_s(), " s", d.least.to_s(), 1.0e6)?;
    }
    Ok(())
}

fn need(plan: &Plan, place: &str, n: &Need) -> Checked {
    if plan.stock.kind(n.kind).is_none() {
        return Err(unknown(place, "kind", n.kind.0.into()));
    }
    if plan.colour(n.colour).is_none() {
        return Err(unknown(place, "colour", n.colour.0.into()));
    }
    Ok(())
}

fn unknown(place: &str, what: &str, id: u32) -> Refusal {
    Refusal::new(
        place,
        format!("{what} {id}"),
        "is not in this plan",
        format!("Add the {what} first, or name one of the plan."),
    )
}
