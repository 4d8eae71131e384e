//! The legend: each colour with its swatch, code, name, pieces, crates and the lots to take them from.

use plan::{ColourId, KindId, Lot, Need};

use super::flow::Flow;
use super::{Ctx, MARGIN, SMALL};
use crate::draw::swatch;
use crate::font::{Face, fit, printable, wrap};
use crate::page::{BLACK, RULE, SOFT};

/// Height of a row in mm.
const ROW: f64 = 11.5;
/// Height of a row without lots in mm: a swatch and a little air.
const PLAIN_ROW: f64 = 10.0;
/// From line to line of the lots, in mm.
const LOT_LINE: f64 = 4.6;

/// What is to be taken from one lot.
struct Take<'a> {
    lot: &'a Lot,
    count: u32,
}

/// "batch A, of Ines", or the lot's number when neither is known.
pub(crate) fn lot_label(ctx: &Ctx<'_>, lot: &Lot) -> String {
    let mut parts = Vec::new();
    if !lot.batch.trim().is_empty() {
        parts.push(ctx.words.fill("lot-batch", &[("batch", lot.batch.trim())]));
    }
    if !lot.owner.trim().is_empty() {
        parts.push(ctx.words.fill("lot-owner", &[("owner", lot.owner.trim())]));
    }
    if parts.is_empty() {
        parts.push(ctx.words.fill("lot-plain", &[("number", &lot.id.to_string())]));
    }
    parts.join(" ")
}

/// Pieces needed by kind and colour, summed, in order of kind and colour.
pub(crate) fn sum(needs: impl Iterator<Item = Need>) -> Vec<(KindId, ColourId, u64)> {
    let mut sums = std::collections::BTreeMap::new();
    for need in needs {
        *sums.entry((need.kind, need.colour)).or_insert(0) += u64::from(need.count);
    }
    sums.into_iter().map(|((k, c), n)| (k, c, n)).collect()
}

/// The lots in order until the need is met, and what is then still short.
///
/// Lots are emptied one after another, so that as few batches as possible meet in a picture (common practice).
fn takes<'a>(ctx: &Ctx<'a>, kind: KindId, colour: ColourId, need: u64) -> (Vec<Take<'a>>, u64) {
    let (mut left, mut out) = (need, Vec::new());
    for lot in ctx.plan.stock.lots_of(kind, colour) {
        let count = u64::from(lot.usable()).min(left) as u32;
        if count > 0 {
            out.push(Take { lot, count });
            left -= u64::from(count);
        }
    }
    (out, left)
}

/// "3 x 1 000 + 120" where the lot lies in crates of one size and at least one is used up, else the number alone.
fn crates(ctx: &Ctx<'_>, take: &Take<'_>) -> String {
    let whole = |n: u32| ctx.words.whole(u64::from(n));
    match take.lot.crate_size.filter(|s| *s > 0 && *s <= take.count) {
        Some(size) if take.count.is_multiple_of(size) => {
            ctx.words.fill("crates-whole", &[("crates", &whole(take.count / size)), ("size", &whole(size))])
        }
        Some(size) => ctx.words.fill(
            "crates",
            &[
                ("crates", &whole(take.count / size)),
                ("size", &whole(size)),
                ("rest", &whole(take.count % size)),
            ],
        ),
        None => whole(take.count),
    }
}

/// The whole table with a total at its foot.
pub(crate) fn table(
    ctx: &Ctx<'_>,
    flow: &mut Flow,
    title: &str,
    needs: &[(KindId, ColourId, u64)],
    lots: bool,
) {
    flow.heading(title, 3.0 * ROW);
    head(ctx, flow, lots);
    let kinds = needs.iter().any(|n| n.0 != needs[0].0);
    let name = |kind: KindId| ctx.plan.stock.kind(kind).filter(|_| kinds).map(|k| k.name.as_str());
    if lots {
        for (kind, colour, count) in needs {
            let from = lot_lines(ctx, &takes(ctx, *kind, *colour, *count));
            let high = ROW.max(LOT_LINE * from.lines.len() as f64 + 2.3);
            if flow.need(high) {
                flow.y += 2.0;
                head(ctx, flow, lots);
            }
            row(ctx, flow, 0, (*colour, *count), name(*kind));
            lot_column(ctx, flow, &from);
            flow.y += high;
        }
    } else {
        // Without a column of lots two fit side by side; they are read downwards.
        let half = needs.len().div_ceil(2);
        for i in 0..half {
            if flow.need(PLAIN_ROW) {
                flow.y += 2.0;
                head(ctx, flow, lots);
            }
            for (side, need) in [needs.get(i), needs.get(half + i)].into_iter().enumerate() {
                let Some((kind, colour, count)) = need else { continue };
                row(ctx, flow, side, (*colour, *count), name(*kind));
            }
            flow.y += PLAIN_ROW;
        }
    }
    flow.need(10.0);
    let total: u64 = needs.iter().map(|n| n.2).sum();
    let (y, column) = (flow.y + 6.0, count_column(ctx));
    let width = ctx.measure();
    let bold = (Face::Bold, 14.0, BLACK);
    let page = flow.page();
    page.line([MARGIN, y - 5.5, MARGIN + width, y - 5.5], 0.4, BLACK);
    page.text(MARGIN + 8.0, y, bold, ctx.words.get("total"));
    page.text_right(column, y, bold, &ctx.words.whole(total));
    flow.y += 9.0;
}

/// Right end of the numbers of pieces, in the first column.
fn count_column(ctx: &Ctx<'_>) -> f64 {
    MARGIN + ctx.measure() * 0.46
}

/// From one column of colours to the next, in mm.
fn column_width(ctx: &Ctx<'_>) -> f64 {
    ctx.measure() * 0.54
}

fn head(ctx: &Ctx<'_>, flow: &mut Flow, lots: bool) {
    let (y, column) = (flow.y + 4.0, count_column(ctx));
    let second = column + column_width(ctx);
    let page = flow.page();
    page.text_right(column, y, SMALL, ctx.words.get("column-pieces"));
    if !lots {
        page.text_right(second, y, SMALL, ctx.words.get("column-pieces"));
    } else {
        page.text(column + 8.0, y, SMALL, ctx.words.get("column-crates"));
    }
    flow.y += 6.0;
}

/// One colour, in the first column or the second.
fn row(ctx: &Ctx<'_>, flow: &mut Flow, side: usize, (colour, count): (ColourId, u64), kind: Option<&str>) {
    let begin = MARGIN + side as f64 * column_width(ctx);
    let (y, column, width) = (flow.y + 7.5, begin - MARGIN + count_column(ctx), ctx.measure());
    let tone = ctx.tone(colour);
    let page = flow.page();
    if side == 0 {
        page.line([MARGIN, y - 7.5, MARGIN + width, y - 7.5], 0.15, RULE);
    }
    swatch(page, [begin, y - 6.6, 4.75, 9.5], tone);
    page.text(begin + 8.0, y, (Face::Bold, 16.0, BLACK), &tone.code);
    let number = ctx.words.whole(count);
    let plain = (Face::Regular, 13.0, BLACK);
    let name = kind.map_or_else(|| tone.name.clone(), |k| format!("{}, {}", tone.name, printable(k)));
    let left = begin + 27.0;
    let room = column - left - 4.0 - Face::Regular.width(&number, 14.0);
    page.text(left, y, plain, &fit(&name, Face::Regular, 13.0, room));
    page.text_right(column, y, (Face::Regular, 14.0, BLACK), &number);
}

/// The lines of one colour's lots, as they are printed.
struct LotLines {
    lines: Vec<String>,
    short: bool,
}

/// Where the pieces come from, one lot after another, and before them what is short; nothing is left out.
fn lot_lines(ctx: &Ctx<'_>, (takes, short): &(Vec<Take<'_>>, u64)) -> LotLines {
    let room = ctx.measure() - (count_column(ctx) + 8.0 - MARGIN);
    let short_line = (*short > 0).then(|| ctx.words.fill("short", &[("count", &ctx.words.whole(*short))]));
    let lots = takes.iter().map(|take| {
        let (lot, count) = (lot_label(ctx, take.lot), crates(ctx, take));
        ctx.words.fill("lot-line", &[("lot", &lot), ("take", &count)])
    });
    let lines = short_line.into_iter().chain(lots);
    let lines = lines.flat_map(|line| wrap(&printable(&line), Face::Regular, 10.0, room)).collect();
    LotLines { lines, short: *short > 0 }
}

fn lot_column(ctx: &Ctx<'_>, flow: &mut Flow, from: &LotLines) {
    let x = count_column(ctx) + 8.0;
    let style = (Face::Regular, 10.0, if from.short { BLACK } else { SOFT });
    let mut y = flow.y + 4.6 + if from.lines.len() == 1 { 2.6 } else { 0.0 };
    for line in &from.lines {
        flow.page().text(x, y, style, line);
        y += LOT_LINE;
    }
}
