//! `check`: what is wrong with a plan, and the mends that are clear.

use desk::{Author, DeskError};
use fall::Network;
use findings::{Finding, Severity, grouped};
use placement::Placement;
use plan::Plan;
use serde_json::{Value, json};

use crate::cli::{CheckArgs, FailOn};
use crate::load::{self, Loaded};
use crate::out::{Done, Ending, Out, Trouble, printable};
use crate::words::how_much;

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
    let plan = loaded.plan();
    // Placed and woven once, for the findings and for the fall.
    let placement = Placement::of(plan);
    let network = Network::of(plan, &placement);
    let found = find((plan, &placement, &network), loaded)?;
    let stands = Stands::of(&network, fall::report(plan, &network));
    out.result(
        || format!("{}{}", text(&found), stands.text()),
        || json!({ "findings": values(&found), "fall": stands.json(), "notes": loaded.notes() }),
    )?;
    Ok(stands.ending(ending(&found, fail_on)))
}

/// What stays standing in the fall itself: findings look at places and not at times, and a wave may meet itself.
struct Stands {
    starts: bool,
    report: fall::Report,
}

impl Stands {
    fn of(network: &Network, report: fall::Report) -> Self {
        let starts = network.starts().iter().any(|s| !s.states.is_empty());
        Self { starts, report }
    }

    fn stand(&self) -> u32 {
        self.report.pieces - self.report.fallen
    }

    /// A plan without a start is being drawn; its findings say so.
    fn text(&self) -> String {
        if !self.starts {
            return String::new();
        }
        let more = match (self.stand(), self.report.fallen - self.report.surely) {
            (0, 0) => "",
            (0, _) => " `standfast fall` names them.",
            _ => " `standfast fall` says where and why.",
        };
        format!("The fall: {}{more}\n", how_much(&self.report))
    }

    fn json(&self) -> Value {
        let r = &self.report;
        json!({ "starts": self.starts, "pieces": r.pieces, "fallen": r.fallen, "surely": r.surely })
    }

    /// What stands in spite of a start is as grave as any finding.
    fn ending(&self, findings: Ending) -> Ending {
        if self.starts && self.stand() > 0 { Ending::Findings } else { findings }
    }
}

/// What is wrong with a plan whose pictures are those of `loaded`.
fn find(scene: (&Plan, &Placement, &Network), loaded: &Loaded) -> Result<Vec<Finding>, Trouble> {
    let bank = desk::PictureBank::new();
    let stock = desk::stock_wanted(scene.0, &bank, loaded.source())?;
    Ok(desk::findings(scene, &stock, &bank, loaded.source())?)
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
    let fall = desk.fall_report();
    let stands = Stands::of(&fall.woven.network, fall::Report::clone(&fall.report));
    out.result(
        || {
            let said = format!(
                "Mended {number}, {}: {} Saved as change {}; undo takes it back.\n",
                mended.place.words,
                mended.hint,
                grouped(receipt.change)
            );
            format!("{}{}{}", printable(&said), text(&left), stands.text())
        },
        || {
            json!({
                "mended": value(number, &mended), "change": receipt.change, "findings": values(&left),
                "fall": stands.json(),
            })
        },
    )?;
    Ok(stands.ending(ending(&left, fail_on)))
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
