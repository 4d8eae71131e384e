//! The plan: looking at it and changing it.

use axum::http::StatusCode;
use desk::{Request, StepList};
use serde::Deserialize;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{self, change, refusal, state, stock};
use crate::limits;
use crate::wire::{Change, MendAsk, Role};

/// `GET /api/state`.
pub(crate) fn get_state(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let measures = app.desk.measures().map_err(refusal)?;
    let found = app.desk.findings().map_err(refusal)?;
    let role = ask.visitor.role.unwrap_or(Role::Crew);
    let scene = app.desk.scene();
    Answer::json(&state::state(&scene.snapshot, &measures, &found, &scene.placement, role))
}

/// `GET /api/stock`.
pub(crate) fn get_stock(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let shortage = app.desk.shortage().map_err(refusal)?;
    Answer::json(&stock::report(&app.desk.snapshot().plan, &shortage))
}

/// `POST /api/do`.
pub(crate) fn apply(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let made: Change = ask.json()?;
    let stock_list = change::is_stock_list(&made);
    let fits = match &made {
        Change::StockList { text, .. } => text.len() <= limits::STOCK_LIST,
        _ => ask.body.len() as u64 <= limits::JSON,
    };
    if !fits && guards::Guard::BodyLimit.stands() {
        let most = if stock_list { limits::STOCK_LIST >> 20 } else { (limits::JSON >> 20) as usize };
        return Err(Refusal::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            "too-large",
            format!("This change is larger than the {most}\u{a0}MiB that fit here. Make it in parts."),
        ));
    }
    // A plan that will refuse the example need not keep its pictures.
    if matches!(made, Change::Example {}) && app.desk.snapshot().plan.items.is_empty() {
        app.desk.keep_example_pictures().map_err(refusal)?;
    }
    submit(app, ask, Request::Change(change::draft(made)))
}

/// `POST /api/undo`.
pub(crate) fn undo(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    submit(app, ask, Request::Undo)
}

/// `POST /api/redo`.
pub(crate) fn redo(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    submit(app, ask, Request::Redo)
}

/// `POST /api/mend`.
pub(crate) fn mend(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: MendAsk = ask.json()?;
    let mended = app.desk.mend(&ask.author(), wanted.finding as usize, wanted.change.into());
    Answer::json(&convert::done(mended.map_err(refusal)?.1))
}

fn submit(app: &App, ask: &Ask, request: Request) -> Result<Answer, Refusal> {
    let receipt = app.desk.submit(&ask.author(), request).map_err(refusal)?;
    Answer::json(&convert::done(receipt))
}

/// What is asked of the list of steps.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepsQuery {
    #[serde(default)]
    all: u8,
    #[serde(default)]
    skip: u32,
    #[serde(default = "usual_steps")]
    most: u32,
}

const fn usual_steps() -> u32 {
    100
}

/// `GET /api/steps`.
pub(crate) fn get_steps(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let query: StepsQuery = ask.query()?;
    let list = if query.all == 1 { StepList::Journal } else { StepList::Course };
    let most = query.most.min(limits::STEPS);
    let steps = app.desk.steps(list, query.skip.into(), most.into()).map_err(refusal)?;
    Answer::json(&convert::steps(steps))
}

/// `GET /api/backup`: a checked copy of the project, made by the project file's own means.
pub(crate) fn backup(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let failed = |_| Refusal::inside("There is no room for a copy on this machine's disk.");
    let folder = tempfile::tempdir().map_err(failed)?;
    let path = folder.path().join("copy.standfast");
    app.desk.backup(&path).map_err(refusal)?;
    let bytes = std::fs::read(&path).map_err(failed)?;
    let file = app.desk.snapshot().file.clone();
    let name = if file.is_empty() { "plan.standfast" } else { &file };
    Ok(Answer::new("application/octet-stream", bytes).save_as(name))
}
