//! Pages as lists of drawing operations, in millimetres from the upper left corner of the paper.
//!
//! One model serves the PDF, the preview and the tests. The order of the operations is the order of reading.

use plan::Rgb;

pub use crate::font::Face;

/// A finished set of sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// What the document is called.
    pub title: String,
    /// The language tag (BCP 47).
    pub language: &'static str,
    /// Its pages in order.
    pub pages: Vec<Page>,
    /// The marks for the reader's outline, in order of pages.
    pub outline: Vec<Mark>,
    /// How many pieces the plan has and how many the sheets call.
    pub counts: SheetCounts,
}

/// The count check of a set of sheets.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SheetCounts {
    /// Pieces of the chosen fields in the plan.
    pub in_plan: u64,
    /// Pieces counted from the words on the sheets.
    pub on_sheets: u64,
    /// What did not agree, one sentence each; empty when all is well.
    pub problems: Vec<String>,
}

/// An entry of the outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// What it says.
    pub text: String,
    /// Page index from 0.
    pub page: usize,
    /// 0 for a field or a part of its own, 1 for a strip within a field.
    pub level: u8,
}

/// One side of paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Width in mm.
    pub width: f64,
    /// Height in mm.
    pub height: f64,
    /// What is drawn, in order.
    pub ops: Vec<Op>,
}

/// One drawing operation. All places and sizes are in mm, y downwards.
#[derive(Debug, Clone, PartialEq)]
pub enum Op {
    /// One line of text.
    Text(Text),
    /// Rectangles (x, y, width, height) of one colour.
    Fill {
        /// The rectangles.
        rects: Vec<[f64; 4]>,
        /// Their colour.
        ink: Rgb,
    },
    /// A closed shape of one colour.
    Shape {
        /// Its corners.
        points: Vec<(f64, f64)>,
        /// Its colour.
        ink: Rgb,
    },
    /// Straight strokes (x0, y0, x1, y1) of one colour and width.
    Strokes {
        /// The strokes.
        lines: Vec<[f64; 4]>,
        /// Their colour.
        ink: Rgb,
        /// Their width.
        width: f64,
    },
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Left end.
    pub x: f64,
    /// Base line.
    pub y: f64,
    /// Size in points.
    pub size: f64,
    /// Regular or bold.
    pub face: Face,
    /// Its colour.
    pub ink: Rgb,
    /// What it says; every sign is in the font.
    pub text: String,
}

/// A plain grey from 0, black, to 255, white.
pub(crate) const fn grey(v: u8) -> Rgb {
    Rgb { r: v, g: v, b: v }
}

/// Text.
pub(crate) const BLACK: Rgb = grey(0x14);
/// Text of less weight; 7:1 on white.
pub(crate) const SOFT: Rgb = grey(0x58);
/// Rules.
pub(crate) const RULE: Rgb = grey(0xb4);
/// Grounds.
pub(crate) const WASH: Rgb = grey(0xee);
/// Paper.
pub(crate) const WHITE: Rgb = grey(0xff);

impl Text {
    /// Its width in mm.
    pub fn width(&self) -> f64 {
        self.face.width(&self.text, self.size)
    }

    /// Its box: left, upper, right and lower edge in mm, from the height of a capital to the base line.
    pub fn bounds(&self) -> [f64; 4] {
        let high = crate::font::CAPITAL * self.size * crate::font::POINT;
        [self.x, self.y - high, self.x + self.width(), self.y]
    }
}

impl Page {
    pub(crate) fn new((width, height): (f64, f64)) -> Self {
        Self { width, height, ops: Vec::new() }
    }

    /// Writes text with its left end at (`x`, `y`) and returns where it ends.
    pub(crate) fn text(&mut self, x: f64, y: f64, style: (Face, f64, Rgb), text: &str) -> f64 {
        let (face, size, ink) = style;
        let text = crate::font::printable(text);
        let end = x + face.width(&text, size);
        if !text.trim().is_empty() {
            self.ops.push(Op::Text(Text { x, y, size, face, ink, text }));
        }
        end
    }

    /// Writes text that ends at `x`.
    pub(crate) fn text_right(&mut self, x: f64, y: f64, style: (Face, f64, Rgb), text: &str) {
        let width = style.0.width(&crate::font::printable(text), style.1);
        self.text(x - width, y, style, text);
    }

    /// Writes text in lines of at most `width` mm from (`x`, `y`) and returns the base line after the last.
    pub(crate) fn block(
        &mut self,
        (x, y, width): (f64, f64, f64),
        style: (Face, f64, Rgb),
        text: &str,
    ) -> f64 {
        let mut y = y;
        for line in crate::font::wrap(&crate::font::printable(text), style.0, style.1, width) {
            self.text(x, y, style, &line);
            y += style.1 * crate::font::POINT * 1.35;
        }
        y
    }

    pub(crate) fn fill(&mut self, rect: [f64; 4], ink: Rgb) {
        self.ops.push(Op::Fill { rects: vec![rect], ink });
    }

    pub(crate) fn line(&mut self, line: [f64; 4], width: f64, ink: Rgb) {
        self.ops.push(Op::Strokes { lines: vec![line], ink, width });
    }

    /// The outline of a rectangle.
    pub(crate) fn frame(&mut self, [x, y, w, h]: [f64; 4], width: f64, ink: Rgb) {
        let lines =
            vec![[x, y, x + w, y], [x + w, y, x + w, y + h], [x + w, y + h, x, y + h], [x, y + h, x, y]];
        self.ops.push(Op::Strokes { lines, ink, width });
    }

    /// All text operations, in order.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.ops.iter().filter_map(|op| match op {
            Op::Text(t) => Some(t),
            _ => None,
        })
    }
}
