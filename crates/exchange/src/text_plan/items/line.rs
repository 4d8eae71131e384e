//! Lines as text.

use plan::{Line, Placing, Spacing};
use units::Length;

use super::{Names, kind, path, pattern};
use crate::text_plan::quantity::length;
use crate::text_plan::read::Reader;
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, word};

pub(super) const KEYS: [&str; 11] =
    ["kind", "lanes", "pitch_across", "pitch", "gap", "placed", "from", "to", "colours", "leg", "bridge"];
const PLACED: [(&str, Placing); 2] = [("comb", Placing::Comb), ("hand", Placing::Hand)];
/// Centre to centre between lanes unless it is said: 2 mm between usual pieces.
const ACROSS: Length = Length::mm(26.0);

pub(super) fn read(reader: &mut Reader<'_>, s: &Section<'_>, names: &Names<'_>) -> Option<Line> {
    let (kind, spacing, colours) = (kind(reader, s), spacing(s), pattern::read(s, names));
    let line = Line {
        kind,
        lanes: s.whole("lanes", u32::MAX).unwrap_or(1),
        pitch_across: s.length("pitch_across").unwrap_or(ACROSS),
        spacing: spacing?,
        placed: placed(s),
        path: path::legs(s),
        from: names.links.link(s, "from"),
        to: names.links.link(s, "to"),
        colours: colours?,
        bridges: path::bridges(s),
    };
    Some(line)
}

/// A pitch or a clear gap, one of the two.
pub(super) fn spacing(s: &Section<'_>) -> Option<Spacing> {
    match s.one_of(&["pitch", "gap"])? {
        "pitch" => Some(Spacing::Pitch { pitch: s.length("pitch")? }),
        _ => Some(Spacing::Gap { gap: s.length("gap")? }),
    }
}

pub(super) fn placed(s: &Section<'_>) -> Placing {
    s.word("placed", &PLACED).unwrap_or_default()
}

impl Out<'_> {
    pub(in crate::text_plan) fn line(&mut self, l: &Line) {
        self.kind(l.kind);
        if l.lanes != 1 {
            self.key("lanes", l.lanes);
        }
        if l.pitch_across != ACROSS {
            self.key("pitch_across", length(l.pitch_across));
        }
        self.spacing(l.spacing, l.placed);
        if let Some(link) = &l.from {
            self.link("from", link);
        }
        if let Some(link) = &l.to {
            self.link("to", link);
        }
        self.pattern(&l.colours);
        self.legs(&l.path);
        self.bridges(&l.bridges);
    }

    pub(super) fn spacing(&mut self, spacing: Spacing, placed: Placing) {
        match spacing {
            Spacing::Pitch { pitch } => self.key("pitch", length(pitch)),
            Spacing::Gap { gap } => self.key("gap", length(gap)),
        }
        if placed != Placing::default() {
            self.key("placed", word(&PLACED, &placed));
        }
    }
}
