//! `fall`: what falls, in what time, how surely, and what stays standing and why.

use fall::law::{self, TimedIs};
use fall::{Doubt, Network, Odds, PassTimes, Report, Stands, Unsure, Why};
use findings::grouped;
use placement::{PieceId, Placement};
use plan::{ItemId, Plan};
use serde_json::{Value, json};

use crate::cli::FallArgs;
use crate::interrupt;
use crate::load;
use crate::out::{Done, Ending, Out, Trouble, printable};
use crate::words::{how_much, name, pieces, span, spot};

/// Entries of each list that are shown to people; programs get them all.
const SHOWN: usize = 20;

/// Reports the fall of a plan, and with `--runs` how surely it goes.
pub(crate) fn run(out: &Out, args: &FallArgs) -> Done {
    let loaded = load::plan(&args.file)?;
    loaded.notes().iter().for_each(|n| out.remark(n));
    let plan = loaded.plan();
    let placement = Placement::of(plan);
    let network = Network::of(plan, &placement);
    let report = fall::report(plan, &network);
    let odds = match args.runs {
        0 => None,
        runs => Some(chance(out, plan, &network, runs, args.seed)?),
    };
    out.result(
        || text(plan, &report, odds.as_ref()),
        || json!({ "fall": report_json(plan, &report), "odds": odds.as_ref().map(|o| odds_json(plan, o)) }),
    )?;
    let all = report.fallen == report.pieces;
    loaded.close()?;
    Ok(if all { Ending::Fine } else { Ending::Findings })
}

fn chance(out: &Out, plan: &Plan, network: &Network, runs: u32, seed: u64) -> Result<Odds, Trouble> {
    let keep_on = |share: f64| {
        out.progress("falls", share);
        !interrupt::pressed()
    };
    fall::odds(plan, network, runs, seed, &keep_on).ok_or_else(Trouble::interrupted)
}

fn text(plan: &Plan, report: &Report, odds: Option<&Odds>) -> String {
    let mut lines = vec![how_much(report)];
    for stands in report.stands.iter().take(SHOWN) {
        let lanes = ranges(&stands.lanes);
        lines.push(format!(
            "{}, {lanes}: {} {}. {}",
            name(plan, stands.item),
            pieces(stands.pieces),
            if stands.pieces == 1 { "stands" } else { "stand" },
            because(plan, stands)
        ));
    }
    more(&mut lines, report.stands.len(), "more places stand");
    if report.assumed > 0 {
        lines.push(format!(
            "{} more are only assumed, in placeholders: they count in the stock and not here.",
            pieces(report.assumed)
        ));
    }
    if report.surely < report.fallen {
        lines.push("The first hits that may fail:".into());
        lines.extend(
            report.unsure.iter().take(5).map(|u| {
                format!("  {} on {}: {}", spot(plan, u.from), spot(plan, u.to), doubt(plan, &u.why))
            }),
        );
    }
    if !report.arrivals.is_empty() {
        lines.push("Reached after:".into());
        let mut arrivals = report.arrivals.clone();
        arrivals.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        let line = |(item, least, most): &(ItemId, f64, f64)| {
            format!("  {} {}", span(*least, *most), name(plan, *item))
        };
        lines.extend(arrivals.iter().take(SHOWN).map(line));
        more(&mut lines, arrivals.len(), "more items");
        let most = report.per_second.iter().max_by_key(|(second, n)| (*n, std::cmp::Reverse(*second)));
        if let Some((second, n)) = most {
            lines.push(format!("Most at once: {} in second {}.", pieces(*n), second + 1));
        }
    }
    if let Some(odds) = odds {
        lines.extend(odds_text(plan, odds));
    }
    lines.push(closing(plan, odds.is_some()));
    printable(&(lines.join("\n") + "\n"))
}

/// Where the times come from, and how far they and the chance are to be trusted.
fn closing(plan: &Plan, runs: bool) -> String {
    let timed = law::timed(plan);
    let counted = timed.iter().filter(|t| t.is == TimedIs::Fine).count();
    let mut said = match counted {
        0 if timed.is_empty() => {
            String::from("Times are a range until a line of your own was timed on this floor")
        }
        0 => "Times are a range: no line that was timed on this floor counts; `standfast check` says why"
            .into(),
        1 => "Times follow the line that was timed on this floor".into(),
        n => format!("Times follow the {n} lines that were timed on this floor"),
    };
    match timed.len() - counted {
        _ if counted == 0 => {}
        0 => {}
        1 => said += ", but 1 more does not count; `standfast check` says why",
        n => said += &format!(", but {n} more do not count; `standfast check` says why"),
    }
    if runs {
        said += ". Times of runs are at the usual pace, the middle of that range; chance is counted from model runs, never certain.";
    } else {
        said += "; with `--runs` chance is counted from model runs, never certain.";
    }
    said
}

fn odds_text(plan: &Plan, odds: &Odds) -> Vec<String> {
    let percent = |share: f64| format!("{:.1} %", share * 100.0);
    let mut lines = vec![
        format!(
            "In {} of {} runs everything that can fall falls.",
            percent(odds.all_fall),
            grouped(odds.runs.into())
        ),
        format!(
            "Share that falls: {} in the worst twentieth of runs, {} in the middle one. Time: {}.",
            percent(odds.fallen[0]),
            percent(odds.fallen[1]),
            span(odds.end_s[0], odds.end_s[2])
        ),
    ];
    let stop = |(piece, n): &(PieceId, u32)| {
        let times = if *n == 1 { "once".into() } else { format!("{} times", grouped((*n).into())) };
        format!("  stopped {times} at {}", spot(plan, *piece))
    };
    lines.extend(odds.stops.iter().take(5).map(stop));
    lines
}

fn more(lines: &mut Vec<String>, all: usize, what: &str) {
    if all > SHOWN {
        lines.push(format!("{} {what}; --json lists them all.", grouped((all - SHOWN) as u64)));
    }
}

/// Why a hit may fail, as a sentence.
fn doubt(plan: &Plan, why: &Doubt) -> String {
    match why {
        Doubt::Hit => "such hits passed in some measured runs and failed in others.".into(),
        Doubt::Low => "what lies above leaves too little room to fall.".into(),
        Doubt::Knocked { by } => {
            format!("what flies from {} may have knocked it out of its turn.", spot(plan, *by))
        }
        Doubt::Crossed { by } => {
            format!(
                "it crosses {} without a bridge, and what falls there may lie in its way.",
                spot(plan, *by)
            )
        }
        Doubt::Dies => "a push uphill may die out.".into(),
    }
}

/// Why something stands, as a sentence.
fn because(plan: &Plan, stands: &Stands) -> String {
    let one = stands.pieces == 1;
    let (they, them) = if one { ("It", "it") } else { ("They", "them") };
    let (stand, are) = if one { ("stands", "is") } else { ("stand", "are") };
    match &stands.why {
        Why::NoStart => "There is no start that pushes anything.".into(),
        Why::NotFed => format!("Nothing falls towards {them}."),
        Why::TooFar { gap_mm } => format!("What falls towards {them} stands {gap_mm:.0} mm away, too far."),
        Why::Turned => format!("{they} {are} turned too far out of the fall."),
        Why::Blocked => format!("Something fixed stands before {them}."),
        Why::TooBig => format!("{they} {are} too large for what hits {them}."),
        Why::StepTooHigh => {
            format!("{they} {stand} too much higher or lower than what falls towards {them}.")
        }
        Why::AfterStall { first } => format!("Only because {} stands.", spot(plan, *first)),
    }
}

/// The number of a lane for people, who count from 1.
fn nth(from_0: u32) -> String {
    grouped(u64::from(from_0) + 1)
}

fn ranges(lanes: &[(u32, u32)]) -> String {
    let one = |(a, b): &(u32, u32)| if a == b { nth(*a) } else { format!("{} to {}", nth(*a), nth(*b)) };
    let word = if let [(a, b)] = lanes
        && a == b
    {
        "lane"
    } else {
        "lanes"
    };
    format!("{word} {}", lanes.iter().map(one).collect::<Vec<_>>().join(", "))
}

fn report_json(plan: &Plan, report: &Report) -> Value {
    let stands = |s: &Stands| {
        json!({
            "item": s.item.0, "name": name(plan, s.item), "pieces": s.pieces, "why": why_code(&s.why),
            "lanes": s.lanes.iter().map(|(a, b)| [a + 1, b + 1]).collect::<Vec<_>>(),
            "because": because(plan, s),
        })
    };
    let arrival = |(item, least, most): &(ItemId, f64, f64)| json!({ "item": item.0, "name": name(plan, *item), "seconds": [least, most] });
    let unsure = |u: &Unsure| json!({ "from": spot(plan, u.from), "to": spot(plan, u.to), "because": doubt(plan, &u.why) });
    let pass = |p: &PassTimes| json!({ "item": p.item.0, "name": name(plan, p.item), "from_seconds": p.from_s, "to_seconds": p.to_s });
    json!({
        "pieces": report.pieces, "assumed": report.assumed, "fallen": report.fallen, "surely": report.surely,
        "seconds": [report.least_s, report.most_s], "beyond_a_day": report.beyond,
        "stands": report.stands.iter().map(stands).collect::<Vec<_>>(),
        "arrivals": report.arrivals.iter().map(arrival).collect::<Vec<_>>(),
        "per_second": report.per_second,
        "unsure": report.unsure.iter().map(unsure).collect::<Vec<_>>(),
        "placeholders": report.passes.iter().map(pass).collect::<Vec<_>>(),
    })
}

fn odds_json(plan: &Plan, odds: &Odds) -> Value {
    let stop = |(piece, n): &(PieceId, u32)| json!({ "at": spot(plan, *piece), "runs": n });
    json!({
        "runs": odds.runs, "can_fall": odds.can_fall, "all_fall": odds.all_fall,
        "fallen_5_50_95": odds.fallen, "seconds_5_50_95": odds.end_s,
        "stops": odds.stops.iter().map(stop).collect::<Vec<_>>(),
    })
}

fn why_code(why: &Why) -> &'static str {
    match why {
        Why::NoStart => "no-start",
        Why::NotFed => "not-fed",
        Why::TooFar { .. } => "too-far",
        Why::Turned => "turned",
        Why::Blocked => "blocked",
        Why::TooBig => "too-big",
        Why::StepTooHigh => "step-too-high",
        Why::AfterStall { .. } => "after-stall",
    }
}
