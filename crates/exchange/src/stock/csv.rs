//! Comma-separated text after RFC 4180, with the separator as an argument and line numbers kept.

/// One cell. White space around an unquoted cell is dropped, within quotes it counts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) quoted: bool,
}

/// One record and the line on which it starts, from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Record {
    pub(super) line: usize,
    pub(super) cells: Vec<Cell>,
}

/// What a spreadsheet could take for a formula at the start of a cell, and what this format itself uses there.
const MARKED: [char; 8] = ['=', '+', '-', '@', '\t', '\r', '\'', '#'];

impl Record {
    /// True when nothing but white space stands in it.
    pub(super) fn is_blank(&self) -> bool {
        self.cells.iter().all(|c| c.text.trim().is_empty())
    }
}

/// Splits a text into records and leaves out lines that start with `#`, unless that is a colour such as `#1f63c4`.
/// `Err` holds the line on which a quote was opened that is never closed.
pub(super) fn records(text: &str, separator: char) -> Result<Vec<Record>, usize> {
    let mut signs = text.chars().peekable();
    let mut out = Vec::new();
    let mut line = 1;
    while signs.peek().is_some() {
        if is_comment(&signs) {
            skip_line(&mut signs);
            line += 1;
            continue;
        }
        let mut record = Record { line, cells: Vec::new() };
        loop {
            let (cell, end) = next_cell(&mut signs, separator, &mut line)?;
            record.cells.push(cell);
            if end {
                break;
            }
        }
        out.push(record);
    }
    Ok(out)
}

type Signs<'a> = std::iter::Peekable<std::str::Chars<'a>>;

fn is_comment(signs: &Signs<'_>) -> bool {
    let head: String = signs.clone().take(7).collect();
    head.starts_with('#') && plan::Rgb::from_hex(&head).is_none()
}

fn skip_line(signs: &mut Signs<'_>) {
    while let Some(c) = signs.next() {
        if c == '\n' || (c == '\r' && signs.peek() != Some(&'\n')) {
            return;
        }
    }
}

/// The next cell, and whether the record ends behind it.
fn next_cell(signs: &mut Signs<'_>, separator: char, line: &mut usize) -> Result<(Cell, bool), usize> {
    // White space before an opening quote is tolerated, as some writers put a blank behind each comma.
    let mut text = String::new();
    while let Some(&c) = signs.peek() {
        if c != ' ' || c == separator {
            break;
        }
        signs.next();
    }
    let quoted = signs.peek() == Some(&'"');
    if quoted {
        signs.next();
        quoted_part(signs, line, &mut text)?;
    }
    let end = loop {
        match signs.next() {
            None => break true,
            Some(c) if c == separator => break false,
            Some('\r') if signs.peek() == Some(&'\n') => {}
            Some('\n' | '\r') => {
                *line += 1;
                break true;
            }
            // Behind a closing quote only white space is usual; anything else is kept rather than lost.
            Some(c) if quoted && c.is_whitespace() => {}
            Some(c) => text.push(c),
        }
    };
    if !quoted {
        text.truncate(text.trim_end().len());
        text.drain(..text.len() - text.trim_start().len());
    }
    Ok((Cell { text, quoted }, end))
}

fn quoted_part(signs: &mut Signs<'_>, line: &mut usize, text: &mut String) -> Result<(), usize> {
    let opened = *line;
    loop {
        match signs.next() {
            None => return Err(opened),
            Some('"') if signs.peek() == Some(&'"') => {
                signs.next();
                text.push('"');
            }
            Some('"') => return Ok(()),
            Some(c) => {
                *line += usize::from(c == '\n');
                text.push(c);
            }
        }
    }
}

/// A text as a cell that no spreadsheet takes for a formula: a `'` is put before what could be one.
pub(super) fn write_text(text: &str) -> String {
    let mut signs = text.chars();
    let (first, second) = (signs.next(), signs.next());
    let is_marked = |c: Option<char>| c.is_some_and(|c| MARKED.contains(&c));
    let risky = is_marked(first) && (first != Some('\'') || is_marked(second));
    let marked = if risky { format!("'{text}") } else { text.to_owned() };
    let plain = !marked.contains([',', ';', '\t', '"', '\n', '\r']) && marked.trim() == marked;
    if plain { marked } else { format!("\"{}\"", marked.replace('"', "\"\"")) }
}

/// The text of a cell without the mark that [`write_text`] puts.
pub(super) fn read_text(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(MARKED) => rest,
        _ => cell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str, separator: char) -> Vec<Vec<String>> {
        let all = records(text, separator).unwrap();
        all.into_iter().map(|r| r.cells.into_iter().map(|c| c.text).collect()).collect()
    }

    #[test]
    fn quotes_hold_separators_line_ends_and_doubled_quotes() {
        assert_eq!(
            texts("a,\"b,\"\"c\"\"\nd\",e\r\nf,g\n", ','),
            [vec!["a", "b,\"c\"\nd", "e"], vec!["f", "g"]]
        );
        assert_eq!(texts("a; \" b \" ;c", ';'), [["a", " b ", "c"]]);
    }

    #[test]
    fn lines_are_counted_through_quotes_and_all_line_ends() {
        let lines: Vec<_> = records("a\r\n\"b\nb\"\nc\rd", ',').unwrap().iter().map(|r| r.line).collect();
        assert_eq!(lines, [1, 2, 4, 5]);
    }

    #[test]
    fn an_open_quote_is_named_by_its_line() {
        assert_eq!(records("a,b\n\"c,d\ne,f", ','), Err(2));
    }

    #[test]
    fn marked_text_comes_back_and_never_starts_a_formula() {
        for text in ["=1+1", "+x", "-x", "@x", "'=x", "''a", "'quoted'", "#1 blue", " lead", "a,b", "\"", ""]
        {
            let cell = write_text(text);
            let bare = cell.trim_start_matches('"');
            assert!(!bare.starts_with(['=', '+', '-', '@', '\t']), "{cell}");
            let back = records(&format!("{cell},x"), ',').unwrap().remove(0).cells.remove(0);
            assert_eq!(read_text(&back.text), text, "{cell}");
        }
    }
}
