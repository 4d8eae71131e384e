//! Rules about single files: the opening sentence, the length, open ends without an owner.

use std::collections::BTreeMap;

/// Longest file without its tests, in lines.
const LIMIT: usize = 600;

/// Lists that `codegen` writes: they are as long as the words of the pages, and nobody reads them from top to end.
const MADE: &str = "crates/sayings/src/english/";

/// Endings of files that are read for open ends; the Rust rules look at `.rs` alone.
const ENDINGS: [&str; 7] = [".rs", ".ts", ".svelte", ".css", ".js", ".sh", ".toml"];

/// Words that mark an open end. Put together here so that this file does not hold one.
const OPEN_ENDS: [&str; 2] = [concat!("TO", "DO"), concat!("FIX", "ME")];

pub(super) fn is_source(name: &str) -> bool {
    ENDINGS.iter().any(|ending| name.ends_with(ending))
}

/// A Rust file opens with one `//!` sentence that says what it is for.
pub(super) fn check_header(name: &str, text: &str, faults: &mut Vec<String>) {
    if !name.ends_with(".rs") {
        return;
    }
    let opens = text
        .lines()
        .next()
        .and_then(|line| line.strip_prefix("//!"))
        .is_some_and(|sentence| sentence.trim().len() >= 10);
    if !opens {
        faults.push(format!("{name}: opens without a `//!` sentence that says what the file is for"));
    }
}

/// An open end names who will close it, in brackets.
pub(super) fn check_open_ends(name: &str, text: &str, faults: &mut Vec<String>) {
    for (number, line) in (1..).zip(text.lines()) {
        for word in OPEN_ENDS {
            let Some((before, after)) = line.split_once(word) else { continue };
            let inside_a_word = before.ends_with(|c: char| c.is_alphanumeric() || c == '_')
                || after.starts_with(|c: char| c.is_alphanumeric() || c == '_');
            let owner = after.strip_prefix('(').and_then(|rest| rest.split_once(')'));
            if !inside_a_word && owner.is_none_or(|(owner, _)| owner.trim().is_empty()) {
                faults.push(format!("{name}:{number}: {word} without an owner; write {word}(name)"));
            }
        }
    }
}

/// Whether somebody writes this Rust file, and not for a test.
fn is_written(name: &str) -> bool {
    name.ends_with(".rs") && !is_test(name) && !name.starts_with(MADE)
}

/// Rust files stay below the limit, but for known ones that may only shrink.
pub(super) fn check_lengths(sources: &[(String, String)], known: &str, faults: &mut Vec<String>) {
    let mut known = parse_known(known, faults);
    for (name, text) in sources.iter().filter(|(name, _)| is_written(name)) {
        let lines = without_tests(text);
        match known.remove(name.as_str()) {
            None if lines > LIMIT => {
                faults.push(format!("{name}: {lines} lines without tests; split it (the limit is {LIMIT})"));
            }
            Some(allowed) if lines > allowed => {
                faults.push(format!(
                    "{name}: grew from {allowed} to {lines} lines; a known long file may only shrink"
                ));
            }
            Some(_) if lines <= LIMIT => {
                faults.push(format!("{name}: {lines} lines now; remove it from xtask/known/long-files.txt"));
            }
            _ => {}
        }
    }
    for name in known.keys() {
        faults.push(format!("{name}: does not exist; remove it from xtask/known/long-files.txt"));
    }
}

fn parse_known<'a>(text: &'a str, faults: &mut Vec<String>) -> BTreeMap<&'a str, usize> {
    let mut known = BTreeMap::new();
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
        match line.split_once(' ').map(|(lines, name)| (lines.parse(), name.trim())) {
            Some((Ok(lines), name)) => {
                known.insert(name, lines);
            }
            _ => faults.push(format!("xtask/known/long-files.txt: \"{line}\" should read: LINES PATH")),
        }
    }
    known
}

/// Whether the whole file is tests or benches.
fn is_test(name: &str) -> bool {
    name.split('/').any(|part| matches!(part, "tests" | "benches" | "tests.rs"))
}

/// Lines of a file without its test modules at the outer level, which rustfmt closes by a brace in the first column.
fn without_tests(text: &str) -> usize {
    let mut count = 0;
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        let opens = line == "#[cfg(test)]"
            && lines.peek().is_some_and(|next| next.starts_with("mod ") && next.ends_with('{'));
        if opens {
            lines.by_ref().find(|line| *line == "}");
        } else {
            count += 1;
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(check: impl Fn(&mut Vec<String>)) -> Vec<String> {
        let mut list = Vec::new();
        check(&mut list);
        list
    }

    fn long(lines: usize) -> Vec<(String, String)> {
        vec![("crates/a/src/lib.rs".to_owned(), "x\n".repeat(lines))]
    }

    #[test]
    fn a_file_without_an_opening_sentence_is_a_fault() {
        assert_eq!(faults(|list| check_header("a.rs", "//! Says what it is for.\n", list)).len(), 0);
        assert_eq!(faults(|list| check_header("a.rs", "use std::fs;\n", list)).len(), 1);
        assert_eq!(faults(|list| check_header("a.rs", "//!\n", list)).len(), 1);
        assert_eq!(faults(|list| check_header("a.rs", "", list)).len(), 1);
        assert_eq!(faults(|list| check_header("a.ts", "import x\n", list)).len(), 0);
    }

    #[test]
    fn an_open_end_needs_an_owner() {
        let word = OPEN_ENDS[0];
        assert_eq!(faults(|list| check_open_ends("a.rs", &format!("// {word}: later"), list)).len(), 1);
        assert_eq!(faults(|list| check_open_ends("a.rs", &format!("// {word}(): later"), list)).len(), 1);
        assert_eq!(faults(|list| check_open_ends("a.rs", &format!("// {word}(ada): later"), list)).len(), 0);
        assert_eq!(faults(|list| check_open_ends("a.rs", &format!("let MY_{word}S = 1;"), list)).len(), 0);
    }

    #[test]
    fn tests_do_not_count_towards_the_length() {
        let text = "//! Head.\nfn a() {}\n#[cfg(test)]\nmod tests {\n    fn b() {}\n}\nfn c() {}\n";
        assert_eq!(without_tests(text), 3);
        assert_eq!(without_tests("#[cfg(test)]\nmod tests;\n"), 2);
    }

    #[test]
    fn a_long_file_is_a_fault_unless_known_and_not_growing() {
        assert_eq!(faults(|list| check_lengths(&long(600), "", list)).len(), 0);
        assert_eq!(faults(|list| check_lengths(&long(601), "", list)).len(), 1);
        assert_eq!(
            faults(|list| check_lengths(&long(601), "# why\n601 crates/a/src/lib.rs\n", list)).len(),
            0
        );
        let made = [("crates/sayings/src/english/gate.rs".to_owned(), long(601)[0].1.clone())];
        assert_eq!(faults(|list| check_lengths(&made, "", list)).len(), 0);
        let grown = faults(|list| check_lengths(&long(602), "601 crates/a/src/lib.rs\n", list));
        assert!(grown[0].contains("only shrink"), "{grown:?}");
    }

    #[test]
    fn a_known_file_that_is_short_or_gone_must_leave_the_list() {
        let short = faults(|list| check_lengths(&long(600), "700 crates/a/src/lib.rs\n", list));
        assert!(short[0].contains("remove it"), "{short:?}");
        let gone = faults(|list| check_lengths(&[], "700 crates/a/src/lib.rs\n", list));
        assert!(gone[0].contains("does not exist"), "{gone:?}");
    }
}
