//! Putting things into the sorted lists of the plan and taking them out.

use super::{Done, MAX_ID, MAX_ITEMS, check, item_touched, scene, stock_touched};
use crate::command::Command;
use crate::document::Plan;
use crate::ids::{ColourId, GearId, ItemId, KindId, LotId, PictureId, SectionId, SurfaceId};
use crate::item::Item;
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
    what: &str,
    id: impl Fn(&T) -> I,
) -> Result<T, Refusal> {
    match list.binary_search_by_key(&wanted, id) {
        Ok(i) => Ok(list.remove(i)),
        Err(_) => Err(Refusal::new(
            what,
            format!("{what} {wanted}"),
            "is not in this plan",
            format!("Name a {what} of the plan."),
        )),
    }
}

/// Notes an id as given. Ids count from 1, and there must always be a next one, so they have an upper end far
/// beyond any plan.
fn note_id(plan: &mut Plan, id: u32) -> Result<(), Refusal> {
    if !(1..=MAX_ID).contains(&id) {
        let problem = format!("is not from 1 to {MAX_ID}");
        return Err(Refusal::new(
            "ids",
            format!("id {id}"),
            problem,
            "Take the next id that the plan gives.",
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

fn used(what: &str, name: &str, by: &str) -> Refusal {
    Refusal::new(what, name, format!("is used by {by}"), "Change or remove what uses it first.")
}

/// The first item that refers to a kind or colour.
fn user_of(plan: &Plan, kind: Option<KindId>, colour: Option<ColourId>) -> Option<String> {
    let hit = |i: &&Item| {
        check::used_by(i)
            .iter()
            .any(|(k, c)| (kind.is_some() && *k == kind) || (colour.is_some() && *c == colour))
    };
    plan.items.iter().find(hit).map(check::item_name)
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
        return Err(used("kind", &format!("kind {id}"), &by));
    }
    if let Some(lot) = plan.stock.lots.iter().find(|l| l.kind == id) {
        return Err(used("kind", &format!("kind {id}"), &format!("lot {}", lot.id)));
    }
    let kind = take(&mut plan.stock.kinds, id, "kind", |k| k.id)?;
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
    let name = plan.colour(id).map_or_else(|| format!("colour {id}"), |c| c.name.clone());
    if let Some(by) = user_of(plan, None, Some(id)) {
        return Err(used("colour", &name, &by));
    }
    if let Some(lot) = plan.stock.lots.iter().find(|l| l.colour == id) {
        return Err(used("colour", &name, &format!("lot {}", lot.id)));
    }
    let colour = take(&mut plan.stock.colours, id, "colour", |c| c.id)?;
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
    let lot = take(&mut plan.stock.lots, id, "lot", |l| l.id)?;
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
    let gear = take(&mut plan.stock.gear, id, "gear", |g| g.id)?;
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
        return Err(used("surface", &format!("surface {id}"), &check::item_name(item)));
    }
    let surface = take(&mut plan.surfaces, id, "surface", |s| s.id)?;
    Ok((Command::PutSurface { surface }, scene()))
}

pub(super) fn put_section(plan: &mut Plan, section: &Section) -> Done {
    check::section_name(&section.name)?;
    check::name("section, lead", &section.lead)?;
    note_id(plan, section.id.0)?;
    let inverse = match put(&mut plan.sections, section, |s| s.id) {
        Some(section) => Command::PutSection { section },
        None => Command::RemoveSection { id: section.id },
    };
    Ok((inverse, scene()))
}

pub(super) fn remove_section(plan: &mut Plan, id: SectionId) -> Done {
    if let Some(item) = plan.items.iter().find(|i| i.section == Some(id)) {
        return Err(used("section", &format!("section {id}"), &check::item_name(item)));
    }
    let section = take(&mut plan.sections, id, "section", |s| s.id)?;
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
        return Err(used("picture", &format!("picture {id}"), &check::item_name(item)));
    }
    let picture = take(&mut plan.pictures, id, "picture", |p| p.id)?;
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
            "items",
            format!("{} items", plan.items.len() + 1),
            format!("are more than the {MAX_ITEMS} that one plan may have"),
            "Split the event over several plans.",
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
        return Err(used("item", &check::item_name(item), &check::item_name(user)));
    }
    let item = take(&mut plan.items, id, "item", |i| i.id)?;
    Ok((Command::PutItem { item: Box::new(item) }, item_touched(id)))
}
