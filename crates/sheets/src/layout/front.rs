//! The cover and the first page of each field: the picture as laid, the totals, and what everybody must know.

use super::flow::Flow;
use super::{BODY, Ctx, Extent, FieldSheets, HEADING, MARGIN, SMALL, by_unit, legend};
use crate::draw::{Raster, Rect, arrow, builder, inside, north};
use crate::font::{fit, printable};
use crate::page::{BLACK, Face, Page, SheetCounts, WASH};

/// The most pictures on the cover; further fields have theirs on their own first page.
const PICTURES: usize = 6;

/// Cover, contents, legend, how to read, care.
pub(crate) fn pages(
    ctx: &Ctx<'_>,
    fields: &[FieldSheets<'_>],
    extents: &[Extent],
    counts: &SheetCounts,
) -> Vec<Page> {
    let mut flow = Flow::new(ctx);
    title(ctx, &mut flow);
    pictures(ctx, &mut flow, fields);
    count_check(ctx, &mut flow, counts);
    contents(ctx, &mut flow, fields, extents);
    let needs = legend::sum(fields.iter().flat_map(|f| f.item.stated_needs()));
    legend::table(ctx, &mut flow, ctx.words.get("pieces-total"), &needs, true);
    how_to_read(ctx, &mut flow, fields);
    care(ctx, &mut flow);
    flow.pages
}

fn title(ctx: &Ctx<'_>, flow: &mut Flow) {
    let w = &ctx.words;
    let width = ctx.measure();
    let page = flow.page();
    page.text(MARGIN, 17.0, (Face::Regular, 13.0, BLACK), w.get("sheets-title"));
    let name = ctx.plan.name.trim();
    let name = printable(if name.is_empty() { w.get("event-untitled") } else { name });
    page.text(MARGIN, 29.0, (Face::Bold, 28.0, BLACK), &fit(&name, Face::Bold, 28.0, width));
    let mut y = 37.0;
    let parts = [
        ("hall", "name", ctx.plan.hall.name.as_str()),
        ("revision", "revision", ctx.options.revision.as_str()),
        ("date", "date", ctx.options.date.as_str()),
    ];
    let known = parts.iter().filter(|p| !p.2.trim().is_empty());
    let line: Vec<String> = known.map(|(key, slot, value)| w.fill(key, &[(slot, value.trim())])).collect();
    if !line.is_empty() {
        let line = fit(&printable(&line.join(" · ")), Face::Regular, 13.0, width);
        page.text(MARGIN, y, (Face::Regular, 13.0, BLACK), &line);
        y += 5.0;
    }
    flow.y = y;
}

/// The pictures of the fields, side by side.
fn pictures(ctx: &Ctx<'_>, flow: &mut Flow, fields: &[FieldSheets<'_>]) {
    let shown = &fields[..fields.len().min(PICTURES)];
    let across = match shown.len() {
        1 => 1,
        2..=4 => 2,
        _ => 3,
    };
    let down = shown.len().div_ceil(across);
    let tall = if down == 1 { 105.0 } else { 62.0 };
    let wide = ctx.measure() / across as f64;
    let mut block = 1;
    for (i, field) in shown.iter().enumerate() {
        let (column, row) = (i % across, i / across);
        let x = MARGIN + column as f64 * wide;
        let y = flow.y + row as f64 * tall;
        block = block.max(picture(ctx, flow.page(), field, [x, y, wide - 4.0, tall - 3.0]));
    }
    flow.y += down as f64 * tall;
    // Several pictures may differ in this; each has its own page, where it is said.
    say_coarse(ctx, flow, if fields.len() == 1 { block } else { 1 });
}

/// One field's picture, upright, with its name, north, the fall and the builder's side.
/// Returns how many cells each block of the drawing stands for; 1 when every cell is drawn.
fn picture(ctx: &Ctx<'_>, page: &mut Page, field: &FieldSheets<'_>, rect: Rect) -> usize {
    let [x, y, w, h] = rect;
    let f = &field.field.frame;
    let map = f.map();
    let (columns, rows) = map.picture_size();
    let (cw, ch) = f.cell_size();
    let room = [x + 8.0, y + 14.0, w - 30.0, h - 22.0];
    let [px, py, pw, ph] = inside(room, f64::from(columns) * cw, f64::from(rows) * ch);
    let at = [px, py, pw.max(1.5), ph.max(1.5)];
    let cells = map.to_picture(field.field.cells.as_slice());
    let raster = Raster { columns: columns as usize, cells };
    let (raster, block) = raster.coarser((320, 320));
    raster.draw(page, at, |c| ctx.fill_of(c));
    let name = fit(&printable(&field.item.name), Face::Bold, 14.0, w - 18.0);
    page.text(x, y + 6.0, (Face::Bold, 14.0, BLACK), &name);
    // Directions of the floor, turned as the upright picture lies on it.
    let turn = 90.0 * f64::from(f.fall.quarter_turns()) - field.item.heading.to_deg();
    let on_paper = |floor: f64| {
        let (s, c) = units::Angle::deg(floor + turn).sin_cos();
        (c, -s)
    };
    north(page, (x + w - 8.0, y + 13.0), on_paper(90.0), ctx.words.get("north-letter"));
    let middle = (at[0] + at[2] / 2.0, at[1] + at[3] / 2.0);
    let (dx, dy) = on_paper(field.item.heading.to_deg());
    let facing = field.seat.facing;
    let (lx, ly) = on_paper(units::maths::atan2(facing.y, facing.x).to_degrees());
    let out = (at[2] / 2.0 + 5.0, at[3] / 2.0 + 5.0);
    builder(page, (middle.0 - lx * out.0, middle.1 - ly * out.1), (lx, ly), BLACK);
    // The fall runs beside the picture, on the side where the builder is not.
    if dx.abs() > dy.abs() {
        let y = if ly > 0.5 { at[1] + at[3] + 3.5 } else { at[1] - 3.5 };
        arrow(page, (middle.0 - dx * 14.0, y), (middle.0 + dx * 14.0, y), 3.6, BLACK);
    } else {
        let x = if lx > 0.5 { at[0] + at[2] + 4.0 } else { at[0] - 4.0 };
        arrow(page, (x, middle.1 - dy * 14.0), (x, middle.1 + dy * 14.0), 3.6, BLACK);
    }
    block
}

/// Says how coarse a picture is drawn, when it is.
fn say_coarse(ctx: &Ctx<'_>, flow: &mut Flow, block: usize) {
    if block > 1 {
        let said = ctx.words.fill("coarse", &[("block", &block.to_string())]);
        flow.paragraph(SMALL, &said);
    }
}

fn count_check(ctx: &Ctx<'_>, flow: &mut Flow, counts: &SheetCounts) {
    let w = &ctx.words;
    let key = match (counts.in_plan == counts.on_sheets, counts.problems.is_empty()) {
        (true, true) => "count-equal",
        (true, false) => "count-wrong",
        (false, _) => "count-differs",
    };
    let parts = [("sheets", w.whole(counts.on_sheets)), ("plan", w.whole(counts.in_plan))];
    let text = w.fill(key, &[("sheets", &parts[0].1), ("plan", &parts[1].1)]);
    flow.need(16.0);
    flow.y += 3.0;
    let (y, width) = (flow.y, ctx.measure());
    let page = flow.page();
    page.fill([MARGIN, y, width, 11.0], WASH);
    page.fill([MARGIN, y, 1.5, 11.0], BLACK);
    let size = [14.0, 12.0, 10.0].into_iter().find(|s| Face::Bold.width(&text, *s) <= width - 6.0);
    page.text(MARGIN + 5.0, y + 7.4, (Face::Bold, size.unwrap_or(9.0), BLACK), &text);
    flow.y += 11.0;
    if let Some(placed) = ctx.options.placed.filter(|placed| *placed > counts.in_plan) {
        let parts = [("placed", w.whole(placed)), ("rest", w.whole(placed - counts.in_plan))];
        let parts: Vec<(&str, &str)> = parts.iter().map(|(k, v)| (*k, v.as_str())).collect();
        flow.y += 1.5;
        flow.paragraph(BODY, &w.fill("count-rest", &parts));
    }
    for problem in counts.problems.iter().take(5) {
        flow.paragraph(BODY, problem);
    }
}

fn contents(ctx: &Ctx<'_>, flow: &mut Flow, fields: &[FieldSheets<'_>], extents: &[Extent]) {
    let w = &ctx.words;
    flow.heading(w.get("contents"), 14.0);
    for (field, extent) in fields.iter().zip(extents) {
        flow.need(13.0);
        let pieces: u64 = field.item.stated_needs().iter().map(|n| u64::from(n.count)).sum();
        let (first, last) = (extent.first + 1, extent.first + extent.pages);
        let strips = match field.strips.len() {
            1 => w.get("strip-one").to_owned(),
            n => w.fill("strips-several", &[("strips", &n.to_string())]),
        };
        let on = match first == last {
            true => w.fill("page-one", &[("page", &first.to_string())]),
            false => w.fill("pages-span", &[("first", &first.to_string()), ("last", &last.to_string())]),
        };
        let parts = [("pieces", w.whole(pieces)), ("strips", strips), ("pages", on)];
        let parts: Vec<(&str, &str)> = parts.iter().map(|(k, v)| (*k, v.as_str())).collect();
        let right = w.fill("contents-row", &parts);
        let width = ctx.measure();
        let y = flow.y + 5.0;
        let room = width - Face::Regular.width(&right, 12.0) - 6.0;
        let name = fit(&printable(&field.item.name), Face::Bold, 13.0, room);
        let page = flow.page();
        page.text(MARGIN, y, (Face::Bold, 13.0, BLACK), &name);
        page.text_right(MARGIN + width, y, (Face::Regular, 12.0, BLACK), &right);
        page.text(MARGIN, y + 5.0, SMALL, &fit(&facts(ctx, field), Face::Regular, 10.0, width));
        flow.y += 12.5;
    }
}

/// "24 lanes x 50 ranks, 0.75 m along the fall, 0.60 m across · falls towards east"
fn facts(ctx: &Ctx<'_>, field: &FieldSheets<'_>) -> String {
    let w = &ctx.words;
    let f = &field.field.frame;
    let size = |n: u32, pitch: units::Length| w.large(f64::from(n) * pitch.to_mm(), ctx.options.measure);
    let parts = [
        ("lanes", f.lanes.to_string()),
        ("ranks", f.ranks.to_string()),
        ("length", size(f.ranks, f.pitch_along)),
        ("width", size(f.lanes, f.pitch_across)),
    ];
    let parts: Vec<(&str, &str)> = parts.iter().map(|(k, v)| (*k, v.as_str())).collect();
    let (s, c) = field.item.heading.sin_cos();
    let heading = crate::seat::Compass::nearest(geometry::Vector { x: c, y: s });
    let towards = w.fill("towards", &[("heading", w.compass(heading))]);
    format!("{} · {towards}", w.fill("field-facts", &parts))
}

fn how_to_read(ctx: &Ctx<'_>, flow: &mut Flow, fields: &[FieldSheets<'_>]) {
    let w = &ctx.words;
    let first = fields.iter().flat_map(|f| f.item.stated_needs()).next();
    let code = first.map_or("S", |n| ctx.tone(n.colour).code.as_str());
    let unit = w.get(by_unit(ctx.options.read.unit, "unit-lanes", "unit-ranks"));
    list(
        flow,
        w.get("how-read"),
        &[
            unit,
            w.get("how-read-1"),
            &w.fill("how-read-2", &[("code", code)]),
            w.get("how-read-3"),
            w.get("how-read-4"),
        ],
    );
}

fn care(ctx: &Ctx<'_>, flow: &mut Flow) {
    let w = &ctx.words;
    let lines = [w.get("care-1"), w.get("care-2"), w.get("care-3"), w.get("care-4")];
    list(flow, w.get("care"), &lines);
}

/// A heading with short paragraphs, kept on one page.
fn list(flow: &mut Flow, heading: &str, lines: &[&str]) {
    flow.heading(heading, lines.len() as f64 * 10.0);
    for line in lines {
        flow.paragraph(BODY, line);
        flow.y += 0.8;
    }
}

/// The first page of a field, when there are several: its picture large, its facts and its colours.
pub(crate) fn field_pages(ctx: &Ctx<'_>, field: &FieldSheets<'_>) -> Vec<Page> {
    let mut flow = Flow::new(ctx);
    let width = ctx.measure();
    let block = picture(ctx, flow.page(), field, [MARGIN, MARGIN, width, 130.0]);
    flow.y = MARGIN + 133.0;
    say_coarse(ctx, &mut flow, block);
    flow.paragraph(HEADING, &facts(ctx, field));
    flow.y += 1.0;
    flow.paragraph(BODY, &ctx.words.seat(&field.seat));
    flow.paragraph(BODY, ctx.words.fall(field.seat.fall));
    let needs = legend::sum(field.item.stated_needs().into_iter());
    if !needs.is_empty() {
        legend::table(ctx, &mut flow, ctx.words.get("pieces-field"), &needs, false);
    }
    flow.pages
}
