//! Files that a program writes and the repository keeps: sayings, wire types, the manual page, the example's pictures.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use crate::{sayings, shell, verify};

/// Something generated: its name, the folder it is kept in, and the function that writes it to a folder.
/// The function gives false when there is nothing to generate yet.
struct Product {
    name: &'static str,
    kept: &'static str,
    /// Only files with this ending belong to the product.
    ending: &'static str,
    write: fn(&Path) -> Result<bool>,
}

/// What the workspace is built from, and so written before it is built.
const SAYINGS: Product =
    Product { name: "sayings", kept: "crates/sayings/src/english", ending: ".rs", write: sayings::write };

const PRODUCTS: [Product; 3] = [
    Product { name: "wire types", kept: "web/src/api/generated", ending: ".ts", write: wire_types },
    Product { name: "manual page", kept: "docs", ending: ".1", write: manual },
    Product { name: "pictures", kept: "examples/spring-to-sea", ending: ".png", write: pictures },
];

/// `cargo xtask codegen [--check]`.
pub(crate) fn run(args: &[String]) -> Result<()> {
    let check = args.iter().any(|arg| arg == "--check");
    if let Some(arg) = args.iter().find(|arg| *arg != "--check") {
        bail!("`cargo xtask codegen` knows --check only; it was given \"{arg}\".");
    }
    let mut stale = renew(&SAYINGS, check)?;
    verify::with_web(shell::cargo(&["build", "--quiet", "--workspace", "--bins"])).run()?;
    for product in PRODUCTS {
        stale.extend(renew(&product, check)?);
    }
    if check && !stale.is_empty() {
        bail!("These files are not what their generators write:\n  {}", stale.join("\n  "));
    }
    Ok(())
}

/// Writes a product again and, unless it is only checked, keeps it; gives the paths that differed.
fn renew(product: &Product, check: bool) -> Result<Vec<String>> {
    let fresh = shell::target().join("codegen").join(product.name.replace(' ', "-"));
    if fresh.exists() {
        fs::remove_dir_all(&fresh)?;
    }
    fs::create_dir_all(&fresh)?;
    let kept = shell::root().join(product.kept);
    let any = (product.write)(&fresh)?;
    let differing = differing(&fresh, &kept, product.ending)?;
    if !any && differing.is_empty() {
        println!("{}: none yet", product.name);
        return Ok(Vec::new());
    }
    if !check {
        accept(&fresh, &kept, &differing)?;
    }
    println!("{}: {} differ", product.name, differing.len());
    Ok(differing.iter().map(|file| format!("{}/{file}", product.kept)).collect())
}

/// The TypeScript types of everything that goes over the wire: crate `server` writes them from its tests.
fn wire_types(out: &Path) -> Result<bool> {
    let filter = "package(=server) & test(/export_bindings/)";
    let call = shell::cargo(&["nextest", "run", "--workspace", "--no-tests", "pass", "-E", filter]);
    let (status, _, said) = verify::with_web(call).env("TS_RS_EXPORT_DIR", out).output()?;
    if status != 0 {
        bail!("The wire types could not be written:\n{said}");
    }
    Ok(!names(out, ".ts")?.is_empty())
}

/// The manual page: the binary prints it.
fn manual(out: &Path) -> Result<bool> {
    let (status, page, said) = shell::call(shell::debug_binary("standfast")).args(["manual"]).output()?;
    let there = status == 0 && !page.is_empty();
    if there {
        fs::write(out.join("standfast.1"), page)?;
    } else if shell::root().join("docs/standfast.1").exists() {
        bail!("`standfast manual` printed no page: {}", said.trim());
    }
    Ok(there)
}

/// The example's pictures: a program of the workspace draws them.
fn pictures(out: &Path) -> Result<bool> {
    shell::call(shell::debug_binary("example-pictures")).args([out]).run()?;
    Ok(true)
}

/// Names of files that are absent from one folder or differ byte by byte.
fn differing(fresh: &Path, kept: &Path, ending: &str) -> Result<Vec<String>> {
    let all: BTreeSet<String> = names(fresh, ending)?.into_iter().chain(names(kept, ending)?).collect();
    let same = |name: &String| matches!((fs::read(fresh.join(name)), fs::read(kept.join(name))), (Ok(new), Ok(old)) if new == old);
    Ok(all.into_iter().filter(|name| !same(name)).collect())
}

/// Makes the kept files equal to the fresh ones.
fn accept(fresh: &Path, kept: &Path, differing: &[String]) -> Result<()> {
    for name in differing {
        let (new, old) = (fresh.join(name), kept.join(name));
        if new.exists() {
            fs::create_dir_all(old.parent().unwrap_or(kept))?;
            fs::copy(new, old)?;
        } else {
            fs::remove_file(old)?;
        }
    }
    Ok(())
}

/// Files below a folder with this ending, by their path inside it; none when the folder does not exist.
pub(crate) fn names(folder: &Path, ending: &str) -> Result<Vec<String>> {
    let mut found = Vec::new();
    let mut folders = vec![PathBuf::new()];
    while let Some(inside) = folders.pop() {
        let Ok(entries) = fs::read_dir(folder.join(&inside)) else { continue };
        for entry in entries {
            let entry = entry?;
            let path = inside.join(entry.file_name());
            if entry.file_type()?.is_dir() {
                folders.push(path);
            } else if path.to_string_lossy().ends_with(ending) {
                found.push(path.to_string_lossy().replace('\\', "/"));
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn new_changed_and_vanished_files_are_named_and_accepted() {
        let base = std::env::temp_dir().join(format!("standfast-codegen-{}", std::process::id()));
        let (fresh, kept) = (base.join("fresh"), base.join("kept"));
        for (folder, name, text) in [
            (&fresh, "a/new.ts", "1"),
            (&fresh, "changed.ts", "1"),
            (&fresh, "same.ts", "1"),
            (&kept, "changed.ts", "2"),
            (&kept, "same.ts", "1"),
            (&kept, "gone.ts", "1"),
            (&kept, "other.md", "1"),
        ] {
            fs::create_dir_all(folder.join(name).parent().unwrap()).unwrap();
            fs::write(folder.join(name), text).unwrap();
        }
        let list = differing(&fresh, &kept, ".ts").unwrap();
        assert_eq!(list, ["a/new.ts", "changed.ts", "gone.ts"]);

        accept(&fresh, &kept, &list).unwrap();

        assert!(differing(&fresh, &kept, ".ts").unwrap().is_empty());
        assert!(kept.join("other.md").exists());
        fs::remove_dir_all(base).unwrap();
    }
}
