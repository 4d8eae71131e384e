//! Jobs: what is asked, how they stand, what they made.

use std::collections::BTreeMap;

use desk::{Desk, DeskError, JobKind, JobState, MatchAsk, Proposed, Tried, VariantState};
use plan::{ItemId, MatchGoal, Plan};
use works::Aim;

use super::said::said;
use super::{cells, count, wish};
use crate::wire;

/// What is asked of a match.
pub(crate) fn ask(desk: &Desk, plan: &Plan, ask: &wire::MatchAsk) -> Result<MatchAsk, DeskError> {
    let items: Vec<_> = ask.items.iter().map(|&item| ItemId(item)).collect();
    let only = match (&ask.only, items.first()) {
        (Some(runs), Some(&first)) => Some(cells::mask(plan, first, runs)?),
        _ => None,
    };
    let shows = ask.shows.as_ref().map(|fresh| desk.fresh(&fresh.name, &fresh.sha256)).transpose()?;
    Ok(MatchAsk {
        items,
        goal: ask.goal.map(wish::goal_from_wire),
        fewer_changes: ask.fewer_changes,
        only,
        shows,
    })
}

/// How a job stands, with the variant it made.
pub(crate) fn job(desk: &Desk, state: &JobState) -> wire::Job {
    wire::Job {
        id: state.id.0,
        kind: match state.kind {
            JobKind::Match => wire::JobKind::Match,
            JobKind::Odds => wire::JobKind::Odds,
            JobKind::Gaps => wire::JobKind::Gaps,
        },
        what: state.what.to_string(),
        what_said: said(&state.what),
        stage: state.stage.clone(),
        share: f64::from(state.permille) / 1_000.0,
        over: state.over,
        stopped: state.stopped,
        trouble: state.trouble.as_ref().map(|(code, why)| wire::Trouble {
            code: (*code).to_owned(),
            message: why.to_string(),
            said: Some(said(why)),
        }),
        variant: state.variant.and_then(|id| desk.variant(id)).map(|state| variant(&state)),
        odds: state.tried.as_deref().map(odds),
        gaps: state.proposed.as_deref().map(|made| gaps(desk, made)),
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

/// Gaps that one request may ask for.
const MOST_GAPS: u32 = 1_000;

/// What is asked of proposed gaps; `None` where that cannot be.
pub(crate) fn aim(ask: &wire::GapsAsk) -> Option<Aim> {
    match (ask.gaps, ask.pieces) {
        (None, None) => Some(Aim::Worth),
        (Some(gaps), None) if (1..=MOST_GAPS).contains(&gaps) => Some(Aim::Gaps(gaps)),
        (None, Some(pieces)) if pieces > 0 => Some(Aim::Pieces(pieces)),
        _ => None,
    }
}

/// Gaps that are proposed.
fn gaps(desk: &Desk, made: &Proposed) -> wire::ProposedGaps {
    let placement = desk.placement();
    let gap = |p: &works::Proposal| {
        let pieces = placement.item(p.item).map(|placed| &placed.pieces);
        let rank = p.gap.first + p.gap.count / 2;
        let found = pieces.and_then(|pieces| Some((pieces, pieces.rank.iter().position(|r| *r == rank)?)));
        wire::ProposedGap {
            item: p.item.0,
            first: p.gap.first,
            count: p.gap.count,
            stopper: p.gap.stopper,
            pieces: p.pieces,
            open: p.opening,
            needed: p.needed,
            beside: p.beside,
            at: found.map_or([0.0; 2], |(pieces, i)| [pieces.x[i], pieces.y[i]]),
        }
    };
    let closing = |c: &desk::Closed| {
        let (first, last) = c.gap.for_people();
        wire::ClosingRow {
            item: c.item.0,
            ranks: [count(first), count(last)],
            proposed: c.proposed,
            joined: count(c.joined),
        }
    };
    let loss = |l: &works::Loss| [l.mean, f64::from(l.worst)];
    let advice = &made.advice;
    wire::ProposedGaps {
        change: count(made.change),
        gaps: advice.proposals.iter().map(gap).collect(),
        before: loss(&advice.before),
        after: loss(&advice.after),
        exact: advice.before.exact && advice.after.exact,
        closing: made.closing.iter().map(closing).collect(),
        closing_exact: made.closing_exact,
        stoppers: made.stoppers,
        ways: made.ways,
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
