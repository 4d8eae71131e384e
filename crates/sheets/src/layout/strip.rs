//! The sheets of one strip: who sits where, the strip as the builder sees it, its kit, and the called lines.

use super::lines::{AFTER, Columns, LINE, UnitLines};
use super::{BODY, Ctx, FieldSheets, HEADING, MARGIN, SMALL, by_unit, keyplan, kit};
use crate::draw::{Raster, inside, scan_code};
use crate::font::{fit, printable};
use crate::options::Unit;
use crate::page::{BLACK, Face, Page, RULE, SOFT};
use crate::read::Strip;

/// Height in mm of the part with the seat and the key plan.
const HEAD: f64 = 52.0;

/// So many lines of one unit on one sheet.
type Share = (usize, (usize, usize));

/// All sheets of a strip.
pub(crate) fn pages(ctx: &Ctx<'_>, field: &FieldSheets<'_>, strip: &Strip) -> Vec<Page> {
    let most = strip.units.iter().map(|u| u.index + 1).max().unwrap_or(1);
    let columns = Columns::new(ctx, most);
    let units: Vec<UnitLines> = strip.units.iter().map(|u| UnitLines::new(ctx, u, columns)).collect();
    let (mut out, top_first) = opening(ctx, field, strip);
    let before = out.len() - 1;
    let top_next = head_end(ctx, field, strip) + 7.0;
    let room = |top: f64| ctx.bottom() - top - super::lines::LEAD + LINE - 2.0;
    let shares = share(&units, room(top_first), room(top_next));
    for (i, share) in shares.iter().enumerate() {
        let top = if i == 0 {
            top_first
        } else {
            out.push(begin(ctx, field, strip).0);
            top_next
        };
        body(ctx, &mut out[before + i], &units, columns, share, top);
    }
    let sheets = out.len();
    for (i, page) in out.iter_mut().enumerate() {
        field_line(ctx, page, field, strip, (i + 1, sheets));
    }
    out
}

/// A sheet with its head, and where the rest may begin.
fn begin(ctx: &Ctx<'_>, field: &FieldSheets<'_>, strip: &Strip) -> (Page, f64) {
    let mut page = Page::new(ctx.paper());
    let y = head(ctx, &mut page, field, strip);
    (page, y)
}

/// Where the head of every sheet of a strip ends.
fn head_end(ctx: &Ctx<'_>, field: &FieldSheets<'_>, strip: &Strip) -> f64 {
    begin(ctx, field, strip).1
}

/// What a strip begins with: the strip as seen, the kit, the names. A kit of very many colours takes sheets of
/// its own. The calls may begin on the last of the pages, at the height returned.
fn opening(ctx: &Ctx<'_>, field: &FieldSheets<'_>, strip: &Strip) -> (Vec<Page>, f64) {
    let (mut page, y) = begin(ctx, field, strip);
    let mut y = picture(ctx, &mut page, field, strip, y + 3.0) + 7.0;
    let mut rows = kit::rows(ctx, strip);
    let mut out = Vec::new();
    loop {
        // Room is kept for the names, the heading of the calls and two lines of them.
        let room = ctx.bottom() - y - 18.0 - super::lines::LEAD - 2.0 * LINE;
        let rest = rows.split_off(kit::fitting(room).min(rows.len()));
        y = kit::draw(ctx, &mut page, &rows, y);
        if rest.is_empty() {
            let top = names(ctx, &mut page, y + 3.0) + 8.0;
            out.push(page);
            return (out, top);
        }
        body(ctx, &mut page, &[], Columns::new(ctx, 1), &[], y + 10.0);
        out.push(page);
        rows = rest;
        (page, y) = begin(ctx, field, strip);
        y += 7.0;
    }
}

/// Shares the lines out over sheets. A unit stays whole where a sheet can hold it.
fn share(units: &[UnitLines], first: f64, next: f64) -> Vec<Vec<Share>> {
    let mut sheets: Vec<Vec<Share>> = vec![Vec::new()];
    let mut room = first;
    for (u, unit) in units.iter().enumerate() {
        let mut from = 0;
        while from < unit.len() {
            let lead = if from > 0 { LINE } else { 0.0 };
            let left = unit.len() - from;
            let whole = left as f64 * LINE + lead + AFTER;
            let fresh = sheets.last().is_some_and(Vec::is_empty);
            let fit = ((room - lead - AFTER) / LINE).floor().max(0.0) as usize;
            let take = if whole <= room {
                left
            } else if fresh && (whole > next || room >= next) {
                fit.clamp(1, left)
            } else if whole > next && fit >= 3 {
                fit
            } else {
                0
            };
            if take > 0 {
                sheets.last_mut().expect("there is always a sheet").push((u, (from, from + take)));
                room -= take as f64 * LINE + lead + AFTER;
                from += take;
            }
            if from < unit.len() {
                sheets.push(Vec::new());
                room = next;
            }
        }
    }
    sheets
}

/// Name, seat, start, fall and key plan; returns where the rest may begin.
fn head(ctx: &Ctx<'_>, page: &mut Page, field: &FieldSheets<'_>, strip: &Strip) -> f64 {
    let w = &ctx.words;
    let right = page.width - MARGIN;
    let units = printable(&ctx.unit_name(strip));
    let big = (Face::Bold, 18.0, BLACK);
    let room = ctx.measure() - big.0.width(&units, big.1) - 8.0;
    let name = fit(&printable(&field.item.name), Face::Bold, 24.0, room);
    page.text(MARGIN, 21.0, super::TITLE, if name.trim().is_empty() { "–" } else { &name });
    page.text_right(right, 21.0, big, &upper(&units));
    page.line([MARGIN, 30.5, right, 30.5], 0.5, BLACK);
    let plan = [right - 66.0, 33.0, 66.0, HEAD - 4.0];
    let mut text = ctx.measure() - plan[2] - 6.0;
    if let Some(base) = &ctx.options.base_url {
        let first = strip.units.first().map_or(0, |u| u.index + 1);
        let url = format!("{}/read/{}/{first}", base.trim_end_matches('/'), field.item.id);
        scan_code(page, [plan[0] - 27.0, 34.0, 25.0, 25.0], &url);
        text -= 28.0;
    }
    let called = (Face::Bold, 14.0, BLACK);
    let mut y = page.block((MARGIN, 39.0, text), called, &w.seat(&field.seat));
    let corner = w.compass(field.seat.corner());
    let start = w.fill("start-corner", &[("start", w.start(field.seat.start)), ("corner", corner)]);
    y = page.block((MARGIN, y + 0.6, text), called, &start);
    y = page.block((MARGIN, y + 0.6, text), called, w.fall(field.seat.fall));
    y = page.block((MARGIN, y + 0.5, text), SMALL, &facts(ctx, field));
    keyplan::draw(ctx, page, field, strip, plan);
    y.max(33.0 + HEAD)
}

/// Pitch, stagger and comb in small words.
fn facts(ctx: &Ctx<'_>, field: &FieldSheets<'_>) -> String {
    let w = &ctx.words;
    let f = &field.field.frame;
    let size = |l: units::Length| w.small(l.to_mm(), ctx.options.measure);
    let pitch = [("along", size(f.pitch_along)), ("across", size(f.pitch_across))];
    let mut out = w.fill("pitch-line", &[("along", &pitch[0].1), ("across", &pitch[1].1)]);
    if f.stagger.to_mm() > 0.0 && f.lanes > 1 {
        out = format!("{out} {}", w.fill("stagger-line", &[("by", &size(f.stagger))]));
    }
    let comb = match field.load {
        Some(teeth) => w.fill("comb-line", &[("teeth", &teeth.to_string())]),
        None => w.get("comb-none").to_owned(),
    };
    format!("{out} {comb}")
}

/// The line that says which field, strip and sheet this is.
fn field_line(
    ctx: &Ctx<'_>,
    page: &mut Page,
    field: &FieldSheets<'_>,
    strip: &Strip,
    (sheet, sheets): (usize, usize),
) {
    let f = &field.field.frame;
    let parts = [
        ("item", field.item.id.to_string()),
        ("lanes", f.lanes.to_string()),
        ("ranks", f.ranks.to_string()),
        ("strip", strip.number.to_string()),
        ("strips", field.strips.len().to_string()),
        ("sheet", sheet.to_string()),
        ("sheets", sheets.to_string()),
    ];
    let parts: Vec<(&str, &str)> = parts.iter().map(|(k, v)| (*k, v.as_str())).collect();
    page.text(MARGIN, 28.0, (Face::Regular, 12.0, BLACK), &ctx.words.fill("field-line", &parts));
    // It is known last but read right after the name.
    let line = page.ops.pop();
    page.ops.splice(1..1, line);
}

/// The strip as the builder sees it, far side up.
fn picture(ctx: &Ctx<'_>, page: &mut Page, field: &FieldSheets<'_>, strip: &Strip, y: f64) -> f64 {
    page.text(MARGIN, y, SMALL, ctx.words.get("as-you-see"));
    let f = &field.field.frame;
    let seat = &field.seat;
    let mut rows: Vec<Vec<u16>> = strip
        .units
        .iter()
        .map(|u| {
            let mut row = Vec::with_capacity(u.cells as usize);
            for call in &u.calls {
                let cell = call.colour.map_or(plan::EMPTY, |c| c.0);
                row.resize(row.len() + call.count as usize, cell);
            }
            if !seat.start.is_left() {
                row.reverse();
            }
            row
        })
        .collect();
    if !seat.start.is_far() {
        rows.reverse();
    }
    let (along, across) = match seat.unit {
        Unit::Lane => (f.pitch_along, f.pitch_across),
        Unit::Rank => (f.pitch_across, f.pitch_along),
    };
    let columns = rows.first().map_or(0, Vec::len);
    let size = (columns as f64 * along.to_mm(), rows.len() as f64 * across.to_mm());
    let box_ = [MARGIN, y + 1.8, ctx.measure(), 30.0];
    let [_, _, w, h] = inside(box_, size.0, size.1);
    let rect = [MARGIN, y + 1.8, w, h.max(1.5)];
    let (raster, _) = Raster { columns, cells: rows.concat() }.coarser((400, 100));
    raster.draw(page, rect, |c| ctx.fill_of(c));
    rect[1] + rect[3]
}

/// Lines for the names of those who do the work.
fn names(ctx: &Ctx<'_>, page: &mut Page, y: f64) -> f64 {
    let y = y + 6.5;
    let each = ctx.measure() / 3.0;
    for (i, key) in ["names-reader", "names-placer", "names-checker"].into_iter().enumerate() {
        let x = MARGIN + each * i as f64;
        let end = page.text(x, y, BODY, ctx.words.get(key));
        page.line([end + 2.0, y + 0.6, x + each - 6.0, y + 0.6], 0.25, SOFT);
    }
    y
}

/// The heading of the calls and the called lines.
fn body(ctx: &Ctx<'_>, page: &mut Page, units: &[UnitLines], columns: Columns, share: &[Share], top: f64) {
    let w = &ctx.words;
    let heading = w.get(by_unit(ctx.options.read.unit, "call-lanes", "call-ranks"));
    page.text(MARGIN, top - 0.5, HEADING, heading);
    let says: &'static str = if share.is_empty() { "calls-next" } else { "call-explained" };
    page.text(MARGIN, top + 4.2, SMALL, w.get(says));
    let mut y = top + super::lines::LEAD;
    for (i, (unit, lines)) in share.iter().enumerate() {
        if i > 0 {
            let rule = y - LINE + 2.0 + AFTER / 2.0 - 0.7;
            page.line([MARGIN, rule, page.width - MARGIN, rule], 0.15, RULE);
            y += AFTER;
        }
        y = units[*unit].draw(page, columns, *lines, y);
    }
}

fn upper(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
