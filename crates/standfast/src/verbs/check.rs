//! `check`: what is wrong with a plan.

use findings::{Finding, Severity};
use serde_json::{Value, json};

use crate::cli::{CheckArgs, FailOn};
use crate::load;
use crate::out::{Done, Ending, Out, printable};

/// Lists the findings, worst first.
pub(crate) fn run(out: &Out, args: &CheckArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let bank = desk::PictureBank::new();
    let stock = desk::stock_wanted(loaded.plan(), &bank, loaded.source())?;
    let found = desk::findings(loaded.plan(), &stock, &bank, loaded.source())?;
    out.result(
        || text(&found),
        || json!({ "findings": found.iter().map(value).collect::<Vec<_>>(), "notes": loaded.notes() }),
    )?;
    loaded.close()?;
    Ok(ending(&found, args.fail_on))
}

/// Whether the findings are grave enough to fail.
pub(crate) fn ending(found: &[Finding], fail_on: FailOn) -> Ending {
    let grave = |f: &Finding| match fail_on {
        FailOn::Must => f.severity == Severity::Must,
        FailOn::Should => matches!(f.severity, Severity::Must | Severity::Should),
    };
    if found.iter().any(grave) { Ending::Findings } else { Ending::Fine }
}

fn text(found: &[Finding]) -> String {
    if found.is_empty() {
        return "Nothing found.\n".into();
    }
    let line = |f: &Finding| {
        printable(&format!("{}. {}: {} {}\n", word(f.severity, true), f.place.words, f.message, f.hint))
    };
    found.iter().map(line).collect()
}

/// A finding for programs.
pub(crate) fn value(f: &Finding) -> Value {
    json!({
        "code": f.code,
        "severity": word(f.severity, false),
        "item": f.place.item.map(|i| i.0),
        "place": f.place.words,
        "message": f.message,
        "hint": f.hint,
    })
}

fn word(severity: Severity, capital: bool) -> &'static str {
    match (severity, capital) {
        (Severity::Must, true) => "Must",
        (Severity::Should, true) => "Should",
        (Severity::Note, true) => "Note",
        (Severity::Must, false) => "must",
        (Severity::Should, false) => "should",
        (Severity::Note, false) => "note",
    }
}
