//! The kit of a strip: its pieces by colour, for the preparer, and for the check of the colours called.

use plan::ColourId;

use super::{Ctx, HEADING, MARGIN};
use crate::draw::swatch;
use crate::page::{BLACK, Face, Page};
use crate::read::Strip;

/// Height of a row in mm.
const ROW: f64 = 9.0;
/// From the heading to the first row, in mm.
const LEAD: f64 = 8.5;
/// Space between two colours in mm.
const GAP: f64 = 6.0;
const CODE: super::Style = (Face::Bold, 14.0, BLACK);
const COUNT: super::Style = (Face::Regular, 14.0, BLACK);

/// One row of colours and their counts.
type Row = Vec<(ColourId, String, f64)>;

/// The strip's colours in rows that fit the paper.
pub(crate) fn rows(ctx: &Ctx<'_>, strip: &Strip) -> Vec<Row> {
    let mut rows: Vec<Row> = vec![Vec::new()];
    let mut used = 0.0;
    for (id, n) in strip.needs() {
        let n = ctx.words.whole(n);
        let code = CODE.0.width(&ctx.tone(id).code, CODE.1);
        let wide = 5.0 + code + 1.6 + COUNT.0.width(&n, COUNT.1);
        if used > 0.0 && used + wide > ctx.measure() {
            rows.push(Vec::new());
            used = 0.0;
        }
        used += wide + GAP;
        rows.last_mut().expect("there is always a row").push((id, n, wide));
    }
    rows
}

/// How many rows fit below the heading in `room` mm; at least one.
pub(crate) fn fitting(room: f64) -> usize {
    ((room - LEAD) / ROW).floor().max(0.0) as usize + 1
}

/// Draws the heading at `y` and the rows below it; returns the last base line.
pub(crate) fn draw(ctx: &Ctx<'_>, page: &mut Page, rows: &[Row], y: f64) -> f64 {
    page.text(MARGIN, y, HEADING, ctx.words.get("kit"));
    let mut y = y + LEAD - ROW;
    for row in rows {
        y += ROW;
        let mut x = MARGIN;
        for (id, n, wide) in row {
            let tone = ctx.tone(*id);
            swatch(page, [x, y - 6.0, 3.5, 7.0], tone);
            let end = page.text(x + 5.0, y, CODE, &tone.code);
            page.text(end + 1.6, y, COUNT, n);
            x += wide + GAP;
        }
    }
    y
}
