//! The words of the sheets, one table for each language.
//!
//! `lang/en.txt` and `lang/de.txt` hold `key = text`, one a line; `{name}` in a text is filled in.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::options::{Language, Measure, Start, Unit};
use crate::seat::{Compass, FallSeen, Seat};

/// A language's table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Words {
    table: &'static BTreeMap<&'static str, &'static str>,
    language: Language,
}

impl Words {
    pub(crate) fn of(language: Language) -> Self {
        static ENGLISH: OnceLock<BTreeMap<&str, &str>> = OnceLock::new();
        static GERMAN: OnceLock<BTreeMap<&str, &str>> = OnceLock::new();
        let table = match language {
            Language::English => ENGLISH.get_or_init(|| table(include_str!("../lang/en.txt"))),
            Language::German => GERMAN.get_or_init(|| table(include_str!("../lang/de.txt"))),
        };
        Self { table, language }
    }

    /// The text of a key. A key without a text shows itself; a test keeps that from happening.
    pub(crate) fn get(&self, key: &'static str) -> &'static str {
        self.table.get(key).copied().unwrap_or(key)
    }

    /// The text of a key with its `{names}` filled in.
    pub(crate) fn fill(&self, key: &'static str, parts: &[(&str, &str)]) -> String {
        let mut rest = self.get(key);
        let mut out = String::with_capacity(rest.len() + 16);
        while let Some((before, after)) = rest.split_once('{') {
            out.push_str(before);
            let (name, tail) = after.split_once('}').unwrap_or((after, ""));
            out.push_str(parts.iter().find(|(n, _)| *n == name).map_or("", |(_, v)| v));
            rest = tail;
        }
        out.push_str(rest);
        out
    }

    /// The language tag for the document (BCP 47).
    pub(crate) fn tag(&self) -> &'static str {
        match self.language {
            Language::English => "en-GB",
            Language::German => "de",
        }
    }

    /// A whole number with its thousands grouped by a no-break space.
    pub(crate) fn whole(&self, n: u64) -> String {
        let digits = n.to_string();
        let mut out = String::new();
        for (i, c) in digits.chars().enumerate() {
            if i > 0 && (digits.len() - i).is_multiple_of(3) {
                out.push('\u{a0}');
            }
            out.push(c);
        }
        out
    }

    /// A number with `places` decimals and the language's decimal sign.
    pub(crate) fn decimal(&self, x: f64, places: usize) -> String {
        let text = format!("{x:.places$}");
        match self.language {
            Language::English => text,
            Language::German => text.replace('.', ","),
        }
    }

    /// A short length, in millimetres or inches.
    pub(crate) fn small(&self, mm: f64, measure: Measure) -> String {
        match measure {
            Measure::Metric => format!("{}\u{a0}mm", self.trimmed(mm, 2)),
            Measure::Imperial => format!("{}\u{a0}in", self.decimal(mm / 25.4, 2)),
        }
    }

    /// A length of a metre or so, in metres or feet.
    pub(crate) fn large(&self, mm: f64, measure: Measure) -> String {
        match measure {
            Measure::Metric => format!("{}\u{a0}m", self.decimal(mm / 1000.0, 2)),
            Measure::Imperial => format!("{}\u{a0}ft", self.decimal(mm / 304.8, 1)),
        }
    }

    fn trimmed(&self, x: f64, places: usize) -> String {
        let text = format!("{x:.places$}");
        let text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
        match self.language {
            Language::English => text,
            Language::German => text.replace('.', ","),
        }
    }

    pub(crate) fn compass(&self, c: Compass) -> &'static str {
        self.get(match c {
            Compass::North => "north",
            Compass::NorthEast => "north-east",
            Compass::East => "east",
            Compass::SouthEast => "south-east",
            Compass::South => "south",
            Compass::SouthWest => "south-west",
            Compass::West => "west",
            Compass::NorthWest => "north-west",
        })
    }

    fn at(&self, c: Compass) -> &'static str {
        self.get(match c {
            Compass::North => "at-north",
            Compass::NorthEast => "at-north-east",
            Compass::East => "at-east",
            Compass::SouthEast => "at-south-east",
            Compass::South => "at-south",
            Compass::SouthWest => "at-south-west",
            Compass::West => "at-west",
            Compass::NorthWest => "at-north-west",
        })
    }

    /// "You sit south of the field, facing north."
    pub(crate) fn seat(&self, seat: &Seat) -> String {
        self.fill("seat", &[("sits", self.at(seat.sits())), ("looks", self.compass(seat.looks()))])
    }

    /// "Start at the far left"
    pub(crate) fn start(&self, start: Start) -> &'static str {
        self.get(match start {
            Start::FarLeft => "start-far-left",
            Start::FarRight => "start-far-right",
            Start::NearLeft => "start-near-left",
            Start::NearRight => "start-near-right",
        })
    }

    /// "The fall runs from your left to your right."
    pub(crate) fn fall(&self, fall: FallSeen) -> &'static str {
        self.get(match fall {
            FallSeen::LeftToRight => "fall-left-right",
            FallSeen::RightToLeft => "fall-right-left",
            FallSeen::Away => "fall-away",
            FallSeen::Towards => "fall-towards",
        })
    }

    /// "lanes 24 to 1", with the first and the last number.
    pub(crate) fn span(&self, unit: Unit, first: u32, last: u32) -> String {
        let key = match (unit, first == last) {
            (Unit::Lane, false) => "lanes-span",
            (Unit::Lane, true) => "lane-span",
            (Unit::Rank, false) => "ranks-span",
            (Unit::Rank, true) => "rank-span",
        };
        self.fill(key, &[("first", &first.to_string()), ("last", &last.to_string())])
    }
}

fn table(text: &'static str) -> BTreeMap<&'static str, &'static str> {
    let lines = text.lines().filter(|l| !l.starts_with('#'));
    lines.filter_map(|l| l.split_once('=')).map(|(k, v)| (k.trim(), v.trim())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(language: Language) -> Vec<&'static str> {
        Words::of(language).table.keys().copied().collect()
    }

    #[test]
    fn both_languages_have_the_same_keys_and_slots() {
        assert_eq!(keys(Language::English), keys(Language::German));
        let slots = |text: &str| {
            let mut slots: Vec<String> =
                text.split('{').skip(1).filter_map(|p| p.split_once('}')).map(|p| p.0.to_owned()).collect();
            slots.sort();
            slots
        };
        for key in keys(Language::English) {
            let [en, de] = [Language::English, Language::German].map(|l| Words::of(l).get(key));
            assert!(!en.is_empty() && !de.is_empty(), "{key}");
            assert_eq!(slots(en), slots(de), "{key}");
            assert_eq!(crate::font::printable(de), de, "{key}: a sign that the font lacks");
        }
    }

    #[test]
    fn every_key_is_used_and_every_used_key_exists() {
        let mut source = String::new();
        let mut folders = vec![std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    source += &std::fs::read_to_string(path).unwrap();
                }
            }
        }
        for key in keys(Language::English) {
            assert!(source.contains(&format!("\"{key}\"")), "{key} is never used");
        }
        for call in ["get(\"", "fill(\"", "fill(\n            \"", "fill(\n                \""] {
            for used in source.split(call).skip(1) {
                let key = used.split('"').next().unwrap();
                let known = keys(Language::English).contains(&key) || key.contains('{');
                assert!(known, "{key} has no text");
            }
        }
    }

    #[test]
    fn numbers_follow_the_language() {
        let (en, de) = (Words::of(Language::English), Words::of(Language::German));
        assert_eq!(en.whole(1_234_567), "1\u{a0}234\u{a0}567");
        assert_eq!(en.small(7.5, Measure::Metric), "7.5\u{a0}mm");
        assert_eq!(de.small(7.5, Measure::Metric), "7,5\u{a0}mm");
        assert_eq!(en.small(25.4, Measure::Imperial), "1.00\u{a0}in");
        assert_eq!(de.large(1500.0, Measure::Metric), "1,50\u{a0}m");
    }
}
