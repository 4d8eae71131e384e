//! What is said, as it travels: the key of its words in the pages' translation files, and its figures.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Something that is said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
pub struct SaidRow {
    /// The key of its words; where there are words for one and for many, `.one` or `.many` is added by the count `n`.
    pub key: String,
    /// What stands in the holes of the words, by name.
    pub args: BTreeMap<String, SaidArg>,
}

/// What stands in a hole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum SaidArg {
    /// A name, or anything else that is the same in every language.
    Text(String),
    /// A count, or the number of a lane or rank from 1.
    Count(u32),
    /// A length in mm.
    Length(f64),
    /// A long way in mm, told in whole metres.
    Way(f64),
    /// An angle in degrees.
    Degrees(f64),
    /// A share in tenths of a percent.
    PerMille(u32),
    /// A figure as somebody gave it.
    Given(GivenArg),
    /// A saying within another.
    Said(SaidRow),
    /// Several of them.
    List(Vec<SaidArg>),
    /// Whole sentences one after another.
    Sentences(Vec<SaidRow>),
    /// The same, each on a line of its own.
    Lines(Vec<SaidRow>),
}

/// A figure as somebody gave it, with all its decimals.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
pub struct GivenArg {
    /// The value.
    pub value: f64,
    /// In what it is measured.
    pub unit: GivenUnit,
    /// Whether the unit stands behind another value: "0.5" in "0.5 to 1000 mm".
    pub bare: bool,
}

/// In what a given figure is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum GivenUnit {
    /// In nothing.
    None,
    /// Millimetres.
    Mm,
    /// Degrees.
    Degrees,
    /// Seconds.
    Seconds,
    /// Hours.
    Hours,
    /// Grams.
    Grams,
}
