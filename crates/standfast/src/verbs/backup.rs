//! `backup` and `restore`: a checked copy, and the way back.

use findings::grouped;
use serde_json::json;

use crate::cli::{BackupArgs, RestoreArgs};
use crate::out::{Done, Ending, Out, Trouble};

/// Writes a checked copy of a project.
pub(crate) fn run(out: &Out, args: &BackupArgs) -> Done {
    let desk = crate::load::project(&args.file)?;
    let change = desk.snapshot().change;
    desk.backup(&args.output)?;
    desk.close()?;
    let copy = args.output.display().to_string();
    out.result(
        || format!("{copy}: copied up to change {}, read back and compared.\n", grouped(change)),
        || json!({ "copy": copy, "change": change }),
    )?;
    Ok(Ending::Fine)
}

/// Checks a backup, or brings it back as a project.
pub(crate) fn restore(out: &Out, args: &RestoreArgs) -> Done {
    let report =
        store::Store::restore_check(&args.file, &store::Options::default()).map_err(desk::DeskError::from)?;
    if !report.is_whole() {
        let message = format!("{}: {}", args.file.display(), report.problems.join(" "));
        return Err(Trouble::input("backup", message));
    }
    if let Some(to) = &args.output {
        let desk = desk::Desk::open(&args.file)?;
        desk.backup(to)?;
        desk.close()?;
    }
    let (name, changes, pictures) = (args.file.display().to_string(), report.last, report.pictures);
    let put = args.output.as_ref().map(|p| p.display().to_string());
    out.result(
        || {
            let whole = format!(
                "{name}: whole. {} changes and {} pictures were read and compared.\n",
                grouped(changes),
                grouped(pictures)
            );
            match &put {
                Some(p) => format!("{whole}{p}: restored.\n"),
                None => whole,
            }
        },
        || json!({ "file": name, "whole": true, "changes": changes, "pictures": pictures, "restored": put }),
    )?;
    Ok(Ending::Fine)
}
