//! Drafts that are looked at while somebody draws; the plan does not change.

use desk::{DeskError, TryWhat};
use plan::Hand;
use serde::Deserialize;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{columns, draft, feed, refusal, trial};
use crate::handlers::field;
use crate::wire::{Side, Try};

/// `POST /api/try`: what the drafts would be and what would be wrong with them.
pub(crate) fn look(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let asked: Try = ask.json()?;
    match app.desk.try_items(TryWhat::PiecesAndFindings, |plan| draft::items(plan, asked.items)) {
        Ok(made) => Answer::json(&trial::tried(&made)),
        Err(DeskError::Refused(why)) => Answer::json(&trial::refused(&why)),
        // Somebody else, or an undo, took it away in the middle of a stroke.
        Err(gone @ DeskError::Missing { .. }) => Answer::json(&trial::gone(&gone)),
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

/// `?side=right|left`: from where the line comes, seen along the fall.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct From {
    #[serde(default = "right")]
    side: Side,
}

const fn right() -> Side {
    Side::Right
}

/// `GET /api/field/{id}/feeds`: the ways to feed a field, and how sure and how slow each of them is.
pub(crate) fn feeds(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = ask.number("id", "")?;
    let from: From = ask.query()?;
    let snapshot = app.desk.snapshot();
    let (item, body) = field(&snapshot.plan, id)?;
    let side = match from.side {
        Side::Left => Hand::Left,
        Side::Right => Hand::Right,
    };
    Answer::json(&feed::ways(&snapshot.plan, item, body, side))
}
