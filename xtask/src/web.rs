//! The steps of the web part: packages, types, unit tests, pages, browser tests.

use std::fs;
use std::hash::{DefaultHasher, Hasher as _};
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result};

use crate::{codegen, prerequisites, shell};

/// Whether there is a web part yet.
pub(crate) fn exists() -> bool {
    shell::root().join("web/package.json").exists()
}

/// The folder with the built pages.
pub(crate) fn dist() -> PathBuf {
    shell::root().join("web/dist")
}

/// Installs packages when the lock file is newer than what is installed; checks, tests and builds the pages.
pub(crate) fn check_and_build() -> Result<()> {
    if !modules_are_fresh() {
        shell::npm(&["ci", "--include=dev", "--no-audit", "--no-fund"]).run()?;
    }
    shell::npm(&["run", "check"]).run()?;
    shell::npm(&["test"]).run()?;
    // Vite writes every file anew; a file that is the same keeps its old time,
    // so that Cargo does not build the binary again for nothing.
    let fresh = shell::target().join("web-fresh");
    shell::npm(&["run", "build", "--", "--emptyOutDir", "--outDir"]).args([&fresh]).run()?;
    mirror(&fresh, &dist()).context("The built pages could not be copied to web/dist")
}

/// Browser tests against the debug binary, in the Chromium that was found.
///
/// They are the longest step, so they run only when something that they depend on has changed since they passed,
/// as Cargo compiles only what has changed.
pub(crate) fn browser_tests() -> Result<()> {
    let binary = shell::debug_binary("standfast");
    let chromium = prerequisites::chromium();
    let seen = browser_inputs(&binary, chromium.as_deref())?;
    if fs::read_to_string(passed_browser_tests()).is_ok_and(|passed| passed == seen) {
        println!(
            "Binary, pages, tests and browser are those with which they passed. `cargo xtask verify --afresh` runs them again."
        );
        return Ok(());
    }
    forget_browser_tests()?;
    let mut call = shell::npm(&["run", "test:browser"]).env("STANDFAST_BIN", &binary);
    if let Some(chromium) = chromium {
        call = call.env("STANDFAST_CHROMIUM", chromium);
    }
    call.run()?;
    fs::write(passed_browser_tests(), seen)?;
    Ok(())
}

/// Has the next `verify` run the browser tests, whatever has changed.
pub(crate) fn forget_browser_tests() -> Result<()> {
    match fs::remove_file(passed_browser_tests()) {
        Err(why) if why.kind() != std::io::ErrorKind::NotFound => {
            Err(why).context("What is known of the browser tests could not be removed")
        }
        _ => Ok(()),
    }
}

/// Where it is kept with what the browser tests passed last.
fn passed_browser_tests() -> PathBuf {
    shell::target().join("browser-tests-passed")
}

/// All that the browser tests depend on, a line each: the bytes of the files, and the browser by its version.
fn browser_inputs(binary: &Path, chromium: Option<&Path>) -> Result<String> {
    let web = shell::root().join("web");
    let mut files = vec![binary.to_path_buf()];
    files
        .extend(["package.json", "package-lock.json", "vitest.browser.config.ts"].map(|name| web.join(name)));
    // The tests take some of the pages' own kernels.
    for folder in ["tests", "src", "dist"] {
        files.extend(codegen::names(&web.join(folder), "")?.iter().map(|name| web.join(folder).join(name)));
    }
    let mut lines = hashed(&files)?;
    let version =
        chromium.map(|path| shell::call(path).args(["--version"]).read()).transpose()?.unwrap_or_default();
    lines.push(String::from_utf8_lossy(&version).into_owned());
    Ok(lines.join("\n"))
}

/// A line a file, in order of the names.
fn hashed(files: &[PathBuf]) -> Result<Vec<String>> {
    let mut lines = Vec::with_capacity(files.len());
    for file in files {
        let bytes = fs::read(file).with_context(|| format!("{} could not be read", file.display()))?;
        let mut hash = DefaultHasher::new();
        hash.write(&bytes);
        lines.push(format!("{} {:016x} {}", file.display(), hash.finish(), bytes.len()));
    }
    lines.sort();
    Ok(lines)
}

fn modules_are_fresh() -> bool {
    let web = shell::root().join("web");
    let time = |path: &str| fs::metadata(web.join(path)).and_then(|data| data.modified()).ok();
    match (time("node_modules/.package-lock.json"), time("package-lock.json")) {
        (Some(installed), Some(locked)) => installed >= locked,
        _ => false,
    }
}

/// Makes `to` hold exactly what `from` holds, writing only files that differ.
fn mirror(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(to)? {
        let path = entry?.path();
        let twin = from.join(path.file_name().unwrap_or_default());
        if path.is_dir() && !twin.is_dir() {
            fs::remove_dir_all(&path)?;
        } else if path.is_file() && !twin.is_file() {
            fs::remove_file(&path)?;
        }
    }
    for entry in fs::read_dir(from)? {
        let path = entry?.path();
        let twin = to.join(path.file_name().unwrap_or_default());
        if path.is_dir() {
            mirror(&path, &twin)?;
        } else if fs::read(&twin).ok() != Some(fs::read(&path)?) {
            fs::copy(&path, &twin)?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mirroring_leaves_equal_files_alone_and_removes_strangers() {
        let base = std::env::temp_dir().join(format!("standfast-mirror-{}", std::process::id()));
        let (from, to) = (base.join("from"), base.join("to"));
        fs::create_dir_all(from.join("assets")).unwrap();
        fs::create_dir_all(to.join("old")).unwrap();
        fs::write(from.join("index.html"), "same").unwrap();
        fs::write(from.join("assets/a.js"), "new").unwrap();
        fs::write(to.join("index.html"), "same").unwrap();
        fs::write(to.join("old/b.js"), "gone").unwrap();
        let before = fs::metadata(to.join("index.html")).unwrap().modified().unwrap();
        std::thread::sleep(std::time::Duration::from_millis(20));

        mirror(&from, &to).unwrap();

        assert_eq!(fs::metadata(to.join("index.html")).unwrap().modified().unwrap(), before);
        assert_eq!(fs::read_to_string(to.join("assets/a.js")).unwrap(), "new");
        assert!(!to.join("old").exists());
        fs::remove_dir_all(base).unwrap();
    }

    #[test]
    fn what_browser_tests_depend_on_tells_every_change() {
        let base = std::env::temp_dir().join(format!("standfast-inputs-{}", std::process::id()));
        fs::create_dir_all(base.join("deep")).unwrap();
        fs::write(base.join("a.ts"), "one").unwrap();
        fs::write(base.join("deep/b.ts"), "two").unwrap();
        let seen = || {
            let files =
                codegen::names(&base, "").unwrap().iter().map(|name| base.join(name)).collect::<Vec<_>>();
            hashed(&files).unwrap()
        };
        let first = seen();
        assert_eq!(first.len(), 2);
        assert_eq!(seen(), first);
        fs::write(base.join("deep/b.ts"), "twO").unwrap();
        assert_ne!(seen(), first);
        fs::write(base.join("deep/b.ts"), "two").unwrap();
        assert_eq!(seen(), first);
        fs::write(base.join("c.ts"), "").unwrap();
        assert_ne!(seen(), first);
        fs::remove_dir_all(base).unwrap();
    }
}
