//! `sheets`: lane sheets as PDF.

use ::sheets::{
    Ink, Measure, ReadFrom, ReadOptions, SheetOptions, Side as SheetSide, Unit as SheetUnit, document, pdf,
};
use findings::grouped;
use serde_json::json;
use units::Length;

use crate::cli::{Compass, Language, Paper, SheetsArgs, Side, Unit};
use crate::files;
use crate::interrupt;
use crate::load;
use crate::out::{Done, Ending, Out, Trouble};
use crate::verbs::matching::fields;

/// Prints lane sheets, counts the pieces on them and compares with the plan.
pub(crate) fn run(out: &Out, args: &SheetsArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let items = fields(loaded.plan(), &args.field, |f| f.cells.pieces() > 0)?;
    let placed = placement::Placement::of(loaded.plan()).len() as u64;
    let options = SheetOptions { placed: Some(placed), ..options(args, loaded.change()) };
    let all = items.len().max(1) as f64;
    let mut told = |_pages: usize, fields: usize| {
        out.progress("Laying out pages", fields as f64 / all);
        !interrupt::pressed()
    };
    let document = document(loaded.plan(), &items, &options, &mut told).map_err(trouble)?;
    let bytes = pdf(&document).map_err(trouble)?;
    files::write(&args.output, &bytes)?;
    loaded.close()?;
    let (counts, pages) = (&document.counts, document.pages.len());
    if counts.in_plan != counts.on_sheets || !counts.problems.is_empty() {
        let message = format!(
            "{}: {} pieces on the sheets, but {} in the fields. Do not use these sheets; report this. {}",
            args.output.display(),
            grouped(counts.on_sheets),
            grouped(counts.in_plan),
            counts.problems.join(" ")
        );
        return Err(Trouble::machine("sheets", message));
    }
    let line = format!(
        "{}: {pages} pages, {} pieces on the sheets, {} in the fields, of {} that stand in the plan.",
        args.output.display(),
        grouped(counts.on_sheets),
        grouped(counts.in_plan),
        grouped(placed)
    );
    if args.output == std::path::Path::new("-") {
        out.remark(&line);
    } else {
        out.result(
            || format!("{line}\n"),
            || {
                json!({
                    "output": args.output.display().to_string(), "pages": pages, "bytes": bytes.len(),
                    "on_sheets": counts.on_sheets, "in_plan": counts.in_plan, "placed": placed,
                })
            },
        )?;
    }
    Ok(Ending::Fine)
}

fn trouble(error: ::sheets::SheetError) -> Trouble {
    match error {
        ::sheets::SheetError::Stopped => Trouble::interrupted(),
        e => Trouble::input("sheets", e.to_string()),
    }
}

fn options(args: &SheetsArgs, change: u64) -> SheetOptions {
    let read = ReadOptions {
        unit: match args.unit {
            Unit::Lane => SheetUnit::Lane,
            Unit::Rank => SheetUnit::Rank,
        },
        read_from: match args.from {
            Some(Compass::North) => ReadFrom::North,
            Some(Compass::East) => ReadFrom::East,
            Some(Compass::West) => ReadFrom::West,
            Some(Compass::South) | None => ReadFrom::South,
        },
        side: match args.side {
            Side::Drawn => SheetSide::AsDrawn,
            Side::Mirrored => SheetSide::Mirrored,
        },
        reach: Length::mm(args.reach),
        ..ReadOptions::default()
    };
    let german = args.language == Language::De;
    SheetOptions {
        read,
        paper: match args.paper {
            Paper::A4 => ::sheets::Paper::A4,
            Paper::A3 => ::sheets::Paper::A3,
            Paper::Letter => ::sheets::Paper::Letter,
        },
        language: if german { ::sheets::Language::German } else { ::sheets::Language::English },
        measure: if args.imperial { Measure::Imperial } else { Measure::Metric },
        ink: if args.grey { Ink::Grey } else { Ink::Colour },
        revision: match (change, german) {
            (0, _) => String::new(),
            (n, false) => format!("change {n}"),
            (n, true) => format!("Änderung {n}"),
        },
        date: desk::today(),
        ..SheetOptions::default()
    }
}
