//! Reads a stock list and reports every problem at once, each with its line, value and next step.

use std::borrow::Cow;
use std::fmt;

use plan::{Finish, MAX_NAME, Rgb};
use sayings::{Arg, Said, Saying, gate, refusing, say};
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
    pub column: Cow<'static, str>,
    /// The value, quoted.
    pub value: Words,
    /// What is wrong with it, as the rest of the sentence.
    pub problem: Words,
    /// What to do, a whole sentence without its stop.
    pub next: Words,
}

/// Why a list could not be read. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockListError {
    /// The name of the file, for the messages.
    pub file: String,
    /// All problems, in order of line.
    pub problems: Vec<LineProblem>,
}

/// What a problem is said with. A list may have hundreds of thousands of them, so that most hold next to nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Words {
    /// Words without holes.
    Plain(&'static Saying<0>),
    /// What stands in the list, told between quotation marks.
    Quoted(String),
    /// Anything else.
    Said(Box<Said>),
}

impl Words {
    fn arg(&self) -> Arg {
        match self {
            Self::Plain(words) => words.with([]).into(),
            Self::Quoted(text) => say!(gate::QUOTED, text = text).into(),
            Self::Said(said) => Arg::Said(said.clone()),
        }
    }
}

impl From<Said> for Words {
    fn from(said: Said) -> Self {
        Self::Said(Box::new(said))
    }
}

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.arg().fmt(f)
    }
}

impl LineProblem {
    /// Said with the line and the file that it is in.
    fn said(&self, file: &str) -> Said {
        let (value, problem, next) = (self.value.arg(), self.problem.arg(), self.next.arg());
        match self.line {
            0 => say!(refusing::LIST_WHOLE, file = file, value = value, problem = problem, next = next),
            line => {
                let line = line.to_string();
                say!(
                    refusing::LIST_AT,
                    file = file,
                    line = line,
                    value = value,
                    problem = problem,
                    next = next
                )
            }
        }
    }
}

impl fmt::Display for LineProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line > 0 {
            write!(f, "line {}: ", self.line)?;
        }
        write!(f, "{} {}. {}.", self.value, self.problem, self.next)
    }
}

impl StockListError {
    /// The first problems, and that nothing was changed.
    pub fn said(&self) -> Said {
        /// How many problems a message shows.
        const SHOWN: usize = 20;
        if let [only] = self.problems.as_slice() {
            return say!(refusing::LIST_SINGLE, what = only.said(&self.file));
        }
        let mut lines: Vec<Said> = self.problems.iter().take(SHOWN).map(|p| p.said(&self.file)).collect();
        if self.problems.len() > SHOWN {
            lines.push(say!(refusing::LIST_MORE, n = self.problems.len() - SHOWN));
        }
        lines.push(say!(refusing::LIST_ALL));
        say!(refusing::LIST_LINES, lines = Arg::Lines(lines))
    }
}

impl fmt::Display for StockListError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for StockListError {}

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
        let size = say!(refusing::LIST_BYTES, n = bytes.len());
        return Err(vec![whole(size, say!(refusing::LIST_BYTES_PROBLEM), say!(refusing::LIST_BYTES_NEXT))]);
    }
    let Some(decoded) = decode::decode(bytes) else {
        let (problem, next) = (say!(refusing::LIST_NO_TEXT), say!(refusing::LIST_NO_TEXT_NEXT));
        return Err(vec![whole(say!(refusing::LIST_FILE), problem, next)]);
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
        let line = (line + skipped) as u32;
        let (problem, next) = (say!(refusing::LIST_QUOTE_PROBLEM), say!(refusing::LIST_QUOTE_NEXT));
        vec![LineProblem { line, ..whole(say!(refusing::LIST_QUOTE), problem, next) }]
    })?;
    records.iter_mut().for_each(|r| r.line += skipped);
    records.retain(|r| !r.is_blank());
    if records.is_empty() {
        let (problem, next) = (say!(refusing::LIST_EMPTY), say!(refusing::LIST_EMPTY_NEXT));
        return Err(vec![whole(say!(refusing::LIST_THIS), problem, next)]);
    }
    let header = records.remove(0);
    let places = places(&header, notes)?;
    if records.len() > MAX_LIST_ROWS {
        let rows = say!(refusing::LIST_ROWS, n = records.len());
        return Err(vec![whole(rows, say!(refusing::LIST_ROWS_PROBLEM), say!(refusing::LIST_ROWS_NEXT))]);
    }
    Ok(Table { records, places })
}

/// Names with "and" between them.
fn and(names: &[&str]) -> Arg {
    match names {
        [] => "".into(),
        [one] => (*one).into(),
        [first, rest @ ..] => say!(refusing::LIST_AND, a = *first, b = and(rest)).into(),
    }
}

fn whole(value: Said, problem: Said, next: Said) -> LineProblem {
    LineProblem {
        line: 0,
        column: Cow::Borrowed(""),
        value: value.into(),
        problem: problem.into(),
        next: next.into(),
    }
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
                column: key.clone().into(),
                value: say!(refusing::LIST_COLUMN, name = key).into(),
                problem: Words::Plain(&refusing::LIST_COLUMN_TWICE),
                next: Words::Plain(&refusing::LIST_COLUMN_TWICE_NEXT),
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
            value: say!(refusing::LIST_NEEDED, names = and(&missing)).into(),
            problem: match missing.len() {
                1 => Words::Plain(&refusing::LIST_MISSING_IS),
                _ => Words::Plain(&refusing::LIST_MISSING_ARE),
            },
            next: Words::Plain(&refusing::LIST_MISSING_NEXT),
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

/// What is wrong with a value, and what to write instead.
type Wrong = (&'static Saying<0>, &'static Saying<0>);

impl RowReader<'_> {
    fn row(&mut self) -> Option<StockRow> {
        let before = self.problems.len();
        let front = self.needed(HEX, (&refusing::LIST_NO_COLOUR, &refusing::LIST_HEX), Rgb::from_hex);
        let face = front.unwrap_or(Rgb { r: 0, g: 0, b: 0 });
        let hex = (&refusing::LIST_NO_COLOUR, &refusing::LIST_HEX_OR_NONE);
        let id_words = (&refusing::LIST_NO_ID, &refusing::LIST_IN_DOUBT);
        let mass = (&refusing::LIST_NO_MASS, &refusing::LIST_MASS);
        let thickness = (&refusing::LIST_NO_THICKNESS, &refusing::LIST_THICKNESS);
        let row = StockRow {
            line: self.record.line as u32,
            name: self.name(),
            code: self.code(),
            front: face,
            back: self.optional(BACK, hex, Rgb::from_hex).unwrap_or(face),
            edge: self.optional(EDGE, hex, Rgb::from_hex).unwrap_or(face),
            finish: self
                .optional(FINISH, (&refusing::LIST_NO_FINISH, &refusing::LIST_FINISHES), finish)
                .unwrap_or_default(),
            kind: Some(self.text(KIND)).filter(|k| !k.is_empty()),
            batch: self.text(BATCH),
            owner: self.text(OWNER),
            count: self.count(COUNT),
            offered: self.count(OFFERED).unwrap_or(0),
            spare: self
                .optional(SPARE, (&refusing::LIST_NO_SPARE, &refusing::LIST_SHARE), spare)
                .unwrap_or(0.0),
            crate_size: self.count(CRATE).filter(|&n| self.crate_fits(n)),
            mass: self.optional(MASS, mass, positive).map(Mass::g),
            thickness: self.optional(THICK, thickness, positive).map(Length::mm),
            colour_id: self.optional(COLOUR_ID, id_words, id),
            lot_id: self.optional(LOT_ID, id_words, id),
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
            self.problem(column, &refusing::LIST_UNPRINTABLE, &refusing::LIST_LEAVE_OUT);
        } else if text.chars().count() > MAX_NAME {
            self.problem(column, &refusing::LIST_LONG, &refusing::LIST_SHORTEN);
        }
        text
    }

    fn name(&mut self) -> String {
        let name = self.text(NAME);
        if name.trim().is_empty() {
            self.problem(NAME, &refusing::LIST_NO_NAME, &refusing::LIST_NO_NAME_NEXT);
        }
        name
    }

    fn code(&mut self) -> Option<String> {
        let code = csv::read_text(self.raw(CODE)).trim().to_owned();
        if code.is_empty() {
            return None;
        }
        if code.chars().count() > 3 || !code.chars().all(char::is_alphanumeric) {
            self.problem(CODE, &refusing::LIST_NO_CODE, &refusing::LIST_NO_CODE_NEXT);
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
                self.problem(column, &refusing::LIST_COUNT_LARGE, &refusing::LIST_COUNT_LARGE_NEXT);
                None
            }
            None => {
                self.problem(column, &refusing::LIST_NO_COUNT, &refusing::LIST_NO_COUNT_NEXT);
                None
            }
        }
    }

    fn crate_fits(&mut self, size: u32) -> bool {
        let fits = (1..=1_000_000).contains(&size);
        if !fits {
            self.problem(CRATE, &refusing::LIST_CRATE, &refusing::LIST_CRATE_NEXT);
        }
        fits
    }

    fn needed<T>(&mut self, c: usize, words: Wrong, read: impl Fn(&str) -> Option<T>) -> Option<T> {
        let value = read(csv::read_text(self.raw(c)).trim());
        if value.is_none() {
            self.problem(c, words.0, words.1);
        }
        value
    }

    fn optional<T>(&mut self, c: usize, words: Wrong, read: impl Fn(&str) -> Option<T>) -> Option<T> {
        if self.raw(c).trim().is_empty() {
            return None;
        }
        self.needed(c, words, read)
    }

    fn problem(&mut self, column: usize, problem: &'static Saying<0>, next: &'static Saying<0>) {
        let value = Words::Quoted(shown(self.raw(column)));
        let (line, column) = (self.record.line as u32, Cow::Borrowed(COLUMNS[column]));
        self.problems.push(LineProblem {
            line,
            column,
            value,
            problem: Words::Plain(problem),
            next: Words::Plain(next),
        });
    }
}

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
