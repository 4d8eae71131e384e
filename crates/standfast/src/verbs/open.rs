//! `open`: the workbench, and the door for tablets.

use std::path::PathBuf;

use crate::cli::OpenArgs;
use crate::out::{Done, Ending, Out, Trouble};

/// Serves a project until Ctrl-C.
pub(crate) fn run(out: &Out, args: OpenArgs) -> Done {
    let desk = match &args.file {
        Some(file) => crate::load::project(file)?,
        None => example(out)?,
    };
    for note in &desk.snapshot().notes {
        out.remark(note);
    }
    let options = server::ServeOptions { port: args.port, lan: args.lan, ..server::ServeOptions::default() };
    let ready = |ready: server::Ready| {
        let mut text = format!("{}\n", ready.url);
        for address in &ready.addresses {
            text.push_str(&format!(
                "Tablets: {address}  crew code {}  planner code {}\n",
                ready.crew_code, ready.planner_code
            ));
        }
        let said = out.result(
            || text.clone(),
            || serde_json::json!({ "url": ready.url, "lan": ready.addresses, "crew_code": ready.crew_code, "planner_code": ready.planner_code }),
        );
        drop(said);
        out.remark("Ctrl-C ends it; everything is on disk at every moment.");
        if !args.no_browser {
            open_browser(&ready.url);
        }
    };
    let served = server::serve(desk, options, ready, server::until_interrupted());
    served.map_err(|e| Trouble::machine("server", format!("{e:#}")))?;
    Ok(Ending::Fine)
}

/// The example in the user's folder for data; made when it is not there yet.
fn example(out: &Out) -> Result<std::sync::Arc<desk::Desk>, Trouble> {
    let path = example_path();
    if path.exists() {
        return Ok(desk::Desk::open(&path)?);
    }
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|e| {
            Trouble::machine(
                "file",
                format!(
                    "{}: this folder cannot be made ({e}). Name a project file instead.",
                    folder.display()
                ),
            )
        })?;
    }
    out.remark(&format!("Making the example From Spring to Sea in {}", path.display()));
    super::new::from_example(&path)
}

/// `$XDG_DATA_HOME`, `~/.local/share`, or the folder we are in.
fn example_path() -> PathBuf {
    let env = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    let base = env("XDG_DATA_HOME")
        .or_else(|| env("HOME").map(|h| h.join(".local/share")))
        .or_else(|| env("LOCALAPPDATA"))
        .unwrap_or_default();
    base.join("standfast").join("from-spring-to-sea.standfast")
}

/// Asks the desktop to open an address; without a desktop the printed address must do.
fn open_browser(url: &str) {
    let (program, first): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/C", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let null = std::process::Stdio::null;
    let child = std::process::Command::new(program)
        .args(first)
        .arg(url)
        .stdin(null())
        .stdout(null())
        .stderr(null())
        .spawn();
    if let Ok(mut child) = child {
        std::thread::spawn(move || child.wait());
    }
}
