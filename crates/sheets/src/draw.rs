//! Small drawings: swatches with textures, arrows, ticks, pictures of fields and codes to scan.

use plan::{EMPTY, Rgb};

use crate::font::Face;
use crate::page::{BLACK, Op, Page, RULE, SOFT, WASH, WHITE};
use crate::palette::{Texture, Tone};

/// A rectangle: x, y, width and height in mm.
pub(crate) type Rect = [f64; 4];

/// A piece seen from the front, 1 : 2, with its texture.
pub(crate) fn swatch(page: &mut Page, rect: Rect, tone: &Tone) {
    page.fill(rect, tone.fill);
    let lines = texture(tone.texture, rect);
    if !lines.is_empty() {
        page.ops.push(Op::Strokes { lines, ink: tone.mark, width: 0.25 });
    }
    page.frame(rect, 0.2, SOFT);
}

/// The strokes of a texture within a rectangle.
fn texture(texture: Texture, rect: Rect) -> Vec<[f64; 4]> {
    const STEP: f64 = 1.25;
    let [x, y, w, h] = rect;
    let rows = || (1..).map(|i| f64::from(i) * STEP).take_while(move |d| *d < h - 0.1);
    let columns = || (1..).map(|i| f64::from(i) * STEP).take_while(move |d| *d < w - 0.1);
    let across = || rows().map(|d| [x, y + d, x + w, y + d]);
    let down = || columns().map(|d| [x + d, y, x + d, y + h]);
    match texture {
        Texture::Plain => Vec::new(),
        Texture::Rows => across().collect(),
        Texture::Columns => down().collect(),
        Texture::Grid => across().chain(down()).collect(),
        Texture::Falling => slants(rect, false),
        Texture::Rising => slants(rect, true),
        Texture::Diamond => slants(rect, false).into_iter().chain(slants(rect, true)).collect(),
        Texture::Dots => rows()
            .flat_map(|r| columns().map(move |c| (c, r)))
            .map(|(c, r)| [x + c - 0.2, y + r, x + c + 0.2, y + r])
            .collect(),
    }
}

/// Slanting strokes at 45 degrees, cut off at the rectangle.
fn slants([x, y, w, h]: Rect, rising: bool) -> Vec<[f64; 4]> {
    const STEP: f64 = 1.75;
    let mut lines = Vec::new();
    let mut d = STEP;
    while d < w + h - 0.1 {
        // The line u + v = d within 0..w and 0..h, mirrored for the other slope.
        let (u0, u1) = ((d - h).max(0.0), d.min(w));
        let (v0, v1) = (d - u0, d - u1);
        let flip = |u: f64| if rising { u } else { w - u };
        lines.push([x + flip(u0), y + v0, x + flip(u1), y + v1]);
        d += STEP;
    }
    lines
}

/// An arrow from one point to another with a filled head of `head` mm.
pub(crate) fn arrow(page: &mut Page, from: (f64, f64), to: (f64, f64), head: f64, ink: Rgb) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = units::maths::hypot(dx, dy);
    if length <= 0.0 {
        return;
    }
    let (ux, uy) = (dx / length, dy / length);
    let neck = (to.0 - ux * head, to.1 - uy * head);
    page.line([from.0, from.1, neck.0, neck.1], head * 0.28, ink);
    let side = head * 0.5;
    let points = vec![to, (neck.0 - uy * side, neck.1 + ux * side), (neck.0 + uy * side, neck.1 - ux * side)];
    page.ops.push(Op::Shape { points, ink });
}

/// A filled disc, as a shape of 20 corners.
pub(crate) fn disc(page: &mut Page, (x, y): (f64, f64), radius: f64, ink: Rgb) {
    let corner = |i: i32| {
        let (s, c) = units::maths::sin_cos(f64::from(i) * std::f64::consts::TAU / 20.0);
        (x + radius * c, y + radius * s)
    };
    page.ops.push(Op::Shape { points: (0..20).map(corner).collect(), ink });
}

/// The builder: a triangle whose tip points in the direction (`dx`, `dy`), a unit vector on paper.
pub(crate) fn builder(page: &mut Page, (x, y): (f64, f64), (dx, dy): (f64, f64), ink: Rgb) {
    let points = vec![
        (x + dx * 2.2, y + dy * 2.2),
        (x - dx * 1.6 - dy * 2.2, y - dy * 1.6 + dx * 2.2),
        (x - dx * 1.6 + dy * 2.2, y - dy * 1.6 - dx * 2.2),
    ];
    page.ops.push(Op::Shape { points, ink });
}

/// A needle towards north with its letter; (`dx`, `dy`) is north on paper, a unit vector.
pub(crate) fn north(page: &mut Page, (x, y): (f64, f64), (dx, dy): (f64, f64), letter: &str) {
    arrow(page, (x - dx * 4.5, y - dy * 4.5), (x + dx * 4.5, y + dy * 4.5), 2.4, SOFT);
    let (size, face) = (9.0, Face::Bold);
    let wide = face.width(letter, size);
    page.text(x + dx * 6.9 - wide / 2.0, y + dy * 6.9 + 1.1, (face, size, SOFT), letter);
}

/// An empty box to tick.
pub(crate) fn tick_box(page: &mut Page, x: f64, y: f64, size: f64) {
    page.frame([x, y, size, size], 0.35, BLACK);
}

/// Cells in rows from the top, drawn into a rectangle as runs of one colour.
pub(crate) struct Raster {
    /// Number of columns.
    pub(crate) columns: usize,
    /// Row after row; [`EMPTY`] where nothing is.
    pub(crate) cells: Vec<u16>,
}

impl Raster {
    fn rows(&self) -> usize {
        self.cells.len().checked_div(self.columns).unwrap_or(0)
    }

    /// At most `most.0` columns and `most.1` rows: blocks of cells take the colour that most of them have.
    /// Also returns how many cells a block has.
    pub(crate) fn coarser(self, most: (usize, usize)) -> (Self, usize) {
        let (columns, rows) = (self.columns, self.rows());
        let (kx, ky) = (columns.div_ceil(most.0).max(1), rows.div_ceil(most.1).max(1));
        if kx == 1 && ky == 1 {
            return (self, 1);
        }
        let mut cells = Vec::with_capacity(columns.div_ceil(kx) * rows.div_ceil(ky));
        let mut block = Vec::with_capacity(kx * ky);
        for top in (0..rows).step_by(ky) {
            for left in (0..columns).step_by(kx) {
                block.clear();
                for row in top..(top + ky).min(rows) {
                    let from = row * columns;
                    block.extend_from_slice(&self.cells[from + left..from + (left + kx).min(columns)]);
                }
                cells.push(most_common(&mut block));
            }
        }
        (Self { columns: columns.div_ceil(kx), cells }, kx * ky)
    }

    /// Draws the cells into `rect`, one operation for each colour in order of id.
    pub(crate) fn draw(&self, page: &mut Page, rect: Rect, tone: impl Fn(u16) -> Rgb) {
        let [x, y, w, h] = rect;
        page.fill(rect, WASH);
        let (columns, rows) = (self.columns as f64, self.rows() as f64);
        let mut by_colour = std::collections::BTreeMap::<u16, Vec<Rect>>::new();
        for (row, cells) in self.cells.chunks(self.columns.max(1)).enumerate() {
            let (top, bottom) = (y + row as f64 / rows * h, y + (row + 1) as f64 / rows * h);
            let mut start = 0;
            for end in 1..=cells.len() {
                if end == cells.len() || cells[end] != cells[start] {
                    let (left, right) = (x + start as f64 / columns * w, x + end as f64 / columns * w);
                    if cells[start] != EMPTY {
                        let runs = by_colour.entry(cells[start]).or_default();
                        runs.push([left, top, right - left, bottom - top]);
                    }
                    start = end;
                }
            }
        }
        for (colour, rects) in by_colour {
            page.ops.push(Op::Fill { rects, ink: tone(colour) });
        }
        page.frame(rect, 0.2, RULE);
    }
}

fn most_common(block: &mut [u16]) -> u16 {
    block.sort_unstable();
    let mut best = (0, EMPTY);
    for run in block.chunk_by(|a, b| a == b) {
        if run.len() > best.0 {
            best = (run.len(), run[0]);
        }
    }
    best.1
}

/// The largest rectangle of the proportion `w` : `h` within `rect`, centred.
pub(crate) fn inside([x, y, rw, rh]: Rect, w: f64, h: f64) -> Rect {
    let scale = (rw / w).min(rh / h);
    let (w, h) = (w * scale, h * scale);
    [x + (rw - w) / 2.0, y + (rh - h) / 2.0, w, h]
}

/// A code to scan that holds `text`; nothing when it is too long for one.
pub(crate) fn scan_code(page: &mut Page, [x, y, side, _]: Rect, text: &str) {
    let Ok(code) = qrcodegen::QrCode::encode_text(text, qrcodegen::QrCodeEcc::Medium) else {
        return;
    };
    page.fill([x, y, side, side], WHITE);
    // Four modules of quiet all around (ISO/IEC 18004).
    let module = side / f64::from(code.size() + 8);
    let mut rects = Vec::new();
    for row in 0..code.size() {
        let mut column = 0;
        while column < code.size() {
            let start = column;
            while column < code.size() && code.get_module(column, row) {
                column += 1;
            }
            if column > start {
                let (left, top) = (f64::from(start + 4) * module, f64::from(row + 4) * module);
                rects.push([x + left, y + top, f64::from(column - start) * module, module]);
            }
            column += 1;
        }
    }
    page.ops.push(Op::Fill { rects, ink: BLACK });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn textures_stay_within_their_swatch_and_differ() {
        let rect = [10.0, 20.0, 5.0, 10.0];
        let all = [
            Texture::Plain,
            Texture::Rising,
            Texture::Falling,
            Texture::Rows,
            Texture::Columns,
            Texture::Diamond,
            Texture::Grid,
            Texture::Dots,
        ];
        let drawn: Vec<_> = all.iter().map(|t| texture(*t, rect)).collect();
        for (i, lines) in drawn.iter().enumerate() {
            for [x0, y0, x1, y1] in lines {
                assert!([x0, x1].into_iter().all(|x| (10.0..=15.0).contains(x)), "{i}");
                assert!([y0, y1].into_iter().all(|y| (20.0..=30.0).contains(y)), "{i}");
            }
            assert!(drawn[..i].iter().all(|other| other != lines), "{i}");
        }
    }

    #[test]
    fn a_coarser_picture_keeps_the_colour_that_most_cells_have() {
        let raster = Raster { columns: 4, cells: vec![1, 1, 2, 2, 1, 3, 2, 2] };
        let (coarse, block) = raster.coarser((2, 1));
        assert_eq!((coarse.columns, coarse.cells, block), (2, vec![1, 2], 4));
    }

    #[test]
    fn a_picture_fills_its_rectangle_once() {
        let raster = Raster { columns: 3, cells: vec![1, 1, 2, 0, 2, 2] };
        let mut page = Page::new((100.0, 100.0));
        raster.draw(&mut page, [0.0, 0.0, 30.0, 20.0], |_| BLACK);
        let area: f64 = page.ops[1..]
            .iter()
            .filter_map(|op| match op {
                Op::Fill { rects, .. } => Some(rects.iter().map(|r| r[2] * r[3]).sum::<f64>()),
                _ => None,
            })
            .sum();
        assert!((area - 500.0).abs() < 1e-9, "{area}");
    }
}
