//! The key plan: the whole field as the builder sees it, with the strip's place, the fall and the start.

use super::{Ctx, FieldSheets};
use crate::draw::{Rect, arrow, builder, disc, inside, north};
use crate::options::Unit;
use crate::page::{BLACK, Face, Page, RULE, SOFT, WASH, grey};
use crate::read::Strip;
use crate::seat::FallSeen;

/// Draws the key plan into `rect`; `strip` is the one to be shown, or none for the field as a whole.
pub(crate) fn draw(ctx: &Ctx<'_>, page: &mut Page, field: &FieldSheets<'_>, strip: &Strip, rect: Rect) {
    let [x, y, w, h] = rect;
    let f = &field.field.frame;
    let (along, across) =
        (f64::from(f.ranks) * f.pitch_along.to_mm(), f64::from(f.lanes) * f.pitch_across.to_mm());
    let (wide, deep) = match field.seat.unit {
        Unit::Lane => (along, across),
        Unit::Rank => (across, along),
    };
    // A very long field would be a hair: keep a third of the box, the plan is a key and not to scale.
    let (room_w, room_h) = (w - 22.0, h - 24.0);
    let least = (room_w / 3.0).min(room_h / 3.0);
    let [bx, by, bw, bh] = inside([x + 4.0, y + 8.0, room_w, room_h], wide, deep);
    let (bw2, bh2) = (bw.max(least), bh.max(least));
    let plan = [bx - (bw2 - bw) / 2.0, by - (bh2 - bh) / 2.0, bw2, bh2];
    let band = bands(page, field, strip, plan);
    let start = &field.seat.start;
    let dot = (
        if start.is_left() { band[0] + 1.6 } else { band[0] + band[2] - 1.6 },
        if start.is_far() {
            band[1] + 1.6f64.min(band[3] / 2.0)
        } else {
            band[1] + band[3] - 1.6f64.min(band[3] / 2.0)
        },
    );
    disc(page, dot, 1.5, grey(0xff));
    disc(page, dot, 1.1, BLACK);
    let middle = (plan[0] + plan[2] / 2.0, plan[1] + plan[3] / 2.0);
    fall(ctx, page, field.seat.fall, plan);
    builder(page, (middle.0, plan[1] + plan[3] + 4.6), (0.0, -1.0), BLACK);
    let up = |v: geometry::Vector| v.y;
    let (right, facing) = (field.seat.right(), field.seat.facing);
    // North on paper: to the right as far as the builder's right points north, up as far as the view does.
    north(page, (x + w - 9.0, y + 12.0), (up(right), -up(facing)), ctx.words.get("north-letter"));
    caption(ctx, page, x, y + h - 2.0);
}

/// The strips of the field; returns the band of the one that is shown.
fn bands(page: &mut Page, field: &FieldSheets<'_>, strip: &Strip, plan: Rect) -> Rect {
    let [x, y, w, h] = plan;
    page.fill(plan, WASH);
    let total: usize = field.strips.iter().map(|s| s.units.len()).sum();
    let deep = |n: usize| h * n as f64 / total.max(1) as f64;
    let far = field.seat.start.is_far();
    let (mut before, mut band) = (0.0, plan);
    let mut rules = Vec::new();
    for s in &field.strips {
        let d = deep(s.units.len());
        let top = if far { y + before } else { y + h - before - d };
        before += d;
        if s.number == strip.number {
            band = [x, top, w, d];
        }
        if d > 1.0 {
            rules.push([x, top, x + w, top]);
        }
    }
    page.fill(band, grey(0x9a));
    page.ops.push(crate::page::Op::Strokes { lines: rules, ink: RULE, width: 0.15 });
    page.frame(plan, 0.35, BLACK);
    band
}

/// The arrow of the fall: above the plan, or at its right side when it runs away from or towards the builder.
fn fall(ctx: &Ctx<'_>, page: &mut Page, fall: FallSeen, [x, y, w, h]: Rect) {
    let (above, beside) = (y - 3.0, x + w + 4.0);
    let (from, to) = match fall {
        FallSeen::LeftToRight => ((x, above), (x + w, above)),
        FallSeen::RightToLeft => ((x + w, above), (x, above)),
        FallSeen::Away => ((beside, y + h), (beside, y)),
        FallSeen::Towards => ((beside, y), (beside, y + h)),
    };
    arrow(page, from, to, 3.2, BLACK);
    let word = ctx.words.get("fall-label");
    let style = (Face::Regular, 10.0, SOFT);
    match fall {
        FallSeen::LeftToRight | FallSeen::RightToLeft => {
            let wide = style.0.width(word, style.1);
            page.text(x + w / 2.0 - wide / 2.0, above - 2.2, style, word);
        }
        _ => {
            page.text(beside + 2.5, y + h / 2.0 + 4.0, style, word);
        }
    }
}

fn caption(ctx: &Ctx<'_>, page: &mut Page, x: f64, y: f64) {
    let style = (Face::Regular, 10.0, SOFT);
    disc(page, (x + 2.0, y - 1.2), 1.1, BLACK);
    let end = page.text(x + 5.0, y, style, ctx.words.get("first-piece"));
    builder(page, (end + 6.0, y - 1.0), (0.0, -1.0), BLACK);
    page.text(end + 9.5, y, style, ctx.words.get("you"));
}
