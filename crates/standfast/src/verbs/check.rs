//! `check`: what is wrong with a plan, and the mends that are clear.

use desk::{Author, DeskError};
use findings::{Finding, Severity, grouped};
use plan::Plan;
use serde_json::{Value, json};

use crate::cli::{CheckArgs, FailOn};
use crate::load::{self, Loaded};
use crate::out::{Done, Ending, Out, Trouble, printable};

/// Lists the findings, worst first; with `--mend` mends one of them before.
pub(crate) fn run(out: &Out, args: &CheckArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let done = match args.mend {
        Some(number) => mend(out, &loaded, number, args.fail_on),
        None => list(out, &loaded, args.fail_on),
    };
    loaded.close()?;
    done
}

fn list(out: &Out, loaded: &Loaded, fail_on: FailOn) -> Done {
    let found = find(loaded.plan(), loaded)?;
    out.result(|| text(&found), || json!({ "findings": values(&found), "notes": loaded.notes() }))?;
    Ok(ending(&found, fail_on))
}

/// What is wrong with a plan whose pictures are those of `loaded`.
fn find(plan: &Plan, loaded: &Loaded) -> Result<Vec<Finding>, Trouble> {
    let bank = desk::PictureBank::new();
    let stock = desk::stock_wanted(plan, &bank, loaded.source())?;
    Ok(desk::findings(plan, &stock, &bank, loaded.source())?)
}

/// Applies the mend of one finding as one step of the journal.
fn mend(out: &Out, loaded: &Loaded, number: usize, fail_on: FailOn) -> Done {
    let Loaded::Project(desk, _) = loaded else {
        let message = "--mend changes a project file. Make one with `standfast new FILE --from PLAN.TOML`.";
        return Err(Trouble::input("usage", message));
    };
    let now = desk.snapshot().change;
    let (mended, receipt) = desk.mend(&Author("command line".into()), number, now).map_err(|e| match e {
        DeskError::NoMend(why) => Trouble::input("usage", format!("--mend {number}: {why}")),
        other => other.into(),
    })?;
    let left = desk.findings()?.list;
    out.result(
        || {
            let said = format!(
                "Mended {number}, {}: {} Saved as change {}; undo takes it back.\n",
                mended.place.words,
                mended.hint,
                grouped(receipt.change)
            );
            format!("{}{}", printable(&said), text(&left))
        },
        || json!({ "mended": value(number, &mended), "change": receipt.change, "findings": values(&left) }),
    )?;
    Ok(ending(&left, fail_on))
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
    let line = |(n, f): (usize, &Finding)| {
        let mend = if f.mend.is_some() { format!(" (--mend {n})") } else { String::new() };
        let severity = word(f.severity, true);
        printable(&format!("{n}. {severity}. {}: {} {}{mend}\n", f.place.words, f.message, f.hint))
    };
    (1..).zip(found).map(line).collect()
}

fn values(found: &[Finding]) -> Vec<Value> {
    (1..).zip(found).map(|(n, f)| value(n, f)).collect()
}

/// A finding for programs. Lanes and ranks count from 1, as everywhere for people.
pub(crate) fn value(number: usize, f: &Finding) -> Value {
    let range = |r: Option<(u32, u32)>| r.map(|(a, b)| [a + 1, b + 1]);
    json!({
        "number": number,
        "code": f.code,
        "severity": word(f.severity, false),
        "item": f.place.item.map(|i| i.0),
        "place": f.place.words.to_string(),
        "at": f.place.at.map(|p| [p.x, p.y]),
        "lanes": range(f.place.lanes),
        "ranks": range(f.place.ranks),
        "message": f.message.to_string(),
        "hint": f.hint.to_string(),
        "can_mend": f.mend.is_some(),
    })
}

/// How bad it is, in one word, with a capital for the beginning of a sentence.
pub(crate) fn word(severity: Severity, capital: bool) -> &'static str {
    match (severity, capital) {
        (Severity::Must, true) => "Must",
        (Severity::Should, true) => "Should",
        (Severity::Note, true) => "Note",
        (Severity::Must, false) => "must",
        (Severity::Should, false) => "should",
        (Severity::Note, false) => "note",
    }
}
