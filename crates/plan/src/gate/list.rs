//! Putting things into the sorted lists of the plan and taking them out.

use sayings::{Arg, Said, gate, say};

use super::check::{COLOUR, GEAR, ITEM, KIND, LOT, PICTURE, SECTION, SURFACE, Thing};
use super::{Done, MAX_ID, MAX_ITEMS, check, item_touched, no_item, scene, stock_touched};
use crate::command::Command;
use crate::document::Plan;
use crate::ids::{ColourId, GearId, ItemId, KindId, LotId, PictureId, SectionId, SurfaceId};
use crate::item::Item;
use crate::place::Place;
use crate::refusal::Refusal;
use crate::scene::{Picture, Section, Surface};
use crate::stock::{Colour, Gear, Kind, Lot, Stock};

/// Puts `value` where its id belongs; hands back what stood there.
fn put<T: Clone, I: Ord + Copy>(list: &mut Vec<T>, value: &T, id: impl Fn(&T) -> I) -> Option<T> {
    match list.binary_search_by_key(&id(value), &id) {
        Ok(i) => Some(std::mem::replace(&mut list[i], value.clone())),
        Err(i) => {
            list.insert(i, value.clone());
            None
        }
    }
}

fn take<T, I: Ord + Copy + std::fmt::Display>(
    list: &mut Vec<T>,
    wanted: I,
    what: Thing,
    id: impl Fn(&T) -> I,
) -> Result<T, Refusal> {
    match list.binary_search_by_key(&wanted, id) {
        Ok(i) => Ok(list.remove(i)),
        Err(_) => Err(Refusal::new(
            Place::of(what.word),
            what.of(wanted),
            say!(gate::UNKNOWN),
            say!(gate::UNKNOWN_NAME, what = what.word.with([])),
        )),
    }
}

/// Notes an id as given. Ids count from 1, and there must always be a next one, so they have an upper end far
/// beyond any plan.
fn note_id(plan: &mut Plan, id: u32) -> Result<(), Refusal> {
    if !(1..=MAX_ID).contains(&id) {
        return Err(Refusal::new(
            Place::of(gate::AT_IDS),
            say!(gate::ID, id = id.to_string()),
            say!(gate::RANGE, least = 1_u32, most = MAX_ID),
            say!(gate::NEXT_ID),
        ));
    }
    plan.last_id = plan.last_id.max(id);
    Ok(())
}

pub(super) fn note_ids(plan: &mut Plan, stock: &Stock) -> Result<(), Refusal> {
    let kinds = stock.kinds.iter().map(|k| u32::from(k.id.0));
    let colours = stock.colours.iter().map(|c| u32::from(c.id.0));
    let rest = stock.lots.iter().map(|l| l.id.0).chain(stock.gear.iter().map(|g| g.id.0));
    kinds.chain(colours).chain(rest).try_for_each(|id| note_id(plan, id))
}

fn used(what: Thing, name: impl Into<Arg>, by: Said) -> Refusal {
    Refusal::new(Place::of(what.word), name, say!(gate::USED, by = by), say!(gate::USED_NEXT))
}

/// A lot as it is named where it uses something.
fn lot_name(lot: &Lot) -> Said {
    LOT.of(lot.id)
}

/// The first item that refers to a kind or colour.
fn user_of(plan: &Plan, kind: Option<KindId>, colour: Option<ColourId>) -> Option<Said> {
    let hit = |i: &&Item| {
        check::used_by(i)
            .iter()
            .any(|(k, c)| (kind.is_some() && *k == kind) || (colour.is_some() && *c == colour))
    };
    plan.items.iter().find(hit).map(Item::called)
}

pub(super) fn put_kind(plan: &mut Plan, kind: &Kind) -> Done {
    check::kind(kind)?;
    plan.items.iter().try_for_each(|item| check::fits_kind(item, kind))?;
    note_id(plan, kind.id.0.into())?;
    let inverse = match put(&mut plan.stock.kinds, kind, |k| k.id) {
        Some(kind) => Command::PutKind { kind },
        None => Command::RemoveKind { id: kind.id },
    };
    Ok((inverse, stock_touched()))
}

pub(super) fn remove_kind(plan: &mut Plan, id: KindId) -> Done {
    if let Some(by) = user_of(plan, Some(id), None) {
        return Err(used(KIND, KIND.of(id), by));
    }
    if let Some(lot) = plan.stock.lots.iter().find(|l| l.kind == id) {
        return Err(used(KIND, KIND.of(id), lot_name(lot)));
    }
    let kind = take(&mut plan.stock.kinds, id, KIND, |k| k.id)?;
    Ok((Command::PutKind { kind }, stock_touched()))
}

pub(super) fn put_colour(plan: &mut Plan, colour: &Colour) -> Done {
    check::colour(colour, &plan.stock.colours)?;
    let is_new = plan.colour(colour.id).is_none();
    check::colour_count(plan.stock.colours.len() + usize::from(is_new))?;
    note_id(plan, colour.id.0.into())?;
    let inverse = match put(&mut plan.stock.colours, colour, |c| c.id) {
        Some(colour) => Command::PutColour { colour },
        None => Command::RemoveColour { id: colour.id },
    };
    Ok((inverse, stock_touched()))
}

pub(super) fn remove_colour(plan: &mut Plan, id: ColourId) -> Done {
    let name = plan.colour(id).map_or_else(|| COLOUR.of(id).into(), |c| Arg::from(&c.name));
    if let Some(by) = user_of(plan, None, Some(id)) {
        return Err(used(COLOUR, name, by));
    }
    if let Some(lot) = plan.stock.lots.iter().find(|l| l.colour == id) {
        return Err(used(COLOUR, name, lot_name(lot)));
    }
    let colour = take(&mut plan.stock.colours, id, COLOUR, |c| c.id)?;
    Ok((Command::PutColour { colour }, stock_touched()))
}

pub(super) fn put_lot(plan: &mut Plan, lot: &Lot) -> Done {
    check::lot(lot, &plan.stock)?;
    note_id(plan, lot.id.0)?;
    let inverse = match put(&mut plan.stock.lots, lot, |l| l.id) {
        Some(lot) => Command::PutLot { lot },
        None => Command::RemoveLot { id: lot.id },
    };
    Ok((inverse, stock_touched()))
}

pub(super) fn remove_lot(plan: &mut Plan, id: LotId) -> Done {
    let lot = take(&mut plan.stock.lots, id, LOT, |l| l.id)?;
    Ok((Command::PutLot { lot }, stock_touched()))
}

pub(super) fn put_gear(plan: &mut Plan, gear: &Gear) -> Done {
    check::gear(gear)?;
    note_id(plan, gear.id.0)?;
    let inverse = match put(&mut plan.stock.gear, gear, |g| g.id) {
        Some(gear) => Command::PutGear { gear },
        None => Command::RemoveGear { id: gear.id },
    };
    Ok((inverse, stock_touched()))
}

pub(super) fn remove_gear(plan: &mut Plan, id: GearId) -> Done {
    let gear = take(&mut plan.stock.gear, id, GEAR, |g| g.id)?;
    Ok((Command::PutGear { gear }, stock_touched()))
}

pub(super) fn put_surface(plan: &mut Plan, surface: &Surface) -> Done {
    check::surface(surface)?;
    note_id(plan, surface.id.0)?;
    let inverse = match put(&mut plan.surfaces, surface, |s| s.id) {
        Some(surface) => Command::PutSurface { surface },
        None => Command::RemoveSurface { id: surface.id },
    };
    Ok((inverse, scene()))
}

pub(super) fn remove_surface(plan: &mut Plan, id: SurfaceId) -> Done {
    if let Some(item) = plan.items.iter().find(|i| i.surface == id) {
        return Err(used(SURFACE, SURFACE.of(id), item.called()));
    }
    let surface = take(&mut plan.surfaces, id, SURFACE, |s| s.id)?;
    Ok((Command::PutSurface { surface }, scene()))
}

pub(super) fn put_section(plan: &mut Plan, section: &Section) -> Done {
    check::section_name(&section.name)?;
    check::name(&Place::of(gate::AT_SECTION).at(gate::AT_LEAD), &section.lead)?;
    note_id(plan, section.id.0)?;
    let inverse = match put(&mut plan.sections, section, |s| s.id) {
        Some(section) => Command::PutSection { section },
        None => Command::RemoveSection { id: section.id },
    };
    Ok((inverse, scene()))
}

pub(super) fn remove_section(plan: &mut Plan, id: SectionId) -> Done {
    if let Some(item) = plan.items.iter().find(|i| i.section == Some(id)) {
        return Err(used(SECTION, SECTION.of(id), item.called()));
    }
    let section = take(&mut plan.sections, id, SECTION, |s| s.id)?;
    Ok((Command::PutSection { section }, scene()))
}

pub(super) fn put_picture(plan: &mut Plan, picture: &Picture) -> Done {
    check::picture(picture)?;
    note_id(plan, picture.id.0)?;
    let inverse = match put(&mut plan.pictures, picture, |p| p.id) {
        Some(picture) => Command::PutPicture { picture },
        None => Command::RemovePicture { id: picture.id },
    };
    Ok((inverse, scene()))
}

pub(super) fn remove_picture(plan: &mut Plan, id: PictureId) -> Done {
    let uses = |i: &&Item| i.field().is_some_and(|f| f.picture.as_ref().is_some_and(|p| p.picture == id));
    if let Some(item) = plan.items.iter().find(uses) {
        return Err(used(PICTURE, PICTURE.of(id), item.called()));
    }
    let picture = take(&mut plan.pictures, id, PICTURE, |p| p.id)?;
    Ok((Command::PutPicture { picture }, scene()))
}

/// Whether two states of an item are the same but for the lock.
fn only_lock_differs(a: &Item, b: &Item) -> bool {
    if a.locked == b.locked { a == b } else { Item { locked: b.locked, ..a.clone() } == *b }
}

pub(super) fn put_item(plan: &mut Plan, item: &Item) -> Done {
    let old = plan.item(item.id);
    if let Some(old) = old.filter(|old| old.locked)
        && !only_lock_differs(old, item)
    {
        return Err(check::locked(old));
    }
    check::item(plan, item)?;
    check::still_led_to(plan, item)?;
    let is_new = old.is_none();
    // What is locked by this command and changed too has to be unlocked before that is taken back.
    let locks = item.locked && old.is_none_or(|old| !only_lock_differs(old, item));
    if is_new && plan.items.len() >= MAX_ITEMS {
        return Err(Refusal::new(
            Place::of(gate::AT_ITEMS),
            say!(gate::N_ITEMS, n = plan.items.len() + 1),
            say!(gate::PLAN_FULL, most = MAX_ITEMS),
            say!(gate::PLAN_FULL_ITEMS),
        ));
    }
    note_id(plan, item.id.0)?;
    item.group.map_or(Ok(()), |group| note_id(plan, group.0))?;
    let mut inverse = match put(&mut plan.items, item, |i| i.id) {
        Some(item) => Command::PutItem { item: Box::new(item) },
        None => Command::RemoveItem { id: item.id },
    };
    if locks {
        let unlock = Command::PutItem { item: Box::new(Item { locked: false, ..item.clone() }) };
        inverse = Command::Together { steps: vec![unlock, inverse] };
    }
    Ok((inverse, item_touched(item.id)))
}

pub(super) fn remove_item(plan: &mut Plan, id: ItemId) -> Done {
    if let Some(item) = plan.item(id).filter(|item| item.locked) {
        return Err(check::locked(item));
    }
    if let (Some(item), Some(user)) = (plan.item(id), check::user_of_item(plan, id)) {
        return Err(used(ITEM, item.called(), user.called()));
    }
    if plan.item(id).is_none() {
        return Err(no_item(id));
    }
    let item = take(&mut plan.items, id, ITEM, |i| i.id)?;
    Ok((Command::PutItem { item: Box::new(item) }, item_touched(id)))
}
