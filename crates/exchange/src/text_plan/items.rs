//! Reads the items of a text plan. Each sort of item has a file of its own, which also writes it.

use std::collections::HashMap;

use plan::{
    AsBuilt, Body, ColourId, Command, GroupId, Item, ItemId, Kind, KindId, MAX_CELLS, MAX_ID, SectionId,
    Stock, SurfaceId,
};
use units::{Angle, Length};

use super::lanes;
use super::read::{Reader, refer};
use super::source::Section;
use links::Links;

mod feed;
mod field;
mod fill;
mod gaps;
mod line;
mod links;
mod path;
mod pattern;
mod placeholder;
mod sign;
mod trigger;

/// The most cells of all fields together; a few lines of text could claim any number.
const MAX_TOTAL_CELLS: usize = 3 * MAX_CELLS;

const COMMON: [&str; 11] =
    ["id", "is", "name", "at", "heading", "surface", "section", "built", "gaps", "locked", "group"];

/// The sorts of items.
#[derive(Debug, Clone, Copy)]
enum Sort {
    Field,
    Placeholder,
    Line,
    Fill,
    Feed,
    Start,
    Stopper,
    Note,
    Dimension,
    Camera,
}

const SORTS: [(&str, Sort); 10] = [
    ("field", Sort::Field),
    ("placeholder", Sort::Placeholder),
    ("line", Sort::Line),
    ("fill", Sort::Fill),
    ("feed", Sort::Feed),
    ("start", Sort::Start),
    ("stopper", Sort::Stopper),
    ("note", Sort::Note),
    ("dimension", Sort::Dimension),
    ("camera", Sort::Camera),
];

/// What the names in the text stand for, and how many cells may still come.
struct Names<'n> {
    surfaces: Vec<(u32, &'n str)>,
    sections: Vec<(u32, &'n str)>,
    codes: HashMap<&'n str, u16>,
    links: Links<'n>,
    cells_left: usize,
}

/// Reads all items into the reader's plan.
pub(super) fn read(reader: &mut Reader<'_>) {
    let (surfaces, sections) = (reader.plan.surfaces.clone(), reader.plan.sections.clone());
    let stock: Stock = reader.plan.stock.clone();
    let tables = reader.with_ids("item", u32::MAX);
    let mut names = Names {
        surfaces: surfaces.iter().map(|x| (x.id.0, x.name.as_str())).collect(),
        sections: sections.iter().map(|x| (x.id.0, x.name.as_str())).collect(),
        codes: lanes::codes(&stock),
        links: Links::of(&tables),
        cells_left: MAX_TOTAL_CELLS,
    };
    let read = tables.iter().filter_map(|(s, id)| Some((s.at, item(reader, s, ItemId(*id), &mut names)?)));
    let mut items: Vec<(usize, Item)> = read.collect();
    items.sort_by_key(|(_, item)| item.id);
    put_all(reader, items);
}

fn item(reader: &mut Reader<'_>, s: &Section<'_>, id: ItemId, names: &mut Names<'_>) -> Option<Item> {
    let sort = s.needed_word("is", &SORTS)?;
    let known = |own: &[&str]| s.known(&[&COMMON, own].concat());
    let body = match sort {
        Sort::Field => {
            known(&field::KEYS);
            Body::Field(field::read(reader, s, names)?)
        }
        Sort::Placeholder => {
            known(&placeholder::KEYS);
            Body::Placeholder(placeholder::read(reader, s, names))
        }
        Sort::Line => {
            known(&line::KEYS);
            Body::Line(line::read(reader, s, names)?)
        }
        Sort::Fill => {
            known(&fill::KEYS);
            Body::Fill(fill::read(reader, s, names)?)
        }
        Sort::Feed => {
            known(&feed::KEYS);
            Body::Feed(feed::read(reader, s, names)?)
        }
        Sort::Start => {
            known(&trigger::START_KEYS);
            Body::Start(trigger::read_start(s))
        }
        Sort::Stopper => {
            known(&trigger::STOPPER_KEYS);
            Body::Stopper(trigger::read_stopper(s))
        }
        Sort::Note => {
            known(&sign::NOTE_KEYS);
            Body::Note(sign::read_note(s))
        }
        Sort::Dimension => {
            known(&sign::DIMENSION_KEYS);
            Body::Dimension(sign::read_dimension(s))
        }
        Sort::Camera => {
            known(&sign::CAMERA_KEYS);
            Body::Camera(sign::read_camera(s))
        }
    };
    Some(Item {
        id,
        name: s.needed_text("name"),
        at: s.needed_point("at"),
        heading: s.angle("heading").unwrap_or(Angle::ZERO),
        surface: SurfaceId(refer(s, "surface", &names.surfaces).unwrap_or(0)),
        section: refer(s, "section", &names.sections).map(SectionId),
        body,
        built: s.table("built").map(|b| built(&b)),
        gaps: gaps::read(s),
        locked: s.flag("locked").unwrap_or(false),
        group: s.whole("group", MAX_ID).map(GroupId),
    })
}

fn built(s: &Section<'_>) -> AsBuilt {
    s.known(&["east", "north", "turn"]);
    AsBuilt {
        east: s.length("east").unwrap_or(Length::ZERO),
        north: s.length("north").unwrap_or(Length::ZERO),
        turn: s.angle("turn").unwrap_or(Angle::ZERO),
    }
}

/// Links may lead to items of a higher id, and in rings. So everything is put without its links first, and what has
/// links is put again with them.
fn put_all(reader: &mut Reader<'_>, items: Vec<(usize, Item)>) {
    let mut later = Vec::new();
    for (at, item) in items {
        match item.unlinked() {
            None => _ = reader.apply(at, &Command::PutItem { item: Box::new(item) }),
            Some(first) => {
                if reader.apply(at, &Command::PutItem { item: Box::new(first) }) {
                    later.push((at, item));
                }
            }
        }
    }
    for (at, item) in later {
        // Where the other item is missing, it was refused itself, with a problem of its own.
        if item.leads_to().all(|id| reader.plan.item(id).is_some()) {
            reader.apply(at, &Command::PutItem { item: Box::new(item) });
        }
    }
}

fn kind(reader: &mut Reader<'_>, s: &Section<'_>) -> KindId {
    if s.get("kind").is_some() {
        let kinds: Vec<_> =
            reader.plan.stock.kinds.iter().map(|k| (u32::from(k.id.0), k.name.as_str())).collect();
        if let Some(id) = refer(s, "kind", &kinds) {
            return KindId(id as u16);
        }
        // That was told; the rest of the item is read on as if it named none.
    }
    if reader.plan.stock.kinds.is_empty() {
        reader.apply(s.at, &Command::PutKind { kind: Kind::usual(KindId(1)) });
    }
    reader.plan.stock.kinds.first().map_or(KindId(1), |k| k.id)
}

fn colour_of(s: &Section<'_>, names: &Names<'_>, code: &str, at: usize) -> Option<ColourId> {
    let found = names.codes.get(code).filter(|&&c| c != plan::EMPTY).map(|&c| ColourId(c));
    if found.is_none() {
        let problem = format!("\"{}\" is not a colour code of the stock", crate::stock::shown(code));
        s.source.problem(at, problem, "Add the colour to stock.csv, or name one that is there");
    }
    found
}
