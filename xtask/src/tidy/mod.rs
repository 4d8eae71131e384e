//! House rules that no compiler checks; all breaches are listed at once.

mod arrows;
mod files;

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::{metadata, shell};

/// `cargo xtask tidy`.
pub(crate) fn run(_: &[String]) -> Result<()> {
    let root = shell::root();
    let mut faults = Vec::new();
    let sources = sources(&root)?;
    for (name, text) in &sources {
        files::check_header(name, text, &mut faults);
        files::check_open_ends(name, text, &mut faults);
    }
    let known = read(&root, "xtask/known/long-files.txt")?;
    files::check_lengths(&sources, &known, &mut faults);
    let drawn = arrows::parse(&read(&root, "ARCHITECTURE.md")?)?;
    arrows::check(&drawn, &arrows::found(&metadata::read(false)?), &mut faults);
    if !faults.is_empty() {
        bail!("{} breaches of the house rules:\n  {}", faults.len(), faults.join("\n  "));
    }
    println!("{} files are tidy, and the arrows are those of ARCHITECTURE.md", sources.len());
    Ok(())
}

fn read(root: &Path, name: &str) -> Result<String> {
    fs::read_to_string(root.join(name)).with_context(|| format!("The file could not be read: {name}"))
}

/// Our own text files that rules apply to, by path from the root, sorted.
pub(crate) fn sources(root: &Path) -> Result<Vec<(String, String)>> {
    let mut found = Vec::new();
    let mut folders = vec![PathBuf::new()];
    while let Some(inside) = folders.pop() {
        for entry in fs::read_dir(root.join(&inside))? {
            let entry = entry?;
            let path = inside.join(entry.file_name());
            let name = path.to_string_lossy().replace('\\', "/");
            if entry.file_type()?.is_dir() {
                if !skipped(&name) {
                    folders.push(path);
                }
            } else if files::is_source(&name) {
                found.push((name.clone(), read(root, &name)?));
            }
        }
    }
    found.sort();
    Ok(found)
}

/// Folders that tools write to.
fn skipped(folder: &str) -> bool {
    let last = folder.rsplit('/').next().unwrap_or(folder);
    matches!(last, "target" | "node_modules" | ".git" | "generated" | "test-results") || folder == "web/dist"
}
