//! The two faces that the sheets are set in, and how wide their signs are.
//!
//! Atkinson Hyperlegible Next (SIL Open Font License 1.1, see `fonts/LICENSE-OFL.txt`), weights 420 and 720,
//! with its tabular figures as the plain ones. Text is set sign by sign without kerning, so that the width
//! that the layout counts with is the width that is printed, on every machine.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// Regular or bold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// For reading.
    Regular,
    /// For what is called aloud and for headings.
    Bold,
}

/// Millimetres in a point: 1/72 inch.
pub(crate) const POINT: f64 = 25.4 / 72.0;
/// Height of a capital in ems, as the font says.
pub(crate) const CAPITAL: f64 = 0.668;
/// What stands for a sign that the font does not have.
pub(crate) const MISSING: char = '?';
/// The family as style sheets name it.
pub(crate) const FAMILY: &str = "Atkinson Hyperlegible Next";

/// Glyph number and advance in ems of one sign.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sign {
    pub(crate) glyph: u32,
    pub(crate) advance: f64,
}

impl Face {
    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
            Self::Bold => include_bytes!("../fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
        }
    }

    fn signs(self) -> &'static BTreeMap<char, Sign> {
        static REGULAR: OnceLock<BTreeMap<char, Sign>> = OnceLock::new();
        static BOLD: OnceLock<BTreeMap<char, Sign>> = OnceLock::new();
        let cell = match self {
            Self::Regular => &REGULAR,
            Self::Bold => &BOLD,
        };
        cell.get_or_init(|| load(self.bytes()))
    }

    /// The sign for `c`, if the face has it and it can stand alone.
    pub(crate) fn sign(self, c: char) -> Option<Sign> {
        self.signs().get(&c).copied()
    }

    /// Width of `text` in mm at `size` points.
    pub(crate) fn width(self, text: &str, size: f64) -> f64 {
        let ems: f64 = text.chars().filter_map(|c| self.sign(c)).map(|s| s.advance).sum();
        ems * size * POINT
    }
}

fn load(bytes: &[u8]) -> BTreeMap<char, Sign> {
    let font = FontRef::new(bytes).expect("the font is part of the program and was tested");
    let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
    let em = f64::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
    let signs = font.charmap().mappings().filter_map(|(code, glyph)| {
        let c = char::from_u32(code)?;
        let advance = f64::from(metrics.advance_width(glyph)?) / em;
        // Combining marks have no width of their own and would print over their neighbour.
        (advance > 0.0 && !c.is_control()).then_some((c, Sign { glyph: glyph.to_u32(), advance }))
    });
    signs.collect()
}

/// `text` as it can be printed: one line, every sign that the font lacks replaced by a visible one.
pub(crate) fn printable(text: &str) -> String {
    let one_line = text.chars().map(|c| if c.is_whitespace() && c != '\u{a0}' { ' ' } else { c });
    let known = |c: char| Face::Regular.sign(c).is_some() && Face::Bold.sign(c).is_some();
    one_line.map(|c| if known(c) { c } else { MISSING }).collect()
}

/// `text` cut to `width` mm, with an ellipsis where something was cut.
pub(crate) fn fit(text: &str, face: Face, size: f64, width: f64) -> String {
    if face.width(text, size) <= width {
        return text.to_owned();
    }
    let mut out = String::new();
    let mut used = face.width("…", size);
    for c in text.chars() {
        used += face.sign(c).map_or(0.0, |s| s.advance) * size * POINT;
        if used > width {
            break;
        }
        out.push(c);
    }
    format!("{}…", out.trim_end())
}

/// `text` broken at spaces into lines of at most `width` mm; a longer word is cut.
pub(crate) fn wrap(text: &str, face: Face, size: f64, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let longer = lines.last().map(|l| format!("{l} {word}"));
        match longer.filter(|l| face.width(l, size) <= width) {
            Some(line) => *lines.last_mut().expect("there is a last line to be longer than") = line,
            None => lines.push(fit(word, face, size, width)),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_all_of_one_width() {
        for face in [Face::Regular, Face::Bold] {
            let widths: Vec<f64> = ('0'..='9').map(|c| face.sign(c).unwrap().advance).collect();
            assert!(widths.iter().all(|w| *w == widths[0]), "{face:?} {widths:?}");
        }
    }

    #[test]
    fn signs_that_the_font_lacks_are_seen_and_do_not_break_the_line() {
        assert_eq!(printable("Mühle 🌊 河\nb\u{301}"), "Mühle ? ? b?");
        assert_eq!(printable("\u{202e}abc"), "?abc");
    }

    #[test]
    fn wrapped_lines_fit_and_keep_all_words() {
        let text = "The fall runs from your left to your right and so on";
        let lines = wrap(text, Face::Regular, 12.0, 40.0);
        assert!(lines.iter().all(|l| Face::Regular.width(l, 12.0) <= 40.0));
        assert_eq!(lines.join(" "), text);
    }
}
