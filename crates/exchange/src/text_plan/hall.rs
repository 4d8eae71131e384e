//! The hall as text: what was drawn, and what was measured on the spot.

use plan::{Command, Grip, Hall, HallPart, HallPartKind, Mark, Tape, TimedLine};
use units::Length;

use super::quantity::{length, seconds};
use super::read::{Reader, colour};
use super::source::{Section, number};
use super::write::{Out, point, quote, row, word};

const KEYS: [&str; 9] =
    ["name", "floor", "outline", "floor_grip", "piece_grip", "part", "timed", "mark", "tape"];
const PARTS: [(&str, HallPartKind); 6] = [
    ("pillar", HallPartKind::Pillar),
    ("door", HallPartKind::Door),
    ("exit", HallPartKind::Exit),
    ("aisle", HallPartKind::Aisle),
    ("table", HallPartKind::Table),
    ("overhead", HallPartKind::Overhead),
];

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>) {
    s.known(&KEYS);
    let usual = Grip::default();
    let hall = Hall {
        name: s.text_or_empty("name"),
        floor: colour(s, "floor").unwrap_or(Hall::default().floor),
        outline: s.points("outline"),
        parts: s.tables("part").iter().filter_map(part).collect(),
        grip: Grip {
            floor: range(s, "floor_grip").unwrap_or(usual.floor),
            piece: range(s, "piece_grip").unwrap_or(usual.piece),
        },
        timed: s.tables("timed").iter().map(timed).collect(),
        marks: s.tables("mark").iter().map(mark).collect(),
        tapes: s.tables("tape").iter().filter_map(tape).collect(),
    };
    reader.apply(s.at, &Command::SetHall { hall });
}

fn part(s: &Section<'_>) -> Option<HallPart> {
    s.known(&["is", "name", "outline", "height"]);
    let is = s.needed_word("is", &PARTS);
    let (name, outline) = (s.text_or_empty("name"), s.points("outline"));
    Some(HallPart { name, is: is?, outline, height: s.length("height").unwrap_or(Length::ZERO) })
}

/// Least and most, without a unit.
fn range(s: &Section<'_>, key: &str) -> Option<(f64, f64)> {
    let value = s.get(key)?;
    let list = value.get_ref().as_array().map(|a| a.iter().map(number).collect::<Vec<_>>());
    if let Some([Some(least), Some(most)]) = list.as_deref() {
        return Some((*least, *most));
    }
    let problem = format!("{key} = {} is not two numbers", s.source.quoted(value.span()));
    s.source.problem(value.span().start, problem, "Write the least and the most, such as [0.15, 0.3]");
    None
}

fn timed(s: &Section<'_>) -> TimedLine {
    s.known(&["pieces", "gap", "took"]);
    TimedLine {
        pieces: s.needed_whole("pieces", u32::MAX),
        gap: s.needed_length("gap"),
        took: s.needed_duration("took"),
    }
}

fn mark(s: &Section<'_>) -> Mark {
    s.known(&["name", "at"]);
    Mark { name: s.needed_text("name"), at: s.needed_point("at") }
}

/// Nothing where the length cannot be read: that is told once, and not again as a length of 0.
fn tape(s: &Section<'_>) -> Option<Tape> {
    s.known(&["from", "to", "length"]);
    let (from, to) = (s.needed_text("from"), s.needed_text("to"));
    Some(Tape { from, to, length: s.told_length("length")? })
}

impl Out<'_> {
    pub(super) fn hall(&mut self, hall: &Hall) {
        self.head("[hall]");
        self.key("name", quote(&hall.name));
        self.key("floor", quote(&hall.floor.to_string()));
        let usual = Grip::default();
        for (key, own, usual) in
            [("floor_grip", hall.grip.floor, usual.floor), ("piece_grip", hall.grip.piece, usual.piece)]
        {
            if own != usual {
                self.key(key, format!("[{:?}, {:?}]", own.0, own.1));
            }
        }
        self.points("outline", &hall.outline);
        self.rows("timed", &hall.timed.iter().map(timed_row).collect::<Vec<_>>());
        let mark = |m: &Mark| row(&[("name", quote(&m.name)), ("at", point(m.at))]);
        self.rows("mark", &hall.marks.iter().map(mark).collect::<Vec<_>>());
        let tape =
            |t: &Tape| row(&[("from", quote(&t.from)), ("to", quote(&t.to)), ("length", length(t.length))]);
        self.rows("tape", &hall.tapes.iter().map(tape).collect::<Vec<_>>());
        for part in &hall.parts {
            self.head("[[hall.part]]");
            self.key("is", word(&PARTS, &part.is));
            self.text_unless_empty("name", &part.name);
            if part.height != Length::ZERO {
                self.key("height", length(part.height));
            }
            self.points("outline", &part.outline);
        }
    }
}

fn timed_row(t: &TimedLine) -> String {
    row(&[("pieces", t.pieces.to_string()), ("gap", length(t.gap)), ("took", seconds(t.took))])
}
