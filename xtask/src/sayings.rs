//! The constants of crate `sayings`, made from the English words of the pages.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::shell;

/// The English words of everything that is said.
const WORDS: &str = "web/src/i18n/en.json";
/// Keys that begin so are said by the engine; each group becomes a module, with what it is for.
const GROUPS: [(&str, &str); 6] = [
    ("doing", "What a change does: the names of the steps in the history."),
    ("feeding", "Why a field can or cannot be fed in a way, and how sure that is."),
    (
        "gate",
        "Why the plan does not take a change: where, which value, what is wrong with it, what to do next.",
    ),
    ("found", "What the checks find, where, and what to do about it."),
    ("refusing", "Why anything else cannot be done, and what to do next."),
    ("telling", "How the stock stands, where a builder sits, and what was done to a picture."),
];

/// Writes the modules to a folder.
pub(crate) fn write(out: &Path) -> Result<bool> {
    let path = shell::root().join(WORDS);
    let text = fs::read_to_string(&path).with_context(|| format!("{WORDS} could not be read"))?;
    let words: BTreeMap<String, String> =
        serde_json::from_str(&text).with_context(|| format!("{WORDS} is not a list of keys and words"))?;
    let mut modules =
        "//! What the engine says, by what it is about. Written by `cargo xtask codegen`.\n\n".to_owned();
    for (group, about) in GROUPS {
        fs::write(out.join(format!("{group}.rs")), module(&words, group, about)?)?;
        writeln!(modules, "pub mod {group};")?;
    }
    fs::write(out.join("mod.rs"), modules)?;
    Ok(true)
}

/// One module: a constant for each key of a group, or for each pair of `.one` and `.many`.
fn module(words: &BTreeMap<String, String>, group: &str, about: &str) -> Result<String> {
    let mut out =
        format!("//! {about} Written by `cargo xtask codegen` from {WORDS}.\n\nuse crate::Saying;\n\n");
    let prefix = format!("{group}.");
    let mut names = BTreeMap::<String, &str>::new();
    for (key, text) in words.iter().filter(|(key, _)| key.starts_with(&prefix)) {
        let (stem, made) = match (key.strip_suffix(".one"), key.strip_suffix(".many")) {
            (Some(_), _) => continue,
            (_, Some(stem)) => match words.get(&format!("{stem}.one")) {
                Some(one) => (stem, counted(stem, one, text)?),
                None => bail!("{WORDS}: {key} is there without {stem}.one; add it, since both are needed."),
            },
            _ => (key.as_str(), plain(key, text)?),
        };
        let name = name(stem.trim_start_matches(&prefix));
        if let Some(other) = names.insert(name.clone(), stem) {
            bail!("{WORDS}: {stem} and {other} would both be called {name}; rename one of them.");
        }
        write!(out, "/// \"{text}\"\npub const {name}: {made};\n")?;
    }
    for key in words.keys().filter(|key| key.starts_with(&prefix)) {
        if let Some(stem) =
            key.strip_suffix(".one").filter(|stem| !words.contains_key(&format!("{stem}.many")))
        {
            bail!("{WORDS}: {key} is there without {stem}.many; add it, since both are needed.");
        }
    }
    Ok(out)
}

fn plain(key: &str, text: &str) -> Result<String> {
    let holes = holes(key, text)?;
    Ok(format!("Saying<{}> = Saying::plain({key:?}, {text:?}, {holes:?})", holes.len()))
}

/// With the count `n` in any case: it chooses between the two texts.
fn counted(key: &str, one: &str, many: &str) -> Result<String> {
    let mut all = vec!["n".to_owned()];
    for hole in holes(key, one)?.into_iter().chain(holes(key, many)?) {
        if !all.contains(&hole) {
            all.push(hole);
        }
    }
    Ok(format!("Saying<{}> = Saying::counted({key:?}, ({one:?}, {many:?}), {all:?})", all.len()))
}

/// The holes of a text, each once, in order.
fn holes(key: &str, text: &str) -> Result<Vec<String>> {
    let mut all = Vec::<String>::new();
    for part in text.split('{').skip(1) {
        let Some((hole, _)) = part.split_once('}') else {
            bail!("{WORDS}: {key} opens a brace and does not close it; close it.");
        };
        let fine = hole.starts_with(|c: char| c.is_ascii_lowercase())
            && hole.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
        if !fine {
            bail!("{WORDS}: {key} has a hole \"{hole}\"; name it in small letters.");
        }
        if !all.iter().any(|other| other == hole) {
            all.push(hole.to_owned());
        }
    }
    Ok(all)
}

/// `link.port-to` as a constant is called.
fn name(key: &str) -> String {
    key.replace(['.', '-'], "_").to_ascii_uppercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(words: &[(&str, &str)]) -> Result<String> {
        let words = words.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        module(&words, "found", "About.")
    }

    #[test]
    fn a_key_becomes_a_constant_with_its_holes_and_two_texts_become_one() {
        let text = made(&[
            ("found.at.stock-of", "Stock, {name} {name}"),
            ("found.more.many", "{n} of {all}"),
            ("found.more.one", "one \"{x}\""),
            ("other.key", "{Not} read"),
        ])
        .unwrap();
        assert!(text.contains(
            "pub const AT_STOCK_OF: Saying<1> = Saying::plain(\"found.at.stock-of\", \"Stock, {name} {name}\", [\"name\"]);"
        ));
        assert!(text.contains(
            "pub const MORE: Saying<3> = Saying::counted(\"found.more\", (\"one \\\"{x}\\\"\", \"{n} of {all}\"), [\"n\", \"x\", \"all\"]);"
        ));
        assert_eq!(text.matches("pub const").count(), 2, "{text}");
    }

    #[test]
    fn words_that_cannot_be_said_are_refused_with_their_key() {
        for (words, said) in [
            (vec![("found.a.one", "x")], "without found.a.many"),
            (vec![("found.a.many", "x")], "without found.a.one"),
            (vec![("found.a", "{x")], "found.a opens a brace"),
            (vec![("found.a", "{X}")], "found.a has a hole"),
            (vec![("found.a.b", "x"), ("found.a-b", "y")], "both be called A_B"),
        ] {
            let error = made(&words).unwrap_err().to_string();
            assert!(error.contains(said), "{error}");
        }
    }
}
