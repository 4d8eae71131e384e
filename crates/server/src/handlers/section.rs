//! Sections that stand elsewhere than they were drawn.

use desk::DeskError;
use plan::SectionId;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{refusal, section};
use crate::wire::SectionMove;

/// `GET /api/section/{id}`.
pub(crate) fn stands(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = SectionId(ask.number("id", "")?);
    Answer::json(&section::stands(&app.desk.section_stands(id).map_err(refusal)?))
}

/// `POST /api/section/{id}/try`.
pub(crate) fn look(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let id = SectionId(ask.number("id", "")?);
    let by: SectionMove = ask.json()?;
    match app.desk.try_shift(&section::command(id, &by)) {
        Ok(shifted) => Answer::json(&section::tried(&shifted)),
        Err(DeskError::Refused(why)) => Answer::json(&section::refused(&why)),
        Err(other) => Err(refusal(other)),
    }
}
