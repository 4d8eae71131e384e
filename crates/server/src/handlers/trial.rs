//! Drafts that are looked at while somebody draws; the plan does not change.

use desk::{DeskError, TryWhat};

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{columns, draft, refusal, trial};
use crate::wire::Try;

/// `POST /api/try`: what the drafts would be and what would be wrong with them.
pub(crate) fn look(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let asked: Try = ask.json()?;
    match app.desk.try_items(TryWhat::PiecesAndFindings, |plan| draft::items(plan, asked.items)) {
        Ok(made) => Answer::json(&trial::tried(&made)),
        Err(DeskError::Refused(why)) => Answer::json(&trial::refused(why)),
        Err(other) => Err(refusal(other)),
    }
}

/// `POST /api/try/pieces`: where the pieces of the drafts would stand, in the columns of `GET /api/hall/pieces`.
pub(crate) fn pieces(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let asked: Try = ask.json()?;
    let made =
        app.desk.try_items(TryWhat::Pieces, |plan| draft::items(plan, asked.items)).map_err(refusal)?;
    let placed: Vec<_> = made.items.iter().filter_map(|id| made.placement.item(*id)).collect();
    Ok(Answer::new("application/octet-stream", columns::pieces_of(made.change, &placed)))
}
