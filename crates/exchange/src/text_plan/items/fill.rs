//! Filled areas as text.

use plan::{Fill, Filling};
use units::Angle;

use super::{Names, kind, line, pattern};
use crate::text_plan::quantity::{angle, length};
use crate::text_plan::read::Reader;
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, quote};

pub(super) const KEYS: [&str; 10] =
    ["kind", "with", "course", "swing", "ring", "pitch", "gap", "placed", "colours", "outline"];

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>, names: &Names<'_>) -> Option<Fill> {
    let (kind, spacing, colours) = (kind(reader, s), line::spacing(s), pattern::read(s, names));
    let with = s.needed_word("with", &[("waves", 0), ("spiral", 1), ("curls", 2)]);
    let course = s.angle("course").unwrap_or(Angle::ZERO);
    let with = match with? {
        0 => Filling::Waves { course },
        1 => Filling::Spiral,
        _ => Filling::Curls { course, swing: s.needed_length("swing") },
    };
    // Keys of the other ways would be lost without a word.
    let kept: &[&str] = match with {
        Filling::Waves { .. } => &["course"],
        Filling::Spiral => &[],
        Filling::Curls { .. } => &["course", "swing"],
    };
    s.without("this way of filling", &["course", "swing"], kept);
    let fill = Fill {
        kind,
        outline: s.points("outline"),
        with,
        ring: s.needed_length("ring"),
        spacing: spacing?,
        placed: line::placed(s),
        colours: colours?,
    };
    Some(fill)
}

impl Out<'_> {
    pub(in crate::text_plan) fn fill(&mut self, f: &Fill) {
        self.kind(f.kind);
        let (word, course, swing) = match f.with {
            Filling::Waves { course } => ("waves", course, None),
            Filling::Spiral => ("spiral", Angle::ZERO, None),
            Filling::Curls { course, swing } => ("curls", course, Some(swing)),
        };
        self.key("with", quote(word));
        if course != Angle::ZERO {
            self.key("course", angle(course));
        }
        if let Some(swing) = swing {
            self.key("swing", length(swing));
        }
        self.key("ring", length(f.ring));
        self.spacing(f.spacing, f.placed);
        self.pattern(&f.colours);
        self.points("outline", &f.outline);
    }
}
