//! Feeds as text: the field, the way, and those of its distances that are not the usual ones.

use plan::{Enter, Feed, FeedWay, Hand};
use units::{Angle, Length};

use super::path::HANDS;
use super::{Names, colour_of, kind};
use crate::text_plan::quantity::{angle, length};
use crate::text_plan::read::Reader;
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, quote, word};

pub(super) const KEYS: [&str; 11] =
    ["of", "way", "kind", "colour", "pitch", "side", "enter", "turn", "gap", "poke", "clear"];
const ENTERS: [(&str, Enter); 3] =
    [("middle", Enter::Middle), ("right", Enter::Right), ("left", Enter::Left)];
/// The ways as they are usually built; the distances are those that were measured to work.
const WAYS: [(&str, FeedWay); 6] = [
    ("brick", FeedWay::Brick { enter: Enter::Middle }),
    (
        "beside",
        FeedWay::Beside {
            side: Hand::Right,
            turn: Angle::deg(45.0),
            gap: Length::mm(16.0),
            poke: Length::mm(6.0),
        },
    ),
    ("angled", FeedWay::Angled { side: Hand::Right, turn: Angle::deg(45.0), poke: Length::mm(6.0) }),
    ("in-line", FeedWay::InLine { side: Hand::Right, turn: Angle::deg(45.0), clear: Length::mm(3.0) }),
    ("echelon", FeedWay::Echelon { side: Hand::Right, turn: Angle::deg(50.0) }),
    ("half-shift", FeedWay::HalfShift { side: Hand::Right }),
];
/// Centre to centre unless it is said: a usual comb.
const PITCH: Length = Length::mm(15.0);

/// What a way consists of, whichever it is.
#[derive(Default, Clone, Copy, PartialEq)]
struct Parts {
    enter: Option<Enter>,
    side: Option<Hand>,
    turn: Option<Angle>,
    gap: Option<Length>,
    poke: Option<Length>,
    clear: Option<Length>,
}

fn parts(way: &FeedWay) -> Parts {
    let none = Parts::default();
    match *way {
        FeedWay::Brick { enter } => Parts { enter: Some(enter), ..none },
        FeedWay::Beside { side, turn, gap, poke } => {
            Parts { side: Some(side), turn: Some(turn), gap: Some(gap), poke: Some(poke), ..none }
        }
        FeedWay::Angled { side, turn, poke } => {
            Parts { side: Some(side), turn: Some(turn), poke: Some(poke), ..none }
        }
        FeedWay::InLine { side, turn, clear } => {
            Parts { side: Some(side), turn: Some(turn), clear: Some(clear), ..none }
        }
        FeedWay::Echelon { side, turn } => Parts { side: Some(side), turn: Some(turn), ..none },
        FeedWay::HalfShift { side } => Parts { side: Some(side), ..none },
    }
}

/// The way with those of its parts that the text gives.
fn with(mut way: FeedWay, given: &Parts) -> FeedWay {
    let (side_now, turn_now) = (given.side, given.turn);
    match &mut way {
        FeedWay::Brick { enter } => *enter = given.enter.unwrap_or(*enter),
        FeedWay::Beside { side, turn, gap, poke } => {
            (*side, *turn) = (side_now.unwrap_or(*side), turn_now.unwrap_or(*turn));
            (*gap, *poke) = (given.gap.unwrap_or(*gap), given.poke.unwrap_or(*poke));
        }
        FeedWay::Angled { side, turn, poke } => {
            (*side, *turn) = (side_now.unwrap_or(*side), turn_now.unwrap_or(*turn));
            *poke = given.poke.unwrap_or(*poke);
        }
        FeedWay::InLine { side, turn, clear } => {
            (*side, *turn) = (side_now.unwrap_or(*side), turn_now.unwrap_or(*turn));
            *clear = given.clear.unwrap_or(*clear);
        }
        FeedWay::Echelon { side, turn } => {
            (*side, *turn) = (side_now.unwrap_or(*side), turn_now.unwrap_or(*turn));
        }
        FeedWay::HalfShift { side } => *side = side_now.unwrap_or(*side),
    }
    way
}

fn usual(way: &FeedWay) -> (&'static str, FeedWay) {
    let same = |w: &&(&str, FeedWay)| std::mem::discriminant(&w.1) == std::mem::discriminant(way);
    WAYS.iter().find(same).copied().unwrap_or(WAYS[0])
}

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>, names: &Names<'_>) -> Option<Feed> {
    let kind = kind(reader, s);
    let code = s.needed_text("colour");
    let colour = colour_of(s, names, &code, s.at("colour"));
    let (of, way) = (names.links.item(s, "of"), s.needed_word("way", &WAYS));
    let given = Parts {
        enter: s.word("enter", &ENTERS),
        side: s.word("side", &HANDS),
        turn: s.angle("turn"),
        gap: s.length("gap"),
        poke: s.length("poke"),
        clear: s.length("clear"),
    };
    let way = way?;
    let kept: Vec<&str> = keys(&parts(&way));
    s.without("this way of feeding", &["enter", "side", "turn", "gap", "poke", "clear"], &kept);
    let pitch = s.length("pitch").unwrap_or(PITCH);
    Some(Feed { of: of?, way: with(way, &given), kind, colour: colour?, pitch })
}

fn keys(parts: &Parts) -> Vec<&'static str> {
    let has = [
        ("enter", parts.enter.is_some()),
        ("side", parts.side.is_some()),
        ("turn", parts.turn.is_some()),
        ("gap", parts.gap.is_some()),
        ("poke", parts.poke.is_some()),
        ("clear", parts.clear.is_some()),
    ];
    has.iter().filter(|h| h.1).map(|h| h.0).collect()
}

impl Out<'_> {
    pub(in crate::text_plan) fn feed(&mut self, f: &Feed) {
        let (name, usual) = usual(&f.way);
        let (own, usual) = (parts(&f.way), parts(&usual));
        self.key("of", self.item_word(f.of));
        self.key("way", quote(name));
        if let Some(enter) = own.enter.filter(|_| own.enter != usual.enter) {
            self.key("enter", word(&ENTERS, &enter));
        }
        if let Some(side) = own.side {
            self.key("side", word(&HANDS, &side));
        }
        if let Some(turn) = own.turn.filter(|_| own.turn != usual.turn) {
            self.key("turn", angle(turn));
        }
        for (key, own, usual) in
            [("gap", own.gap, usual.gap), ("poke", own.poke, usual.poke), ("clear", own.clear, usual.clear)]
        {
            if let Some(value) = own.filter(|_| own != usual) {
                self.key(key, length(value));
            }
        }
        self.kind(f.kind);
        self.key("colour", self.code(f.colour));
        if f.pitch != PITCH {
            self.key("pitch", length(f.pitch));
        }
    }
}
