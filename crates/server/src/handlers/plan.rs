//! The plan: looking at it and changing it.

use axum::http::StatusCode;
use desk::{OnceKey, Request, StepList};
use serde::Deserialize;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{self, change, refusal, state, stock};
use crate::limits;
use crate::wire::{self, Change, CopyAsk, ForgetAsk, MendAsk, Role};
use sayings::{refusing, say};

/// `GET /api/state`.
pub(crate) fn get_state(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let measures = app.desk.measures().map_err(refusal)?;
    let role = ask.visitor.role.unwrap_or(Role::Crew);
    let scene = app.desk.scene();
    Answer::json(&state::state(&scene.snapshot, &measures, &scene.placement, role))
}

/// `GET /api/findings`.
pub(crate) fn get_findings(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    Answer::json(&state::findings(&app.desk.findings().map_err(refusal)?))
}

/// `GET /api/stock`.
pub(crate) fn get_stock(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let shortage = app.desk.shortage().map_err(refusal)?;
    Answer::json(&stock::report(&app.desk.snapshot().plan, &shortage))
}

/// `POST /api/do`. With a key in `X-Standfast-Once` the change counts once, however often it is sent.
pub(crate) fn apply(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let Some((key, slot)) = app.once.slot(&ask.headers)? else { return Answer::json(&make(app, ask, None)?) };
    let mut told = slot.lock().unwrap_or_else(|e| e.into_inner());
    if told.is_none() {
        *told = Some(match app.desk.earlier(&key).map_err(refusal)? {
            Some(earlier) => convert::done_earlier(earlier),
            None => make(app, ask, Some(key))?,
        });
    }
    Answer::json(&*told)
}

fn make(app: &App, ask: &Ask, once: Option<OnceKey>) -> Result<wire::Done, Refusal> {
    let made: Change = ask.json()?;
    let stock_list = change::is_stock_list(&made);
    let fits = match &made {
        Change::StockList { text, .. } => text.len() <= limits::STOCK_LIST,
        // A drawn picture may have as many runs as cells.
        Change::Draw { .. } => true,
        _ => ask.body.len() as u64 <= limits::JSON,
    };
    if !fits && guards::Guard::BodyLimit.stands() {
        let most = if stock_list { limits::STOCK_LIST >> 20 } else { (limits::JSON >> 20) as usize };
        return Err(Refusal::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            "too-large",
            say!(refusing::CHANGE_LARGE, most = most),
        ));
    }
    // A plan that will refuse the example need not keep its pictures.
    if matches!(made, Change::Example {}) && app.desk.snapshot().plan.items.is_empty() {
        app.desk.keep_example_pictures().map_err(refusal)?;
    }
    let fresh =
        change::shows(&made).map(|p| app.desk.fresh(&p.name, &p.sha256)).transpose().map_err(refusal)?;
    let copied = change::pasted(&made).map(|id| app.desk.copied(id)).transpose().map_err(refusal)?;
    let (draft, told) = change::draft(made, change::Brought { fresh, copied });
    let asked = app.desk.submit_under(&ask.author(), once, Request::Change(draft));
    let receipt = asked.map_err(refusal)?;
    let told = std::mem::take(&mut *told.lock().unwrap_or_else(|e| e.into_inner()));
    let items = told.items.iter().map(|item| item.0).collect();
    Ok(wire::Done { items, notes: told.notes, ..convert::done(receipt) })
}

/// `GET /api/item/{id}`: an item, whole.
pub(crate) fn item(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = ask.number("id", "")?;
    let snapshot = app.desk.snapshot();
    let absent = || Refusal::absent(say!(refusing::NO_ITEM, id = id.to_string()));
    let item = snapshot.plan.item(::plan::ItemId(id)).ok_or_else(absent)?;
    let draft = convert::draft::to_wire(item);
    Answer::json(&draft.ok_or_else(|| Refusal::inside(say!(refusing::INSIDE_SORT)))?)
}

/// `?ids=`: with commas between.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Which {
    ids: String,
}

/// `GET /api/items?ids=1,2,3`: several items, whole; what is not in the plan any more is left out.
pub(crate) fn items(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let ids = convert::ids(&ask.query::<Which>()?.ids, "items")?;
    let snapshot = app.desk.snapshot();
    let found = ids.into_iter().filter_map(|id| snapshot.plan.item(id));
    Answer::json(&found.filter_map(convert::draft::to_wire).collect::<Vec<_>>())
}

/// `POST /api/copy`.
pub(crate) fn copy(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wanted: CopyAsk = ask.json()?;
    let items: Vec<_> = wanted.items.into_iter().map(::plan::ItemId).collect();
    let copied = app.desk.copy(&items).map_err(refusal)?.to_string();
    Answer::json(&wire::CopyKept { copied })
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

/// A time before which steps are older.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct OlderQuery {
    before: String,
}

/// `GET /api/steps/older?before=`: how much was done before a time.
pub(crate) fn older_steps(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let at = ask.query::<OlderQuery>()?.before;
    let form = b"0000-00-00T00:00:00Z";
    let fits = |(sign, form): (u8, &u8)| if *form == b'0' { sign.is_ascii_digit() } else { sign == *form };
    if at.len() != form.len() || !at.bytes().zip(form).all(fits) {
        let value: String = at.chars().take(40).collect();
        let known = "a time like 2026-05-01T14:03:22Z";
        return Err(Refusal::bad(
            "query",
            say!(refusing::QUERY_VALUE, name = "before", value = value, known = known),
        ));
    }
    let older = app.desk.steps_before(&at).map_err(refusal)?;
    Answer::json(&convert::weight(older.upto, older.weight))
}

/// `POST /api/steps/forget`.
pub(crate) fn forget_steps(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let upto = u64::from(ask.json::<ForgetAsk>()?.upto);
    let gone = app.desk.forget_steps(upto).map_err(refusal)?;
    Answer::json(&convert::weight(upto, gone))
}

/// `GET /api/backup`: a checked copy of the project, made by the project file's own means.
pub(crate) fn backup(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let failed = |_| Refusal::inside(say!(refusing::INSIDE_COPY));
    let folder = tempfile::tempdir().map_err(failed)?;
    let path = folder.path().join("copy.standfast");
    app.desk.backup(&path).map_err(refusal)?;
    let bytes = std::fs::read(&path).map_err(failed)?;
    let file = app.desk.snapshot().file.clone();
    let name = if file.is_empty() { "plan.standfast" } else { &file };
    Ok(Answer::new("application/octet-stream", bytes).save_as(name))
}
