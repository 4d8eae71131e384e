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
    /// A saying within another.
    Said(SaidRow),
    /// Several of them.
    List(Vec<SaidArg>),
    /// Whole sentences one after another.
    Sentences(Vec<SaidRow>),
}
