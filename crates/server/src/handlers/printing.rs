//! Lane sheets: what would be printed, a page to look at, and the PDF.

use std::sync::Arc;

use sheets::Document;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::sheets::{SheetsQuery, info};
use sayings::{refusing, say};

/// `GET /api/sheets`.
pub(crate) fn get_info(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let (document, placed) = document(app, ask)?;
    Answer::json(&info(&document, placed))
}

/// `GET /api/sheets/page/{n}.svg`, n from 1.
pub(crate) fn page(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let number = ask.number("n", ".svg")?;
    let (document, _) = document(app, ask)?;
    let page = (number as usize).checked_sub(1).and_then(|at| document.pages.get(at));
    let page = page
        .ok_or_else(|| Refusal::absent(say!(refusing::NO_PAGE, n = number, last = document.pages.len())))?;
    Ok(Answer::new("image/svg+xml", sheets::svg(page)))
}

/// `GET /api/sheets.pdf`.
pub(crate) fn pdf(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let (document, _) = document(app, ask)?;
    let counts = &document.counts;
    if counts.in_plan != counts.on_sheets || !counts.problems.is_empty() {
        return Err(Refusal::inside(say!(
            refusing::INSIDE_SHEETS,
            printed = counts.on_sheets,
            planned = counts.in_plan,
            problems = counts.problems.join(" ")
        )));
    }
    let bytes = sheets::pdf(&document).map_err(trouble)?;
    Ok(Answer::new("application/pdf", bytes).save_as("lane-sheets.pdf"))
}

/// The document that an address asks for, kept for the next page of it; and how many pieces stand in the plan.
fn document(app: &App, ask: &Ask) -> Result<(Arc<Document>, usize), Refusal> {
    let scene = app.desk.scene();
    let (snapshot, placed) = (&scene.snapshot, scene.placement.len());
    let query: SheetsQuery = ask.query()?;
    let base = app.network.urls().first().map(|url| url.trim_end_matches('/').to_owned());
    let key = format!("{} {} {base:?}", snapshot.change, ask.uri.query().unwrap_or(""));
    let document = app.sheets.get_or_make(key, || {
        let items = query.items(&snapshot.plan)?;
        let options =
            sheets::SheetOptions { placed: Some(placed as u64), ..query.options(snapshot.change, base)? };
        sheets::document(&snapshot.plan, &items, &options, &mut |_, _| true).map_err(trouble)
    })?;
    Ok((document, placed))
}

fn trouble(error: sheets::SheetError) -> Refusal {
    use sheets::SheetError as E;
    let status = match error {
        E::NoItem(_) => axum::http::StatusCode::NOT_FOUND,
        E::NotAField(_) | E::NothingChosen => axum::http::StatusCode::UNPROCESSABLE_ENTITY,
        _ => axum::http::StatusCode::INTERNAL_SERVER_ERROR,
    };
    Refusal::new(status, "sheets", error.said())
}
