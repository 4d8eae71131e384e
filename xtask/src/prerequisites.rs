//! What must be on the machine before a check can mean anything, with what to do when it is not.

use std::path::PathBuf;

use anyhow::{Result, bail};

use crate::{shell, web};

/// Oldest Node.js that the web tools run on.
const NODE: (u32, u32) = (20, 19);

/// Checks everything and names all that is missing at once.
pub(crate) fn check() -> Result<()> {
    let mut missing = Vec::new();
    let mut need = |there: bool, sentence: String| {
        if !there {
            missing.push(format!("  - {sentence}"));
        }
    };
    need(starts("cargo", &["fmt", "--version"]), "rustfmt is missing: rustup component add rustfmt".into());
    need(starts("cargo", &["clippy", "--version"]), "clippy is missing: rustup component add clippy".into());
    need(
        starts("cargo", &["nextest", "--version"]),
        "cargo-nextest, which runs the Rust tests, is missing: cargo install cargo-nextest --locked".into(),
    );
    need(
        c_compiler(),
        "no C compiler was found (cc, gcc or clang), which the database needs: apt install build-essential"
            .into(),
    );
    need(
        starts("pdftotext", &["-v"]),
        "pdftotext, with which tests read the sheets back, is missing: apt install poppler-utils".into(),
    );
    if web::exists() {
        need(
            node().is_some_and(|version| version >= NODE),
            format!("Node.js {}.{} or newer is needed; found: {}", NODE.0, NODE.1, node_shown()),
        );
        need(starts("npm", &["--version"]), "npm is missing; it comes with Node.js".into());
        need(
            chromium().is_some(),
            "Chromium, for the browser tests, was not found: apt install chromium, or name it in STANDFAST_CHROMIUM"
                .into(),
        );
    }
    if missing.is_empty() {
        return Ok(());
    }
    bail!("This machine lacks something that the checks need.\n{}", missing.join("\n"))
}

/// The browser for the browser tests.
pub(crate) fn chromium() -> Option<PathBuf> {
    if let Some(named) = std::env::var_os("STANDFAST_CHROMIUM") {
        return Some(PathBuf::from(named)).filter(|path| path.exists());
    }
    let folders: Vec<PathBuf> =
        std::env::var_os("PATH").map(|path| std::env::split_paths(&path).collect()).unwrap_or_default();
    let names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
    names
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)))
        .find(|path| path.exists())
}

fn c_compiler() -> bool {
    let named = std::env::var("CC").ok();
    named.as_deref().into_iter().chain(["cc", "gcc", "clang"]).any(|name| starts(name, &["--version"]))
}

/// Major and minor version of the Node.js on the path.
fn node() -> Option<(u32, u32)> {
    parse_node(&node_shown())
}

fn node_shown() -> String {
    let read = shell::call("node").args(["--version"]).read();
    read.map_or_else(|_| "none".into(), |out| String::from_utf8_lossy(&out).trim().to_owned())
}

fn parse_node(shown: &str) -> Option<(u32, u32)> {
    let mut parts = shown.trim().strip_prefix('v')?.split('.').map(str::parse);
    Some((parts.next()?.ok()?, parts.next()?.ok()?))
}

fn starts(program: &str, args: &[&str]) -> bool {
    shell::call(program).args(args).output().is_ok_and(|(status, ..)| status == 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn node_versions_compare_as_numbers() {
        assert_eq!(parse_node("v20.19.4\n"), Some((20, 19)));
        assert!(parse_node("v20.9.0") < Some(NODE));
        assert!(parse_node("v22.1.0") > Some(NODE));
        assert_eq!(parse_node("none"), None);
    }
}
