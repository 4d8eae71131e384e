//! A change from the wire: the draft of a command, made from the plan as it is when its turn comes.

use std::sync::{Arc, Mutex};

use desk::{Arranged, Copied, CopiedId, DeskError, Draft, FreshPicture, Label};
use geometry::{Point, Vector};
use plan::{
    Body, CellChange, Command, Field, FieldFrame, Item, ItemId, Kind, KindId, LotId, PictureFit, PictureId,
    PictureUse, Plan,
};
use sayings::{Said, doing, found, gate, refusing, say};
use units::{Angle, Length};

use super::{arrange, cells, gear, scene, section, taped, timed, wish};
use crate::wire::{self, Change};

/// Usual pitch along and across, mm: common practice, and 2 mm between the sides of usual pieces, so that lanes fall by themselves.
const USUAL_PITCH: (f64, f64) = (15.0, 26.0);
/// Room between a new field and the others, mm.
const BESIDE: f64 = 1_000.0;

pub(super) type Drafted = Result<(Label, Command), DeskError>;

/// What a draft has to say once it was made: the items that it adds, in order, and what whoever asked should know.
#[derive(Debug, Default)]
pub(crate) struct Told {
    pub(crate) items: Vec<ItemId>,
    pub(crate) notes: Vec<String>,
}

/// What a change needs that is not in the plan.
#[derive(Debug, Default)]
pub(crate) struct Brought {
    /// The picture that it shows.
    pub(crate) fresh: Option<FreshPicture>,
    /// What it sets down.
    pub(crate) copied: Option<Arc<Copied>>,
}

/// The draft of a change, and where it leaves what it has to say.
pub(crate) fn draft(change: Change, brought: Brought) -> (Draft, Arc<Mutex<Told>>) {
    let told = Arc::new(Mutex::new(Told::default()));
    let ear = Arc::clone(&told);
    let draft = move |plan: &Plan| match (change, &brought.copied) {
        (Change::Paste { by: [x, y], .. }, Some(copied)) => tell(&ear, copied.paste(plan, Vector { x, y })?),
        (change, _) => command(plan, change, brought.fresh.as_ref(), &ear),
    };
    (Box::new(draft), told)
}

/// What a change sets down, by the number that it was kept under; 0 is none.
pub(crate) fn pasted(change: &Change) -> Option<CopiedId> {
    match change {
        Change::Paste { copied, .. } => Some(copied.parse().unwrap_or(0)),
        _ => None,
    }
}

/// The picture that a change brings into the plan.
pub(crate) fn shows(change: &Change) -> Option<&wire::FreshPicture> {
    match change {
        Change::AddField { shows, .. } | Change::Picture { shows, .. } => shows.as_ref(),
        _ => None,
    }
}

/// A step by its name.
pub(super) fn done(label: Said, command: Command) -> Drafted {
    Ok((label.into(), command))
}

fn tell(ear: &Mutex<Told>, done: Arranged) -> Drafted {
    let told = Told { items: done.added, notes: done.notes };
    *ear.lock().unwrap_or_else(|e| e.into_inner()) = told;
    Ok((done.label, done.command))
}

fn command(plan: &Plan, change: Change, fresh: Option<&FreshPicture>, ear: &Mutex<Told>) -> Drafted {
    match change {
        Change::Rename { name } => done(say!(doing::RENAME, name = &name), Command::Rename { name }),
        Change::AddField { name, lanes, ranks, fall, picture, shows: _ } => {
            let fall = wish::fall_from_wire(fall);
            let (pitch_along, pitch_across) = (Length::mm(USUAL_PITCH.0), Length::mm(USUAL_PITCH.1));
            let frame = FieldFrame { fall, ..FieldFrame::new(lanes, ranks, pitch_along, pitch_across) };
            add_field(plan, name, frame, (picture, fresh))
        }
        Change::Place { item, name, x, y, heading } => {
            place(plan, ItemId(item), name, Point::new(x, y), heading)
        }
        Change::Remove { item } => {
            let id = ItemId(item);
            done(say!(doing::REMOVE, names = &known(plan, id)?.name), Command::RemoveItem { id })
        }
        Change::Frame { item, lanes, ranks, pitch_along, pitch_across, stagger, fall } => {
            let id = ItemId(item);
            let frame = FieldFrame {
                stagger: Length::mm(stagger),
                fall: wish::fall_from_wire(fall),
                ..FieldFrame::new(lanes, ranks, Length::mm(pitch_along), Length::mm(pitch_across))
            };
            done(say!(doing::GRID, name = &known(plan, id)?.name), Command::SetFrame { id, frame })
        }
        Change::Picture { item, picture, contrast, shows: _ } => match fresh {
            Some(fresh) => show_fresh(plan, ItemId(item), fresh, contrast),
            None => use_picture(plan, ItemId(item), picture, contrast),
        },
        Change::Wish { item, wish } => {
            let id = ItemId(item);
            let label = say!(doing::WISH, name = &known(plan, id)?.name);
            done(label, Command::SetWish { id, wish: wish::from_wire(wish) })
        }
        Change::Paint { item, cells, colour } => paint(plan, ItemId(item), cells, colour),
        Change::Draw { item, with, strokes } => cells::draw(plan, ItemId(item), with, &strokes),
        Change::Count { lot, count, offered } => count_lot(plan, LotId(lot), count, offered),
        Change::Example {} => desk::example_step(plan),
        Change::StockList { file, text, gear } => stock_list(plan, &file, &text, gear),
        Change::PutGear { id, gear } => gear::put(plan, id, gear),
        Change::RemoveGear { id } => gear::remove(plan, id),
        Change::Hall { name, floor, outline, parts, grip } => {
            scene::hall(plan, (name, floor), (outline, parts), grip)
        }
        Change::PutMark { was, mark } => taped::put_mark(plan, was, mark),
        Change::RemoveMark { name } => taped::remove_mark(plan, &name),
        Change::PutTape { was, tape, marks } => taped::put_tape(plan, was.as_ref(), tape, marks),
        Change::RemoveTape { tape } => taped::remove_tape(plan, &tape),
        Change::DrawAsMeasured {} => taped::draw(plan),
        Change::PutTimed { was, line } => timed::put(plan, was, line),
        Change::RemoveTimed { line } => timed::remove(plan, line),
        Change::PutSection { id, name, lead } => scene::put_section(plan, id, name, lead),
        Change::ShiftSection { id, by } => section::shift(plan, id, &by),
        Change::RemoveSection { id } => scene::remove_section(plan, id),
        Change::PutSurface { id, name, is, height, slope, uphill, outline } => {
            scene::put_surface(plan, id, (name, is), (height, slope, uphill), outline)
        }
        Change::RemoveSurface { id } => scene::remove_surface(plan, id),
        Change::Put { items, label } => tell(ear, arrange::put(plan, items, &label)?),
        Change::Take { items } => tell(ear, arrange::take(plan, &items)?),
        // Whoever pastes brings what was copied, and was served already.
        Change::Paste { .. } => Err(desk::copy_gone()),
        Change::Arrange { items, how } => tell(ear, arrange::arrange(plan, &items, &how)?),
    }
}

/// The item of an id.
pub(super) fn known(plan: &Plan, id: ItemId) -> Result<&Item, DeskError> {
    plan.item(id).ok_or_else(|| scene::gone(refusing::WHAT_ITEM, id))
}

/// The item and its field.
pub(crate) fn known_field(plan: &Plan, id: ItemId) -> Result<(&Item, &Field), DeskError> {
    let item = known(plan, id)?;
    item.field().map(|field| (item, field)).ok_or_else(|| {
        let what = say!(refusing::WHAT_FIELD_NAMED, name = &item.name);
        DeskError::missing(what, say!(refusing::MISSING_CELLS))
    })
}

/// A field of the usual pitches, its picture's top towards the north, east of everything that is there.
fn add_field(
    plan: &Plan,
    name: String,
    frame: FieldFrame,
    (picture, fresh): (Option<u32>, Option<&FreshPicture>),
) -> Drafted {
    let cells = u64::from(frame.lanes) * u64::from(frame.ranks);
    if cells > plan::MAX_CELLS as u64 {
        // The gate would say so too, but the cells must not be made first.
        return Err(DeskError::Refused(plan::Refusal::new(
            say!(found::AT_FIELD, name = name),
            say!(gate::N_GRID, lanes = frame.lanes, ranks = frame.ranks),
            say!(gate::NEW_FIELD, most = plan::MAX_CELLS),
            say!(gate::NEW_FIELD_NEXT),
        )));
    }
    let (kind, mut steps) = match plan.stock.kinds.first() {
        Some(kind) => (kind.id, Vec::new()),
        None => (KindId(1), vec![Command::PutKind { kind: Kind::usual(KindId(1)) }]),
    };
    let mut field = Field::empty(kind, frame);
    field.picture = picture.map(|id| usual_use(PictureId(id)));
    let mut id = plan.fresh_id();
    if let Some(fresh) = fresh {
        let (put, picture) = fresh.step(plan);
        steps.push(put);
        field.picture = Some(usual_use(picture));
        id += 1;
    }
    let heading = Angle::deg(90.0 * f64::from(frame.fall.quarter_turns()));
    let label = say!(doing::ADD_FIELD, name = &name);
    let mut item = Item { heading, ..Item::new(ItemId(id), name, Point::new(0.0, 0.0), Body::Field(field)) };
    let least = |of: fn(Point) -> f64| {
        item.outline().unwrap_or([item.at; 4]).map(of).into_iter().fold(f64::INFINITY, f64::min)
    };
    let corner = Point::new(least(|p| p.x), least(|p| p.y));
    let others = plan.items.iter().filter_map(|other| placement::extent(plan, other)).flatten();
    let east = others.map(|p| p.x).fold(f64::NEG_INFINITY, f64::max);
    let east = if east.is_finite() { east + BESIDE } else { 0.0 };
    item.at = Point::new(east - corner.x, -corner.y);
    steps.push(Command::PutItem { item: Box::new(item) });
    done(label, Command::Together { steps })
}

fn usual_use(picture: PictureId) -> PictureUse {
    PictureUse { picture, crop: None, fit: PictureFit::Fill, contrast: 0.0 }
}

fn place(plan: &Plan, id: ItemId, name: String, at: Point, heading: f64) -> Drafted {
    let item = known(plan, id)?;
    let heading = Angle::deg(heading);
    if item.name == name {
        return done(say!(doing::MOVE, names = name), Command::MoveItem { id, at, heading });
    }
    let label = say!(doing::NAME, old = &item.name, name = &name);
    let item = Item { name, at, heading, ..item.clone() };
    done(label, Command::PutItem { item: Box::new(item) })
}

fn use_picture(plan: &Plan, id: ItemId, picture: Option<u32>, contrast: f64) -> Drafted {
    let (item, field) = known_field(plan, id)?;
    let Some(picture) = picture.map(PictureId) else {
        let label = say!(doing::PICTURE_NONE, name = &item.name);
        return done(label, Command::UsePicture { id, picture: None });
    };
    // The part of the picture that is shown stays while the picture does.
    let usage = match &field.picture {
        Some(usage) if usage.picture == picture => PictureUse { contrast, ..usage.clone() },
        _ => PictureUse { contrast, ..usual_use(picture) },
    };
    let label = match plan.picture(picture) {
        Some(known) => say!(doing::PICTURE_SHOW, picture = &known.name, name = &item.name),
        None => say!(doing::PICTURE_CHOOSE, name = &item.name),
    };
    done(label, Command::UsePicture { id, picture: Some(usage) })
}

/// A picture that comes into the plan with the field that shows it.
fn show_fresh(plan: &Plan, id: ItemId, fresh: &FreshPicture, contrast: f64) -> Drafted {
    let (item, _) = known_field(plan, id)?;
    let (put, picture) = fresh.step(plan);
    let show = Command::UsePicture { id, picture: Some(PictureUse { contrast, ..usual_use(picture) }) };
    let label = say!(doing::PICTURE_SHOW, picture = &fresh.name, name = &item.name);
    done(label, Command::Together { steps: vec![put, show] })
}

fn paint(plan: &Plan, id: ItemId, cells: Vec<u32>, colour: Option<u16>) -> Drafted {
    let (item, field) = known_field(plan, id)?;
    let now = field.cells.as_slice();
    let of = |index: u32| now.get(index as usize).copied().unwrap_or(plan::EMPTY);
    let change = |index: u32| CellChange {
        index,
        colour: colour.unwrap_or_else(|| of(index)),
        by_hand: colour.is_some(),
    };
    let label = match colour {
        Some(_) => say!(doing::SET, n = cells.len(), name = &item.name),
        None => say!(doing::RELEASE, n = cells.len(), name = &item.name),
    };
    done(label, Command::Paint { id, cells: cells.into_iter().map(change).collect() })
}

fn count_lot(plan: &Plan, id: LotId, count: u32, offered: u32) -> Drafted {
    let lot = plan.stock.lots.iter().find(|lot| lot.id == id);
    let lot = lot.ok_or_else(|| {
        DeskError::missing(say!(refusing::WHAT_LOT, id = id.to_string()), say!(refusing::MISSING_LOT))
    })?;
    let label = match plan.colour(lot.colour) {
        Some(colour) => say!(doing::COUNT, colour = &colour.name),
        None => say!(doing::COUNT_LOT),
    };
    done(label, Command::PutLot { lot: plan::Lot { count, offered, ..lot.clone() } })
}

fn stock_list(plan: &Plan, file: &str, text: &str, gear: Vec<wire::GearDraft>) -> Drafted {
    let read =
        exchange::read_stock(text.as_bytes(), file).map_err(|e| DeskError::StockList(Box::new(e.said())))?;
    let mut stock = exchange::to_stock(&read, Some(&plan.stock));
    gear::add(plan, &mut stock, gear);
    done(say!(doing::STOCK_LIST, file = file), Command::ReplaceStock { stock })
}

/// Whether a change may be as large as a stock list.
pub(crate) fn is_stock_list(change: &wire::Change) -> bool {
    matches!(change, Change::StockList { .. })
}
