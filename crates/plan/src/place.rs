//! Where in the plan something is refused: put together in words only when it is.

use sayings::{Arg, Said, Saying, gate, say};

use crate::item::Item;

/// A place, and what it is part of: "field Mill", "safety gap 3".
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place<'a> {
    within: Option<&'a Place<'a>>,
    part: Part<'a>,
}

#[derive(Debug, Clone, Copy)]
enum Part<'a> {
    Words(Saying<0>),
    Named(Saying<1>, &'a str),
    Nth(Saying<1>, usize),
    Item(&'a Item),
    Lot(u32, &'a str),
}

impl<'a> Place<'a> {
    /// A place that is part of no other.
    pub(crate) const fn of(words: Saying<0>) -> Self {
        Self { within: None, part: Part::Words(words) }
    }

    /// Something that has a name, in words with a hole `name`.
    pub(crate) const fn named(words: Saying<1>, name: &'a str) -> Self {
        Self { within: None, part: Part::Named(words, name) }
    }

    /// An item.
    pub(crate) const fn item(item: &'a Item) -> Self {
        Self { within: None, part: Part::Item(item) }
    }

    /// A lot by its id and the name of its colour.
    pub(crate) const fn lot(id: u32, colour: &'a str) -> Self {
        Self { within: None, part: Part::Lot(id, colour) }
    }

    /// A part of this place.
    pub(crate) const fn at(&'a self, words: Saying<0>) -> Self {
        Self { within: Some(self), part: Part::Words(words) }
    }

    /// The part of this place with a number, which counts from 0, in words with a hole `n`, which counts from 1.
    pub(crate) const fn nth(&'a self, words: Saying<1>, from_0: usize) -> Self {
        Self { within: Some(self), part: Part::Nth(words, from_0 + 1) }
    }

    /// The part of this place with a name, in words with a hole `name`.
    pub(crate) const fn part(&'a self, words: Saying<1>, name: &'a str) -> Self {
        Self { within: Some(self), part: Part::Named(words, name) }
    }

    fn add_to(&self, parts: &mut Vec<Arg>) {
        if let Some(whole) = self.within {
            whole.add_to(parts);
        }
        let part = match self.part {
            Part::Words(words) => words.with([]),
            Part::Named(words, name) => words.with([("name", short(name).into())]),
            Part::Nth(words, n) => words.with([("n", n.into())]),
            Part::Item(item) => item.called(),
            Part::Lot(id, colour) => say!(gate::AT_LOT_COLOUR, id = id.to_string(), name = short(colour)),
        };
        parts.push(part.into());
    }
}

impl From<&Place<'_>> for Arg {
    fn from(place: &Place<'_>) -> Self {
        let mut parts = Vec::new();
        place.add_to(&mut parts);
        Arg::List(parts)
    }
}

impl From<Place<'_>> for Arg {
    fn from(place: Place<'_>) -> Self {
        Arg::from(&place)
    }
}

/// A name as it is told in a message: at most 60 signs of it.
pub(crate) fn short(name: &str) -> String {
    let mut signs = name.chars();
    let head: String = signs.by_ref().take(60).collect();
    if signs.next().is_some() { format!("{head}…") } else { head }
}

/// A name or a text between quotation marks: at most 60 signs of it.
pub(crate) fn quoted(text: &str) -> Said {
    say!(gate::QUOTED, text = short(text))
}
