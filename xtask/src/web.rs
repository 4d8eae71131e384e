//! The steps of the web part: packages, types, unit tests, pages, browser tests.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result};

use crate::{prerequisites, shell};

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
pub(crate) fn browser_tests() -> Result<()> {
    let binary = shell::debug_binary("standfast");
    let mut call = shell::npm(&["run", "test:browser"]).env("STANDFAST_BIN", binary);
    if let Some(chromium) = prerequisites::chromium() {
        call = call.env("STANDFAST_CHROMIUM", chromium);
    }
    call.run()
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
}
