//! Reading a TOML document with its places: every problem knows its line and column.

use std::cell::{Cell, RefCell};
use std::fmt;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use units::{Angle, Duration, Length, Mass};

use super::nearest::nearest;
use super::quantity::Measure;
use crate::stock::shown;

/// One thing that is wrong with a text plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextProblem {
    /// `plan.toml` or `stock.csv`.
    pub file: &'static str,
    /// The line, from 1; 0 when the file as a whole is meant.
    pub line: u32,
    /// The sign within the line, from 1; 0 when the line as a whole is meant.
    pub column: u32,
    /// What is wrong, a whole sentence without its stop that names the value.
    pub problem: String,
    /// What to do, a whole sentence without its stop.
    pub next: String,
}

/// Why a text plan could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", lines(.problems, *.more))]
pub struct TextPlanError {
    /// The problems that were found first, at most 200; those of the plan in order of line, then those of the
    /// stock list.
    pub problems: Vec<TextProblem>,
    /// How many more there are.
    pub more: usize,
}

/// The most problems that are kept with their words; the others are counted. Finding the column of a problem
/// means walking through its line, so that without this a plan of one endless line would take minutes.
const KEPT: usize = 200;

impl fmt::Display for TextProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.file)?;
        if self.line > 0 {
            write!(f, ", line {}", self.line)?;
        }
        if self.column > 0 {
            write!(f, ", column {}", self.column)?;
        }
        write!(f, ": {}. {}", self.problem, self.next)?;
        if self.next.ends_with(['.', '?']) { Ok(()) } else { f.write_str(".") }
    }
}

fn lines(problems: &[TextProblem], more: usize) -> String {
    const SHOWN: usize = 20;
    let mut lines: Vec<String> = problems.iter().take(SHOWN).map(TextProblem::to_string).collect();
    let more = problems.len().saturating_sub(SHOWN) + more;
    if more > 0 {
        lines.push(format!("{more} more problems follow."));
    }
    lines.join("\n")
}

/// The text, its line starts and the problems found so far.
pub(super) struct Source<'a> {
    text: &'a str,
    starts: Vec<usize>,
    problems: RefCell<Vec<TextProblem>>,
    more: Cell<usize>,
}

/// A table of the document, and what it is called in messages.
#[derive(Clone, Copy)]
pub(super) struct Section<'a> {
    pub(super) source: &'a Source<'a>,
    pub(super) table: &'a DeTable<'a>,
    pub(super) at: usize,
}

pub(super) type Value<'a> = Spanned<DeValue<'a>>;

impl<'a> Source<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1);
        let starts = std::iter::once(0).chain(ends).collect();
        Self { text, starts, problems: RefCell::default(), more: Cell::new(0) }
    }

    /// Notes a problem at a byte of the text.
    pub(super) fn problem(&self, at: usize, problem: impl Into<String>, next: impl Into<String>) {
        if self.is_full() {
            return self.count_one();
        }
        let line = self.starts.partition_point(|&s| s <= at);
        let start = self.starts[line.saturating_sub(1)];
        let column = self.text.get(start..at).map_or(1, |t| t.chars().count() + 1);
        self.problems.borrow_mut().push(TextProblem {
            file: "plan.toml",
            line: line as u32,
            column: column as u32,
            problem: problem.into(),
            next: next.into(),
        });
    }

    /// Notes problems that were found elsewhere.
    pub(super) fn add(&self, problems: impl IntoIterator<Item = TextProblem>) {
        for problem in problems {
            if self.is_full() {
                self.count_one();
            } else {
                self.problems.borrow_mut().push(problem);
            }
        }
    }

    /// Whether further problems are only counted.
    fn is_full(&self) -> bool {
        self.problems.borrow().len() >= KEPT
    }

    fn count_one(&self) {
        self.more.set(self.more.get() + 1);
    }

    /// The value as it stands in the text, shortened.
    pub(super) fn quoted(&self, span: Range<usize>) -> String {
        shown(self.text.get(span).unwrap_or(""))
    }

    pub(super) fn is_fine(&self) -> bool {
        self.problems.borrow().is_empty()
    }

    /// What is wrong, problems with a place in the plan first, in order of line.
    pub(super) fn into_error(self) -> TextPlanError {
        let mut problems = self.problems.into_inner();
        problems.sort_by_key(|p| (p.file, p.line, p.column));
        TextPlanError { problems, more: self.more.get() }
    }
}

impl<'a> Section<'a> {
    /// Notes every key that is not among the known ones, with the nearest known one.
    pub(super) fn known(&self, keys: &[&str]) {
        for (key, _) in self.table.iter().filter(|(k, _)| !keys.contains(&k.get_ref().as_ref())) {
            if self.source.is_full() {
                self.source.count_one();
                continue;
            }
            let word = key.get_ref();
            let next = match nearest(word, keys) {
                Some(near) => format!("Did you mean \"{near}\"?"),
                None => format!("Known here: {}", keys.join(", ")),
            };
            self.source.problem(
                key.span().start,
                format!("The key \"{}\" is not known here", shown(word)),
                next,
            );
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<&'a Value<'a>> {
        self.table.iter().find(|(k, _)| k.get_ref() == key).map(|(_, v)| v)
    }

    /// The byte at which the value of a key stands, or the table itself when it has none.
    pub(super) fn at(&self, key: &str) -> usize {
        self.get(key).map_or(self.at, |v| v.span().start)
    }

    /// Notes that a key is missing.
    pub(super) fn missing(&self, key: &str, example: &str) {
        self.source.problem(
            self.at,
            format!("\"{key}\" is missing here"),
            format!("Add a line such as {key} = {example}"),
        );
    }

    fn wrong(&self, key: &str, value: &Value<'_>, what: &str) {
        let quoted = self.source.quoted(value.span());
        self.source.problem(
            value.span().start,
            format!("{key} = {quoted} is not {what}"),
            format!("Write {what}"),
        );
    }

    /// The text of a key; a problem when it is there and not a text.
    pub(super) fn text(&self, key: &str) -> Option<String> {
        let value = self.get(key)?;
        let text = value.get_ref().as_str();
        if text.is_none() {
            self.wrong(key, value, "a text in quotes");
        }
        text.map(str::to_owned)
    }

    pub(super) fn text_or_empty(&self, key: &str) -> String {
        self.text(key).unwrap_or_default()
    }

    pub(super) fn needed_text(&self, key: &str) -> String {
        if self.get(key).is_none() {
            self.missing(key, "\"…\"");
        }
        self.text_or_empty(key)
    }

    /// A whole number from 0 to `most`.
    pub(super) fn whole(&self, key: &str, most: u32) -> Option<u32> {
        let value = self.get(key)?;
        let number = whole(value).filter(|&n| n <= most);
        if number.is_none() {
            self.wrong(key, value, &format!("a whole number from 0 to {most}"));
        }
        number
    }

    pub(super) fn needed_whole(&self, key: &str, most: u32) -> u32 {
        if self.get(key).is_none() {
            self.missing(key, "10");
        }
        self.whole(key, most).unwrap_or(0)
    }

    /// A plain number, not endless.
    pub(super) fn number(&self, key: &str) -> Option<f64> {
        let value = self.get(key)?;
        let number = number(value);
        if number.is_none() {
            self.wrong(key, value, "a plain number");
        }
        number
    }

    pub(super) fn needed_number(&self, key: &str) -> f64 {
        if self.get(key).is_none() {
            self.missing(key, "1.5");
        }
        self.number(key).unwrap_or(0.0)
    }

    /// True or false.
    pub(super) fn flag(&self, key: &str) -> Option<bool> {
        let value = self.get(key)?;
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong(key, value, "true or false");
        }
        flag
    }

    /// Which of a few keys the table has; a problem unless it is exactly one.
    pub(super) fn one_of<'k>(&self, keys: &[&'k str]) -> Option<&'k str> {
        let there: Vec<&'k str> = keys.iter().copied().filter(|k| self.get(k).is_some()).collect();
        match there[..] {
            [one] => return Some(one),
            [] => {
                // A slip in the one key that tells what this is must be named as such.
                let slip = self.table.iter().find_map(|(key, _)| nearest(key.get_ref(), keys));
                let next = match slip {
                    Some(near) => format!("Did you mean \"{near}\"?"),
                    None => "Add the one that is meant".to_owned(),
                };
                self.source.problem(self.at, format!("There is none of {} here", keys.join(", ")), next);
            }
            [first, second, ..] => self.source.problem(
                self.at(second),
                format!("Both \"{first}\" and \"{second}\" stand here"),
                "Keep the one that is meant",
            ),
        }
        None
    }

    /// As [`Self::one_of`], for tables that have no other keys.
    pub(super) fn only_one<'k>(&self, keys: &[&'k str]) -> Option<&'k str> {
        self.known(keys);
        self.one_of(keys)
    }

    /// Notes the keys among `some` that are there but not among those `kept`.
    pub(super) fn without(&self, what: &str, some: &[&str], kept: &[&str]) {
        for key in some.iter().filter(|k| !kept.contains(k)) {
            if let Some(value) = self.get(key) {
                let problem = format!("\"{key}\" has no meaning for {what}");
                self.source.problem(value.span().start, problem, "Take the line out, or choose another way");
            }
        }
    }

    /// A list of points.
    pub(super) fn points(&self, key: &str) -> Vec<geometry::Point> {
        self.list(key).iter().filter_map(|v| self.point_of(key, v)).collect()
    }

    pub(super) fn needed_duration(&self, key: &str) -> Duration {
        Duration::s(self.needed_quantity(key, Measure::Time))
    }

    /// A list; a problem when it is there and not a list.
    pub(super) fn list(&self, key: &str) -> &'a [Value<'a>] {
        let Some(value) = self.get(key) else { return &[] };
        match value.get_ref().as_array() {
            Some(list) => list,
            None => {
                self.wrong(key, value, "a list in square brackets");
                &[]
            }
        }
    }

    /// The tables of a list of tables, `[[key]]`.
    pub(super) fn tables(&self, key: &str) -> Vec<Section<'a>> {
        let tables = self.list(key).iter().filter_map(|v| self.as_section(key, v));
        tables.collect()
    }

    /// The table of a key, `[key]`.
    pub(super) fn table(&self, key: &str) -> Option<Section<'a>> {
        self.as_section(key, self.get(key)?)
    }

    fn as_section(&self, key: &str, value: &'a Value<'a>) -> Option<Section<'a>> {
        let table = value.get_ref().as_table();
        if table.is_none() {
            self.wrong(key, value, "a table");
        }
        table.map(|table| Section { source: self.source, table, at: value.span().start })
    }

    /// One of a few words.
    pub(super) fn word<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Option<T> {
        let value = self.get(key)?;
        let text = value.get_ref().as_str().unwrap_or("");
        let found = words.iter().find(|(w, _)| *w == text);
        if found.is_none() {
            let all: Vec<&str> = words.iter().map(|w| w.0).collect();
            let next = match nearest(text, &all) {
                Some(near) => format!("Did you mean \"{near}\"?"),
                None => format!("Write one of {}", all.join(", ")),
            };
            let quoted = self.source.quoted(value.span());
            self.source.problem(value.span().start, format!("{key} = {quoted} is not known"), next);
        }
        found.map(|w| w.1)
    }

    pub(super) fn needed_word<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Option<T> {
        if self.get(key).is_none() {
            self.missing(key, &format!("\"{}\"", words[0].0));
        }
        self.word(key, words)
    }

    /// A quantity with its unit, in the unit in which it is stored.
    fn quantity(&self, key: &str, measure: Measure) -> Option<f64> {
        self.quantity_of(key, self.get(key)?, measure)
    }

    fn quantity_of(&self, key: &str, value: &Value<'_>, measure: Measure) -> Option<f64> {
        let read = value.get_ref().as_str().and_then(|t| measure.read(t));
        if read.is_none() {
            self.wrong(key, value, &format!("a quantity with its unit such as {}", measure.example()));
        }
        read
    }

    fn needed_quantity(&self, key: &str, measure: Measure) -> f64 {
        self.told_quantity(key, measure).unwrap_or(0.0)
    }

    /// A quantity that has to be there; nothing when a problem says why it cannot be read.
    fn told_quantity(&self, key: &str, measure: Measure) -> Option<f64> {
        if self.get(key).is_none() {
            self.missing(key, measure.example());
        }
        self.quantity(key, measure)
    }

    pub(super) fn length(&self, key: &str) -> Option<Length> {
        self.quantity(key, Measure::Length).map(Length::mm)
    }

    pub(super) fn needed_length(&self, key: &str) -> Length {
        Length::mm(self.needed_quantity(key, Measure::Length))
    }

    /// As `needed_length`, but nothing when a problem says why it cannot be read.
    pub(super) fn told_length(&self, key: &str) -> Option<Length> {
        self.told_quantity(key, Measure::Length).map(Length::mm)
    }

    pub(super) fn needed_mass(&self, key: &str) -> Mass {
        Mass::g(self.needed_quantity(key, Measure::Mass))
    }

    pub(super) fn angle(&self, key: &str) -> Option<Angle> {
        self.quantity(key, Measure::Angle).map(Angle::deg)
    }

    pub(super) fn needed_angle(&self, key: &str) -> Angle {
        Angle::deg(self.needed_quantity(key, Measure::Angle))
    }

    pub(super) fn duration(&self, key: &str) -> Option<Duration> {
        self.quantity(key, Measure::Time).map(Duration::s)
    }

    /// A place: two lengths, east and north or along and left.
    pub(super) fn point(&self, key: &str) -> Option<geometry::Point> {
        self.point_of(key, self.get(key)?)
    }

    pub(super) fn needed_point(&self, key: &str) -> geometry::Point {
        if self.get(key).is_none() {
            self.missing(key, "[\"0 mm\", \"0 mm\"]");
        }
        self.point(key).unwrap_or_default()
    }

    pub(super) fn point_of(&self, key: &str, value: &'a Value<'a>) -> Option<geometry::Point> {
        let [x, y] = self.pair(key, value, Measure::Length)?;
        Some(geometry::Point::new(x, y))
    }

    /// Least and most of a duration.
    pub(super) fn span(&self, key: &str) -> Option<[Duration; 2]> {
        let pair = self.pair(key, self.get(key)?, Measure::Time)?;
        Some(pair.map(Duration::s))
    }

    fn pair(&self, key: &str, value: &'a Value<'a>, measure: Measure) -> Option<[f64; 2]> {
        let list = value.get_ref().as_array().map(|a| &**a);
        let Some([a, b]) = list else {
            self.wrong(key, value, &format!("two quantities such as [{0}, {0}]", measure.example()));
            return None;
        };
        Some([self.quantity_of(key, a, measure)?, self.quantity_of(key, b, measure)?])
    }
}

/// A whole number of 0 or more, written in tens.
pub(super) fn whole(value: &Value<'_>) -> Option<u32> {
    let number = value.get_ref().as_integer()?;
    u32::from_str_radix(number.as_str(), number.radix()).ok()
}

/// A finite number, written with or without a point.
pub(super) fn number(value: &Value<'_>) -> Option<f64> {
    let float = value.get_ref().as_float().and_then(|f| f.as_str().parse().ok());
    let read: f64 = float.or_else(|| value.get_ref().as_integer()?.as_str().parse().ok())?;
    read.is_finite().then_some(read)
}
