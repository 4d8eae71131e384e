//! Pages as a PDF file.

use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document as Pdf, SerializeSettings};
use plan::Rgb;

use crate::error::SheetError;
use crate::font::POINT;
use crate::page::{Document, Face, Mark, Op, Page, Text};

struct Fonts {
    regular: Font,
    bold: Font,
}

/// The document as the bytes of a PDF file: fonts embedded as subsets with their Unicode map, an outline,
/// title and language. The same document gives the same bytes.
pub fn pdf(document: &Document) -> Result<Vec<u8>, SheetError> {
    let settings = SerializeSettings { enable_tagging: false, ..SerializeSettings::default() };
    let mut out = Pdf::new_with(settings);
    let load = |face: Face| {
        Font::new(face.bytes().into(), 0).ok_or_else(|| SheetError::Pdf("a font is damaged".into()))
    };
    let fonts = Fonts { regular: load(Face::Regular)?, bold: load(Face::Bold)? };
    for page in &document.pages {
        let bad = || SheetError::Pdf(format!("a page of {} x {} mm", page.width, page.height));
        let size = PageSettings::from_wh(pt(page.width), pt(page.height)).ok_or_else(bad)?;
        let mut sheet = out.start_page_with(size);
        let mut surface = sheet.surface();
        draw(&mut surface, page, &fonts);
        surface.finish();
        sheet.finish();
    }
    out.set_outline(outline(&document.outline));
    let meta = Metadata::new().title(document.title.clone()).language(document.language.to_owned());
    out.set_metadata(meta.creator("standfast".to_owned()));
    out.finish().map_err(|e| SheetError::Pdf(format!("{e:?}")))
}

fn pt(mm: f64) -> f32 {
    (mm / POINT) as f32
}

fn outline(marks: &[Mark]) -> Outline {
    let mut outline = Outline::new();
    let mut marks = marks.iter().peekable();
    let node =
        |m: &Mark| OutlineNode::new(m.text.clone(), XyzDestination::new(m.page, Point::from_xy(0.0, 0.0)));
    while let Some(mark) = marks.next() {
        let mut parent = node(mark);
        while let Some(child) = marks.next_if(|m| m.level > mark.level) {
            parent.push_child(node(child));
        }
        outline.push_child(parent);
    }
    outline
}

fn draw(surface: &mut Surface<'_>, page: &Page, fonts: &Fonts) {
    for op in &page.ops {
        match op {
            Op::Text(text) => draw_text(surface, text, fonts),
            Op::Fill { rects, ink } => {
                let path = many(rects, |b, [x, y, w, h]| {
                    if let Some(r) = Rect::from_xywh(pt(*x), pt(*y), pt(*w), pt(*h)) {
                        b.push_rect(r);
                    }
                });
                fill(surface, path, *ink);
            }
            Op::Shape { points, ink } => {
                let mut b = PathBuilder::new();
                for (i, (x, y)) in points.iter().enumerate() {
                    if i == 0 { b.move_to(pt(*x), pt(*y)) } else { b.line_to(pt(*x), pt(*y)) }
                }
                b.close();
                fill(surface, b.finish(), *ink);
            }
            Op::Strokes { lines, ink, width } => {
                let path = many(lines, |b, [x0, y0, x1, y1]| {
                    b.move_to(pt(*x0), pt(*y0));
                    b.line_to(pt(*x1), pt(*y1));
                });
                if let Some(path) = path {
                    surface.set_fill(None);
                    let stroke = Stroke { paint: paint(*ink), width: pt(*width), ..Stroke::default() };
                    surface.set_stroke(Some(stroke));
                    surface.draw_path(&path);
                }
            }
        }
    }
}

fn many(parts: &[[f64; 4]], add: impl Fn(&mut PathBuilder, &[f64; 4])) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for part in parts {
        add(&mut builder, part);
    }
    builder.finish()
}

fn paint(ink: Rgb) -> krilla::paint::Paint {
    rgb::Color::new(ink.r, ink.g, ink.b).into()
}

fn fill(surface: &mut Surface<'_>, path: Option<Path>, ink: Rgb) {
    if let Some(path) = path {
        surface.set_stroke(None);
        surface.set_fill(Some(Fill { paint: paint(ink), ..Fill::default() }));
        surface.draw_path(&path);
    }
}

fn draw_text(surface: &mut Surface<'_>, text: &Text, fonts: &Fonts) {
    let font = match text.face {
        Face::Regular => &fonts.regular,
        Face::Bold => &fonts.bold,
    };
    let glyphs: Vec<KrillaGlyph> = text
        .text
        .char_indices()
        .filter_map(|(at, c)| {
            let sign = text.face.sign(c)?;
            let range = at..at + c.len_utf8();
            Some(KrillaGlyph::new(GlyphId::new(sign.glyph), sign.advance as f32, 0.0, 0.0, 0.0, range, None))
        })
        .collect();
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint: paint(text.ink), ..Fill::default() }));
    let start = Point::from_xy(pt(text.x), pt(text.y));
    surface.draw_glyphs(start, &glyphs, font.clone(), &text.text, text.size as f32, false);
}
