//! Long work: matching pictures to the stock, many falls, and the variants of matches.

use desk::JobId;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{self, matching, refusal};
use crate::wire::{GapsAsk, MatchAsk, OddsAsk};
use sayings::{refusing, say};

/// `POST /api/match`.
pub(crate) fn start(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: MatchAsk = ask.json()?;
    let plan = &app.desk.snapshot().plan;
    let asked = matching::ask(&app.desk, plan, &wanted).map_err(refusal)?;
    let id = app.desk.start_match(&ask.author(), asked, wanted.lay).map_err(refusal)?;
    job(app, id)
}

/// Falls that one request may ask for.
const MOST_FALLS: u32 = 10_000;

/// `POST /api/odds`.
pub(crate) fn odds(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: OddsAsk = ask.json()?;
    if !(1..=MOST_FALLS).contains(&wanted.runs) {
        return Err(Refusal::bad("runs", say!(refusing::RUNS, n = wanted.runs)));
    }
    job(app, app.desk.start_odds(wanted.runs, wanted.seed.into()).map_err(refusal)?)
}

/// `POST /api/gaps`.
pub(crate) fn gaps(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: GapsAsk = ask.json()?;
    let Some(aim) = matching::aim(&wanted) else {
        return Err(Refusal::bad("gaps", say!(refusing::GAPS)));
    };
    job(app, app.desk.start_gaps(aim).map_err(refusal)?)
}

/// `GET /api/job/{id}`.
pub(crate) fn get_job(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    job(app, JobId(ask.number("id", "")?))
}

/// `POST /api/job/{id}/stop`.
pub(crate) fn stop(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = JobId(ask.number("id", "")?);
    app.desk.stop_job(id);
    job(app, id)
}

fn job(app: &App, id: JobId) -> Result<Answer, Refusal> {
    match app.desk.job(id) {
        Some(state) => Answer::json(&matching::job(&app.desk, &state)),
        None => Err(Refusal::absent(say!(refusing::NO_JOB, id = id.0.to_string()))),
    }
}

/// `POST /api/variant/{id}/use`.
pub(crate) fn lay(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let receipt = app.desk.use_variant(&ask.author(), ask.number("id", "")?).map_err(refusal)?;
    Answer::json(&convert::done(receipt))
}

/// `DELETE /api/variant/{id}`.
pub(crate) fn discard(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = ask.number("id", "")?;
    if app.desk.drop_variant(id) { Answer::json(&()) } else { Err(no_variant(id)) }
}

/// There is no such variant.
pub(crate) fn no_variant(id: u32) -> Refusal {
    Refusal::absent(say!(refusing::NO_VARIANT, id = id.to_string()))
}
