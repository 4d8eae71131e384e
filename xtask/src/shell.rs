//! Running other programs with their output shown, and naming them when they fail.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context as _, Result, bail};

/// The repository's root: one folder above this crate.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Cargo's output folder.
pub(crate) fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), |named| root().join(named))
}

/// A program of the workspace as the debug build leaves it.
pub(crate) fn debug_binary(name: &str) -> PathBuf {
    target().join("debug").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
}

/// A program about to be run in the repository's root, without standard input.
pub(crate) struct Call {
    command: Command,
    shown: String,
}

/// Cargo with these arguments.
pub(crate) fn cargo(args: &[&str]) -> Call {
    call(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())).named("cargo").args(args)
}

/// npm with these arguments, in `web/`.
pub(crate) fn npm(args: &[&str]) -> Call {
    call(if cfg!(windows) { "npm.cmd" } else { "npm" }).within(&root().join("web")).args(args)
}

/// Any other program.
pub(crate) fn call(program: impl AsRef<OsStr>) -> Call {
    let shown = program.as_ref().to_string_lossy().into_owned();
    let mut command = Command::new(program);
    command.current_dir(root()).stdin(Stdio::null());
    Call { command, shown }
}

impl Call {
    fn named(mut self, name: &str) -> Call {
        self.shown = name.to_owned();
        self
    }

    pub(crate) fn args<S: AsRef<OsStr>>(mut self, args: impl IntoIterator<Item = S>) -> Call {
        for arg in args {
            self.shown.push(' ');
            self.shown.push_str(&arg.as_ref().to_string_lossy());
            self.command.arg(arg);
        }
        self
    }

    pub(crate) fn env(mut self, name: &str, value: impl AsRef<OsStr>) -> Call {
        self.command.env(name, value);
        self
    }

    pub(crate) fn within(mut self, folder: &Path) -> Call {
        self.command.current_dir(folder);
        self
    }

    /// Runs with the output shown and fails unless the exit status is 0.
    pub(crate) fn run(self) -> Result<()> {
        let shown = self.shown.clone();
        match self.status()? {
            0 => Ok(()),
            status => bail!("`{shown}` ended with status {status}; its output above says why."),
        }
    }

    /// Runs with the output shown and gives the exit status; a program ended by a signal counts as 128.
    pub(crate) fn status(mut self) -> Result<i32> {
        let status = self.command.status().with_context(|| self.lost())?;
        Ok(status.code().unwrap_or(128))
    }

    /// Runs silently; gives the exit status, standard output and standard error.
    pub(crate) fn output(mut self) -> Result<(i32, Vec<u8>, String)> {
        let output = self.command.output().with_context(|| self.lost())?;
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        Ok((output.status.code().unwrap_or(128), output.stdout, said))
    }

    /// Runs silently and gives standard output; on failure the error carries what the program said.
    pub(crate) fn read(self) -> Result<Vec<u8>> {
        let shown = self.shown.clone();
        match self.output()? {
            (0, out, _) => Ok(out),
            (status, _, said) => bail!("`{shown}` ended with status {status}: {}", said.trim()),
        }
    }

    fn lost(&self) -> String {
        format!("`{}` did not start", self.shown)
    }
}
