//! Reading a field aloud, one lane or rank at a time.

use std::sync::Arc;

use plan::{Field, Item};
use sheets::{ReadOptions, ReadUnit};

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::reading;
use crate::convert::sheets::ReadQuery;
use crate::handlers::field;
use sayings::{refusing, say};

/// `GET /api/read/{item}`.
pub(crate) fn read_plan(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    let (item, field) = field(&snapshot.plan, ask.number("item", "")?)?;
    let options = ask.query::<ReadQuery>()?.options();
    let units = units(app, &snapshot, (item, field), &options)?;
    Answer::json(&reading::plan_of(item, field, &options, &units, snapshot.change))
}

/// `GET /api/read/{item}/{n}`, n being the number as printed, from 1.
pub(crate) fn read_lane(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    let (item, field) = field(&snapshot.plan, ask.number("item", "")?)?;
    let number = ask.number("n", "")?;
    let options = ask.query::<ReadQuery>()?.options();
    let units = units(app, &snapshot, (item, field), &options)?;
    let lane = reading::lane(&units, number).ok_or_else(|| {
        Refusal::absent(say!(refusing::NO_UNIT, name = &item.name, n = number, last = units.len()))
    })?;
    Answer::json(&lane)
}

/// All units of a field in the order of calling, kept for the next of them.
fn units(
    app: &App,
    snapshot: &desk::Snapshot,
    (item, field): (&Item, &Field),
    options: &ReadOptions,
) -> Result<Arc<Vec<ReadUnit>>, Refusal> {
    let key = format!("{} {} {options:?}", snapshot.change, item.id);
    app.readings.get_or_make(key, || Ok(sheets::reading(field, item.heading, &snapshot.plan.stock, options)))
}
