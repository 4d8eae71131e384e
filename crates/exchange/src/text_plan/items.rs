//! Reads the items of a text plan: fields with their cells, and placeholders.

use geometry::FallInPicture;
use plan::{
    Body, CellMask, Cells, ColourId, Command, Crop, Delay, Eye, Field, FieldFrame, Item, ItemId, Kind,
    KindId, MAX_CELLS, MatchGoal, MatchWish, Need, PictureFit, PictureUse, Placeholder, Port, PortFlow,
    SectionId, SeenAs, SurfaceId,
};
use units::{Angle, Duration, Length};

use super::lanes;
use super::read::{Reader, refer};
use super::source::{Section, number};

/// The most cells of all fields together; a few lines of text could claim any number.
const MAX_TOTAL_CELLS: usize = 3 * MAX_CELLS;

const COMMON: [&str; 7] = ["id", "is", "name", "at", "heading", "surface", "section"];
const FIELD: [&str; 10] =
    ["kind", "lanes", "ranks", "pitch_along", "pitch_across", "stagger", "fall", "picture", "wish", "cells"];
const PLACEHOLDER: [&str; 8] = ["length", "width", "height", "hours", "who", "delay", "need", "port"];
/// How the fall crosses a picture, as it is written.
pub(super) const FALLS: [(&str, FallInPicture); 4] = [
    ("right", FallInPicture::Right),
    ("up", FallInPicture::Up),
    ("left", FallInPicture::Left),
    ("down", FallInPicture::Down),
];
pub(super) const FITS: [(&str, PictureFit); 3] =
    [("fill", PictureFit::Fill), ("within", PictureFit::Within), ("stretch", PictureFit::Stretch)];

/// Reads all items into the reader's plan.
pub(super) fn read(reader: &mut Reader<'_>) {
    let mut left = MAX_TOTAL_CELLS;
    let surfaces = reader.plan.surfaces.clone();
    let surfaces: Vec<_> = surfaces.iter().map(|x| (x.id.0, x.name.as_str())).collect();
    let sections = reader.plan.sections.clone();
    let sections: Vec<_> = sections.iter().map(|x| (x.id.0, x.name.as_str())).collect();
    for (s, id) in reader.with_ids("item", u32::MAX) {
        let Some(is_field) = s.needed_word("is", &[("field", true), ("placeholder", false)]) else {
            continue;
        };
        let own: &[&str] = if is_field { &FIELD } else { &PLACEHOLDER };
        s.known(&[&COMMON, own].concat());
        let body = if is_field {
            let Some(field) = field(reader, &s, &mut left) else { continue };
            Body::Field(field)
        } else {
            Body::Placeholder(placeholder(reader, &s))
        };
        let item = Item {
            id: ItemId(id),
            name: s.needed_text("name"),
            at: s.needed_point("at"),
            heading: s.angle("heading").unwrap_or(Angle::ZERO),
            surface: SurfaceId(refer(&s, "surface", &surfaces).unwrap_or(0)),
            section: refer(&s, "section", &sections).map(SectionId),
            body,
            built: None,
            gaps: Vec::new(),
        };
        reader.apply(s.at, &Command::PutItem { item: Box::new(item) });
    }
}

fn kind(reader: &mut Reader<'_>, s: &Section<'_>) -> KindId {
    if s.get("kind").is_some() {
        let kinds: Vec<_> =
            reader.plan.stock.kinds.iter().map(|k| (u32::from(k.id.0), k.name.as_str())).collect();
        return KindId(refer(s, "kind", &kinds).unwrap_or(0) as u16);
    }
    if reader.plan.stock.kinds.is_empty() {
        reader.apply(s.at, &Command::PutKind { kind: Kind::usual(KindId(1)) });
    }
    reader.plan.stock.kinds.first().map_or(KindId(1), |k| k.id)
}

fn field(reader: &mut Reader<'_>, s: &Section<'_>, left: &mut usize) -> Option<Field> {
    let kind = kind(reader, s);
    let frame = FieldFrame {
        lanes: s.needed_whole("lanes", MAX_CELLS as u32),
        ranks: s.needed_whole("ranks", MAX_CELLS as u32),
        pitch_along: s.needed_length("pitch_along"),
        pitch_across: s.needed_length("pitch_across"),
        stagger: s.length("stagger").unwrap_or(Length::ZERO),
        fall: s.word("fall", &FALLS).unwrap_or_default(),
        course: Default::default(),
    };
    let len = u64::from(frame.lanes) * u64::from(frame.ranks);
    let Some(rest) = usize::try_from(len).ok().filter(|&n| n <= MAX_CELLS).and_then(|n| left.checked_sub(n))
    else {
        let problem =
            format!("{} lanes x {} ranks are more cells than one plan may have", frame.lanes, frame.ranks);
        s.source.problem(
            s.at("lanes"),
            problem,
            "Make the field smaller, or split the event over several plans",
        );
        return None;
    };
    *left = rest;
    let (cells, by_hand) = match s.table("cells") {
        Some(table) => cells(reader, &table, &frame),
        None => (Cells::empty(frame.len()), CellMask::none(frame.len())),
    };
    let picture = s.table("picture").and_then(|p| picture_use(reader, &p));
    let wish = s.table("wish").map_or_else(MatchWish::default, |w| wish(reader, &w));
    Some(Field { kind, frame, picture, wish, cells, by_hand })
}

fn cells(reader: &Reader<'_>, s: &Section<'_>, frame: &FieldFrame) -> (Cells, CellMask) {
    s.known(&["lanes", "by_hand"]);
    let (lanes, ranks) = (frame.lanes as usize, frame.ranks as usize);
    let texts = s.list("lanes");
    let mut cells = Vec::with_capacity(frame.len());
    if texts.len() != lanes && !texts.is_empty() {
        let problem = format!("{} lanes are written here, but the field has {lanes}", texts.len());
        s.source.problem(
            s.at("lanes"),
            problem,
            "Write one text for each lane, or change the number of lanes",
        );
    }
    let codes = lanes::codes(&reader.plan.stock);
    for (lane, value) in texts.iter().take(lanes).enumerate() {
        let text = value.get_ref().as_str().unwrap_or("");
        if let Err((value_text, problem)) = lanes::read_lane(text, ranks, &codes, &mut cells) {
            let next = "Mend the lane; its runs must add up to the number of ranks";
            s.source.problem(value.span().start, format!("Lane {}: {value_text} {problem}", lane + 1), next);
        }
        cells.resize((lane + 1) * ranks, plan::EMPTY);
    }
    cells.resize(frame.len(), plan::EMPTY);
    let mut marks = vec![false; frame.len()];
    let mut next_lane = 0;
    for value in s.list("by_hand") {
        let text = value.get_ref().as_str().unwrap_or("");
        if lanes::read_marks(text, ranks, &mut marks, &mut next_lane).is_none() {
            let problem = format!("{} does not name cells of this field", s.source.quoted(value.span()));
            s.source.problem(
                value.span().start,
                problem,
                "Write \"lane 3: 5-9 12\", in rising order, counted from 1",
            );
        }
    }
    (cells.into(), marks.into())
}

fn picture_use(reader: &Reader<'_>, s: &Section<'_>) -> Option<PictureUse> {
    s.known(&["file", "fit", "contrast", "crop"]);
    let file = s.needed_text("file");
    let Some(&picture) = reader.files.get(&file) else {
        let problem = format!("\"{}\" is not a [[picture]] of this plan", crate::stock::shown(&file));
        s.source.problem(s.at("file"), problem, "Add it, or name one that is there");
        return None;
    };
    let (fit, contrast) = (s.word("fit", &FITS).unwrap_or_default(), s.number("contrast").unwrap_or(0.0));
    Some(PictureUse { picture, crop: crop(s), fit, contrast })
}

fn crop(s: &Section<'_>) -> Option<Crop> {
    let value = s.get("crop")?;
    let list = value.get_ref().as_array().map(|a| a.iter().map(number).collect::<Vec<_>>());
    if let Some([Some(left), Some(top), Some(right), Some(bottom)]) = list.as_deref() {
        return Some(Crop { left: *left, top: *top, right: *right, bottom: *bottom });
    }
    let problem = format!("crop = {} is not four numbers", s.source.quoted(value.span()));
    s.source.problem(
        value.span().start,
        problem,
        "Write left, top, right, bottom as shares, such as [0.0, 0.0, 1.0, 0.5]",
    );
    None
}

fn wish(reader: &Reader<'_>, s: &Section<'_>) -> MatchWish {
    s.known(&[
        "goal",
        "seen_as",
        "eye_distance",
        "eye_height",
        "eye_bearing",
        "seen_from",
        "fewer_changes",
        "weight",
        "allowed",
    ]);
    let usual = MatchWish::default();
    let seen_as = match s.word("seen_as", &[("laid", 0), ("above", 1), ("standing", 2), ("fallen", 3)]) {
        Some(1) => SeenAs::Above,
        Some(2) => SeenAs::Standing {
            eye: Eye {
                distance: s.needed_length("eye_distance"),
                height: s.needed_length("eye_height"),
                bearing: s.angle("eye_bearing").unwrap_or(Angle::ZERO),
            },
        },
        Some(3) => SeenAs::Fallen,
        _ => SeenAs::Laid,
    };
    MatchWish {
        goal: s.word("goal", &[("exact", MatchGoal::Exact), ("seen", MatchGoal::Seen)]).unwrap_or_default(),
        seen_as,
        seen_from: s.length("seen_from").unwrap_or(usual.seen_from),
        fewer_changes: s.number("fewer_changes").unwrap_or(usual.fewer_changes),
        weight: s.whole("weight", u32::MAX).unwrap_or(usual.weight),
        allowed: s.get("allowed").map(|_| allowed(reader, s)),
    }
}

fn allowed(reader: &Reader<'_>, s: &Section<'_>) -> Vec<ColourId> {
    let codes = s.list("allowed").iter();
    codes.filter_map(|v| colour_of(reader, s, v.get_ref().as_str().unwrap_or(""), v.span().start)).collect()
}

fn colour_of(reader: &Reader<'_>, s: &Section<'_>, code: &str, at: usize) -> Option<ColourId> {
    let found = reader.plan.stock.colour_by_code(code).map(|c| c.id);
    if found.is_none() {
        let problem = format!("\"{}\" is not a colour code of the stock", crate::stock::shown(code));
        s.source.problem(at, problem, "Add the colour to stock.csv, or name one that is there");
    }
    found
}

fn placeholder(reader: &mut Reader<'_>, s: &Section<'_>) -> Placeholder {
    Placeholder {
        length: s.needed_length("length"),
        width: s.needed_length("width"),
        height: s.needed_length("height"),
        needs: s.tables("need").iter().filter_map(|n| need(reader, n)).collect(),
        hours: s.duration("hours").unwrap_or(Duration::ZERO),
        who: s.text_or_empty("who"),
        ports: s.tables("port").iter().filter_map(port).collect(),
        delay: s.span("delay").map(|[least, most]| Delay { least, most }),
    }
}

fn need(reader: &mut Reader<'_>, s: &Section<'_>) -> Option<Need> {
    s.known(&["kind", "colour", "count"]);
    let kind = kind(reader, s);
    let (code, count) = (s.needed_text("colour"), s.needed_whole("count", u32::MAX));
    Some(Need { kind, colour: colour_of(reader, s, &code, s.at("colour"))?, count })
}

fn port(s: &Section<'_>) -> Option<Port> {
    s.known(&["name", "flow", "at", "direction", "height", "width"]);
    Some(Port {
        flow: s.needed_word("flow", &[("in", PortFlow::In), ("out", PortFlow::Out)])?,
        name: s.needed_text("name"),
        at: s.needed_point("at"),
        direction: s.angle("direction").unwrap_or(Angle::ZERO),
        height: s.length("height").unwrap_or(Length::ZERO),
        width: s.needed_length("width"),
    })
}
