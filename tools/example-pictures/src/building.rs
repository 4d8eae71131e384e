//! What people built: courses of stone, tiles, windows with bars, timber.

use crate::canvas::Canvas;
use crate::colour::{Colour, hex};
use crate::noise::layered;
use crate::shape::{Point, line, polygon, rect};

/// Squared stone in courses: colour of the wall at a point, with joints between stones of this size.
pub(crate) fn courses(x: f64, y: f64, size: Point, light: Colour, dark: Colour, seed: u64) -> Colour {
    let course = (y / size.1).floor();
    let shift = layered(course * 3.7, 0.5, 1, seed) * 2.0;
    let along = x / size.0 + shift;
    let stone = layered(along.floor() * 5.3, course * 4.1, 1, seed + 1);
    let grain = layered(x / 5.0, y / 4.0, 3, seed + 2) - 0.5;
    let from_edge = (along - along.floor()).min(along.ceil() - along) * size.0;
    let from_bed = (y / size.1 - course).min(course + 1.0 - y / size.1) * size.1;
    let joint = (1.0 - from_edge.min(from_bed) / 1.3).clamp(0.0, 1.0);
    light.mix(dark, stone * 0.9 - 0.1 + grain * 0.4).lighter(-0.13 * joint)
}

/// Roof tiles in rows: colour at a point.
pub(crate) fn tiles(x: f64, y: f64, row: f64, light: Colour, dark: Colour, seed: u64) -> Colour {
    let line = (y / row).floor();
    let down = y / row - line;
    let tile = layered(
        (x / (row * 1.1) + 0.5 * (line - 2.0 * (line / 2.0).floor())).floor() * 3.3,
        line * 5.1,
        1,
        seed,
    );
    let weather = layered(x / 40.0, y / 30.0, 3, seed + 1) - 0.5;
    light.mix(dark, tile * 0.7 + weather * 0.6).lighter(0.06 - 0.15 * down * down)
}

/// Plaster with stains: colour at a point.
pub(crate) fn plaster(x: f64, y: f64, colour: Colour, seed: u64) -> Colour {
    let stain = layered(x / 38.0, y / 22.0, 4, seed) - 0.5;
    colour.lighter(stain * 0.12 + (layered(x / 3.0, y / 3.0, 2, seed + 1) - 0.5) * 0.03)
}

/// A window: panes of glass that brighten downwards, a frame and bars.
pub(crate) struct Window {
    pub(crate) corner: Point,
    pub(crate) size: Point,
    pub(crate) panes: (usize, usize),
    pub(crate) glass: (Colour, Colour),
    pub(crate) frame: Colour,
}

impl Window {
    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        let ((x, y), (w, h)) = (self.corner, self.size);
        canvas.flat(&rect(x - 2.2, y - 2.2, w + 4.4, h + 4.4), self.frame, 1.0);
        canvas.fill(&rect(x, y, w, h), |px, py| {
            let gleam = layered(px / 9.0 + x, py / 14.0, 2, 77) - 0.5;
            (self.glass.0.mix(self.glass.1, (py - y) / h + gleam * 0.8), 1.0)
        });
        let bar = (w * 0.07).clamp(0.9, 2.2);
        for at in 1..self.panes.0 {
            let px = x + w * at as f64 / self.panes.0 as f64;
            canvas.flat(&rect(px - bar / 2.0, y, bar, h), self.frame, 1.0);
        }
        for at in 1..self.panes.1 {
            let py = y + h * at as f64 / self.panes.1 as f64;
            canvas.flat(&rect(x, py - bar / 2.0, w, bar), self.frame, 1.0);
        }
        canvas.flat(&rect(x - 3.5, y + h + 1.5, w + 7.0, 2.6), self.frame.lighter(0.12), 1.0);
    }
}

/// A beam between two points with grain along it.
pub(crate) fn beam(canvas: &mut Canvas, from: Point, to: Point, width: f64, colour: Colour) {
    canvas.fill(&line(&[from, to], width), |x, y| {
        (colour.lighter((layered(x / 4.0, y / 11.0, 3, 5) - 0.5) * 0.14), 1.0)
    });
}

/// A street lamp on a post with a lit lantern; the light around it is washed on separately.
pub(crate) fn lamp(canvas: &mut Canvas, foot: Point, height: f64) {
    let iron = hex(0x1d1c22);
    let top = foot.1 - height;
    canvas.flat(&rect(foot.0 - 1.2, top, 2.4, height), iron, 1.0);
    canvas.flat(&rect(foot.0 - 3.0, foot.1 - 8.0, 6.0, 8.0), iron, 1.0);
    let glass = [(-3.2, 0.0), (3.2, 0.0), (4.8, -10.0), (-4.8, -10.0)].map(|(x, y)| (foot.0 + x, top + y));
    canvas.flat(&polygon(&glass), hex(0xffe7a0), 1.0);
    let cap = [(-6.2, -10.0), (6.2, -10.0), (0.0, -15.5)].map(|(x, y)| (foot.0 + x, top + y));
    canvas.flat(&polygon(&cap), iron, 1.0);
    canvas.flat(&rect(foot.0 - 0.5, top - 10.0, 1.0, 10.0), iron, 1.0);
}
