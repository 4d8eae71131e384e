//! Pages that are filled from top to bottom and go on when one is full.

use super::{Ctx, HEADING, MARGIN, Style};
use crate::font::{POINT, printable, wrap};
use crate::page::Page;

/// Where the next thing goes.
pub(crate) struct Flow {
    /// The pages so far; the last one is being filled.
    pub(crate) pages: Vec<Page>,
    /// The next free height on it, in mm.
    pub(crate) y: f64,
    size: (f64, f64),
    bottom: f64,
}

impl Flow {
    pub(crate) fn new(ctx: &Ctx<'_>) -> Self {
        Self { pages: vec![Page::new(ctx.paper())], y: MARGIN, size: ctx.paper(), bottom: ctx.bottom() }
    }

    /// The page being filled.
    pub(crate) fn page(&mut self) -> &mut Page {
        self.pages.last_mut().expect("a flow begins with a page")
    }

    /// Makes sure that `height` mm are free, on a new page if need be. True when a page was begun.
    pub(crate) fn need(&mut self, height: f64) -> bool {
        if self.y + height <= self.bottom || self.y <= MARGIN {
            return false;
        }
        self.pages.push(Page::new(self.size));
        self.y = MARGIN;
        true
    }

    /// Writes a paragraph over the full width, whole on one page.
    pub(crate) fn paragraph(&mut self, style: Style, text: &str) {
        let width = self.size.0 - 2.0 * MARGIN;
        let lines = wrap(&printable(text), style.0, style.1, width);
        let step = style.1 * POINT * 1.35;
        self.need(lines.len() as f64 * step);
        for line in lines {
            self.y += step;
            let y = self.y - step * 0.25;
            self.page().text(MARGIN, y, style, &line);
        }
    }

    /// A heading with space before it, kept together with `follows` mm of what comes after.
    pub(crate) fn heading(&mut self, text: &str, follows: f64) {
        self.need(12.0 + follows);
        self.y += 5.0;
        self.paragraph(HEADING, text);
        self.y += 1.0;
    }
}
