//! Sayings, and what is said with them.

use std::cmp::Ordering;
use std::fmt;

use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::arg::Arg;

/// A saying with `N` holes, as it stands in the translation files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Saying<const N: usize> {
    key: &'static str,
    one: Option<&'static str>,
    english: &'static str,
    holes: [&'static str; N],
}

/// Something that is said: the key of its words, and what stands in their holes.
///
/// It displays as English. Two of them are ordered by key, then by what stands in the holes, in their order.
#[derive(Debug, Clone)]
pub struct Said {
    key: &'static str,
    one: Option<&'static str>,
    english: &'static str,
    args: Vec<(&'static str, Arg)>,
}

impl<const N: usize> Saying<N> {
    /// One with a single text.
    pub const fn plain(key: &'static str, english: &'static str, holes: [&'static str; N]) -> Self {
        Self { key, one: None, english, holes }
    }

    /// One with two texts, under the key and `.one` or `.many`, by the count in the hole `n`.
    pub const fn counted(
        key: &'static str,
        (one, many): (&'static str, &'static str),
        holes: [&'static str; N],
    ) -> Self {
        Self { key, one: Some(one), english: many, holes }
    }

    /// What is said when these stand in its holes. [`say!`](crate::say) checks while compiling that they fit.
    pub fn with(self, args: [(&'static str, Arg); N]) -> Said {
        let said = Said { key: self.key, one: self.one, english: self.english, args: args.into() };
        debug_assert!(
            self.one.is_none() || said.count().is_some(),
            "{}: the count of `n` is needed",
            self.key
        );
        said
    }
}

/// Whether these names are those of the holes of a saying, each once, in any order.
pub const fn fits<const N: usize>(saying: &Saying<N>, names: &[&str]) -> bool {
    if names.len() != N {
        return false;
    }
    let mut i = 0;
    while i < N {
        let (mut j, mut times) = (0, 0);
        while j < N {
            if same(saying.holes[i], names[j]) {
                times += 1;
            }
            j += 1;
        }
        if times != 1 {
            return false;
        }
        i += 1;
    }
    true
}

const fn same(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    if a.len() != b.len() {
        return false;
    }
    let mut i = 0;
    while i < a.len() {
        if a[i] != b[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// Says something: a saying, and what stands in each of its holes by name.
///
/// ```
/// use sayings::{found, say};
///
/// let said = say!(found::START_INSIDE, item = "Push", field = "Mill");
/// assert_eq!(said.key(), "found.start.inside");
/// ```
///
/// A hole that is left out or is not there does not compile:
///
/// ```compile_fail
/// use sayings::{found, say};
///
/// let said = say!(found::START_INSIDE, item = "Push", other = "Mill");
/// ```
#[macro_export]
macro_rules! say {
    ($saying:expr $(, $name:ident = $value:expr)* $(,)?) => {{
        const {
            assert!(
                $crate::fits(&$saying, &[$(stringify!($name)),*]),
                "what is given are not the holes of this saying in web/src/i18n/en.json"
            );
        }
        $saying.with([$((stringify!($name), $crate::Arg::from($value))),*])
    }};
}

impl Said {
    /// The key of its words in the translation files; `.one` or `.many` is added to it where there are two texts.
    pub fn key(&self) -> &'static str {
        self.key
    }

    /// What stands in its holes, by name.
    pub fn args(&self) -> &[(&'static str, Arg)] {
        &self.args
    }

    /// Whether it has two texts, by the count in the hole `n`.
    pub fn is_counted(&self) -> bool {
        self.one.is_some()
    }

    fn count(&self) -> Option<u64> {
        match self.arg("n")? {
            Arg::Count(n) => Some(*n),
            _ => None,
        }
    }

    fn arg(&self, name: &str) -> Option<&Arg> {
        self.args.iter().find(|a| a.0 == name).map(|a| &a.1)
    }
}

/// Sentences one after another, in English.
pub fn together(sentences: &[Said]) -> String {
    sentences.iter().map(Said::to_string).collect::<Vec<_>>().join(" ")
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.one.filter(|_| self.count() == Some(1)).unwrap_or(self.english);
        let mut parts = text.split('{');
        f.write_str(parts.next().unwrap_or_default())?;
        for part in parts {
            match part.split_once('}') {
                Some((name, rest)) => {
                    match self.arg(name) {
                        Some(arg) => arg.fmt(f)?,
                        None => write!(f, "{{{name}}}")?,
                    }
                    f.write_str(rest)?;
                }
                None => write!(f, "{{{part}")?,
            }
        }
        Ok(())
    }
}

/// What stands in the holes, by name.
struct Holes<'a>(&'a [(&'static str, Arg)]);

impl Serialize for Holes<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, arg)| (name, arg)))
    }
}

/// The key of the words, and by name what stands in their holes: what a page needs to say it in its own language.
impl Serialize for Said {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut said = serializer.serialize_struct("Said", 2)?;
        said.serialize_field("key", self.key)?;
        said.serialize_field("args", &Holes(&self.args))?;
        said.end()
    }
}

impl Ord for Said {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.key, &self.args).cmp(&(other.key, &other.args))
    }
}

impl PartialOrd for Said {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Said {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Said {}

#[cfg(test)]
mod tests {
    use super::*;

    const PIECES: Saying<2> = Saying::counted(
        "t.pieces",
        ("{n} piece of {item} stands", "{n} pieces of {item} stand"),
        ["n", "item"],
    );
    const IN: Saying<2> = Saying::plain("t.in", "{what} in {place}.", ["what", "place"]);

    #[test]
    fn the_count_chooses_the_text_and_sayings_stand_in_one_another() {
        let said =
            |n: u64| say!(IN, place = "Hall {n}", what = say!(PIECES, n = n, item = "Mill")).to_string();
        assert_eq!(said(1), "1 piece of Mill stands in Hall {n}.");
        assert_eq!(said(1_200), "1\u{a0}200 pieces of Mill stand in Hall {n}.");
        assert_eq!(said(0), "0 pieces of Mill stand in Hall {n}.");
    }

    #[test]
    fn lists_have_commas_and_sentences_follow_one_another() {
        let two = vec!["A".into(), Arg::Length(7.5)];
        assert_eq!(
            say!(IN, what = two, place = Arg::PerMille(5)).to_string(),
            "A, 7.5\u{a0}mm in 0.5\u{a0}%."
        );
        let plain = say!(IN, what = "A", place = "B");
        assert_eq!(Arg::Sentences(vec![plain.clone(), plain]).to_string(), "A in B. A in B.");
    }

    #[test]
    fn names_have_to_be_those_of_the_holes_each_once() {
        assert!(fits(&IN, &["what", "place"]) && fits(&IN, &["place", "what"]));
        for wrong in [&["what"][..], &["what", "what"], &["what", "plac"], &["what", "place", "more"]] {
            assert!(!fits(&IN, wrong), "{wrong:?}");
        }
    }

    #[test]
    fn the_order_is_by_key_then_by_figures_as_figures() {
        let of = |n: u64, item: &str| say!(PIECES, n = n, item = item);
        let mut all = [of(10, "A"), of(9, "B"), say!(IN, what = "Z", place = "Z"), of(9, "A")];
        all.sort();
        let told: Vec<String> = all.iter().map(Said::to_string).collect();
        assert_eq!(told, ["Z in Z.", "9 pieces of A stand", "9 pieces of B stand", "10 pieces of A stand"]);
    }
}
