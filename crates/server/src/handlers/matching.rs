//! Matching pictures to the stock: jobs and variants.

use desk::JobId;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{self, matching, refusal};
use crate::wire::MatchAsk;

/// `POST /api/match`.
pub(crate) fn start(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: MatchAsk = ask.json()?;
    let id = app.desk.start_match(&ask.author(), matching::ask(&wanted), wanted.lay).map_err(refusal)?;
    job(app, id)
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
        None => Err(Refusal::absent(format!("Job {} is not known any more. Start it again.", id.0))),
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
    Refusal::absent(format!("Variant {id} is not kept any more; only the last twelve are. Match again."))
}
