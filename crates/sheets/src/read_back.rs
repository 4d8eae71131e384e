//! Reads the words of finished sheets back and rebuilds the fields from them.
//!
//! It knows nothing of how the sheets were made: which way the cells run follows from the sentences that tell
//! the builder where to start and how the fall runs, and the cells from the called words alone.

use std::collections::BTreeMap;

use crate::error::SheetError;
use crate::options::{Language, Start, Unit};
use crate::seat::FallSeen;
use crate::words::Words;

/// A field as its sheets tell it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRead {
    /// The item's number.
    pub item: u32,
    /// The field's name as printed.
    pub name: String,
    /// Number of lanes.
    pub lanes: u32,
    /// Number of ranks.
    pub ranks: u32,
    /// Lanes or ranks were called.
    pub unit: Unit,
    /// The code of each cell, lane by lane, rank 0 first; `None` where no piece stands.
    pub cells: Vec<Option<String>>,
}

impl FieldRead {
    /// Number of pieces.
    pub fn pieces(&self) -> u64 {
        self.cells.iter().filter(|c| c.is_some()).count() as u64
    }
}

/// A field while its pages come in.
struct Partial {
    read: FieldRead,
    /// Which cells were called.
    seen: Vec<bool>,
    /// By strip: pieces by code that the kit lists, and that were called.
    strips: BTreeMap<u32, StripCheck>,
    of_strips: u32,
    /// A unit that goes on on the next sheet.
    open: Option<OpenUnit>,
}

#[derive(Default)]
struct StripCheck {
    kit: BTreeMap<String, u64>,
    called: BTreeMap<String, u64>,
    sheets: u32,
    of_sheets: u32,
}

struct OpenUnit {
    number: u32,
    calls: Vec<(Option<String>, u32)>,
    done: u32,
}

/// What the head of a sheet says.
struct Head {
    name: String,
    numbers: [u32; 7],
    start: Start,
    fall: FallSeen,
    unit: Unit,
    words: Words,
}

/// Rebuilds the fields from the text of a PDF, in the order of reading, with a form feed after each page
/// (`pdftotext -raw`). Pages that are not lane sheets are passed over.
///
/// Every running total, every total and every strip's kit is checked; each cell must be called exactly once.
/// Fields come in the order of their item numbers.
pub fn read_back(text: &str) -> Result<Vec<FieldRead>, SheetError> {
    let mut fields: BTreeMap<u32, Partial> = BTreeMap::new();
    for (i, page) in text.split('\u{c}').enumerate() {
        let at = |what: String| SheetError::Text { page: i + 1, what };
        if let Some((head, rest)) = find_head(page).map_err(at)? {
            let [item, lanes, ranks, ..] = head.numbers;
            let cells = u64::from(lanes) * u64::from(ranks);
            if cells == 0 || cells > plan::MAX_CELLS as u64 {
                return Err(at(format!("{lanes} lanes x {ranks} ranks are not a field")));
            }
            let field = fields.entry(item).or_insert_with(|| begin(&head));
            read_sheet(field, &head, rest).map_err(at)?;
        }
    }
    let last = text.split('\u{c}').count();
    fields.into_values().map(|f| finish(f, last)).collect()
}

fn begin(head: &Head) -> Partial {
    let [item, lanes, ranks, _, of_strips, ..] = head.numbers;
    let cells = lanes as usize * ranks as usize;
    let read =
        FieldRead { item, name: head.name.clone(), lanes, ranks, unit: head.unit, cells: vec![None; cells] };
    Partial { read, seen: vec![false; cells], strips: BTreeMap::new(), of_strips, open: None }
}

fn finish(field: Partial, page: usize) -> Result<FieldRead, SheetError> {
    let name = &field.read.name;
    let fail = |what: String| Err(SheetError::Text { page, what: format!("field {name}, {what}") });
    if let Some(open) = &field.open {
        return fail(format!("number {} has no total", open.number));
    }
    if field.strips.len() != field.of_strips as usize {
        return fail(format!("{} of {} strips are there", field.strips.len(), field.of_strips));
    }
    for (number, strip) in &field.strips {
        if strip.sheets != strip.of_sheets {
            return fail(format!("strip {number}: {} of {} sheets are there", strip.sheets, strip.of_sheets));
        }
        if strip.kit != strip.called {
            return fail(format!(
                "strip {number}: the kit lists {:?}, the calls {:?}",
                strip.kit, strip.called
            ));
        }
    }
    if let Some(i) = field.seen.iter().position(|s| !s) {
        let ranks = field.read.ranks as usize;
        return fail(format!("lane {}, rank {} is never called", i / ranks + 1, i % ranks + 1));
    }
    Ok(field.read)
}

/// The head of a lane sheet and the words from its kit on; `None` when the page is something else.
fn find_head(page: &str) -> Result<Option<(Head, String)>, String> {
    let flat = flatten(page);
    for language in [Language::English, Language::German] {
        let words = Words::of(language);
        let Some((unit, at, heading, place, numbers)) = calls_begin(&words, &flat) else { continue };
        let (before, after) = (&flat[..at], &flat[at + heading.len()..]);
        let said = |text: &str| before[place..].contains(text);
        let start = [Start::FarLeft, Start::FarRight, Start::NearLeft, Start::NearRight];
        let start = start.into_iter().find(|s| said(words.start(*s))).ok_or("no start is named")?;
        let fall = [FallSeen::LeftToRight, FallSeen::RightToLeft, FallSeen::Away, FallSeen::Towards];
        let fall = fall.into_iter().find(|f| said(words.fall(*f))).ok_or("no direction of fall is named")?;
        let name = before[..place].trim().to_owned();
        let kit = before[place..].find(words.get("kit")).map(|k| k + place);
        let kit = kit.map_or("", |k| &before[k + words.get("kit").len()..]);
        let kit = kit.split(words.get("names-reader")).next().unwrap_or("");
        let rest = format!("{kit}\u{c}{after}");
        return Ok(Some((Head { name, numbers, start, fall, unit, words }, rest)));
    }
    Ok(None)
}

/// The first heading of calls that a field's line stands before: unit, place and words of the heading, place
/// and numbers of the line. Names may hold either, but not both in this order before the sheet's own.
fn calls_begin(words: &Words, flat: &str) -> Option<(Unit, usize, &'static str, usize, [u32; 7])> {
    let headings = [(Unit::Lane, words.get("call-lanes")), (Unit::Rank, words.get("call-ranks"))];
    let mut found: Vec<_> =
        headings.iter().flat_map(|(u, h)| flat.match_indices(h).map(|(at, _)| (at, *u, *h))).collect();
    found.sort_by_key(|f| f.0);
    found.into_iter().find_map(|(at, unit, heading)| {
        let (place, numbers) = field_line(words, &flat[..at])?;
        Some((unit, at, heading, place, numbers))
    })
}

/// One line of words; spaces that group figures stay.
fn flatten(page: &str) -> String {
    page.split([' ', '\n', '\r', '\t']).filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Finds the line of the field; returns where it begins and its seven numbers.
fn field_line(words: &Words, text: &str) -> Option<(usize, [u32; 7])> {
    let template = words.get("field-line");
    let literals: Vec<&str> =
        template.split('{').map(|p| p.split_once('}').map_or(p, |(_, literal)| literal)).collect();
    let mut from = text.len();
    // The name may hold the same words, and so the last place that fits is the right one.
    while let Some(start) = text[..from].rfind(literals[0]) {
        if let Some(numbers) = numbers_at(&text[start..], &literals) {
            return Some((start, numbers));
        }
        from = start;
    }
    None
}

fn numbers_at(text: &str, literals: &[&str]) -> Option<[u32; 7]> {
    let mut rest = text.strip_prefix(literals[0])?;
    let mut out = [0; 7];
    for (slot, literal) in out.iter_mut().zip(&literals[1..]) {
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        *slot = rest[..end].parse().ok()?;
        rest = &rest[end..];
        rest = rest.strip_prefix(literal.trim_end()).or_else(|| rest.strip_prefix(literal))?.trim_start();
    }
    Some(out)
}

/// A whole number, thousands grouped or not.
fn number(word: &str) -> Option<u32> {
    let digits: String = word.chars().filter(|c| *c != '\u{a0}').collect();
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) { None } else { digits.parse().ok() }
}

/// The number of a unit: figures with a colon.
fn unit_number(word: &str) -> Option<u32> {
    word.strip_suffix(':').and_then(number)
}

fn read_sheet(field: &mut Partial, head: &Head, rest: String) -> Result<(), String> {
    let [_, lanes, ranks, strip, of_strips, _, of_sheets] = head.numbers;
    if (lanes, ranks, of_strips) != (field.read.lanes, field.read.ranks, field.of_strips) {
        return Err(format!("field {} has another size on this sheet", field.read.name));
    }
    let (kit, calls) = rest.split_once('\u{c}').unwrap_or(("", &rest));
    let check = field.strips.entry(strip).or_default();
    check.sheets += 1;
    check.of_sheets = of_sheets;
    let mut pairs = kit.split(' ').filter(|w| !w.is_empty());
    while let Some(code) = pairs.next() {
        let n = pairs.next().and_then(number).ok_or_else(|| format!("the kit has no count for {code}"))?;
        *check.kit.entry(code.to_owned()).or_default() += u64::from(n);
    }
    let spaced = calls.replace('›', " › ").replace('|', " | ").replace('=', " = ");
    let tokens: Vec<&str> = spaced.split(' ').filter(|w| !w.is_empty()).collect();
    let Some(mut i) = tokens.iter().position(|w| unit_number(w).is_some()) else {
        // A kit of very many colours may fill a sheet; its calls follow on the next.
        let only_kit = kit.chars().any(|c| c.is_ascii_digit());
        return if only_kit { Ok(()) } else { Err("no lane or rank is called on this sheet".into()) };
    };
    while let Some(n) = tokens.get(i).copied().and_then(unit_number) {
        i += 1;
        let mut unit = match field.open.take() {
            Some(open) if open.number == n => open,
            Some(open) => return Err(format!("number {} has no total", open.number)),
            None => OpenUnit { number: n, calls: Vec::new(), done: 0 },
        };
        match read_unit(&mut unit, &head.words, &tokens, &mut i)? {
            true => place(field, head, &unit, strip)?,
            false => field.open = Some(unit),
        }
    }
    Ok(())
}

/// Reads calls up to the total; `false` when the sheet ends before it.
fn read_unit(unit: &mut OpenUnit, words: &Words, tokens: &[&str], i: &mut usize) -> Result<bool, String> {
    let n = unit.number;
    let began = unit.done;
    loop {
        let Some(&word) = tokens.get(*i) else { return Ok(false) };
        let next = tokens.get(*i + 1).copied().and_then(number);
        match word {
            "|" => *i += 1,
            // At the head of a sheet: goes on from the one before. After calls: goes on on the next.
            "…" => {
                *i += 1;
                if unit.done > began {
                    return Ok(false);
                }
            }
            "›" => {
                if next != Some(unit.done) {
                    return Err(format!("number {n}: {} are called where ›{next:?} stands", unit.done));
                }
                *i += 2;
            }
            "=" => {
                *i += 2;
                let pieces: u32 = unit.calls.iter().filter(|c| c.0.is_some()).map(|c| c.1).sum();
                let mut cells = next;
                if tokens.get(*i) == Some(&words.get("of")) {
                    cells = tokens.get(*i + 1).copied().and_then(number);
                    *i += 2;
                }
                if next != Some(pieces) || cells != Some(unit.done) {
                    let done = unit.done;
                    return Err(format!(
                        "number {n}: {pieces} pieces in {done} cells, the total says {next:?}"
                    ));
                }
                return Ok(true);
            }
            code => {
                let count = next.ok_or_else(|| format!("number {n}: {code} has no count"))?;
                let code = (code != words.get("skip")).then(|| code.to_owned());
                if count == 0 {
                    return Err(format!("number {n}: a call of 0"));
                }
                unit.done = unit.done.saturating_add(count);
                unit.calls.push((code, count));
                *i += 2;
            }
        }
    }
}

/// Puts a finished unit into the field.
fn place(field: &mut Partial, head: &Head, unit: &OpenUnit, strip: u32) -> Result<(), String> {
    let (lanes, ranks) = (field.read.lanes, field.read.ranks);
    let (count, length) = match head.unit {
        Unit::Lane => (lanes, ranks),
        Unit::Rank => (ranks, lanes),
    };
    let n = unit.number;
    if n == 0 || n > count || unit.done != length {
        return Err(format!("number {n} of {count} has {} cells, not {length}", unit.done));
    }
    let check = field.strips.entry(strip).or_default();
    let mut k = 0;
    for (code, run) in &unit.calls {
        if let Some(code) = code {
            *check.called.entry(code.clone()).or_default() += u64::from(*run);
        }
        for _ in 0..*run {
            let along = if counts_up(head) { k } else { length - 1 - k };
            let (lane, rank) = match head.unit {
                Unit::Lane => (n - 1, along),
                Unit::Rank => (along, n - 1),
            };
            let cell = lane as usize * ranks as usize + rank as usize;
            if std::mem::replace(&mut field.seen[cell], true) {
                return Err(format!("lane {}, rank {} is called twice", lane + 1, rank + 1));
            }
            field.read.cells[cell] = code.clone();
            k += 1;
        }
    }
    Ok(())
}

/// Whether the cells of a unit are called in the order of their numbers, worked out from the builder's view.
///
/// Along a lane, rank 1 is where the fall comes from. Across the lanes, lane 1 is at the right hand of the
/// fall: at the builder's right when it runs away from them, at the left when it comes towards them.
fn counts_up(head: &Head) -> bool {
    let first_hand_is_left = matches!(head.start, Start::FarLeft | Start::NearLeft);
    let number_one_is_left = match head.fall {
        FallSeen::LeftToRight | FallSeen::Towards => true,
        FallSeen::RightToLeft | FallSeen::Away => false,
    };
    first_hand_is_left == number_one_is_left
}
