//! A finding: how bad, where, what, and what to do.

use geometry::Point;
use plan::{Command, Item, ItemId};
use sayings::{Arg, Said, found, say};

/// How bad a finding is. The order is from the worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// It cannot be built or will not work.
    Must,
    /// It can be built, but somebody will be sorry.
    Should,
    /// Worth knowing.
    Note,
}

/// Where in the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// The item, if one is meant.
    pub item: Option<ItemId>,
    /// The place in words: "field Mill", "stock".
    pub words: Said,
    /// Where on the floor plan: the worst spot of the finding, where there is one.
    pub at: Option<Point>,
    /// First and last lane of the item that are meant, from 0.
    pub lanes: Option<(u32, u32)>,
    /// First and last rank of the item that are meant, from 0.
    pub ranks: Option<(u32, u32)>,
}

/// Something that is wrong with a design, or worth knowing.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Names the check; stays the same between versions.
    pub code: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// Where.
    pub place: Place,
    /// What was found, in whole sentences with the figures.
    pub message: Said,
    /// What to do, in whole sentences.
    pub hint: Said,
    /// A command that mends it, where one can be told.
    pub mend: Option<Command>,
}

impl Place {
    /// The stock.
    pub(crate) fn stock() -> Self {
        Self::words(say!(found::AT_STOCK))
    }

    /// The hall.
    pub(crate) fn hall() -> Self {
        Self::words(say!(found::AT_HALL))
    }

    /// The plan as a whole.
    pub(crate) fn plan() -> Self {
        Self::words(say!(found::AT_PLAN))
    }

    /// Something that is no item: the hall, the start, the fall.
    pub(crate) fn words(words: Said) -> Self {
        Self { item: None, words, at: None, lanes: None, ranks: None }
    }

    /// An item.
    pub(crate) fn item(item: &Item) -> Self {
        Self { item: Some(item.id), ..Self::words(item.called()) }
    }

    /// The spot of this place that is meant.
    pub(crate) fn at(self, at: Point) -> Self {
        Self { at: Some(at), ..self }
    }

    /// The lanes of the item that are meant, from 0.
    pub(crate) fn lanes(self, first: u32, last: u32) -> Self {
        Self { lanes: Some((first, last)), ..self }
    }

    /// The ranks of the item that are meant, from 0.
    pub(crate) fn ranks(self, first: u32, last: u32) -> Self {
        Self { ranks: Some((first, last)), ..self }
    }
}

impl Finding {
    /// By what findings are sorted: the worst first, then by check, place and what is said.
    pub(crate) fn order(&self) -> impl Ord + '_ {
        (
            self.severity,
            self.code,
            self.place.item,
            self.place.lanes,
            self.place.ranks,
            &self.place.words,
            &self.message,
        )
    }
}

/// The number of a lane or rank for people, who count from 1.
pub(crate) fn nth(from_0: u32) -> Arg {
    Arg::Count(u64::from(from_0) + 1)
}

/// A length for people to one decimal, as most measured figures deserve.
pub(crate) fn about(value: f64) -> Arg {
    mm((value * 10.0).round() / 10.0)
}

/// An angle in degrees for people, without decimals.
pub(crate) fn degrees(value: f64) -> Arg {
    tenths(value.round_ties_even())
}

/// An angle in degrees for people, to a tenth.
pub(crate) fn tenths(value: f64) -> Arg {
    Arg::Degrees(value)
}

/// A length in millimetres for people: at most two decimals, none without need.
pub(crate) fn mm(value: f64) -> Arg {
    Arg::Length(value)
}
