//! Measuring strips: pieces are counted by laying them face to face against a bar of true scale.

use std::collections::BTreeMap;

use plan::{ColourId, KindId, Lot};

use super::{Ctx, FieldSheets, MARGIN, SMALL, TITLE};
use crate::font::{printable, wrap};
use crate::page::{BLACK, Face, Op, Page, SOFT};

/// Length of the bar that proves the scale, in mm.
const CHECK: f64 = 200.0;
/// The most pieces on one bar: what two hands hold flat together.
const MOST: u32 = 30;
/// From line to line of what a bar is for, in mm.
const LINE: f64 = 5.0;

/// Length in mm of `count` pieces laid face to face: `count` times the mean thickness in mm.
pub(crate) fn row_length(count: u32, thickness: f64) -> f64 {
    f64::from(count) * thickness
}

/// A bar to draw: thickness in hundredths of a millimetre, whether it was measured, and what it is for.
struct Bar {
    kind: String,
    thickness: f64,
    measured: bool,
    lots: Vec<String>,
}

/// The measuring pages, on their side, since 200 mm do not fit across an upright A4 within the margins.
pub(crate) fn pages(ctx: &Ctx<'_>, fields: &[FieldSheets<'_>]) -> Vec<Page> {
    let bars = bars(ctx, fields);
    let (short, long) = ctx.paper();
    let mut out = vec![begin(ctx, (long, short))];
    let mut y = 64.0;
    for bar in &bars {
        let label = label(ctx, bar, long - 2.0 * MARGIN);
        let above = LINE * (label.len().max(1) - 1) as f64;
        if y + above + 24.0 > short - MARGIN - super::FOOT {
            out.push(begin(ctx, (long, short)));
            y = 64.0;
        }
        draw_bar(out.last_mut().expect("there is a page"), bar, &label, y);
        y += above + 29.0;
    }
    out
}

/// The kinds and batches that the fields use, one bar for each thickness.
fn bars(ctx: &Ctx<'_>, fields: &[FieldSheets<'_>]) -> Vec<Bar> {
    let mut used: BTreeMap<KindId, Vec<ColourId>> = BTreeMap::new();
    for need in fields.iter().flat_map(|f| f.item.stated_needs()) {
        let colours = used.entry(need.kind).or_default();
        if !colours.contains(&need.colour) {
            colours.push(need.colour);
        }
    }
    let mut out = Vec::new();
    for (id, colours) in used {
        let Some(kind) = ctx.plan.stock.kind(id) else { continue };
        let lots = || ctx.plan.stock.lots.iter().filter(|l| l.kind == id && colours.contains(&l.colour));
        let mut by_size: BTreeMap<i64, Vec<String>> = BTreeMap::new();
        for lot in lots() {
            if let Some(t) = lot.thickness.filter(|t| t.to_mm() > 0.1) {
                let hundredths = (t.to_mm() * 100.0).round() as i64;
                by_size.entry(hundredths).or_default().push(lot_name(ctx, lot));
            }
        }
        let unmeasured = lots().any(|l| l.thickness.is_none()) || by_size.is_empty();
        for (hundredths, lots) in by_size {
            let thickness = hundredths as f64 / 100.0;
            out.push(Bar { kind: kind.name.clone(), thickness, measured: true, lots });
        }
        if unmeasured && kind.thickness.to_mm() > 0.1 {
            let lots = vec![ctx.words.get("measure-all").to_owned()];
            out.push(Bar {
                kind: kind.name.clone(),
                thickness: kind.thickness.to_mm(),
                measured: false,
                lots,
            });
        }
    }
    out
}

fn lot_name(ctx: &Ctx<'_>, lot: &Lot) -> String {
    let code = ctx.tones.get(&lot.colour).map_or("", |t| &t.code);
    format!("{code} {}", super::legend::lot_label(ctx, lot))
}

fn begin(ctx: &Ctx<'_>, size: (f64, f64)) -> Page {
    let w = &ctx.words;
    let mut page = Page::new(size);
    page.text(MARGIN, 21.0, TITLE, w.get("measure-title"));
    page.text(MARGIN, 29.0, (Face::Regular, 13.0, BLACK), w.get("measure-how"));
    let y = 43.0;
    page.text(MARGIN, y - 5.5, (Face::Bold, 12.0, BLACK), w.get("measure-check"));
    page.fill([MARGIN, y - 3.0, CHECK, 5.0], BLACK);
    let ticks = (0..=20).map(|i| {
        let x = MARGIN + f64::from(i) * 10.0;
        [x, y + 2.0, x, y + if i % 10 == 0 { 5.5 } else { 4.0 }]
    });
    page.ops.push(Op::Strokes { lines: ticks.collect(), ink: BLACK, width: 0.2 });
    page.text_right(MARGIN + 100.0 + 3.0, y + 9.5, SMALL, "100");
    page.text_right(MARGIN + CHECK + 3.0, y + 9.5, SMALL, "200\u{a0}mm");
    page
}

/// How many pieces a bar is for, and how long it is in mm, in a room of so many mm.
fn count_and_length(bar: &Bar, room: f64) -> (u32, f64) {
    let count = ((room / bar.thickness).floor().max(1.0) as u32).min(MOST);
    (count, row_length(count, bar.thickness).min(room))
}

/// What a bar is for, whole: a batch that is left out would be counted by the wrong bar.
fn label(ctx: &Ctx<'_>, bar: &Bar, room: f64) -> Vec<String> {
    let w = &ctx.words;
    let (count, length) = count_and_length(bar, room);
    let size = w.decimal(bar.thickness, 2);
    let parts = [
        ("kind", printable(&bar.kind)),
        ("lots", bar.lots.join(", ")),
        ("count", count.to_string()),
        ("thickness", format!("{size}\u{a0}mm")),
        ("length", format!("{}\u{a0}mm", w.decimal(length, 1))),
    ];
    let parts: Vec<(&str, &str)> = parts.iter().map(|(k, v)| (*k, v.as_str())).collect();
    let says = w.get(if bar.measured { "measure-measured" } else { "measure-nominal" });
    let text = format!("{} ({says})", w.fill("measure-lot", &parts));
    wrap(&printable(&text), Face::Regular, 11.0, room)
}

fn draw_bar(page: &mut Page, bar: &Bar, label: &[String], mut y: f64) {
    let (count, length) = count_and_length(bar, page.width - 2.0 * MARGIN);
    for (i, line) in label.iter().enumerate() {
        y += if i == 0 { 0.0 } else { LINE };
        page.text(MARGIN, y, (Face::Regular, 11.0, BLACK), line);
    }
    let (top, foot) = (y + 2.0, y + 12.0);
    page.frame([MARGIN, top, length, foot - top], 0.3, BLACK);
    let mut marks = [Vec::new(), Vec::new(), Vec::new()];
    for i in 1..count {
        let x = MARGIN + row_length(i, bar.thickness);
        let (class, from) = if i % 10 == 0 {
            (2, top)
        } else if i % 5 == 0 {
            (1, top + 3.0)
        } else {
            (0, top + 6.5)
        };
        marks[class].push([x, from, x, foot]);
    }
    let [ones, fives, tens] = marks;
    page.ops.push(Op::Strokes { lines: ones, ink: SOFT, width: 0.15 });
    page.ops.push(Op::Strokes { lines: fives, ink: BLACK, width: 0.3 });
    page.ops.push(Op::Strokes { lines: tens, ink: BLACK, width: 0.6 });
    for i in (5..=count).step_by(5) {
        let style = if i % 10 == 0 { (Face::Bold, 12.0, BLACK) } else { (Face::Regular, 10.0, BLACK) };
        page.text_right(MARGIN + row_length(i, bar.thickness), foot + 5.0, style, &i.to_string());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_two_pieces_of_7_58_mm_measure_166_8_mm() {
        // By hand: 22 x 7.58 = 166.76.
        assert!((row_length(22, 7.58) - 166.8).abs() < 0.05);
    }
}
