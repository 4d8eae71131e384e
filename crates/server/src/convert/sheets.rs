//! What may be chosen for lane sheets, from an address.

use plan::{ItemId, Plan};
use serde::Deserialize;
use sheets::{Document, Ink, Language, Paper, ReadFrom, ReadOptions, SheetOptions, Side, Unit};
use units::Length;

use super::count;
use crate::answer::Refusal;
use crate::wire;
use sayings::{Given, refusing, say};

/// How a field is read, as in an address.
#[derive(Debug, Clone, Copy, Default, Deserialize, PartialEq, Eq)]
pub(crate) struct ReadQuery {
    #[serde(default)]
    side: SideWord,
    #[serde(default)]
    from: FromWord,
    #[serde(default)]
    unit: UnitWord,
}

/// A set of sheets, as in an address.
#[derive(Debug, Clone, Default, Deserialize)]
pub(crate) struct SheetsQuery {
    /// Ids with commas between; all fields that have pieces when absent.
    fields: Option<String>,
    #[serde(default)]
    lang: LanguageWord,
    #[serde(default)]
    side: SideWord,
    #[serde(default)]
    from: FromWord,
    #[serde(default)]
    unit: UnitWord,
    #[serde(default)]
    paper: PaperWord,
    /// `1` for a printer without colours.
    grey: Option<String>,
    /// mm.
    reach: Option<f64>,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
enum SideWord {
    #[default]
    Drawn,
    Mirrored,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
enum FromWord {
    North,
    East,
    #[default]
    South,
    West,
}

#[derive(Debug, Clone, Copy, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
enum UnitWord {
    #[default]
    Lane,
    Rank,
}

#[derive(Debug, Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum LanguageWord {
    #[default]
    En,
    De,
}

#[derive(Debug, Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum PaperWord {
    #[default]
    A4,
    A3,
    Letter,
}

/// Least and greatest reach of a builder, mm.
const REACH: std::ops::RangeInclusive<f64> = 50.0..=10_000.0;

impl ReadQuery {
    /// The options that the sheets know.
    pub(crate) fn options(self) -> ReadOptions {
        ReadOptions {
            unit: match self.unit {
                UnitWord::Lane => Unit::Lane,
                UnitWord::Rank => Unit::Rank,
            },
            read_from: match self.from {
                FromWord::North => ReadFrom::North,
                FromWord::East => ReadFrom::East,
                FromWord::South => ReadFrom::South,
                FromWord::West => ReadFrom::West,
            },
            side: match self.side {
                SideWord::Drawn => Side::AsDrawn,
                SideWord::Mirrored => Side::Mirrored,
            },
            ..ReadOptions::default()
        }
    }
}

impl SheetsQuery {
    /// The fields to print.
    pub(crate) fn items(&self, plan: &Plan) -> Result<Vec<ItemId>, Refusal> {
        let Some(fields) = self.fields.as_deref().filter(|fields| !fields.is_empty()) else {
            let laid = |item: &&plan::Item| item.field().is_some_and(|field| field.cells.pieces() > 0);
            return Ok(plan.items.iter().filter(laid).map(|item| item.id).collect());
        };
        super::ids(fields, "fields")
    }

    /// The options that the sheets know; `change` is printed, and `base` is where tablets read.
    pub(crate) fn options(&self, change: u64, base: Option<String>) -> Result<SheetOptions, Refusal> {
        let reading = ReadQuery { side: self.side, from: self.from, unit: self.unit };
        let mut read = reading.options();
        if let Some(reach) = self.reach {
            if !REACH.contains(&reach) {
                return Err(Refusal::bad(
                    "query",
                    say!(refusing::REACH, reach = Given::new(reach, sayings::Unit::Mm)),
                ));
            }
            read.reach = Length::mm(reach);
        }
        let german = matches!(self.lang, LanguageWord::De);
        Ok(SheetOptions {
            read,
            paper: match self.paper {
                PaperWord::A4 => Paper::A4,
                PaperWord::A3 => Paper::A3,
                PaperWord::Letter => Paper::Letter,
            },
            language: if german { Language::German } else { Language::English },
            ink: match self.grey.as_deref() {
                None | Some("" | "0" | "false") => Ink::Colour,
                Some(_) => Ink::Grey,
            },
            revision: match (change, german) {
                (0, _) => String::new(),
                (change, false) => format!("change {change}"),
                (change, true) => format!("Änderung {change}"),
            },
            date: desk::today(),
            base_url: base,
            ..SheetOptions::default()
        })
    }
}

/// What would be printed.
pub(crate) fn info(document: &Document, placed: usize) -> wire::SheetsInfo {
    let (width, height) = document.pages.first().map_or((0.0, 0.0), |page| (page.width, page.height));
    wire::SheetsInfo {
        pages: titles(document),
        in_plan: count(document.counts.in_plan),
        on_sheets: count(document.counts.on_sheets),
        placed: count(placed as u64),
        width,
        height,
    }
}

/// The title of each page: its field, if there are several, and its strip.
fn titles(document: &Document) -> Vec<String> {
    let mut titles: Vec<String> = Vec::new();
    let (mut field, mut strip) = (document.title.clone(), String::new());
    for at in 0..document.pages.len() {
        for mark in document.outline.iter().filter(|mark| mark.page == at) {
            if mark.level == 0 {
                (field, strip) = (mark.text.clone(), String::new());
            } else {
                strip = mark.text.clone();
            }
        }
        titles.push(if strip.is_empty() { field.clone() } else { format!("{field}, {strip}") });
    }
    titles
}
