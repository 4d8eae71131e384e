//! A document as text: for snapshots, and as plain pages for those who read with a machine.

use std::fmt::Write;

use crate::page::{Document, Face, Op, Page};

/// Every page with every text and drawing and its place in mm, for a snapshot that a person can read.
pub fn text(document: &Document) -> String {
    let mut out = format!("{} ({})\n", document.title, document.language);
    let counts = &document.counts;
    let _ = writeln!(out, "pieces: plan {}, sheets {}", counts.in_plan, counts.on_sheets);
    for mark in &document.outline {
        let indent = "  ".repeat(usize::from(mark.level));
        let _ = writeln!(out, "{indent}outline: {} -> page {}", mark.text, mark.page + 1);
    }
    for (i, page) in document.pages.iter().enumerate() {
        let _ = writeln!(out, "\npage {} ({} x {} mm)", i + 1, page.width, page.height);
        for op in &page.ops {
            dump_op(&mut out, op);
        }
    }
    out
}

fn dump_op(out: &mut String, op: &Op) {
    let _ = match op {
        Op::Text(t) => {
            let face = if t.face == Face::Bold { " bold" } else { "" };
            writeln!(out, "{:6.1} {:6.1}  {:?} {}{face}", t.x, t.y, t.text, t.size)
        }
        Op::Fill { rects, ink } => {
            let area: f64 = rects.iter().map(|r| r[2] * r[3]).sum();
            let [x, y, ..] = rects.first().copied().unwrap_or_default();
            writeln!(out, "{x:6.1} {y:6.1}  fill {ink}, {} rectangles, {area:.1} mm2", rects.len())
        }
        Op::Shape { points, ink } => {
            let (x, y) = points.first().copied().unwrap_or_default();
            writeln!(out, "{x:6.1} {y:6.1}  shape {ink}, {} corners", points.len())
        }
        Op::Strokes { lines, ink, width } => {
            let [x, y, ..] = lines.first().copied().unwrap_or_default();
            writeln!(out, "{x:6.1} {y:6.1}  strokes {ink}, {} of {width} mm", lines.len())
        }
    };
}

/// The words of one page in order of reading, one text a line.
pub(crate) fn page_words(page: &Page) -> String {
    let mut out = String::new();
    for t in page.texts() {
        out.push_str(&t.text);
        out.push('\n');
    }
    out
}
