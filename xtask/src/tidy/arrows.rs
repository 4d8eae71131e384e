//! Which crate may use which: the ladder and the arrows of ARCHITECTURE.md against what Cargo says.
//!
//! The ladder is a fenced block `ladder`: a line is a level and its crates, lowest first (`L1 geometry colour`);
//! a line that starts with `tools` lists crates outside the ladder, which may use anything and be used by nothing.
//! The arrows are a fenced block `arrows`: `plan -> geometry units`.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context as _, Result, bail};

use crate::metadata::Metadata;

/// Crate and crate it uses.
type Arrows = BTreeSet<(String, String)>;

/// What ARCHITECTURE.md says.
#[derive(Debug)]
pub(super) struct Drawn {
    levels: BTreeMap<String, usize>,
    tools: BTreeSet<String>,
    arrows: Arrows,
}

/// What Cargo says: our crates, and the normal and build dependencies between them.
pub(super) struct Found {
    crates: BTreeSet<String>,
    arrows: Arrows,
}

/// Reads both blocks.
pub(super) fn parse(text: &str) -> Result<Drawn> {
    let mut drawn = Drawn { levels: BTreeMap::new(), tools: BTreeSet::new(), arrows: Arrows::new() };
    for (level, line) in block(text, "ladder")?.into_iter().enumerate() {
        let mut words = line.split_whitespace().map(str::to_owned);
        let head = words.next().unwrap_or_default();
        match head.strip_prefix('L').and_then(|number| number.parse::<usize>().ok()) {
            Some(number) if number == level => drawn.levels.extend(words.map(|name| (name, level))),
            None if head == "tools" => drawn.tools.extend(words),
            _ => bail!("ARCHITECTURE.md, ladder: \"{line}\" should start with L{level} or tools"),
        }
    }
    for line in block(text, "arrows")? {
        let (from, to) = line.split_once("->").with_context(|| {
            format!("ARCHITECTURE.md, arrows: \"{line}\" should read: crate -> crate crate")
        })?;
        drawn.arrows.extend(to.split_whitespace().map(|to| (from.trim().to_owned(), to.to_owned())));
    }
    Ok(drawn)
}

/// The lines between "```name" and "```".
fn block<'a>(text: &'a str, name: &str) -> Result<Vec<&'a str>> {
    let fence = format!("```{name}");
    let mut lines = text.lines().skip_while(|line| line.trim() != fence);
    if lines.next().is_none() {
        bail!("ARCHITECTURE.md has no fenced block called {name}.");
    }
    Ok(lines.map(str::trim).take_while(|line| *line != "```").filter(|line| !line.is_empty()).collect())
}

/// Takes the arrows from Cargo's metadata; test dependencies do not count.
pub(super) fn found(data: &Metadata) -> Found {
    let ours: BTreeSet<String> = data
        .packages
        .iter()
        .filter(|package| data.is_ours(package))
        .map(|package| package.name.clone())
        .collect();
    let arrows = data.packages.iter().flat_map(|package| {
        let counted =
            package.dependencies.iter().filter(|dependency| dependency.kind.as_deref() != Some("dev"));
        counted.map(|dependency| (package.name.clone(), dependency.name.clone()))
    });
    let arrows = arrows.filter(|(from, to)| ours.contains(from) && ours.contains(to)).collect();
    Found { crates: ours, arrows }
}

/// Every crate has its place, every arrow is drawn and goes down, and no drawn arrow is idle.
pub(super) fn check(drawn: &Drawn, found: &Found, faults: &mut Vec<String>) {
    let mut fault = |sentence: String| faults.push(format!("ARCHITECTURE.md: {sentence}"));
    for name in &found.crates {
        if !drawn.levels.contains_key(name) && !drawn.tools.contains(name) {
            fault(format!("crate {name} has no place on the ladder"));
        }
    }
    for name in drawn.levels.keys().chain(&drawn.tools).filter(|name| !found.crates.contains(*name)) {
        fault(format!("the ladder names a crate that does not exist: {name}"));
    }
    for (from, to) in &found.arrows {
        if drawn.tools.contains(to) {
            fault(format!("{from} uses {to}, a tool, which nothing may use"));
        } else if !drawn.tools.contains(from) && !drawn.arrows.contains(&(from.clone(), to.clone())) {
            fault(format!("{from} uses {to}, an arrow that is not drawn"));
        }
    }
    for (from, to) in &drawn.arrows {
        if !found.arrows.contains(&(from.clone(), to.clone())) {
            fault(format!("the arrow {from} -> {to} is drawn, but {from} does not use {to}"));
        }
        if let (Some(high), Some(low)) = (drawn.levels.get(from), drawn.levels.get(to))
            && low >= high
        {
            fault(format!("the arrow {from} -> {to} does not go down the ladder (L{high} to L{low})"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "words\n```ladder\nL0 units\nL1 geometry colour\nL2 plan\ntools xtask\n```\nmore\n\
        ```arrows\ngeometry -> units\nplan -> geometry units\n```\n";

    fn cargo(arrows: &[(&str, &str)]) -> Found {
        Found {
            crates: ["units", "geometry", "colour", "plan", "xtask"].map(str::to_owned).into(),
            arrows: arrows.iter().map(|(from, to)| ((*from).to_owned(), (*to).to_owned())).collect(),
        }
    }

    #[track_caller]
    fn faults(text: &str, arrows: &[(&str, &str)]) -> String {
        let mut list = Vec::new();
        check(&parse(text).unwrap(), &cargo(arrows), &mut list);
        list.join("\n")
    }

    const TRUE: [(&str, &str); 3] = [("geometry", "units"), ("plan", "geometry"), ("plan", "units")];

    #[test]
    fn arrows_as_drawn_are_fine() {
        assert_eq!(faults(TEXT, &TRUE), "");
        assert_eq!(faults(TEXT, &[&TRUE[..], &[("xtask", "plan")]].concat()), "");
    }

    #[test]
    fn a_planted_arrow_is_a_fault() {
        let said = faults(TEXT, &[&TRUE[..], &[("colour", "units")]].concat());
        assert!(said.contains("colour uses units, an arrow that is not drawn"), "{said}");
    }

    #[test]
    fn an_arrow_upwards_or_sideways_is_a_fault_even_if_drawn() {
        for (from, to) in [("units", "plan"), ("geometry", "colour")] {
            let text = TEXT.replace("```arrows\n", &format!("```arrows\n{from} -> {to}\n"));
            let said = faults(&text, &[&TRUE[..], &[(from, to)]].concat());
            assert!(said.contains("does not go down"), "{said}");
        }
    }

    #[test]
    fn a_drawn_arrow_that_nothing_uses_is_a_fault() {
        let said = faults(TEXT, &TRUE[..2]);
        assert!(said.contains("plan does not use units"), "{said}");
    }

    #[test]
    fn a_crate_without_a_place_and_a_place_without_a_crate_are_faults() {
        let said = faults(&TEXT.replace("geometry colour", "geometry paint"), &TRUE);
        assert!(
            said.contains("crate colour has no place") && said.contains("does not exist: paint"),
            "{said}"
        );
    }

    #[test]
    fn nothing_uses_a_tool() {
        let said = faults(TEXT, &[&TRUE[..], &[("plan", "xtask")]].concat());
        assert!(said.contains("a tool, which nothing may use"), "{said}");
    }

    #[test]
    fn a_missing_block_and_a_broken_level_are_errors() {
        assert!(parse("nothing").is_err());
        assert!(parse(&TEXT.replace("L1", "L3")).is_err());
    }
}
