//! The one gate: applies a command whole or refuses it, and yields the inverse.

use sayings::{gate, say};

use crate::cells::{CellMask, Cells};
use crate::command::{Applied, CellChange, Command, Touched};
use crate::document::Plan;
use crate::field::Field;
use crate::ids::{ColourId, ItemId};
use crate::item::{Body, Item};
use crate::place::Place;
use crate::refusal::Refusal;

mod check;
mod list;
mod shift;

pub use check::look_alike;

/// The most cells that one field may have.
pub const MAX_CELLS: usize = 20_000_000;
/// The most colours that one plan may have.
pub const MAX_COLOURS: usize = 1_000;
/// The most items that one plan may have.
pub const MAX_ITEMS: usize = 100_000;
/// The largest id that is taken.
pub const MAX_ID: u32 = 1_000_000_000;
/// The most signs that a name may have.
pub const MAX_NAME: usize = 10_000;
/// The most signs that a note may have.
pub const MAX_NOTE: usize = 10_000;
/// How far from the datum anything may lie, in mm: 10 km.
pub const REACH_MM: f64 = 1.0e7;
/// The most corners of one outline.
const MAX_CORNERS: usize = 10_000;
/// The most lanes of a line.
const MAX_LANES: f64 = 10_000.0;
/// The most legs of a path.
const MAX_LEGS: usize = 1_000;
/// The most points of all curves of a path.
const MAX_POINTS: usize = 20_000;
/// The most turns of one arc or spiral.
const MAX_TURNS: f64 = 10_000.0;
/// The most bridges of a line.
const MAX_BRIDGES: usize = 1_000;
/// The most safety gaps of an item.
const MAX_GAPS: usize = 10_000;
/// The most stretches of a pattern that repeats.
const MAX_STRETCHES: usize = 10_000;
/// The most stretches that are spread along a line: each piece looks at all of them.
const MAX_SPREAD: usize = 100;
/// The most pillars, doors and other parts of a hall.
const MAX_HALL_PARTS: usize = 10_000;
/// The most marks that are taped.
const MAX_MARKS: usize = 1_000;
/// The most taped distances.
const MAX_TAPES: usize = 10_000;
/// The most lines that were timed.
const MAX_TIMED: usize = 1_000;

type Done = Result<(Command, Touched), Refusal>;

pub(crate) fn apply(plan: &mut Plan, command: &Command) -> Result<Applied, Refusal> {
    let last = plan.last_id;
    // An id that was only to be given by what is refused was given to nobody.
    let (inverse, mut touched) = dispatch(plan, command).inspect_err(|_| plan.last_id = last)?;
    touched.items.sort_unstable();
    touched.items.dedup();
    Ok(Applied { inverse, touched })
}

fn dispatch(plan: &mut Plan, command: &Command) -> Done {
    match command {
        Command::Together { steps } => together(plan, steps),
        Command::Rename { name } => {
            check::name(&Place::of(gate::AT_PLAN).at(gate::AT_NAME), name)?;
            let old = std::mem::replace(&mut plan.name, name.clone());
            Ok((Command::Rename { name: old }, scene()))
        }
        Command::SetHall { hall } => {
            check::hall(hall)?;
            let old = std::mem::replace(&mut plan.hall, hall.clone());
            Ok((Command::SetHall { hall: old }, scene()))
        }
        Command::ReplaceStock { stock } => {
            check::stock(stock)?;
            check::stock_still_serves(plan, stock)?;
            list::note_ids(plan, stock)?;
            let old = std::mem::replace(&mut plan.stock, stock.clone());
            Ok((Command::ReplaceStock { stock: old }, stock_touched()))
        }
        Command::PutKind { kind } => list::put_kind(plan, kind),
        Command::RemoveKind { id } => list::remove_kind(plan, *id),
        Command::PutColour { colour } => list::put_colour(plan, colour),
        Command::RemoveColour { id } => list::remove_colour(plan, *id),
        Command::PutLot { lot } => list::put_lot(plan, lot),
        Command::RemoveLot { id } => list::remove_lot(plan, *id),
        Command::PutGear { gear } => list::put_gear(plan, gear),
        Command::RemoveGear { id } => list::remove_gear(plan, *id),
        Command::PutSurface { surface } => list::put_surface(plan, surface),
        Command::RemoveSurface { id } => list::remove_surface(plan, *id),
        Command::PutSection { section } => list::put_section(plan, section),
        Command::RemoveSection { id } => list::remove_section(plan, *id),
        Command::PutPicture { picture } => list::put_picture(plan, picture),
        Command::RemovePicture { id } => list::remove_picture(plan, *id),
        Command::PutItem { item } => list::put_item(plan, item),
        Command::RemoveItem { id } => list::remove_item(plan, *id),
        Command::MoveItem { id, at, heading } => {
            let item = known(plan, *id)?;
            let place = Place::item(item);
            check::point(&place, *at)?;
            check::heading(&place, *heading)?;
            let item = free_mut(plan, *id)?;
            let back = Command::MoveItem { id: *id, at: item.at, heading: item.heading };
            (item.at, item.heading) = (*at, *heading);
            Ok((back, item_touched(*id)))
        }
        Command::Shift { which, east, north, turn, about } => shift::shift(
            plan,
            which,
            &shift::Motion { east: *east, north: *north, turn: *turn, about: *about },
        ),
        Command::SetFrame { id, frame } => set_frame(plan, *id, frame),
        Command::UsePicture { id, picture } => {
            let item = known(plan, *id)?;
            let place = Place::item(item);
            if let Some(p) = picture {
                check::picture_use(plan, &place, p)?;
            }
            let field = field_mut(plan, *id)?;
            let old = std::mem::replace(&mut field.picture, picture.clone());
            Ok((Command::UsePicture { id: *id, picture: old }, item_touched(*id)))
        }
        Command::SetWish { id, wish } => {
            let item = known(plan, *id)?;
            let place = Place::item(item);
            check::wish(plan, &place, wish)?;
            let field = field_mut(plan, *id)?;
            let old = std::mem::replace(&mut field.wish, wish.clone());
            Ok((Command::SetWish { id: *id, wish: old }, item_touched(*id)))
        }
        Command::Lay { id, cells } => lay(plan, *id, cells),
        Command::Paint { id, cells } => paint(plan, *id, cells),
        Command::Restore { id, cells, by_hand } => restore(plan, *id, cells, by_hand),
    }
}

fn together(plan: &mut Plan, steps: &[Command]) -> Done {
    let mut inverses = Vec::with_capacity(steps.len());
    let mut touched = Touched::default();
    for step in steps {
        match dispatch(plan, step) {
            Ok((inverse, t)) => {
                inverses.push(inverse);
                touched.items.extend(t.items);
                touched.stock |= t.stock;
                touched.scene |= t.scene;
            }
            Err(refusal) => {
                for inverse in inverses.iter().rev() {
                    dispatch(plan, inverse).expect("an inverse of a step just applied is always taken");
                }
                return Err(refusal);
            }
        }
    }
    inverses.reverse();
    Ok((Command::Together { steps: inverses }, touched))
}

fn set_frame(plan: &mut Plan, id: ItemId, frame: &crate::field::FieldFrame) -> Done {
    let item = known(plan, id)?;
    let place = Place::item(item);
    let kind = field_ref(plan, id)?.kind;
    check::frame(plan, &place, kind, frame)?;
    let field = field_mut(plan, id)?;
    let old_frame = field.frame;
    let old = (field.cells.clone(), field.by_hand.clone());
    field.frame = *frame;
    let same_size = (frame.lanes, frame.ranks) == (old_frame.lanes, old_frame.ranks);
    if same_size {
        return Ok((Command::SetFrame { id, frame: old_frame }, item_touched(id)));
    }
    (field.cells, field.by_hand) = field.carried(old_frame.lanes, old_frame.ranks);
    let steps = vec![
        Command::SetFrame { id, frame: old_frame },
        Command::Restore { id, cells: old.0, by_hand: old.1 },
    ];
    Ok((Command::Together { steps }, item_touched(id)))
}

fn lay(plan: &mut Plan, id: ItemId, cells: &Cells) -> Done {
    let item = known(plan, id)?;
    let place = Place::item(item);
    let field = field_ref(plan, id)?;
    check::cells(plan, &place, field, cells)?;
    let now = field.cells.as_slice();
    let hand = field.by_hand.as_slice();
    if let Some(i) = (0..now.len()).find(|&i| hand[i] && now[i] != cells.as_slice()[i]) {
        let (lane, rank) = (i / field.frame.ranks as usize, i % field.frame.ranks as usize);
        let lane = place.nth(gate::AT_LANE, lane);
        return Err(Refusal::new(
            lane.nth(gate::AT_PIECE, rank),
            say!(gate::BY_HAND),
            say!(gate::BY_HAND_PROBLEM),
            say!(gate::BY_HAND_NEXT),
        ));
    }
    let field = field_mut(plan, id)?;
    let old = std::mem::replace(&mut field.cells, cells.clone());
    Ok((Command::Lay { id, cells: old }, item_touched(id)))
}

fn paint(plan: &mut Plan, id: ItemId, changes: &[CellChange]) -> Done {
    let item = known(plan, id)?;
    let place = Place::item(item);
    let field = field_ref(plan, id)?;
    for change in changes {
        if change.index as usize >= field.cells.len() {
            return Err(Refusal::new(
                place,
                say!(gate::CELL, n = change.index),
                say!(gate::CELL_OUTSIDE, n = field.cells.len()),
                say!(gate::CELL_NEXT),
            ));
        }
        check::cell_colour(plan, &place, change.colour)?;
    }
    let field = field_mut(plan, id)?;
    let cells = field.cells.make_mut();
    let marks = field.by_hand.make_mut();
    let mut back = Vec::with_capacity(changes.len());
    for change in changes {
        let i = change.index as usize;
        back.push(CellChange { index: change.index, colour: cells[i], by_hand: marks[i] });
        (cells[i], marks[i]) = (change.colour, change.by_hand);
    }
    // A cell may be named twice: its first value must be the last one put back.
    back.reverse();
    Ok((Command::Paint { id, cells: back }, item_touched(id)))
}

fn restore(plan: &mut Plan, id: ItemId, cells: &Cells, by_hand: &CellMask) -> Done {
    let item = known(plan, id)?;
    let place = Place::item(item);
    let field = field_ref(plan, id)?;
    check::cells(plan, &place, field, cells)?;
    check::mask(&place, field, by_hand)?;
    let field = field_mut(plan, id)?;
    let cells = std::mem::replace(&mut field.cells, cells.clone());
    let by_hand = std::mem::replace(&mut field.by_hand, by_hand.clone());
    Ok((Command::Restore { id, cells, by_hand }, item_touched(id)))
}

fn known(plan: &Plan, id: ItemId) -> Result<&Item, Refusal> {
    plan.item(id).ok_or_else(|| no_item(id))
}

fn item_mut(plan: &mut Plan, id: ItemId) -> Result<&mut Item, Refusal> {
    match plan.items.binary_search_by_key(&id, |i| i.id) {
        Ok(i) => Ok(&mut plan.items[i]),
        Err(_) => Err(no_item(id)),
    }
}

fn field_ref(plan: &Plan, id: ItemId) -> Result<&Field, Refusal> {
    let item = known(plan, id)?;
    item.field().ok_or_else(|| not_a_field(item))
}

/// The item to be changed, unless it is locked.
fn free_mut(plan: &mut Plan, id: ItemId) -> Result<&mut Item, Refusal> {
    let item = item_mut(plan, id)?;
    if item.locked { Err(check::locked(item)) } else { Ok(item) }
}

fn field_mut(plan: &mut Plan, id: ItemId) -> Result<&mut Field, Refusal> {
    let item = free_mut(plan, id)?;
    if item.field().is_none() {
        return Err(not_a_field(item));
    }
    match &mut item.body {
        Body::Field(field) => Ok(field),
        _ => Err(no_item(id)),
    }
}

fn no_item(id: ItemId) -> Refusal {
    let (place, next) = (Place::of(gate::AT_ITEMS), say!(gate::UNKNOWN_ITEM_NAME));
    Refusal::new(place, say!(gate::AT_ITEM_OF, name = id.to_string()), say!(gate::UNKNOWN), next)
}

fn not_a_field(item: &Item) -> Refusal {
    Refusal::new(Place::item(item), say!(gate::THIS_ITEM), say!(gate::NO_FIELD), say!(gate::NO_FIELD_NEXT))
}

fn item_touched(id: ItemId) -> Touched {
    Touched { items: vec![id], ..Touched::default() }
}

fn stock_touched() -> Touched {
    Touched { stock: true, ..Touched::default() }
}

fn scene() -> Touched {
    Touched { scene: true, ..Touched::default() }
}

/// The colour ids that stand in cells, sorted, none twice, without "no piece".
fn colours_in(cells: &Cells) -> Vec<ColourId> {
    let mut seen = vec![false; usize::from(u16::MAX) + 1];
    for &c in cells.as_slice() {
        seen[usize::from(c)] = true;
    }
    (1..=u16::MAX).filter(|&c| seen[usize::from(c)]).map(ColourId).collect()
}
