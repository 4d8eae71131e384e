//! What every scene has: sky and clouds, ridges in the mist, trees, grass, stones, birds.

use units::maths;

use crate::canvas::{Canvas, HEIGHT, WIDTH};
use crate::colour::{Colour, hex, ramp};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, bow, circle, ellipse, polygon, taper};

/// A sky that runs through colours from the top (0) to `bottom`.
pub(crate) fn sky(canvas: &mut Canvas, bottom: f64, stops: &[(f64, Colour)]) {
    canvas.wash(|x, y| (ramp(stops, y / bottom + 0.02 * (layered(x / 300.0, y / 60.0, 2, 11) - 0.5)), 1.0));
}

/// Clouds between two heights, lit from above; `share` says how much of the sky they take.
pub(crate) fn clouds(
    canvas: &mut Canvas,
    heights: (f64, f64),
    share: f64,
    colours: (Colour, Colour),
    seed: u64,
) {
    let (top, bottom) = heights;
    let thick = |x: f64, y: f64| {
        let squeeze = 34.0 + 40.0 * (1.0 - (y - top) / (bottom - top)).clamp(0.0, 1.0);
        layered(x / (squeeze * 3.6), y / squeeze, 5, seed)
    };
    canvas.wash(|x, y| {
        let fade = step(top - 40.0, top + 50.0, y) * (1.0 - step(bottom - 60.0, bottom, y));
        if fade <= 0.0 {
            return (colours.0, 0.0);
        }
        let here = thick(x, y);
        let light = 0.5 + (here - thick(x - 5.0, y - 9.0)) * 7.0;
        (colours.1.mix(colours.0, light), fade * step(0.62 - 0.3 * share, 0.8 - 0.2 * share, here) * 0.95)
    });
}

/// A soft round light.
pub(crate) fn glow(canvas: &mut Canvas, middle: Point, radius: f64, colour: Colour, strength: f64) {
    canvas.wash(|x, y| {
        let far = maths::hypot(x - middle.0, y - middle.1) / radius;
        (colour, if far < 1.0 { strength * (1.0 - far) * (1.0 - far) } else { 0.0 })
    });
}

/// A ridge across the picture: its mean height, swing and wavelength, colours of crest and foot.
pub(crate) struct Ridge {
    pub(crate) height: f64,
    pub(crate) swing: f64,
    pub(crate) wave: f64,
    /// Height of the tree tops along the crest, in pixels.
    pub(crate) trees: f64,
    pub(crate) crest: Colour,
    pub(crate) foot: Colour,
    /// How far below the crest the foot's colour is reached.
    pub(crate) depth: f64,
    pub(crate) seed: u64,
}

impl Ridge {
    /// Height of the crest at x, without trees.
    pub(crate) fn at(&self, x: f64) -> f64 {
        self.height + self.swing * 2.0 * (layered(x / self.wave, 0.5, 4, self.seed) - 0.5)
    }

    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        let mut points: Vec<Point> = vec![(0.0, HEIGHT as f64)];
        for half in 0..=WIDTH * 2 {
            let x = half as f64 / 2.0;
            let tops = layered(x / (self.trees * 0.55 + 1.0), 3.5, 3, self.seed + 9);
            points.push((x, self.at(x) - self.trees * tops));
        }
        points.push((WIDTH as f64, HEIGHT as f64));
        canvas.fill(&polygon(&points), |x, y| {
            let patches = layered(x / 26.0, y / 9.0, 3, self.seed + 3) - 0.5;
            let down = (y - self.at(x)) / self.depth;
            (self.crest.mix(self.foot, down + patches * 0.3).lighter(patches * 0.09), 1.0)
        });
    }
}

/// Leaves of a tree: shade, middle, light.
pub(crate) type Leaves = [Colour; 3];

/// A broad tree standing at `foot`, `height` pixels high, lit from the upper left.
pub(crate) fn tree(canvas: &mut Canvas, foot: Point, height: f64, leaves: &Leaves, seed: u64) {
    let mut chance = Chance::new(seed);
    let bark = hex(0x3d2a1f);
    let top = (foot.0 + height * chance.between(-0.04, 0.04), foot.1 - height * 0.62);
    canvas.flat(
        &taper(&bow(foot, (foot.0, foot.1 - height * 0.3), top), height * 0.075, height * 0.03),
        bark,
        1.0,
    );
    for side in [-1.0, 1.0, -0.6, 0.7] {
        let from = (foot.0, foot.1 - height * chance.between(0.25, 0.42));
        let to = (foot.0 + side * height * 0.24, foot.1 - height * chance.between(0.5, 0.66));
        canvas.flat(&taper(&bow(from, (from.0, to.1 + 8.0), to), height * 0.03, height * 0.01), bark, 1.0);
    }
    let middle = (foot.0, foot.1 - height * 0.63);
    let count = (60.0 + height * 2.4) as usize;
    for pass in 0..3 {
        for _ in 0..count / if pass == 0 { 2 } else { 1 } {
            let angle = chance.between(0.0, std::f64::consts::TAU);
            let far = chance.next().sqrt();
            let (s, c) = maths::sin_cos(angle);
            let lump = 0.85 + 0.3 * layered(angle * 1.3 + 9.0, pass as f64, 2, seed);
            let at = (middle.0 + c * far * height * 0.31 * lump, middle.1 + s * far * height * 0.36 * lump);
            let lit = 0.5 - (c * 0.35 + s * 0.65) * far * 0.75 + chance.between(-0.28, 0.28);
            let size = height * [0.07, 0.042, 0.024][pass] * chance.between(0.6, 1.3);
            let tone = (lit + [-0.4, -0.16, 0.1][pass]).clamp(0.0, 1.0);
            let colour = ramp(&[(0.0, leaves[0]), (0.5, leaves[1]), (1.0, leaves[2])], tone);
            canvas.flat(&ellipse(at, (size, size * 0.7), chance.between(0.0, 3.0)), colour, 0.92);
        }
    }
}

/// A slender conifer.
pub(crate) fn conifer(canvas: &mut Canvas, foot: Point, height: f64, leaves: &Leaves, seed: u64) {
    let mut chance = Chance::new(seed);
    canvas.flat(&taper(&[foot, (foot.0, foot.1 - height)], height * 0.04, 0.6), hex(0x33241c), 1.0);
    let tiers = 7 + (height / 9.0) as usize;
    for tier in 0..tiers {
        let t = tier as f64 / tiers as f64;
        let y = foot.1 - height * (0.1 + 0.88 * t);
        let reach = height * 0.24 * (1.0 - t) + 1.5;
        for side in [-1.0, 1.0] {
            let tip =
                (foot.0 + side * reach * chance.between(0.8, 1.1), y + reach * chance.between(0.3, 0.5));
            let branch =
                [(foot.0, y - height * 0.05), tip, (foot.0 - side * reach * 0.1, y + height * 0.045)];
            let colour = if side < 0.0 {
                leaves[1].mix(leaves[2], chance.next() * 0.8)
            } else {
                leaves[0].mix(leaves[1], chance.next() * 0.6)
            };
            canvas.flat(&polygon(&branch), colour, 1.0);
        }
    }
}

/// A tuft of grass.
pub(crate) fn tuft(canvas: &mut Canvas, foot: Point, height: f64, colours: &[Colour], seed: u64) {
    let mut chance = Chance::new(seed);
    for _ in 0..14 {
        let lean = chance.between(-0.55, 0.55) * height;
        let tall = height * chance.between(0.55, 1.0);
        let root = (foot.0 + chance.between(-0.2, 0.2) * height, foot.1);
        let blade = bow(root, (root.0 + lean * 0.2, root.1 - tall * 0.7), (root.0 + lean, root.1 - tall));
        canvas.flat(&taper(&blade, height * 0.06, 0.5), chance.pick(colours), 1.0);
    }
}

/// A rounded stone, lit from the upper left, with moss on top when `moss` is above 0.
pub(crate) fn stone(
    canvas: &mut Canvas,
    middle: Point,
    half: Point,
    colours: (Colour, Colour),
    moss: f64,
    seed: u64,
) {
    let points: Vec<Point> = (0..48)
        .map(|at| {
            let angle = std::f64::consts::TAU * f64::from(at) / 48.0;
            let (s, c) = maths::sin_cos(angle);
            let lump = 0.8 + 0.36 * layered(2.0 + c * 1.4, 2.0 + s * 1.4, 3, seed);
            (middle.0 + half.0 * c * lump, middle.1 + half.1 * s * lump)
        })
        .collect();
    let green = (hex(0x2f5a2b), hex(0x8fb04a));
    canvas.fill(&polygon(&points), |x, y| {
        let (u, v) = ((x - middle.0) / half.0, (y - middle.1) / half.1);
        let grain = layered(x / 13.0, y / 8.0, 4, seed + 1) - 0.5;
        let light = 0.45 - 0.28 * u - 0.5 * v + grain * 0.9;
        let rock = colours.0.mix(colours.1, light);
        let mossy = moss * step(0.05, 0.55, -v * 0.8 + grain * 1.6);
        (rock.mix(green.0.mix(green.1, light + grain), mossy), 1.0)
    });
}

/// Birds far away, as pairs of bent wings.
pub(crate) fn birds(canvas: &mut Canvas, middle: Point, count: usize, colour: Colour, seed: u64) {
    let mut chance = Chance::new(seed);
    for _ in 0..count {
        let at = (middle.0 + chance.between(-90.0, 90.0), middle.1 + chance.between(-36.0, 36.0));
        let span = chance.between(5.0, 11.0);
        for side in [-1.0, 1.0] {
            let tip = (at.0 + side * span, at.1 - span * 0.15);
            canvas.flat(
                &taper(&bow(at, (at.0 + side * span * 0.45, at.1 - span * 0.6), tip), 2.0, 0.7),
                colour,
                0.9,
            );
        }
    }
}

/// Stars in the upper part of a sky.
pub(crate) fn stars(canvas: &mut Canvas, bottom: f64, count: usize, seed: u64) {
    let mut chance = Chance::new(seed);
    for _ in 0..count {
        let at = (chance.between(0.0, WIDTH as f64), bottom * chance.next() * chance.between(0.4, 1.0));
        let dim = 1.0 - at.1 / bottom;
        canvas.flat(&circle(at, chance.between(0.6, 1.7)), hex(0xfff6dc), 0.35 + 0.6 * dim);
    }
}
