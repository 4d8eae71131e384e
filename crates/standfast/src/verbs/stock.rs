//! `stock`: needed, owned and short, with the ways out.

use desk::{Shortage, WayOut};
use findings::grouped;
use plan::{ColourId, ItemId, Plan};
use serde_json::{Value, json};

use crate::cli::StockArgs;
use crate::load;
use crate::out::{Done, Out, printable};

/// Lists the stock against the plan.
pub(crate) fn run(out: &Out, args: &StockArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let plan = loaded.plan();
    let bank = desk::PictureBank::new();
    let shortage = desk::ways_out(plan, &bank, loaded.source(), None)?;
    let placement = placement::Placement::of(plan);
    let network = fall::Network::of(plan, &placement);
    let found = desk::findings((plan, &placement, &network), &shortage.summary, &bank, loaded.source())?;
    out.result(
        || format!("{}{}", table(plan, &shortage), shortage_text(plan, &shortage)),
        || {
            let line = |l: &desk::StockLine| {
                json!({
                    "colour": code(plan, l.colour), "name": name(plan, l.colour), "kind": kind(plan, l.kind),
                    "needed": l.needed, "wanted": l.wanted, "owned": l.owned, "usable": l.usable,
                    "left": l.left(), "short": l.short(), "offered": l.offered, "crates": l.crates,
                })
            };
            json!({
                "lines": shortage.summary.lines.iter().map(line).collect::<Vec<_>>(),
                "shortage": shortage_json(plan, &shortage),
            })
        },
    )?;
    let ending = super::check::ending(&found, args.fail_on);
    loaded.close()?;
    Ok(ending)
}

fn table(plan: &Plan, shortage: &Shortage) -> String {
    let mut text = format!(
        "{:<3} {:<20} {:>10} {:>10} {:>10} {:>12}\n",
        "", "colour", "needed", "owned", "usable", "left"
    );
    for l in &shortage.summary.lines {
        let left = if l.left() < 0 {
            format!("short {}", grouped(l.left().unsigned_abs()))
        } else {
            grouped(l.left().unsigned_abs())
        };
        text.push_str(&format!(
            "{:<3} {:<20} {:>10} {:>10} {:>10} {left:>12}\n",
            code(plan, l.colour),
            printable(&name(plan, l.colour)),
            grouped(l.needed),
            grouped(l.owned),
            grouped(l.usable)
        ));
    }
    text
}

/// What is short and the ways out, in sentences; empty when nothing is short.
pub(crate) fn shortage_text(plan: &Plan, shortage: &Shortage) -> String {
    let short = shortage.summary.short();
    let mut text = String::new();
    if shortage.missing > 0 {
        text.push_str(&format!(
            "The stock is {} pieces too small for all cells.\n",
            grouped(shortage.missing)
        ));
    }
    for l in &short {
        text.push_str(&format!(
            "{} is short by {}. The {} {}, usable are {}.\n",
            name(plan, l.colour),
            grouped(l.short()),
            if l.wanted > l.needed { "pictures would take" } else { "plan takes" },
            grouped(l.wanted.max(l.needed)),
            grouped(l.usable)
        ));
    }
    if !shortage.ways_out.is_empty() {
        text.push_str("Ways out:\n");
    }
    for way in shortage.ways_out.iter().take(MOST_WAYS) {
        text.push_str(&format!("  {}\n", sentence(plan, way, shortage.missing > 0)));
    }
    if shortage.ways_out.len() > MOST_WAYS {
        text.push_str(&format!(
            "  and {} more; --json lists them all\n",
            grouped((shortage.ways_out.len() - MOST_WAYS) as u64)
        ));
    }
    printable(&text)
}

/// Ways out that are listed for people.
const MOST_WAYS: usize = 12;

/// A gain that is more than nothing with one decimal.
const WORTH_A_WORD: f64 = 0.05;

/// A way out as a sentence; `too_small` when the stock cannot fill all cells.
fn sentence(plan: &Plan, way: &WayOut, too_small: bool) -> String {
    match way {
        WayOut::OtherColour { from, to, pieces, difference, .. } => format!(
            "{} for {}, pieces: {}, difference {:.1}, was {:.1}",
            name(plan, *to),
            name(plan, *from),
            grouped(*pieces),
            difference[1],
            difference[0]
        ),
        WayOut::SmallerFields { fields } => {
            let name = |id| plan.item(id).map_or("", |i| i.name.as_str());
            let one = |&(id, lanes, ranks): &(ItemId, u32, u32)| {
                format!("{} {} lanes x {} ranks", name(id), grouped(lanes.into()), grouped(ranks.into()))
            };
            format!("lay smaller: {}", fields.iter().map(one).collect::<Vec<_>>().join(", "))
        }
        WayOut::Buy { colour, pieces, worth, .. } => {
            let gain = if *worth >= WORTH_A_WORD {
                format!(": the first of them takes {worth:.1} off the sum of differences")
            } else if too_small {
                ", without which the stock is too small".to_owned()
            } else {
                String::new()
            };
            format!("buy {} {}{gain}", grouped(*pieces), name(plan, *colour))
        }
        WayOut::Borrow { colour, owner, pieces, .. } => {
            format!("borrow {} {} from {owner}, who offered them", grouped(*pieces), name(plan, *colour))
        }
    }
}

/// What is short and the ways out, for programs.
pub(crate) fn shortage_json(plan: &Plan, shortage: &Shortage) -> Value {
    let line = |l: &&desk::StockLine| json!({ "colour": code(plan, l.colour), "wanted": l.wanted.max(l.needed), "usable": l.usable, "short": l.short() });
    let way = |w: &WayOut| match w {
        WayOut::OtherColour { from, to, pieces, difference, .. } => json!({
            "way": "other-colour", "from": code(plan, *from), "to": code(plan, *to), "pieces": pieces, "difference": difference,
        }),
        WayOut::SmallerFields { fields } => {
            let one = |&(id, lanes, ranks): &(ItemId, u32, u32)| json!({ "field": plan.item(id).map(|i| i.name.clone()), "lanes": lanes, "ranks": ranks });
            json!({ "way": "smaller-fields", "fields": fields.iter().map(one).collect::<Vec<_>>() })
        }
        WayOut::Buy { colour, pieces, worth, .. } => json!({
            "way": "buy", "colour": code(plan, *colour), "pieces": pieces, "worth": worth,
        }),
        WayOut::Borrow { colour, owner, pieces, .. } => json!({
            "way": "borrow", "colour": code(plan, *colour), "owner": owner, "pieces": pieces,
        }),
    };
    json!({
        "missing": shortage.missing,
        "short": shortage.summary.short().iter().map(line).collect::<Vec<_>>(),
        "ways_out": shortage.ways_out.iter().map(way).collect::<Vec<_>>(),
    })
}

fn code(plan: &Plan, id: ColourId) -> String {
    plan.colour(id).map_or_else(|| id.to_string(), |c| c.code.clone())
}

fn name(plan: &Plan, id: ColourId) -> String {
    plan.colour(id).map_or_else(|| format!("colour {id}"), |c| c.name.clone())
}

fn kind(plan: &Plan, id: plan::KindId) -> String {
    plan.stock.kind(id).map_or_else(|| id.to_string(), |k| k.name.clone())
}
