//! The small languages of a field's cells: runs by lane, and ranges of cells set by hand.

use std::collections::HashMap;
use std::fmt::Write;
use std::ops::Range;

use plan::{EMPTY, Stock};

/// One lane as runs: `S22 W6 .3 S1`.
pub(super) fn write_lane(cells: &[u16], stock: &Stock) -> String {
    let mut text = String::new();
    for run in cells.chunk_by(|a, b| a == b) {
        let colour = run[0];
        let code = stock.colour(plan::ColourId(colour)).map_or("", |c| c.code.as_str());
        let code = if colour == EMPTY { "." } else { code };
        let gap = if text.is_empty() { "" } else { " " };
        let _ = write!(text, "{gap}{}", write_run(code, run.len()));
    }
    text
}

/// One run: `S22`, or `B2:22` where the code ends with a figure.
pub(super) fn write_run(code: &str, count: usize) -> String {
    let colon = if code.ends_with(|c: char| c.is_ascii_digit()) { ":" } else { "" };
    format!("{code}{colon}{count}")
}

/// The code and the count of a run, as they stand.
pub(super) fn split_run(run: &str) -> (&str, &str) {
    run.split_once(':').unwrap_or_else(|| {
        let code = run.trim_end_matches(|c: char| c.is_ascii_digit());
        (code, &run[code.len()..])
    })
}

/// The codes of a stock, for [`read_lane`].
pub(super) fn codes(stock: &Stock) -> HashMap<&str, u16> {
    let mut codes: HashMap<&str, u16> = stock.colours.iter().map(|c| (c.code.as_str(), c.id.0)).collect();
    codes.insert(".", EMPTY);
    codes
}

/// Reads a lane of `ranks` cells and appends it. `Err` holds the run or count and what is wrong with it.
pub(super) fn read_lane(
    text: &str,
    ranks: usize,
    codes: &HashMap<&str, u16>,
    cells: &mut Vec<u16>,
) -> Result<(), (String, String)> {
    let start = cells.len();
    for run in text.split_ascii_whitespace() {
        let (code, count) = split_run(run);
        let quoted = || format!("\"{}\"", crate::stock::shown(run));
        let Ok(count) = count.parse::<usize>() else {
            return Err((quoted(), "is not a colour code and a count such as \"S22\" or \".3\"".into()));
        };
        let Some(&colour) = codes.get(code) else {
            return Err((quoted(), "names a colour code that is not in the stock".into()));
        };
        let long = cells.len() - start + count.min(ranks + 1);
        if long > ranks {
            return Err((quoted(), format!("makes the lane longer than its {ranks} ranks")));
        }
        cells.resize(start + long, colour);
    }
    let got = cells.len() - start;
    if got == ranks {
        Ok(())
    } else {
        Err((format!("A lane of {got} cells"), format!("does not fill its {ranks} ranks")))
    }
}

/// The cells set by hand, one text for each group of like lanes that follow each other: `lanes 1-40: 3-9 12`.
pub(super) fn write_marks(marks: &[bool], ranks: usize) -> Vec<String> {
    let mut groups: Vec<(usize, usize, String)> = Vec::new();
    for (lane, bits) in marks.chunks(ranks.max(1)).enumerate() {
        let text = ranges(bits);
        match groups.last_mut() {
            Some((_, last, t)) if *last + 1 == lane && *t == text => *last = lane,
            _ => groups.push((lane, lane, text)),
        }
    }
    groups.retain(|g| !g.2.is_empty());
    let say = |(first, last, text): (usize, usize, String)| {
        if first == last {
            format!("lane {}: {text}", first + 1)
        } else {
            format!("lanes {}-{}: {text}", first + 1, last + 1)
        }
    };
    groups.into_iter().map(say).collect()
}

fn ranges(bits: &[bool]) -> String {
    let mut text = String::new();
    let mut at = 0;
    for run in bits.chunk_by(|a, b| a == b) {
        let (first, last) = (at + 1, at + run.len());
        at = last;
        if !run[0] {
            continue;
        }
        let gap = if text.is_empty() { "" } else { " " };
        let _ =
            if first == last { write!(text, "{gap}{first}") } else { write!(text, "{gap}{first}-{last}") };
    }
    text
}

/// Sets the marks that a text of [`write_marks`] names. `None` when it is not understood or leaves the field.
///
/// Lanes and pieces must rise, from text to text as well (`next` is the first lane that may come): so no text,
/// however long, takes more steps than the field has cells.
pub(super) fn read_marks(text: &str, ranks: usize, marks: &mut [bool], next: &mut usize) -> Option<()> {
    let (lanes, pieces) = text.split_once(':')?;
    let lanes = lanes.trim();
    let lanes = lanes.strip_prefix("lanes ").or_else(|| lanes.strip_prefix("lane "))?;
    let lanes = range(lanes.trim(), *next, marks.len() / ranks.max(1))?;
    *next = lanes.end;
    let mut from = 0;
    for piece in pieces.split_ascii_whitespace() {
        let piece = range(piece, from, ranks)?;
        from = piece.end;
        for lane in lanes.clone() {
            marks[lane * ranks + piece.start..lane * ranks + piece.end].fill(true);
        }
    }
    Some(())
}

/// `3-9` or `12`, counted from 1, as a range from 0 that lies within `from..most`.
fn range(text: &str, from: usize, most: usize) -> Option<Range<usize>> {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let (first, last): (usize, usize) = (first.parse().ok()?, last.parse().ok()?);
    (from < first && first <= last && last <= most).then(|| first - 1..last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_of_like_lanes_are_one_text_and_come_back() {
        let mut marks = vec![false; 5 * 12];
        for lane in [1, 2, 3] {
            marks[lane * 12 + 4..lane * 12 + 9].fill(true);
            marks[lane * 12 + 11] = true;
        }
        marks[0] = true;
        let texts = write_marks(&marks, 12);
        assert_eq!(texts, ["lane 1: 1", "lanes 2-4: 5-9 12"]);
        let mut back = vec![false; marks.len()];
        let mut next = 0;
        texts.iter().for_each(|t| read_marks(t, 12, &mut back, &mut next).unwrap());
        assert_eq!(back, marks);
        for bad in [
            "lane 6: 1",
            "lane 1: 13",
            "lane 0: 1",
            "lane 1",
            "1: 1",
            "lane 2-1: 1",
            "lane 1: 0-3",
            "lane 1: 3 2",
        ] {
            assert_eq!(read_marks(bad, 12, &mut back, &mut 0), None, "{bad}");
        }
    }

    #[test]
    fn a_short_text_cannot_claim_a_huge_lane() {
        let codes = HashMap::from([(".", EMPTY)]);
        let mut cells = Vec::new();
        assert!(read_lane(".18446744073709551615 .9", 10, &codes, &mut cells).is_err());
        assert!(read_lane(".9999999999", 10, &codes, &mut cells).is_err());
        assert!(cells.len() <= 10);
    }
}
