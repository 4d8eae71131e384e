//! `match`: fields of a project to its stock.

use std::sync::Arc;

use colour::Flow;
use desk::{Author, Desk, MatchAsk, Outcome, PictureBank, PictureSource};
use plan::{ItemId, MatchGoal, Plan};
use serde_json::json;

use crate::cli::{Goal, MatchArgs};
use crate::interrupt;
use crate::out::{Done, Ending, Out, Trouble};

/// Matches fields and lays the result.
pub(crate) fn run(out: &Out, args: &MatchArgs) -> Done {
    let desk = crate::load::project(&args.file)?;
    let done = matched(out, &desk, args);
    desk.close()?;
    done
}

fn matched(out: &Out, desk: &Arc<Desk>, args: &MatchArgs) -> Done {
    let plan = desk.snapshot().plan.clone();
    let items = fields(&plan, &args.field, |f| f.picture.is_some())?;
    let goal = args.goal.map(|g| match g {
        Goal::Exact => MatchGoal::Exact,
        Goal::Seen => MatchGoal::Seen,
    });
    let ask = MatchAsk { items, goal, fewer_changes: args.fewer_changes, only: None, shows: None };
    let outcome = solve(out, &plan, desk.as_ref(), &PictureBank::new(), &ask)?;
    desk.lay(&Author("command line".into()), &outcome)?;
    let name = |id: ItemId| plan.item(id).map_or_else(String::new, |i| i.name.clone());
    let change = desk.snapshot().change;
    out.result(
        || {
            let line = |m: &desk::FieldMeasure| {
                format!(
                    "{}: difference {:.2} cell by cell, {:.2} as seen, {:.1} runs a lane, {:.1} to {:.1} person-hours\n",
                    crate::out::printable(&name(m.item)), m.difference, m.difference_seen, m.runs_per_lane, m.hours.low, m.hours.high
                )
            };
            let mut text: String = outcome.measures.iter().map(line).collect();
            text.push_str(&format!("Laid; saved as change {change}.\n"));
            text
        },
        || {
            let fields: Vec<_> = outcome.measures.iter().map(|m| json!({
                "field": name(m.item), "difference": m.difference, "difference_seen": m.difference_seen,
                "runs_per_lane": m.runs_per_lane, "hours": [m.hours.low, m.hours.high], "pieces": m.pieces,
            })).collect();
            json!({ "fields": fields, "objective": outcome.proof.objective, "bound": outcome.proof.bound, "change": change })
        },
    )?;
    Ok(Ending::Fine)
}

/// Matches, telling how far it is; Ctrl-C ends it without a result.
pub(crate) fn solve(
    out: &Out,
    plan: &Plan,
    source: &dyn PictureSource,
    bank: &PictureBank,
    ask: &MatchAsk,
) -> Result<Outcome, Trouble> {
    let prepared = desk::prepare(plan, ask, bank, source, &|_| !interrupt::pressed())?;
    let outcome = desk::run(&prepared, &mut |p| {
        out.progress(&format!("Matching, {}", desk::stage_word(p.stage)), p.done);
        if interrupt::pressed() { Flow::Stop } else { Flow::Go }
    })?;
    if outcome.stopped { Err(Trouble::interrupted()) } else { Ok(outcome) }
}

/// The fields named, or all that `wanted` asks for.
pub(crate) fn fields(
    plan: &Plan,
    names: &[String],
    wanted: fn(&plan::Field) -> bool,
) -> Result<Vec<ItemId>, Trouble> {
    if names.is_empty() {
        let all = plan.items.iter().filter(|i| i.field().is_some_and(wanted));
        return Ok(all.map(|i| i.id).collect());
    }
    let find = |name: &String| {
        let item = plan.items.iter().find(|i| &i.name == name && i.field().is_some());
        item.map(|i| i.id).ok_or_else(|| {
            let known: Vec<_> =
                plan.items.iter().filter(|i| i.field().is_some()).map(|i| i.name.as_str()).collect();
            let message =
                format!("--field {name}: there is no such field. The plan has: {}.", known.join(", "));
            Trouble::input("usage", message)
        })
    };
    names.iter().map(find).collect()
}
