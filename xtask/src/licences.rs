//! Licences of every library that the product or its tools are made from.

use std::collections::BTreeMap;
use std::fs;

use anyhow::{Context as _, Result, bail};
use serde::Deserialize;

use crate::{metadata, shell, spdx, web};

/// Licences that ask for no more than a notice, or for the source of changed files (MPL).
const ACCEPTED: [&str; 16] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "Unicode-DFS-2016",
    "CC0-1.0",
    "MPL-2.0",
    "OFL-1.1",
    "BSL-1.0",
    "0BSD",
    "Unlicense",
    "MIT-0",
    "CDLA-Permissive-2.0",
];

/// Accepted besides for web packages that only build or check and never reach the pages:
/// browser tables (CC-BY) and two notice licences that common tools carry.
const ACCEPTED_TOOLS: [&str; 3] = ["CC-BY-4.0", "BlueOak-1.0.0", "Python-2.0"];

/// The lock file of npm, version 3.
#[derive(Deserialize)]
struct Lock {
    packages: BTreeMap<String, Locked>,
}

/// One entry; `license` is text, or an object in packages of long ago.
#[derive(Deserialize)]
struct Locked {
    version: Option<String>,
    license: Option<serde_json::Value>,
    #[serde(default)]
    dev: bool,
}

/// `cargo xtask licences`.
pub(crate) fn run(_: &[String]) -> Result<()> {
    let mut bad = Vec::new();
    let crates = check_crates(&mut bad)?;
    let packages = if web::exists() { check_packages(&mut bad)? } else { 0 };
    if !bad.is_empty() {
        bail!("These libraries have a licence that is not on the list:\n  {}", bad.join("\n  "));
    }
    println!("{crates} crates and {packages} web packages have an accepted licence");
    Ok(())
}

fn check_crates(bad: &mut Vec<String>) -> Result<usize> {
    let data = metadata::read(true)?;
    let mut count = 0;
    for package in data.packages.iter().filter(|package| !data.is_ours(package)) {
        count += 1;
        let name = format!("crate {} {}", package.name, package.version);
        judge(&name, package.license.as_deref(), &ACCEPTED, bad);
    }
    Ok(count)
}

fn check_packages(bad: &mut Vec<String>) -> Result<usize> {
    let path = shell::root().join("web/package-lock.json");
    let text = fs::read_to_string(&path)
        .context("web/package-lock.json could not be read; run `npm install` in web/")?;
    let lock: Lock = serde_json::from_str(&text).context("web/package-lock.json has an unexpected form")?;
    let tools: Vec<&str> = ACCEPTED.iter().chain(&ACCEPTED_TOOLS).copied().collect();
    let mut count = 0;
    // The entry without a name is the web part itself.
    for (place, entry) in lock.packages.iter().filter(|(place, _)| !place.is_empty()) {
        count += 1;
        let name = format!("{place} {}", entry.version.as_deref().unwrap_or("?"));
        let licence = entry.license.clone().or_else(|| installed_licence(place));
        let list: &[&str] = if entry.dev { &tools } else { &ACCEPTED };
        judge(&name, licence.as_ref().and_then(as_expression).as_deref(), list, bad);
    }
    Ok(count)
}

/// The licence that an installed package states, for lock entries that leave it out.
fn installed_licence(place: &str) -> Option<serde_json::Value> {
    let text = fs::read_to_string(shell::root().join("web").join(place).join("package.json")).ok()?;
    let value: serde_json::Value = serde_json::from_str(&text).ok()?;
    value.get("license").or_else(|| value.get("licenses")).cloned()
}

/// Text as it stands; `{ "type": … }` by its type; a list as a choice.
fn as_expression(value: &serde_json::Value) -> Option<String> {
    match value {
        serde_json::Value::String(text) => Some(text.clone()),
        serde_json::Value::Object(object) => object.get("type")?.as_str().map(str::to_owned),
        serde_json::Value::Array(list) => {
            Some(list.iter().filter_map(as_expression).collect::<Vec<_>>().join(" OR "))
        }
        _ => None,
    }
}

fn judge(name: &str, licence: Option<&str>, list: &[&str], bad: &mut Vec<String>) {
    match licence.map(|text| (text, spdx::allowed(text, list))) {
        Some((_, Ok(true))) => {}
        Some((text, Ok(false))) => bad.push(format!("{name}: {text}")),
        Some((text, Err(error))) => bad.push(format!("{name}: {text} ({error})")),
        None => bad.push(format!("{name}: states no licence")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn old_ways_to_state_a_licence_are_read() {
        let read = |text: &str| as_expression(&serde_json::from_str(text).unwrap());
        assert_eq!(read(r#""MIT""#).as_deref(), Some("MIT"));
        assert_eq!(read(r#"{ "type": "ISC", "url": "x" }"#).as_deref(), Some("ISC"));
        assert_eq!(read(r#"[{ "type": "MIT" }, { "type": "GPL-2.0" }]"#).as_deref(), Some("MIT OR GPL-2.0"));
        assert_eq!(read("7"), None);
    }

    #[test]
    fn a_missing_or_foreign_licence_is_reported() {
        let mut bad = Vec::new();
        judge("a", None, &ACCEPTED, &mut bad);
        judge("b", Some("SSPL-1.0"), &ACCEPTED, &mut bad);
        judge("c", Some("SEE LICENSE IN x"), &ACCEPTED, &mut bad);
        judge("d", Some("MIT OR Apache-2.0"), &ACCEPTED, &mut bad);
        assert_eq!(bad.len(), 3, "{bad:?}");
    }
}
