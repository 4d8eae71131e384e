//! From fields to pages: what goes on which sheet, and where.

use std::collections::BTreeMap;

use plan::{ColourId, EMPTY, Field, Item, ItemId, Plan, Rgb};

use crate::dump::page_words;
use crate::error::SheetError;
use crate::options::{SheetOptions, Unit};
use crate::page::{BLACK, Document, Face, Mark, Page, RULE, SOFT, SheetCounts};
use crate::palette::{Tone, palette};
use crate::read::{Strip, comb_load, strips};
use crate::read_back::read_back;
use crate::seat::Seat;
use crate::words::Words;

mod flow;
mod front;
mod keyplan;
mod kit;
mod legend;
mod lines;
mod measure;
mod strip;

/// Nothing is printed nearer to the edge of the paper, in mm: most printers reach no closer than 5.
pub(crate) const MARGIN: f64 = 12.0;
/// Size in points of what is called aloud; at least 14, so that it is read from a metre (common practice).
pub(crate) const CALLED: f64 = 15.0;
/// Height in mm kept for the foot of a page.
const FOOT: f64 = 9.0;

/// A style: face, size in points, ink.
pub(crate) type Style = (Face, f64, Rgb);
pub(crate) const TITLE: Style = (Face::Bold, 24.0, BLACK);
pub(crate) const HEADING: Style = (Face::Bold, 13.0, BLACK);
pub(crate) const BODY: Style = (Face::Regular, 11.0, BLACK);
pub(crate) const SMALL: Style = (Face::Regular, 10.0, SOFT);

/// What every page is made from.
pub(crate) struct Ctx<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) options: &'a SheetOptions,
    pub(crate) words: Words,
    pub(crate) tones: BTreeMap<ColourId, Tone>,
}

/// A field with its reading.
pub(crate) struct FieldSheets<'a> {
    pub(crate) item: &'a Item,
    pub(crate) field: &'a Field,
    pub(crate) seat: Seat,
    pub(crate) strips: Vec<Strip>,
    pub(crate) load: Option<u32>,
}

/// Where a field's pages lie in the document.
pub(crate) struct Extent {
    /// First page from 0.
    pub(crate) first: usize,
    /// Number of pages.
    pub(crate) pages: usize,
}

impl Ctx<'_> {
    pub(crate) fn paper(&self) -> (f64, f64) {
        self.options.paper.size()
    }

    /// The width between the margins of an upright page.
    pub(crate) fn measure(&self) -> f64 {
        self.paper().0 - 2.0 * MARGIN
    }

    /// The lowest place that a page's text may reach.
    pub(crate) fn bottom(&self) -> f64 {
        self.paper().1 - MARGIN - FOOT
    }

    pub(crate) fn tone(&self, id: ColourId) -> &Tone {
        self.tones.get(&id).expect("every colour of a field was looked up in the stock before printing")
    }

    pub(crate) fn fill_of(&self, cell: u16) -> Rgb {
        self.tone(ColourId(cell)).fill
    }

    pub(crate) fn unit_name(&self, strip: &Strip) -> String {
        let number = |u: Option<&crate::read::ReadUnit>| u.map_or(0, |u| u.index + 1);
        let (first, last) = (number(strip.units.first()), number(strip.units.last()));
        self.words.span(self.options.read.unit, first, last)
    }
}

/// Lays out the sheets of the chosen fields, in the order given.
///
/// `progress` is told (pages laid so far, fields done) after each strip; when it answers `false`, the work stops
/// with [`SheetError::Stopped`]. The pieces that the finished sheets call are counted from their own words.
pub fn document(
    plan: &Plan,
    items: &[ItemId],
    options: &SheetOptions,
    progress: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Document, SheetError> {
    let ctx =
        Ctx { plan, options, words: Words::of(options.language), tones: palette(&plan.stock, options.ink) };
    if items.is_empty() {
        return Err(SheetError::NothingChosen);
    }
    let fields = items.iter().map(|id| field_sheets(&ctx, *id)).collect::<Result<Vec<_>, _>>()?;
    let mut bodies: Vec<(Vec<Page>, Vec<Mark>)> = Vec::new();
    let mut laid = 0;
    for (done, field) in fields.iter().enumerate() {
        let (mut pages, mut marks) = (Vec::new(), Vec::new());
        marks.push(Mark { text: field.item.name.clone(), page: 0, level: 0 });
        if fields.len() > 1 {
            pages.extend(front::field_pages(&ctx, field));
        }
        for strip in &field.strips {
            let sheets = strip::pages(&ctx, field, strip);
            let text = ctx.words.fill(
                "strip-mark",
                &[("strip", &strip.number.to_string()), ("units", &ctx.unit_name(strip))],
            );
            marks.push(Mark { text, page: pages.len(), level: 1 });
            laid += sheets.len();
            pages.extend(sheets);
            if !progress(laid, done) {
                return Err(SheetError::Stopped);
            }
        }
        bodies.push((pages, marks));
    }
    Ok(assemble(&ctx, &fields, bodies))
}

fn assemble(ctx: &Ctx<'_>, fields: &[FieldSheets<'_>], bodies: Vec<(Vec<Page>, Vec<Mark>)>) -> Document {
    let counts = count(ctx, fields, &bodies);
    let measuring = measure::pages(ctx, fields);
    // The contents name pages, and so the front is laid twice: the first time only to see how long it is.
    let lengths: Vec<usize> = bodies.iter().map(|b| b.0.len()).collect();
    let extents = |start: usize| -> Vec<Extent> {
        let mut first = start;
        let extent = |pages: &usize| {
            first += pages;
            Extent { first: first - pages, pages: *pages }
        };
        lengths.iter().map(extent).collect()
    };
    let front_pages = front::pages(ctx, fields, &extents(0), &counts).len();
    let start = front_pages + measuring.len();
    let mut pages = front::pages(ctx, fields, &extents(start), &counts);
    let mut outline = vec![
        Mark { text: ctx.words.get("sheets-title").into(), page: 0, level: 0 },
        Mark { text: ctx.words.get("measure-title").into(), page: front_pages, level: 0 },
    ];
    pages.extend(measuring);
    for (body, marks) in bodies {
        let base = pages.len();
        outline.extend(marks.into_iter().map(|m| Mark { page: m.page + base, ..m }));
        pages.extend(body);
    }
    let total = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        foot(ctx, page, i + 1, total);
    }
    Document { title: title(ctx), language: ctx.words.tag(), pages, outline, counts }
}

fn title(ctx: &Ctx<'_>) -> String {
    let name = ctx.plan.name.trim();
    let name = if name.is_empty() { ctx.words.get("event-untitled") } else { name };
    format!("{name}: {}", ctx.words.get("sheets-title"))
}

/// Reads the words on the sheets back, counts their pieces and compares every cell with the plan.
fn count(ctx: &Ctx<'_>, fields: &[FieldSheets<'_>], bodies: &[(Vec<Page>, Vec<Mark>)]) -> SheetCounts {
    let mut counts = SheetCounts::default();
    for (field, (pages, _)) in fields.iter().zip(bodies) {
        counts.in_plan += field.field.cells.pieces() as u64;
        let text: Vec<String> = pages.iter().map(page_words).collect();
        match read_back(&text.join("\u{c}")) {
            Ok(read) => {
                counts.on_sheets += read.iter().map(|f| f.pieces()).sum::<u64>();
                let read = read.first().map_or(&[][..], |f| &f.cells);
                let wrong = differing(ctx, field.field, read);
                if wrong > 0 {
                    let name = &field.item.name;
                    counts.problems.push(format!("{name}: {wrong} cells are called otherwise than planned."));
                }
            }
            Err(error) => counts.problems.push(error.to_string()),
        }
    }
    counts
}

/// How many cells of the field are called with another code than the plan has for them.
fn differing(ctx: &Ctx<'_>, field: &Field, read: &[Option<String>]) -> usize {
    let cells = field.cells.as_slice();
    let same = |(cell, code): (&u16, &Option<String>)| match code {
        Some(code) => *cell != EMPTY && ctx.tone(ColourId(*cell)).code == *code,
        None => *cell == EMPTY,
    };
    cells.len() - cells.iter().zip(read).filter(|pair| same(*pair)).count()
}

fn foot(ctx: &Ctx<'_>, page: &mut Page, number: usize, of: usize) {
    let w = &ctx.words;
    let y = page.height - MARGIN;
    page.line([MARGIN, y - 6.0, page.width - MARGIN, y - 6.0], 0.2, RULE);
    let said = w.fill("page", &[("page", &number.to_string()), ("pages", &of.to_string())]);
    page.text_right(page.width - MARGIN, y - 1.0, (Face::Bold, 11.0, BLACK), &said);
    let known = [ctx.plan.name.trim(), ctx.options.revision.trim(), ctx.options.date.trim()];
    let line = known.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(" · ");
    let room = page.width - 2.0 * MARGIN - 45.0;
    let line = crate::font::fit(&crate::font::printable(&line), Face::Regular, 11.0, room);
    page.text(MARGIN, y - 1.0, (Face::Regular, 11.0, BLACK), &line);
}

fn field_sheets<'a>(ctx: &Ctx<'a>, id: ItemId) -> Result<FieldSheets<'a>, SheetError> {
    let item = ctx.plan.item(id).ok_or(SheetError::NoItem(id.0))?;
    let field = item.field().ok_or_else(|| SheetError::NotAField(item.name.clone()))?;
    check(ctx, item, field)?;
    let options = &ctx.options.read;
    Ok(FieldSheets {
        item,
        field,
        seat: Seat::new(item.heading, options),
        strips: strips(field, item.heading, &ctx.plan.stock, options),
        load: comb_load(field, &ctx.plan.stock, options.unit),
    })
}

/// The gate keeps these out of a plan; a plan that came another way is refused here and does not panic.
fn check(ctx: &Ctx<'_>, item: &Item, field: &Field) -> Result<(), SheetError> {
    let bad = |what: String| SheetError::BadField { place: item.name.clone(), what };
    let (cells, frame) = (field.cells.len(), field.frame.len());
    if cells != frame || frame == 0 {
        return Err(bad(format!("{cells} cells do not fill a grid of {frame}")));
    }
    let sound = |mm: f64| mm.is_finite() && mm > 0.0;
    if !sound(field.frame.pitch_along.to_mm()) || !sound(field.frame.pitch_across.to_mm()) {
        return Err(bad("the pitch is not above 0".into()));
    }
    for need in item.stated_needs() {
        if need.colour.0 != EMPTY && !ctx.tones.contains_key(&need.colour) {
            return Err(bad(format!("colour {} is not in the stock", need.colour)));
        }
    }
    Ok(())
}

/// The key of the words for lanes or for ranks.
pub(crate) fn by_unit(unit: Unit, lanes: &'static str, ranks: &'static str) -> &'static str {
    match unit {
        Unit::Lane => lanes,
        Unit::Rank => ranks,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Op;
    use plan::{Body, Colour, FieldFrame, Kind, KindId};
    use units::Length;

    fn small() -> Plan {
        let frame = FieldFrame {
            fall: geometry::FallInPicture::Right,
            ..FieldFrame::new(2, 10, Length::mm(15.0), Length::mm(25.0))
        };
        let mut field = Field::empty(KindId(1), frame);
        field.cells = (0..20).map(|i| 1 + i / 4 % 2).collect::<Vec<u16>>().into();
        let tone = crate::page::grey(90);
        let colour = |id, code: &str| Colour::plain(ColourId(id), code, code, tone);
        let mut plan = Plan::new("Small");
        plan.stock.kinds = vec![Kind::usual(KindId(1))];
        plan.stock.colours = vec![colour(1, "S"), colour(2, "K")];
        plan.items = vec![Item::new(ItemId(1), "Mill", geometry::Point::default(), Body::Field(field))];
        plan
    }

    /// A sheet whose kit and calls were both spoilt in the same way adds up in itself; the plan still tells.
    #[test]
    fn sheets_that_differ_from_the_plan_say_so_on_the_cover() {
        let plan = small();
        let options = SheetOptions::default();
        let words = Words::of(options.language);
        let ctx = Ctx { plan: &plan, options: &options, words, tones: palette(&plan.stock, options.ink) };
        let field = field_sheets(&ctx, ItemId(1)).unwrap();
        let mut pages = strip::pages(&ctx, &field, &field.strips[0]);
        for op in pages.iter_mut().flat_map(|p| &mut p.ops) {
            if let Op::Text(t) = op {
                t.text = match t.text.as_str() {
                    "S" => "K".into(),
                    "K" => "S".into(),
                    same => same.into(),
                };
            }
        }
        let fields = [field];
        let counts = count(&ctx, &fields, &[(pages, Vec::new())]);
        assert_eq!((counts.in_plan, counts.on_sheets), (20, 20));
        assert_eq!(counts.problems, ["Mill: 20 cells are called otherwise than planned."]);
        let extents = [Extent { first: 1, pages: 1 }];
        let cover = front::pages(&ctx, &fields, &extents, &counts);
        let said = cover[0].texts().any(|t| t.text.contains("Do not build from these sheets"));
        assert!(said, "the cover is silent");
    }
}
