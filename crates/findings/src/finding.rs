//! A finding: how bad, where, what, and what to do.

use geometry::Point;
use plan::{Command, Item, ItemId};

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
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Place {
    /// The item, if one is meant.
    pub item: Option<ItemId>,
    /// The place in words: "field Mill", "stock".
    pub words: String,
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
    pub message: String,
    /// What to do, in whole sentences.
    pub hint: String,
    /// A command that mends it, where one can be told.
    pub mend: Option<Command>,
}

impl Place {
    /// The stock.
    pub(crate) fn stock() -> Self {
        Self::words("stock")
    }

    /// Something that is no item: the hall, the start, the fall.
    pub(crate) fn words(words: impl Into<String>) -> Self {
        Self { words: words.into(), ..Self::default() }
    }

    /// An item.
    pub(crate) fn item(item: &Item) -> Self {
        Self { item: Some(item.id), words: format!("{} {}", item.sort(), item.name), ..Self::default() }
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
    /// By what findings are sorted: the worst first, then by check, place and text.
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

/// A count with its thousands grouped by no-break spaces, as all texts for people have it.
pub fn grouped(count: u64) -> String {
    let figures = count.to_string();
    let mut out = String::with_capacity(figures.len() * 4 / 3 + 2);
    for (i, c) in figures.chars().enumerate() {
        if i > 0 && (figures.len() - i).is_multiple_of(3) {
            out.push('\u{a0}');
        }
        out.push(c);
    }
    out
}

/// The number of a lane or rank for people, who count from 1.
pub(crate) fn nth(from_0: u32) -> String {
    grouped(u64::from(from_0) + 1)
}

/// `one` for a count of 1, else `many`, each behind the count.
pub(crate) fn so_many(count: u64, one: &str, many: &str) -> String {
    format!("{} {}", grouped(count), if count == 1 { one } else { many })
}

/// A length for people to one decimal, as most measured figures deserve.
pub(crate) fn about(value: f64) -> String {
    mm((value * 10.0).round() / 10.0)
}

/// An angle in degrees for people, without decimals.
pub(crate) fn degrees(value: f64) -> String {
    format!("{value:.0}°")
}

/// A length in millimetres for people: at most two decimals, none without need.
pub(crate) fn mm(value: f64) -> String {
    let text = format!("{:.2}", value.abs());
    let (whole, rest) = text.split_once('.').unwrap_or((&text, ""));
    let rest = rest.trim_end_matches('0');
    let point = if rest.is_empty() { "" } else { "." };
    // Lengths beyond what can be counted are no lengths of a hall; they stay as they are written.
    let whole = whole.parse().map_or_else(|_| whole.to_owned(), grouped);
    let sign = if value < 0.0 && text != "0.00" { "-" } else { "" };
    format!("{sign}{whole}{point}{rest}\u{a0}mm")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_grouped() {
        let plain = |n| grouped(n).replace('\u{a0}', " ");
        let length = |v| mm(v).replace('\u{a0}', " ");
        assert_eq!(
            [length(20_000.0), length(1_234_567.25), length(999.994)],
            ["20 000 mm", "1 234 567.25 mm", "999.99 mm"]
        );
        assert_eq!(
            [length(7.5), length(-1_048.0), length(-0.001), length(0.0)],
            ["7.5 mm", "-1 048 mm", "0 mm", "0 mm"]
        );
        assert_eq!(nth(1_499).replace('\u{a0}', " "), "1 500");
        assert_eq!([plain(0), plain(999), plain(7390), plain(1_234_567)], ["0", "999", "7 390", "1 234 567"]);
    }
}
