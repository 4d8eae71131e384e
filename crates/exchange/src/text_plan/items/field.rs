//! Fields as text: grid, picture, wish and cells.

use std::fmt::Write;

use geometry::FallInPicture;
use plan::{
    CellMask, Cells, ColourId, Crop, Eye, Field, FieldFrame, LaneCourse, MAX_CELLS, MatchGoal, MatchWish,
    PictureFit, PictureUse, SeenAs,
};
use units::{Angle, Length};

use super::{Names, colour_of, kind};
use crate::text_plan::lanes;
use crate::text_plan::quantity::{angle, length};
use crate::text_plan::read::Reader;
use crate::text_plan::source::{Section, number};
use crate::text_plan::write::{Out, quote, word};

pub(super) const KEYS: [&str; 11] = [
    "kind",
    "lanes",
    "ranks",
    "pitch_along",
    "pitch_across",
    "stagger",
    "fall",
    "course",
    "picture",
    "wish",
    "cells",
];
/// How the fall crosses a picture, as it is written.
const FALLS: [(&str, FallInPicture); 4] = [
    ("right", FallInPicture::Right),
    ("up", FallInPicture::Up),
    ("left", FallInPicture::Left),
    ("down", FallInPicture::Down),
];
const COURSES: [(&str, LaneCourse); 3] =
    [("together", LaneCourse::Together), ("opposed", LaneCourse::Opposed), ("in-turn", LaneCourse::InTurn)];
const FITS: [(&str, PictureFit); 3] =
    [("fill", PictureFit::Fill), ("within", PictureFit::Within), ("stretch", PictureFit::Stretch)];

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>, names: &mut Names<'_>) -> Option<Field> {
    let kind = kind(reader, s);
    let frame = FieldFrame {
        lanes: s.needed_whole("lanes", MAX_CELLS as u32),
        ranks: s.needed_whole("ranks", MAX_CELLS as u32),
        pitch_along: s.needed_length("pitch_along"),
        pitch_across: s.needed_length("pitch_across"),
        stagger: s.length("stagger").unwrap_or(Length::ZERO),
        fall: s.word("fall", &FALLS).unwrap_or_default(),
        course: s.word("course", &COURSES).unwrap_or_default(),
    };
    let len = u64::from(frame.lanes) * u64::from(frame.ranks);
    let Some(rest) =
        usize::try_from(len).ok().filter(|&n| n <= MAX_CELLS).and_then(|n| names.cells_left.checked_sub(n))
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
    names.cells_left = rest;
    let (cells, by_hand) = match s.table("cells") {
        Some(table) => cells(names, &table, &frame),
        None => (Cells::empty(frame.len()), CellMask::none(frame.len())),
    };
    let picture = s.table("picture").and_then(|p| picture_use(reader, &p));
    let wish = s.table("wish").map_or_else(MatchWish::default, |w| wish(names, &w));
    Some(Field { kind, frame, picture, wish, cells, by_hand })
}

fn cells(names: &Names<'_>, s: &Section<'_>, frame: &FieldFrame) -> (Cells, CellMask) {
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
    for (lane, value) in texts.iter().take(lanes).enumerate() {
        let text = value.get_ref().as_str().unwrap_or("");
        if let Err((value_text, problem)) = lanes::read_lane(text, ranks, &names.codes, &mut cells) {
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

fn wish(names: &Names<'_>, s: &Section<'_>) -> MatchWish {
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
        allowed: s.get("allowed").map(|_| allowed(names, s)),
    }
}

fn allowed(names: &Names<'_>, s: &Section<'_>) -> Vec<ColourId> {
    let codes = s.list("allowed").iter();
    codes.filter_map(|v| colour_of(s, names, v.get_ref().as_str().unwrap_or(""), v.span().start)).collect()
}

impl Out<'_> {
    pub(in crate::text_plan) fn field(&mut self, field: &Field) {
        let f = &field.frame;
        self.kind(field.kind);
        self.key("lanes", f.lanes);
        self.key("ranks", f.ranks);
        self.key("pitch_along", length(f.pitch_along));
        self.key("pitch_across", length(f.pitch_across));
        if f.stagger != Length::ZERO {
            self.key("stagger", length(f.stagger));
        }
        if f.fall != FallInPicture::default() {
            self.key("fall", word(&FALLS, &f.fall));
        }
        if !f.course.is_usual() {
            self.key("course", word(&COURSES, &f.course));
        }
        self.picture(field);
        if field.wish != MatchWish::default() {
            self.wish(&field.wish);
        }
        self.cells(field);
    }

    fn picture(&mut self, field: &Field) {
        let Some(used) = &field.picture else { return };
        let file =
            self.plan.pictures.iter().position(|p| p.id == used.picture).map_or("", |i| &self.files[i]);
        self.head("[item.picture]");
        self.key("file", quote(file));
        if let Some(c) = used.crop {
            self.key("crop", format!("[{:?}, {:?}, {:?}, {:?}]", c.left, c.top, c.right, c.bottom));
        }
        if used.fit != PictureFit::default() {
            self.key("fit", word(&FITS, &used.fit));
        }
        if used.contrast != 0.0 {
            self.key("contrast", format!("{:?}", used.contrast));
        }
    }

    fn wish(&mut self, wish: &MatchWish) {
        let usual = MatchWish::default();
        self.head("[item.wish]");
        self.key("goal", if wish.goal == MatchGoal::Exact { "\"exact\"" } else { "\"seen\"" });
        match wish.seen_as {
            SeenAs::Laid => {}
            SeenAs::Above => self.key("seen_as", "\"above\""),
            SeenAs::Fallen => self.key("seen_as", "\"fallen\""),
            SeenAs::Standing { eye } => {
                self.key("seen_as", "\"standing\"");
                self.key("eye_distance", length(eye.distance));
                self.key("eye_height", length(eye.height));
                self.key("eye_bearing", angle(eye.bearing));
            }
        }
        self.key("seen_from", length(wish.seen_from));
        if wish.fewer_changes != usual.fewer_changes {
            self.key("fewer_changes", format!("{:?}", wish.fewer_changes));
        }
        if wish.weight != usual.weight {
            self.key("weight", wish.weight);
        }
        if let Some(allowed) = &wish.allowed {
            let codes: Vec<String> = allowed.iter().map(|c| self.code(*c)).collect();
            self.key("allowed", format!("[{}]", codes.join(", ")));
        }
    }

    fn cells(&mut self, field: &Field) {
        let ranks = field.frame.ranks as usize;
        let by_hand = lanes::write_marks(field.by_hand.as_slice(), ranks);
        let all_empty = field.cells.as_slice().iter().all(|&c| c == plan::EMPTY);
        if all_empty && by_hand.is_empty() {
            return;
        }
        self.head("[item.cells]");
        if !all_empty {
            self.text.push_str("lanes = [\n");
            for lane in field.cells.as_slice().chunks(ranks.max(1)) {
                let text = lanes::write_lane(lane, &self.plan.stock);
                let _ = writeln!(self.text, "  \"{text}\",");
            }
            self.text.push_str("]\n");
        }
        if !by_hand.is_empty() {
            let lines: Vec<String> = by_hand.iter().map(|t| format!("  \"{t}\",\n")).collect();
            self.key("by_hand", format!("[\n{}]", lines.concat()));
        }
    }
}
