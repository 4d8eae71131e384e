//! Puts the workbench's pages into the binary: builds them, takes ready ones, or embeds a notice.
//!
//! The environment variable `STANDFAST_WEB` chooses:
//!
//! * unset: a release build builds the pages with npm, a debug build embeds a one-page notice;
//! * `build`: build the pages in any profile;
//! * `skip`: embed the notice in any profile;
//! * anything else: the path of a folder with pages that are built already, relative to the repository's root.
//!
//! Nothing is written outside Cargo's own output folder but `web/node_modules`, which git ignores.
#![allow(clippy::print_stdout, reason = "a build script speaks to Cargo through standard output")]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What the pages are made of. Never `web/` itself, which holds folders that tools write to.
const INPUTS: [&str; 10] = [
    "src",
    "public",
    "index.html",
    "package.json",
    "package-lock.json",
    ".npmrc",
    "vite.config.ts",
    "svelte.config.js",
    "tsconfig.json",
    "tsconfig.app.json",
];

/// What the variable asks for.
enum Choice {
    Build,
    Notice,
    Ready(PathBuf),
}

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-changed=src/notice.html");
    println!("cargo::rerun-if-env-changed=STANDFAST_WEB");
    let done = choice().and_then(|choice| provide(&choice));
    if let Err(reason) = done {
        for line in reason.lines() {
            println!("cargo::error={line}");
        }
        println!("cargo::error=Two ways out: see that Node.js 20.19 or newer and npm are there and that");
        println!(
            "cargo::error=`npm ci && npm run build` works in web/; or set STANDFAST_WEB=skip (no pages)"
        );
        println!("cargo::error=or STANDFAST_WEB=FOLDER (pages built elsewhere).");
    }
}

fn choice() -> Result<Choice, String> {
    let value = std::env::var("STANDFAST_WEB").unwrap_or_default();
    Ok(match value.as_str() {
        "skip" => Choice::Notice,
        "build" => Choice::Build,
        "" if variable("PROFILE")? == "release" => Choice::Build,
        "" => Choice::Notice,
        path => Choice::Ready(root()?.join(path)),
    })
}

fn provide(choice: &Choice) -> Result<(), String> {
    let out = PathBuf::from(variable("OUT_DIR")?);
    match choice {
        Choice::Notice => {
            let page = Path::new(&variable("CARGO_MANIFEST_DIR")?).join("src/notice.html");
            write_table(&out, &[("index.html".to_owned(), page)], false)
        }
        Choice::Ready(dist) => {
            println!("cargo::rerun-if-changed={}", dist.display());
            write_table(&out, &files_in(dist)?, true)
        }
        // Until there are pages to build, the notice stands in for them.
        Choice::Build if !root()?.join("web/package.json").exists() => {
            println!("cargo::rerun-if-changed={}", root()?.join("web/package.json").display());
            provide(&Choice::Notice)
        }
        Choice::Build => {
            let dist = out.join("dist");
            build(&root()?.join("web"), &dist)?;
            write_table(&out, &files_in(&dist)?, true)
        }
    }
}

/// Runs npm when its folder is older than the lock file, and then Vite into Cargo's output folder.
fn build(web: &Path, dist: &Path) -> Result<(), String> {
    // A path that does not exist would make Cargo run this script every time.
    for input in INPUTS.iter().map(|name| web.join(name)).filter(|path| path.exists()) {
        println!("cargo::rerun-if-changed={}", input.display());
    }
    if !modules_are_fresh(web) {
        let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
        run(web, Command::new(npm).args(["ci", "--include=dev", "--no-audit", "--no-fund"]))?;
    }
    let vite = Path::new("node_modules").join("vite").join("bin").join("vite.js");
    run(web, Command::new("node").arg(vite).arg("build").arg("--outDir").arg(dist).arg("--emptyOutDir"))
}

fn modules_are_fresh(web: &Path) -> bool {
    let time = |path: PathBuf| fs::metadata(path).and_then(|data| data.modified()).ok();
    match (time(web.join("node_modules/.package-lock.json")), time(web.join("package-lock.json"))) {
        (Some(installed), Some(locked)) => installed >= locked,
        _ => false,
    }
}

/// Runs a command in `web/`; its standard output must not reach Cargo, which would read it as directions.
fn run(web: &Path, command: &mut Command) -> Result<(), String> {
    let shown = format!("{} {}", command.get_program().display(), args(command));
    let output = command.current_dir(web).stdin(Stdio::null()).output().map_err(|error| {
        format!("The workbench's pages could not be built: `{shown}` did not start: {error}.")
    })?;
    if output.status.success() {
        return Ok(());
    }
    let mut text =
        format!("The workbench's pages could not be built: `{shown}` in web/ ended with {}.", output.status);
    // The reason stands at the head of what went wrong and at the foot of what went well.
    let (out, err) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    let out: Vec<_> = out.lines().filter(|line| !line.trim().is_empty()).collect();
    let err = err.lines().filter(|line| !line.trim().is_empty()).take(12);
    for line in out[out.len().saturating_sub(4)..].iter().copied().chain(err) {
        let _ = write!(text, "\n  {line}");
    }
    Err(text)
}

fn args(command: &Command) -> String {
    command.get_args().map(|arg| arg.to_string_lossy()).collect::<Vec<_>>().join(" ")
}

/// All files below a folder with their paths relative to it, sorted by bytes.
fn files_in(dist: &Path) -> Result<Vec<(String, PathBuf)>, String> {
    let mut found = Vec::new();
    let mut folders = vec![dist.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).map_err(|error| {
            format!("The folder with built pages could not be read: {error}: {}", folder.display())
        })?;
        for entry in entries.flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if let Ok(inside) = path.strip_prefix(dist) {
                let parts: Vec<_> = inside.iter().map(|part| part.to_string_lossy()).collect();
                found.push((parts.join("/"), path.clone()));
            }
        }
    }
    found.sort();
    if found.iter().any(|(name, _)| name == "index.html") {
        return Ok(found);
    }
    Err(format!("The folder with built pages holds no index.html: {}", dist.display()))
}

/// Writes the Rust source of the table that `lib.rs` includes.
fn write_table(out: &Path, files: &[(String, PathBuf)], workbench: bool) -> Result<(), String> {
    let mut text = String::from("pub(super) static ASSETS: &[(&str, Asset)] = &[\n");
    for (name, path) in files {
        let bytes = fs::read(path)
            .map_err(|error| format!("A built page could not be read: {error}: {}", path.display()))?;
        let _ = writeln!(
            text,
            "    ({name:?}, Asset {{ bytes: include_bytes!({:?}), mime: {:?}, hash: \"{:016x}\" }}),",
            path.display().to_string(),
            mime(name),
            fnv1a(&bytes),
        );
    }
    let _ = writeln!(text, "];\npub(super) const HAS_WORKBENCH: bool = {workbench};");
    fs::write(out.join("assets.rs"), text)
        .map_err(|error| format!("The table of pages could not be written: {error}."))
}

/// 64-bit FNV-1a (RFC 9923): small, and good enough to tell versions of one file apart.
fn fnv1a(bytes: &[u8]) -> u64 {
    bytes
        .iter()
        .fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
}

fn mime(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "json" | "map" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "wasm" => "application/wasm",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

/// The repository's root: two folders above this crate.
fn root() -> Result<PathBuf, String> {
    let here = PathBuf::from(variable("CARGO_MANIFEST_DIR")?);
    here.ancestors()
        .nth(2)
        .map(Path::to_path_buf)
        .ok_or_else(|| "The crate lies outside its repository.".to_owned())
}

fn variable(name: &str) -> Result<String, String> {
    std::env::var(name).map_err(|_| format!("Cargo did not set {name}."))
}
