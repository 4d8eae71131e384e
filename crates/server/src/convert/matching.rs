//! Jobs: what is asked, how they stand, what they made.

use std::collections::BTreeMap;

use desk::{Desk, DeskError, JobKind, JobState, MatchAsk, Tried, VariantState};
use plan::{ItemId, MatchGoal, Plan};

use super::{cells, count, wish};
use crate::wire;

/// What is asked of a match.
pub(crate) fn ask(plan: &Plan, ask: &wire::MatchAsk) -> Result<MatchAsk, DeskError> {
    let items: Vec<_> = ask.items.iter().map(|&item| ItemId(item)).collect();
    let only = match (&ask.only, items.first()) {
        (Some(runs), Some(&first)) => Some(cells::mask(plan, first, runs)?),
        _ => None,
    };
    Ok(MatchAsk { items, goal: ask.goal.map(wish::goal_from_wire), fewer_changes: ask.fewer_changes, only })
}

/// How a job stands, with the variant it made.
pub(crate) fn job(desk: &Desk, state: &JobState) -> wire::Job {
    wire::Job {
        id: state.id.0,
        kind: match state.kind {
            JobKind::Match => wire::JobKind::Match,
            JobKind::Odds => wire::JobKind::Odds,
        },
        what: state.what.clone(),
        stage: state.stage.clone(),
        share: f64::from(state.permille) / 1_000.0,
        over: state.over,
        stopped: state.stopped,
        trouble: state
            .trouble
            .as_ref()
            .map(|(code, message)| wire::Trouble { code: code.clone(), message: message.clone() }),
        variant: state.variant.and_then(|id| desk.variant(id)).map(|state| variant(&state)),
        odds: state.tried.as_deref().map(odds),
    }
}

/// What many falls showed.
fn odds(tried: &Tried) -> wire::FallOdds {
    let of = &tried.odds;
    let stop = |stop: &desk::Stop| wire::StopRow {
        piece: wire::PieceName {
            piece: stop.number,
            item: stop.piece.item.0,
            lane: stop.piece.lane + 1,
            rank: stop.piece.rank + 1,
        },
        at: [stop.at.x, stop.at.y],
        runs: stop.runs,
    };
    wire::FallOdds {
        change: count(tried.change),
        runs: of.runs,
        seed: count(tried.seed),
        can_fall: of.can_fall,
        all_fall: of.all_fall,
        fallen: of.fallen.map(|share| (share * f64::from(of.can_fall)).round() as u32),
        seconds: of.end_s,
        stops: tried.stops.iter().map(stop).collect(),
    }
}

/// A match that can be looked at and laid.
pub(crate) fn variant(state: &VariantState) -> wire::Variant {
    let outcome = &*state.outcome;
    let exact = outcome.goal == MatchGoal::Exact;
    let mut used = BTreeMap::new();
    for (_, colour, pieces) in &outcome.used {
        *used.entry(u32::from(colour.0)).or_insert(0) += pieces;
    }
    // Means over all cells of the match: each field counts by its cells.
    let cells: Vec<f64> = outcome.cells.iter().map(|(_, cells)| cells.len() as f64).collect();
    let all: f64 = cells.iter().sum();
    let measures = &outcome.measures;
    let mean = |of: fn(&desk::FieldMeasure) -> f64| {
        measures.iter().zip(&cells).map(|(m, n)| of(m) * n).sum::<f64>() / all.max(1.0)
    };
    let (runs, lanes) = measures.iter().fold((0.0, 0.0), |(runs, lanes), m| {
        let own = if m.runs_per_lane > 0.0 { m.runs as f64 / m.runs_per_lane } else { 0.0 };
        (runs + m.runs as f64, lanes + own)
    });
    wire::Variant {
        id: state.id,
        goal: wish::goal_to_wire(outcome.goal),
        fewer_changes: outcome.fewer_changes,
        objective: exact.then_some(outcome.proof.objective as f64),
        bound: exact.then_some(outcome.proof.bound as f64),
        difference: mean(|m| m.difference),
        difference_seen: mean(|m| m.difference_seen),
        runs_per_lane: if lanes > 0.0 { runs / lanes } else { 0.0 },
        hours: [measures.iter().map(|m| m.hours.low).sum(), measures.iter().map(|m| m.hours.high).sum()],
        used: used.into_iter().map(|(colour, pieces)| [colour, count(pieces)]).collect(),
        seconds: outcome.seconds.iter().map(|time| (time.stage.to_owned(), time.seconds)).collect(),
        laid: state.laid,
        items: outcome.cells.iter().map(|(item, _)| item.0).collect(),
    }
}
