//! Reads a stock list and reports every problem at once, each with its line, value and next step.

use std::fmt;

use plan::{Finish, MAX_NAME, Rgb};
use units::{Length, Mass};

use super::csv::{self, Cell, Record};
use super::{decode, number, same};

/// The largest list that is read, in bytes.
pub const MAX_LIST_BYTES: usize = 4 << 20;
/// The most rows that a list may have.
pub const MAX_LIST_ROWS: usize = 100_000;

/// What a list says, row by row, and what a reader should know about how it was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct StockRead {
    /// The rows in the order of the list.
    pub rows: Vec<StockRow>,
    /// Whole sentences about what was ignored or guessed.
    pub notes: Vec<String>,
}

/// One row: a lot, or a colour without a lot.
#[derive(Debug, Clone, PartialEq)]
pub struct StockRow {
    /// The line on which it starts, from 1.
    pub line: u32,
    /// Name of the colour.
    pub name: String,
    /// Its code; `None` where the cell was empty and a code is to be proposed.
    pub code: Option<String>,
    /// The face that looks towards the fall.
    pub front: Rgb,
    /// The other face; as `front` unless given.
    pub back: Rgb,
    /// Top, bottom and sides; as `front` unless given.
    pub edge: Rgb,
    /// How it shines; matt unless given.
    pub finish: Finish,
    /// Name of the kind of piece; `None` is the first kind of the stock.
    pub kind: Option<String>,
    /// Batch mark, may be empty.
    pub batch: String,
    /// Who owns the lot, may be empty.
    pub owner: String,
    /// Pieces; `None` where the cell was empty: the colour is known, but no lot of it is there.
    pub count: Option<u32>,
    /// Pieces that the owner could lend in addition.
    pub offered: u32,
    /// Share kept back as spare, 0 to 0.5.
    pub spare: f64,
    /// Pieces in a crate.
    pub crate_size: Option<u32>,
    /// Mean mass of a piece.
    pub mass: Option<Mass>,
    /// Mean thickness of a piece.
    pub thickness: Option<Length>,
    /// The id that the colour is to have.
    pub colour_id: Option<u16>,
    /// The id that the lot is to have.
    pub lot_id: Option<u32>,
}

/// One thing that is wrong with a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineProblem {
    /// The line, from 1; 0 when the list as a whole is meant.
    pub line: u32,
    /// The column's name, empty when the whole line is meant.
    pub column: String,
    /// The value, quoted.
    pub value: String,
    /// What is wrong with it, as the rest of the sentence.
    pub problem: String,
    /// What to do, a whole sentence without its stop.
    pub next: String,
}

/// Why a list could not be read. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", say(.file, .problems))]
pub struct StockListError {
    /// The name of the file, for the messages.
    pub file: String,
    /// All problems, in order of line.
    pub problems: Vec<LineProblem>,
}

impl fmt::Display for LineProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line > 0 {
            write!(f, "line {}: ", self.line)?;
        }
        write!(f, "{} {}. {}.", self.value, self.problem, self.next)
    }
}

fn say(file: &str, problems: &[LineProblem]) -> String {
    use fmt::Write;
    const SHOWN: usize = 20;
    let mut text = String::new();
    for p in problems.iter().take(SHOWN) {
        let gap = if p.line > 0 { ", " } else { ": " };
        let _ = writeln!(text, "{file}{gap}{p}");
    }
    if problems.len() > SHOWN {
        let _ = writeln!(text, "{} more lines have problems.", problems.len() - SHOWN);
    }
    // One problem is one line of text; several are one line each.
    if problems.len() == 1 {
        text.pop();
        text.push(' ');
    }
    text + "Nothing was changed."
}

/// The columns that are understood; the first four must be there.
const COLUMNS: [&str; 17] = [
    "name",
    "code",
    "hex",
    "count",
    "kind",
    "back_hex",
    "edge_hex",
    "finish",
    "batch",
    "owner",
    "offered",
    "crate_size",
    "mass_g",
    "thickness_mm",
    "spare",
    "colour_id",
    "lot_id",
];
const NEEDED: usize = 4;
const NAME: usize = 0;
const CODE: usize = 1;
const HEX: usize = 2;
const COUNT: usize = 3;
const KIND: usize = 4;
const BACK: usize = 5;
const EDGE: usize = 6;
const FINISH: usize = 7;
const BATCH: usize = 8;
const OWNER: usize = 9;
const OFFERED: usize = 10;
const CRATE: usize = 11;
const MASS: usize = 12;
const THICK: usize = 13;
const SPARE: usize = 14;
const COLOUR_ID: usize = 15;
const LOT_ID: usize = 16;

/// Reads a stock list. `file` is only used in messages.
///
/// Takes UTF-8, UTF-16 and Latin-1; commas, semicolons or tabs; points or commas in decimals; any order and
/// case of the columns. Errors name every line that cannot be understood; a list is taken whole or not at all.
pub fn read_stock(text: &[u8], file: &str) -> Result<StockRead, StockListError> {
    let fail = |problems| StockListError { file: file.to_owned(), problems };
    let mut notes = Vec::new();
    let table = table(text, &mut notes).map_err(fail)?;
    let mut problems = Vec::new();
    let mut rows = Vec::with_capacity(table.records.len());
    let mut grouped = None;
    for record in &table.records {
        let mut reader =
            RowReader { record, places: &table.places, problems: &mut problems, grouped: &mut grouped };
        rows.extend(reader.row());
    }
    if let Some((line, value, count)) = grouped {
        notes.push(format!(
            "Line {line}: \"{value}\" was read as {count} pieces, also elsewhere in this list."
        ));
    }
    same::check(&rows, &mut problems);
    if problems.is_empty() {
        let unnamed = rows.iter().filter(|r| r.code.is_none()).count();
        if unnamed > 0 {
            notes.push(format!("{unnamed} rows have no code; codes are proposed from their names."));
        }
        return Ok(StockRead { rows, notes });
    }
    problems.sort_by_key(|p| p.line);
    Err(fail(problems))
}

/// The records below the header, and in which cell of them each known column stands.
struct Table {
    records: Vec<Record>,
    places: [Option<usize>; COLUMNS.len()],
}

fn table(bytes: &[u8], notes: &mut Vec<String>) -> Result<Table, Vec<LineProblem>> {
    if bytes.len() > MAX_LIST_BYTES {
        let size = format!("The list of {} bytes", bytes.len());
        return Err(vec![whole(size, "is larger than 4 MiB", "Leave out what the event does not use")]);
    }
    let Some(decoded) = decode::decode(bytes) else {
        let next = "Save it from the spreadsheet as CSV in UTF-8";
        return Err(vec![whole("This file".into(), "is not text", next)]);
    };
    notes.extend(decoded.note);
    let mut text = decoded.text.as_str();
    let mut skipped = 0;
    let mut given = None;
    if let Some(rest) = text.strip_prefix("sep=") {
        // Some spreadsheets name the separator in a line of its own.
        given = rest.chars().next();
        text = rest.split_once('\n').map_or("", |(_, rest)| rest);
        skipped = 1;
    }
    let separator = given.unwrap_or_else(|| best_separator(text));
    let mut records = csv::records(text, separator).map_err(|line| {
        let next = "Close it, or write two quotes where one is meant".to_owned();
        let problem = "is opened here and never closed".to_owned();
        let line = (line + skipped) as u32;
        vec![LineProblem { line, column: String::new(), value: "A quote".into(), problem, next }]
    })?;
    records.iter_mut().for_each(|r| r.line += skipped);
    records.retain(|r| !r.is_blank());
    if records.is_empty() {
        return Err(vec![whole(
            "This list".into(),
            "is empty",
            "Give a first line with name, code, hex, count",
        )]);
    }
    let header = records.remove(0);
    let places = places(&header, notes)?;
    if records.len() > MAX_LIST_ROWS {
        let rows = format!("{} rows", records.len());
        return Err(vec![whole(
            rows,
            "are more than the 100 000 of one list",
            "Put lots of one colour together",
        )]);
    }
    Ok(Table { records, places })
}

fn whole(value: String, problem: &str, next: &str) -> LineProblem {
    LineProblem { line: 0, column: String::new(), value, problem: problem.into(), next: next.into() }
}

/// The separator under which the header has the most known columns; a comma when none has any.
fn best_separator(text: &str) -> char {
    let is_header = |line: &&str| !line.trim().is_empty() && !line.starts_with('#');
    let header = text.split(['\n', '\r']).find(is_header).unwrap_or("");
    let known = |separator: char| {
        let cells = csv::records(header, separator).ok().and_then(|r| r.into_iter().next());
        cells.map_or(0, |r| r.cells.iter().filter(|c| COLUMNS.contains(&key(c).as_str())).count())
    };
    // `max_by_key` takes the last of equals, so the comma stands last.
    ['\t', ';', ','].into_iter().max_by_key(|&s| known(s)).unwrap_or(',')
}

fn key(cell: &Cell) -> String {
    cell.text.trim().to_lowercase().replace([' ', '-'], "_")
}

fn places(
    header: &Record,
    notes: &mut Vec<String>,
) -> Result<[Option<usize>; COLUMNS.len()], Vec<LineProblem>> {
    let mut places = [None; COLUMNS.len()];
    let mut problems = Vec::new();
    let mut unknown = Vec::new();
    for (at, cell) in header.cells.iter().enumerate() {
        let key = key(cell);
        match COLUMNS.iter().position(|c| *c == key) {
            Some(column) if places[column].is_some() => problems.push(LineProblem {
                line: header.line as u32,
                column: key.clone(),
                value: format!("The column \"{key}\""),
                problem: "is there twice".into(),
                next: "Keep one of them".into(),
            }),
            Some(column) => places[column] = Some(at),
            None if key.is_empty() => {}
            None => unknown.push(format!("\"{}\"", shown(&cell.text))),
        }
    }
    let missing: Vec<&str> = (0..NEEDED).filter(|&c| places[c].is_none()).map(|c| COLUMNS[c]).collect();
    if !missing.is_empty() {
        problems.push(LineProblem {
            line: header.line as u32,
            column: missing[0].into(),
            value: format!("The columns name, code, hex and count are needed, but {}", missing.join(" and ")),
            problem: if missing.len() == 1 { "is missing".into() } else { "are missing".into() },
            next: "Add what is missing to the first line".into(),
        });
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    if !unknown.is_empty() {
        unknown.truncate(20);
        notes.push(format!("These columns are not known and were left out: {}.", unknown.join(", ")));
    }
    Ok(places)
}

/// A value as it is quoted in a message: at most 60 signs of it.
pub(crate) fn shown(text: &str) -> String {
    let mut signs = text.chars().map(|c| if c.is_control() { ' ' } else { c });
    let head: String = signs.by_ref().take(60).collect();
    if signs.next().is_some() { head + "…" } else { head }
}

/// Reads one record; problems are collected and the row is only made when there are none.
struct RowReader<'a> {
    record: &'a Record,
    places: &'a [Option<usize>; COLUMNS.len()],
    problems: &'a mut Vec<LineProblem>,
    grouped: &'a mut Option<(usize, String, u32)>,
}

impl RowReader<'_> {
    fn row(&mut self) -> Option<StockRow> {
        let before = self.problems.len();
        let front = self.needed(HEX, "a colour", "Write it as #rrggbb", Rgb::from_hex);
        let face = front.unwrap_or(Rgb { r: 0, g: 0, b: 0 });
        let hex = "Write it as #rrggbb, or leave it empty";
        let row = StockRow {
            line: self.record.line as u32,
            name: self.name(),
            code: self.code(),
            front: face,
            back: self.optional(BACK, "a colour", hex, Rgb::from_hex).unwrap_or(face),
            edge: self.optional(EDGE, "a colour", hex, Rgb::from_hex).unwrap_or(face),
            finish: self.optional(FINISH, "a finish", FINISHES, finish).unwrap_or_default(),
            kind: Some(self.text(KIND)).filter(|k| !k.is_empty()),
            batch: self.text(BATCH),
            owner: self.text(OWNER),
            count: self.count(COUNT),
            offered: self.count(OFFERED).unwrap_or(0),
            spare: self.optional(SPARE, "a spare share", SHARE, spare).unwrap_or(0.0),
            crate_size: self.count(CRATE).filter(|&n| self.crate_fits(n)),
            mass: self.optional(MASS, "a mass in grams", "Write a number such as 8.5", positive).map(Mass::g),
            thickness: self
                .optional(THICK, "a thickness in millimetres", "Write a number such as 7.58", positive)
                .map(Length::mm),
            colour_id: self.optional(COLOUR_ID, "an id", "Leave it empty if in doubt", id),
            lot_id: self.optional(LOT_ID, "an id", "Leave it empty if in doubt", id),
        };
        (self.problems.len() == before).then_some(row)
    }

    fn raw(&self, column: usize) -> &str {
        let cell = self.places[column].and_then(|at| self.record.cells.get(at));
        cell.map_or("", |c| c.text.as_str())
    }

    /// A free text, which may be quoted and marked; problems with signs that cannot be printed.
    fn text(&mut self, column: usize) -> String {
        let text = csv::read_text(self.raw(column)).to_owned();
        if text.chars().any(char::is_control) {
            self.problem(column, "has a line end or another sign that cannot be printed", "Leave it out");
        } else if text.chars().count() > MAX_NAME {
            self.problem(column, "is longer than 10 000 signs", "Shorten it");
        }
        text
    }

    fn name(&mut self) -> String {
        let name = self.text(NAME);
        if name.trim().is_empty() {
            self.problem(NAME, "is no name", "Give each colour a name");
        }
        name
    }

    fn code(&mut self) -> Option<String> {
        let code = csv::read_text(self.raw(CODE)).trim().to_owned();
        if code.is_empty() {
            return None;
        }
        if code.chars().count() > 3 || !code.chars().all(char::is_alphanumeric) {
            self.problem(CODE, "is not a code", "Write one to three letters or figures, or leave it empty");
        }
        Some(code)
    }

    fn count(&mut self, column: usize) -> Option<u32> {
        let raw = self.raw(column).to_owned();
        if raw.trim().is_empty() {
            return None;
        }
        match number::count(&raw) {
            Some((n, grouped)) if n <= 1_000_000_000 => {
                if grouped && self.grouped.is_none() {
                    *self.grouped = Some((self.record.line, shown(&raw), n));
                }
                Some(n)
            }
            Some(_) => {
                self.problem(column, "is more than a thousand million", "Put the true number");
                None
            }
            None => {
                self.problem(column, "is not a count", "Put 0 or more and drop the file again");
                None
            }
        }
    }

    fn crate_fits(&mut self, size: u32) -> bool {
        let fits = (1..=1_000_000).contains(&size);
        if !fits {
            self.problem(CRATE, "is not the size of a crate", "Put 1 to 1 000 000, or leave it empty");
        }
        fits
    }

    fn needed<T>(&mut self, c: usize, what: &str, next: &str, read: impl Fn(&str) -> Option<T>) -> Option<T> {
        let value = read(csv::read_text(self.raw(c)).trim());
        if value.is_none() {
            self.problem(c, &format!("is not {what}"), next);
        }
        value
    }

    fn optional<T>(
        &mut self,
        c: usize,
        what: &str,
        next: &str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        if self.raw(c).trim().is_empty() {
            return None;
        }
        self.needed(c, what, next, read)
    }

    fn problem(&mut self, column: usize, problem: &str, next: &str) {
        let value = format!("\"{}\"", shown(self.raw(column)));
        let (line, column) = (self.record.line as u32, COLUMNS[column].to_owned());
        self.problems.push(LineProblem { line, column, value, problem: problem.into(), next: next.into() });
    }
}

const FINISHES: &str = "Write matt, gloss, metallic, clear or painted, or leave it empty";
const SHARE: &str = "Write a share from 0 to 0.5, such as 0.03 or 3 %";

fn finish(text: &str) -> Option<Finish> {
    match text.to_lowercase().as_str() {
        "matt" => Some(Finish::Matt),
        "gloss" => Some(Finish::Gloss),
        "metallic" => Some(Finish::Metallic),
        "clear" => Some(Finish::Clear),
        "painted" => Some(Finish::Painted),
        _ => None,
    }
}

fn spare(text: &str) -> Option<f64> {
    number::share(text).filter(|v| (0.0..=0.5).contains(v))
}

fn positive(text: &str) -> Option<f64> {
    number::decimal(text).filter(|&v| v > 0.0)
}

fn id<T: std::str::FromStr + PartialOrd + From<u8>>(text: &str) -> Option<T> {
    text.parse().ok().filter(|n| *n >= T::from(1))
}
