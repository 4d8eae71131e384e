//! The benches: listing them, and running all or some.

use anyhow::{Result, bail};

use crate::{metadata, shell};

/// `cargo xtask bench [--list] [PART]`.
pub(crate) fn run(args: &[String]) -> Result<()> {
    let only_list = args.iter().any(|arg| arg == "--list");
    let part = args.iter().find(|arg| !arg.starts_with("--")).map_or("", String::as_str);
    let data = metadata::read(false)?;
    let mut benches: Vec<(&str, &str)> = data
        .packages
        .iter()
        .flat_map(|package| package.targets.iter().map(move |target| (package.name.as_str(), target)))
        .filter(|(_, target)| target.kind.iter().any(|kind| kind == "bench"))
        .map(|(package, target)| (package, target.name.as_str()))
        .filter(|(package, name)| package.contains(part) || name.contains(part))
        .collect();
    benches.sort_unstable();
    if benches.is_empty() {
        bail!("No bench has a name that holds \"{part}\"; `cargo xtask bench --list` lists them.");
    }
    for (package, name) in &benches {
        println!("{package:<12} {name}");
    }
    if only_list {
        return Ok(());
    }
    for (package, name) in benches {
        shell::cargo(&["bench", "--package", package, "--bench", name]).run()?;
    }
    Ok(())
}
