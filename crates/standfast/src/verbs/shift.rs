//! `shift`: moving and turning a section, or several items, as one change.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;

use desk::{Author, Desk};
use findings::{Finding, Severity, grouped};
use geometry::Point;
use placement::Placement;
use plan::{Command, ItemId, Plan, Which};
use sayings::doing;
use serde_json::{Value, json};
use units::{Angle, Length};

use crate::cli::ShiftArgs;
use crate::load::{self, Loaded};
use crate::out::{Done, Ending, Out, Trouble, printable};
use crate::verbs::check::{value, word};
use crate::words::name;

/// Entries of each list that are shown to people; programs get them all.
const SHOWN: usize = 20;

/// What was asked for, once the names are found.
struct Asked {
    which: Which,
    /// "section A", "2 items".
    words: String,
    items: Vec<ItemId>,
    east: Length,
    north: Length,
    turn: Angle,
    about: Point,
}

/// What came of it.
struct Told {
    change: u64,
    /// Items that were laid again because they follow what was moved.
    again: Vec<ItemId>,
    before: Arc<Vec<Finding>>,
    after: Arc<Vec<Finding>>,
}

/// Moves and turns, saves it, and says what came of it.
pub(crate) fn run(out: &Out, args: &ShiftArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let done = match &loaded {
        Loaded::Project(desk, _) => shift(out, desk, args),
        Loaded::Text(_) => Err(Trouble::input(
            "usage",
            "`shift` changes a project file. Make one with `standfast new FILE --from PLAN.TOML`.",
        )),
    };
    loaded.close()?;
    done
}

fn shift(out: &Out, desk: &Desk, args: &ShiftArgs) -> Done {
    let was = desk.scene();
    let asked = asked(&was.snapshot.plan, &was.placement, args)?;
    let before = desk.findings()?.list;
    let command = Command::Shift {
        which: asked.which.clone(),
        east: asked.east,
        north: asked.north,
        turn: asked.turn,
        about: asked.about,
    };
    desk.apply(&Author("command line".into()), sayings::say!(doing::SHIFT, what = &asked.words), command)?;
    let now = desk.scene();
    let again = desk::laid_again(&was.placement, &now.placement, &asked.items);
    let (change, plan) = (now.snapshot.change, &now.snapshot.plan);
    let told = Told { change, again, before, after: desk.findings()?.list };
    out.result(|| printable(&text(plan, &asked, &told)), || json_of(plan, &asked, &told))?;
    Ok(Ending::Fine)
}

fn asked(plan: &Plan, placement: &Placement, args: &ShiftArgs) -> Result<Asked, Trouble> {
    if args.east.is_none() && args.north.is_none() && args.turn.is_none() {
        let message = "Nothing to do: say how far with --east, --north or --turn, as --east \"12 mm\".";
        return Err(Trouble::input("usage", message));
    }
    let (which, words, items) = match &args.section {
        Some(name) => section(plan, name)?,
        None => several(plan, &args.item)?,
    };
    let about = args.about.or_else(|| desk::middle_of(plan, placement, &items));
    Ok(Asked {
        which,
        words,
        items,
        east: args.east.unwrap_or_default(),
        north: args.north.unwrap_or_default(),
        turn: args.turn.unwrap_or_default(),
        about: about.unwrap_or_default(),
    })
}

type Found = (Which, String, Vec<ItemId>);

fn section(plan: &Plan, name: &str) -> Result<Found, Trouble> {
    let named: Vec<_> = plan.sections.iter().filter(|s| s.name == name).collect();
    let [section] = named[..] else {
        let known: Vec<&str> = plan.sections.iter().map(|s| s.name.as_str()).collect();
        let message = match (named.len(), known.len()) {
            (_, 0) => format!("--section {name}: the plan has no sections. Name items with --item."),
            (0, _) => {
                let known = known.join(", ");
                format!("--section {name}: there is no such section. The plan has: {known}.")
            }
            (n, _) => format!("--section {name}: {n} sections have this name. Name their items with --item."),
        };
        return Err(Trouble::input("usage", message));
    };
    Ok((Which::Section(section.id), format!("section {name}"), desk::items_of(plan, section.id)))
}

/// All items of these names.
fn several(plan: &Plan, names: &[String]) -> Result<Found, Trouble> {
    let mut items = Vec::new();
    for name in names {
        let before = items.len();
        items.extend(plan.items.iter().filter(|i| i.name == *name).map(|i| i.id));
        if items.len() == before {
            let message =
                format!("No item of the plan is called \"{name}\". Write names as the plan has them.");
            return Err(Trouble::input("no-such-item", message));
        }
    }
    items.sort_unstable();
    items.dedup();
    let words = match items[..] {
        [one] => name(plan, one),
        _ => format!("{} items", grouped(items.len() as u64)),
    };
    Ok((Which::Items(items.clone()), words, items))
}

/// Writing to text cannot fail.
macro_rules! say {
    ($out:expr, $($arg:tt)*) => { let _ = writeln!($out, $($arg)*); };
}

fn text(plan: &Plan, asked: &Asked, told: &Told) -> String {
    let mut out = String::new();
    say!(out, "{}:", headline(asked));
    list(&mut out, plan, &asked.items);
    if !told.again.is_empty() {
        say!(out, "Laid again, since they follow by links:");
        list(&mut out, plan, &told.again);
    }
    let counts = |found: &[Finding]| {
        format!("{} must, {} should", count(found, Severity::Must), count(found, Severity::Should))
    };
    say!(out, "Findings before: {}; now: {}.", counts(&told.before), counts(&told.after));
    let (gone, new) = differences(&told.before, &told.after);
    findings(&mut out, "Gone", &gone);
    findings(&mut out, "New", &new);
    say!(out, "Saved as change {}; undo takes it back.", grouped(told.change));
    out
}

/// "Moved section A by 12 mm east and 4 mm south, turned by 0.2° to the left about 300 mm east, 400 mm north".
fn headline(asked: &Asked) -> String {
    let way = |value: f64, plus: &str, minus: &str| {
        let side = if value > 0.0 { plus } else { minus };
        (value != 0.0).then(|| format!("{} mm {side}", number(value.abs())))
    };
    let parts = [way(asked.east.to_mm(), "east", "west"), way(asked.north.to_mm(), "north", "south")];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let turn = asked.turn.to_deg();
    let side = if turn > 0.0 { "left" } else { "right" };
    let (x, y) = (number(asked.about.x), number(asked.about.y));
    let turned = format!("by {}° to the {side} about {x} mm east, {y} mm north", number(turn.abs()));
    match (parts.is_empty(), turn == 0.0) {
        (true, true) => format!("Moved {} by nothing", asked.words),
        (false, true) => format!("Moved {} by {}", asked.words, parts.join(" and ")),
        (true, false) => format!("Turned {} {turned}", asked.words),
        (false, false) => format!("Moved {} by {}, turned {turned}", asked.words, parts.join(" and ")),
    }
}

/// At most three decimals, none without need.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn list(out: &mut String, plan: &Plan, items: &[ItemId]) {
    for &id in items.iter().take(SHOWN) {
        say!(out, "  {}", name(plan, id));
    }
    more(out, items.len());
}

fn more(out: &mut String, all: usize) {
    if all > SHOWN {
        say!(out, "  {} more; --json lists them all.", grouped((all - SHOWN) as u64));
    }
}

fn findings(out: &mut String, what: &str, all: &[&Finding]) {
    for f in all.iter().take(SHOWN) {
        say!(out, "{what}. {}. {}: {}", word(f.severity, true), f.place.words, f.message);
    }
    more(out, all.len());
}

fn count(found: &[Finding], severity: Severity) -> usize {
    found.iter().filter(|f| f.severity == severity).count()
}

/// The findings that are gone and those that are new. One of the same sort at the same place with other figures is
/// neither.
fn differences<'a>(before: &'a [Finding], after: &'a [Finding]) -> (Vec<&'a Finding>, Vec<&'a Finding>) {
    let (gone, new) = (beyond(before, after, &exact), beyond(after, before, &exact));
    (beyond(gone.iter().copied(), new.iter().copied(), &sort), beyond(new, gone, &sort))
}

fn exact(f: &Finding) -> String {
    format!("{} {:?} {}: {}", f.code, f.severity, f.place.words, f.message)
}

fn sort(f: &Finding) -> String {
    format!("{} {:?} {:?} {}", f.code, f.severity, f.place.item, f.place.words)
}

/// Those of `these` that are more than there are of the same key in `those`.
fn beyond<'a>(
    these: impl IntoIterator<Item = &'a Finding>,
    those: impl IntoIterator<Item = &'a Finding>,
    key: &dyn Fn(&Finding) -> String,
) -> Vec<&'a Finding> {
    let mut known = BTreeMap::<String, usize>::new();
    for f in those {
        *known.entry(key(f)).or_default() += 1;
    }
    let mut left = |f: &&Finding| match known.get_mut(&key(f)) {
        Some(n) if *n > 0 => {
            *n -= 1;
            false
        }
        _ => true,
    };
    these.into_iter().filter(|f| left(f)).collect()
}

fn json_of(plan: &Plan, asked: &Asked, told: &Told) -> Value {
    let items = |ids: &[ItemId]| -> Vec<Value> {
        ids.iter().map(|&id| json!({ "item": id.0, "name": name(plan, id) })).collect()
    };
    let counts = |found: &[Finding]| {
        json!({
            "must": count(found, Severity::Must),
            "should": count(found, Severity::Should),
            "note": count(found, Severity::Note),
        })
    };
    // Their numbers are those of `check` before and after.
    let listed = |some: &[&Finding], all: &[Finding]| -> Vec<Value> {
        let number = |f: &Finding| all.iter().position(|g| std::ptr::eq(f, g)).map_or(0, |i| i + 1);
        some.iter().map(|f| value(number(f), f)).collect()
    };
    let (gone, new) = differences(&told.before, &told.after);
    json!({
        "moved": items(&asked.items), "laid_again": items(&told.again),
        "east_mm": asked.east.to_mm(), "north_mm": asked.north.to_mm(), "turn_deg": asked.turn.to_deg(),
        "about": [asked.about.x, asked.about.y],
        "before": counts(&told.before), "after": counts(&told.after),
        "gone": listed(&gone, &told.before), "new": listed(&new, &told.after),
        "change": told.change,
    })
}
