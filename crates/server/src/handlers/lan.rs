//! Letting tablets in.

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::network::qr_svg;
use crate::wire;

/// `GET /api/lan`.
pub(crate) fn lan(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let (addresses, codes) = (app.network.urls(), app.door.codes());
    let open = app.network.open;
    let shown = |code: String| if open { code } else { String::new() };
    // The part after the sign # stays in the tablet's browser, so that no log or proxy sees the code.
    let qr =
        addresses.first().map(|first| qr_svg(&format!("{first}join#{}", codes.crew()))).unwrap_or_default();
    Answer::json(&wire::Lan {
        open,
        addresses,
        crew_code: shown(codes.crew()),
        planner_code: shown(codes.planner()),
        qr,
    })
}

/// `POST /api/join`.
pub(crate) fn join(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let wire::Join { code } = ask.json()?;
    let (role, cookie) = app.door.join(&ask.visitor, &code)?;
    let mut answer = Answer::json(&wire::Joined { role })?;
    answer.cookie = cookie;
    Ok(answer)
}
