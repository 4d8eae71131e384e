//! What Cargo knows about the workspace and its libraries.

use anyhow::{Context as _, Result};
use serde::Deserialize;

use crate::shell;

/// The part of `cargo metadata` that the chores read.
#[derive(Deserialize)]
pub(crate) struct Metadata {
    pub(crate) packages: Vec<Package>,
    pub(crate) workspace_members: Vec<String>,
}

/// One package, ours or from outside.
#[derive(Deserialize)]
pub(crate) struct Package {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) version: String,
    pub(crate) license: Option<String>,
    pub(crate) dependencies: Vec<Dependency>,
    pub(crate) targets: Vec<Target>,
}

/// One line of a `[dependencies]` table; `kind` is absent for normal ones, else `dev` or `build`.
#[derive(Deserialize)]
pub(crate) struct Dependency {
    pub(crate) name: String,
    pub(crate) kind: Option<String>,
}

/// One library, program, test or bench of a package.
#[derive(Deserialize)]
pub(crate) struct Target {
    pub(crate) name: String,
    pub(crate) kind: Vec<String>,
}

/// Reads the metadata; with `libraries` the packages from outside are in it as well.
pub(crate) fn read(libraries: bool) -> Result<Metadata> {
    let mut args = vec!["metadata", "--format-version", "1"];
    if !libraries {
        args.push("--no-deps");
    }
    let bytes = shell::cargo(&args).read()?;
    serde_json::from_slice(&bytes).context("`cargo metadata` printed something unexpected")
}

impl Metadata {
    /// Whether the package belongs to this workspace.
    pub(crate) fn is_ours(&self, package: &Package) -> bool {
        self.workspace_members.contains(&package.id)
    }
}
