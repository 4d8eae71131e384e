//! What stands in the holes of a saying.

use std::cmp::Ordering;
use std::fmt;

use serde::Serialize;

use crate::figures::{degrees, grouped, metres, millimetres, percent};
use crate::said::{Said, together};

/// What stands in a hole of a saying. Figures are kept as such, so that each language and system of units writes them
/// its own way.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Arg {
    /// A name, or anything else that is the same in every language.
    Text(String),
    /// A count, or the number of a lane or rank as people count, from 1.
    Count(u64),
    /// A length in mm that is told to at most two decimals of it.
    Length(f64),
    /// A long way in mm that is told in whole metres.
    Way(f64),
    /// An angle in degrees that is told to at most one decimal.
    Degrees(f64),
    /// A share in tenths of a percent.
    PerMille(u64),
    /// A figure as somebody gave it, with all its decimals.
    Given(Given),
    /// A saying within another.
    Said(Box<Said>),
    /// Several of them, with commas between them.
    List(Vec<Arg>),
    /// Whole sentences one after another.
    Sentences(Vec<Said>),
    /// The same, each on a line of its own.
    Lines(Vec<Said>),
}

/// In what a given figure is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Unit {
    /// In nothing: a share, a factor, a count with decimals.
    None,
    /// Millimetres; the pages turn them into feet and inches where their reader wants those.
    Mm,
    /// Degrees of an angle.
    Degrees,
    /// Seconds.
    Seconds,
    /// Hours.
    Hours,
    /// Grams.
    Grams,
}

/// A figure as somebody gave it: nothing of it is rounded, since it may be what is wrong with it.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Given {
    value: f64,
    unit: Unit,
    bare: bool,
}

impl Given {
    /// A value with its unit behind it.
    pub const fn new(value: f64, unit: Unit) -> Self {
        Self { value, unit, bare: false }
    }

    /// The first of two values that share the unit behind the second: "0.5" in "0.5 to 1000 mm".
    pub const fn bare(value: f64, unit: Unit) -> Self {
        Self { value, unit, bare: true }
    }

    /// The value.
    pub const fn value(self) -> f64 {
        self.value
    }

    /// In what it is measured.
    pub const fn unit(self) -> Unit {
        self.unit
    }

    /// Whether its unit stands behind another value.
    pub const fn is_bare(self) -> bool {
        self.bare
    }
}

impl fmt::Display for Given {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = match self.unit {
            _ if self.bare => "",
            Unit::None => "",
            Unit::Mm => " mm",
            Unit::Degrees => "°",
            Unit::Seconds => " s",
            Unit::Hours => " h",
            Unit::Grams => " g",
        };
        write!(f, "{}{unit}", self.value)
    }
}

impl fmt::Display for Arg {
    /// In English, as everywhere outside the pages.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(text) => f.write_str(text),
            Self::Count(n) => f.write_str(&grouped(*n)),
            Self::Length(mm) => f.write_str(&millimetres(*mm)),
            Self::Way(mm) => f.write_str(&metres(*mm)),
            Self::Degrees(value) => f.write_str(&degrees(*value)),
            Self::PerMille(share) => f.write_str(&percent(*share)),
            Self::Given(given) => given.fmt(f),
            Self::Said(said) => said.fmt(f),
            Self::List(list) => {
                for (i, arg) in list.iter().enumerate() {
                    f.write_str(if i > 0 { ", " } else { "" })?;
                    arg.fmt(f)?;
                }
                Ok(())
            }
            Self::Sentences(all) => f.write_str(&together(all)),
            Self::Lines(all) => {
                for (i, said) in all.iter().enumerate() {
                    f.write_str(if i > 0 { "\n" } else { "" })?;
                    said.fmt(f)?;
                }
                Ok(())
            }
        }
    }
}

impl Arg {
    /// Which of them it is, for the order between different ones.
    fn rank(&self) -> u8 {
        match self {
            Self::Text(_) => 0,
            Self::Count(_) => 1,
            Self::Length(_) => 2,
            Self::Way(_) => 3,
            Self::Degrees(_) => 4,
            Self::PerMille(_) => 5,
            Self::Given(_) => 6,
            Self::Said(_) => 7,
            Self::List(_) => 8,
            Self::Sentences(_) => 9,
            Self::Lines(_) => 10,
        }
    }
}

/// Texts by their letters, figures by their value; the same for the same input everywhere.
impl Ord for Arg {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self, other) {
            (Self::Text(a), Self::Text(b)) => a.cmp(b),
            (Self::Count(a), Self::Count(b)) | (Self::PerMille(a), Self::PerMille(b)) => a.cmp(b),
            (Self::Length(a), Self::Length(b))
            | (Self::Way(a), Self::Way(b))
            | (Self::Degrees(a), Self::Degrees(b)) => a.total_cmp(b),
            (Self::Given(a), Self::Given(b)) => {
                a.value.total_cmp(&b.value).then((a.unit, a.bare).cmp(&(b.unit, b.bare)))
            }
            (Self::Said(a), Self::Said(b)) => a.cmp(b),
            (Self::List(a), Self::List(b)) => a.cmp(b),
            (Self::Sentences(a), Self::Sentences(b)) | (Self::Lines(a), Self::Lines(b)) => a.cmp(b),
            (a, b) => a.rank().cmp(&b.rank()),
        }
    }
}

impl PartialOrd for Arg {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Arg {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Arg {}

impl From<&str> for Arg {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<&String> for Arg {
    fn from(text: &String) -> Self {
        Self::Text(text.clone())
    }
}

impl From<u32> for Arg {
    fn from(count: u32) -> Self {
        Self::Count(count.into())
    }
}

impl From<u64> for Arg {
    fn from(count: u64) -> Self {
        Self::Count(count)
    }
}

impl From<String> for Arg {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<usize> for Arg {
    fn from(count: usize) -> Self {
        Self::Count(count as u64)
    }
}

impl From<Said> for Arg {
    fn from(said: Said) -> Self {
        Self::Said(Box::new(said))
    }
}

impl From<Given> for Arg {
    fn from(given: Given) -> Self {
        Self::Given(given)
    }
}

impl From<Vec<Arg>> for Arg {
    fn from(list: Vec<Arg>) -> Self {
        Self::List(list)
    }
}
