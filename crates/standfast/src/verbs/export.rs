//! `export`: a plan in another form.

use findings::grouped;
use std::path::Path;

use serde_json::json;

use crate::cli::{ExportArgs, Form};
use crate::files;
use crate::load::{self, Loaded};
use crate::out::{Done, Ending, Out, Trouble};

/// Writes a plan in another form, counts what it wrote and compares it with the plan.
pub(crate) fn run(out: &Out, args: &ExportArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    let done = match args.to {
        Form::Csv => csv(out, args, &loaded),
        Form::Toml => toml(out, args, &loaded),
    };
    loaded.close()?;
    done
}

fn csv(out: &Out, args: &ExportArgs, loaded: &Loaded) -> Done {
    let stock = &loaded.plan().stock;
    let text = exchange::write_stock(stock);
    files::write(&args.output, text.as_bytes())?;
    let read = exchange::read_stock(text.as_bytes(), "the export")
        .map_err(|e| Trouble::machine("export", e.to_string()))?;
    let written: u64 = read.rows.iter().filter_map(|r| r.count).map(u64::from).sum();
    let in_plan: u64 = stock.lots.iter().map(|l| u64::from(l.count)).sum();
    told(out, &args.output, written, in_plan, "pieces in the list", "pieces in the stock")
}

fn toml(out: &Out, args: &ExportArgs, loaded: &Loaded) -> Done {
    let text = exchange::write_text_plan(loaded.plan());
    if args.output == Path::new("-") {
        files::write(&args.output, text.plan_toml.as_bytes())?;
        return Ok(Ending::Fine);
    }
    std::fs::create_dir_all(&args.output).map_err(|e| {
        Trouble::machine(
            "file",
            format!("{}: this folder cannot be made ({e}). Name another.", args.output.display()),
        )
    })?;
    for (name, sha256) in &text.pictures {
        files::write(&args.output.join(name), &loaded.source().picture_bytes(sha256)?)?;
    }
    files::write(&args.output.join("stock.csv"), text.stock_csv.as_bytes())?;
    let plan_file = args.output.join("plan.toml");
    files::write(&plan_file, text.plan_toml.as_bytes())?;
    let again = load::plan(&plan_file)?;
    told(
        out,
        &args.output,
        placement::pieces_of_all(again.plan()),
        placement::pieces_of_all(loaded.plan()),
        "pieces in the text plan",
        "pieces in the plan",
    )
}

fn told(out: &Out, to: &Path, written: u64, in_plan: u64, of: &str, against: &str) -> Done {
    if written != in_plan {
        let message = format!(
            "{}: {} {of}, but {} {against}. Do not use it; report this.",
            to.display(),
            grouped(written),
            grouped(in_plan)
        );
        return Err(Trouble::machine("export", message));
    }
    let line = format!("{}: {} {of}, {} {against}.", to.display(), grouped(written), grouped(in_plan));
    if to == Path::new("-") {
        out.remark(&line);
    } else {
        out.result(
            || format!("{line}\n"),
            || json!({ "output": to.display().to_string(), "written": written, "in_plan": in_plan }),
        )?;
    }
    Ok(Ending::Fine)
}
