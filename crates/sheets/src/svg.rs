//! A page as SVG for the preview in a browser.

use std::fmt::Write;

use guards::Guard;
use plan::Rgb;

use crate::font::{FAMILY, POINT};
use crate::page::{Face, Op, Page, Text};

/// The page as one SVG element, in millimetres, without a font of its own: it names the family and fixes the
/// length of each line, so that it looks right with any font that stands in.
pub fn svg(page: &Page) -> String {
    let (w, h) = (num(page.width), num(page.height));
    let mut out = String::with_capacity(page.ops.len() * 120 + 400);
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
         font-family=\"{FAMILY}, sans-serif\"><rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>"
    );
    for op in &page.ops {
        match op {
            Op::Text(text) => write_text(&mut out, text),
            Op::Fill { rects, ink } => {
                let mut d = String::new();
                for [x, y, w, h] in rects {
                    let _ = write!(d, "M{} {}h{}v{}h{}z", num(*x), num(*y), num(*w), num(*h), num(-*w));
                }
                path(&mut out, &d, &format!("fill=\"{ink}\" shape-rendering=\"crispEdges\""));
            }
            Op::Shape { points, ink } => {
                let mut d = String::new();
                for (i, (x, y)) in points.iter().enumerate() {
                    let _ = write!(d, "{}{} {}", if i == 0 { 'M' } else { 'L' }, num(*x), num(*y));
                }
                d.push('z');
                path(&mut out, &d, &format!("fill=\"{ink}\""));
            }
            Op::Strokes { lines, ink, width } => strokes(&mut out, lines, *ink, *width),
        }
    }
    out.push_str("</svg>");
    out
}

fn strokes(out: &mut String, lines: &[[f64; 4]], ink: Rgb, width: f64) {
    let mut d = String::new();
    for [x0, y0, x1, y1] in lines {
        let _ = write!(d, "M{} {}L{} {}", num(*x0), num(*y0), num(*x1), num(*y1));
    }
    path(out, &d, &format!("fill=\"none\" stroke=\"{ink}\" stroke-width=\"{}\"", num(width)));
}

fn path(out: &mut String, d: &str, look: &str) {
    if !d.is_empty() {
        let _ = write!(out, "<path {look} d=\"{d}\"/>");
    }
}

fn write_text(out: &mut String, t: &Text) {
    let weight = if t.face == Face::Bold { " font-weight=\"700\"" } else { "" };
    let _ = write!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{weight} fill=\"{}\" textLength=\"{}\" \
         lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\">{}</text>",
        num(t.x),
        num(t.y),
        num(t.size * POINT),
        t.ink,
        num(t.width()),
        escape(&t.text)
    );
}

/// Three decimals are a thousandth of a millimetre; trailing zeros go.
fn num(x: f64) -> String {
    let text = format!("{x:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Names come from anybody; in a page they must stay words.
fn escape(text: &str) -> String {
    if !Guard::TextEscape.stands() {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}
