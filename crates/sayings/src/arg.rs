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
    /// A saying within another.
    Said(Box<Said>),
    /// Several of them, with commas between them.
    List(Vec<Arg>),
    /// Whole sentences one after another.
    Sentences(Vec<Said>),
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
            Self::Said(said) => said.fmt(f),
            Self::List(list) => {
                for (i, arg) in list.iter().enumerate() {
                    f.write_str(if i > 0 { ", " } else { "" })?;
                    arg.fmt(f)?;
                }
                Ok(())
            }
            Self::Sentences(all) => f.write_str(&together(all)),
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
            Self::Said(_) => 6,
            Self::List(_) => 7,
            Self::Sentences(_) => 8,
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
            (Self::Said(a), Self::Said(b)) => a.cmp(b),
            (Self::List(a), Self::List(b)) => a.cmp(b),
            (Self::Sentences(a), Self::Sentences(b)) => a.cmp(b),
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

impl From<Vec<Arg>> for Arg {
    fn from(list: Vec<Arg>) -> Self {
        Self::List(list)
    }
}
