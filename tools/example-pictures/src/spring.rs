//! The spring: water wells up between mossy stones under ferns, and runs off towards the viewer.

use crate::canvas::{Canvas, HEIGHT};
use crate::colour::hex;
use crate::nature::{Leaves, Ridge, conifer, glow, sky, stone, tree, tuft};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, bow, ellipse, polygon};

/// Where the water comes out of the rock.
const SOURCE: Point = (470.0, 318.0);

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    forest(&mut canvas);
    slope(&mut canvas);
    rocks(&mut canvas);
    brook(&mut canvas);
    banks(&mut canvas);
    canvas
}

fn forest(canvas: &mut Canvas) {
    let dawn = [(0.0, hex(0x5fa3d8)), (0.6, hex(0xcfe3e2)), (1.0, hex(0xf8e6b4))];
    sky(canvas, 260.0, &dawn);
    glow(canvas, (720.0, 60.0), 420.0, hex(0xfff2c0), 0.7);
    Ridge {
        height: 190.0,
        swing: 34.0,
        wave: 260.0,
        trees: 18.0,
        crest: hex(0x6f9fa0),
        foot: hex(0xb9d0b0),
        depth: 120.0,
        seed: 311,
    }
    .draw(canvas);
    let dark: Leaves = [hex(0x173d2c), hex(0x2f6b3c), hex(0x86b04e)];
    let light: Leaves = [hex(0x2a5a2c), hex(0x5c9a3e), hex(0xc2d667)];
    let mut chance = Chance::new(312);
    for at in 0..13 {
        let x = f64::from(at) * 80.0 + chance.between(-26.0, 26.0);
        let foot = (x, 286.0 + chance.between(-10.0, 12.0));
        if at % 3 == 0 {
            tree(canvas, foot, chance.between(130.0, 190.0), &light, 320 + at as u64);
        } else {
            conifer(canvas, foot, chance.between(170.0, 250.0), &dark, 340 + at as u64);
        }
    }
}

/// The meadow falls from the forest to the viewer.
fn slope(canvas: &mut Canvas) {
    canvas.wash(|x, y| {
        let edge = 282.0 + 14.0 * layered(x / 90.0, 1.0, 3, 351);
        let grain = layered(x / 24.0, y / 10.0, 4, 352) - 0.5;
        let down = (y - edge) / (HEIGHT as f64 - edge);
        (hex(0x3f7d3a).mix(hex(0x9cc14c), down + grain * 0.7), step(edge - 2.0, edge + 2.0, y))
    });
}

fn rocks(canvas: &mut Canvas) {
    let grey = (hex(0x3f4246), hex(0xc9c4b6));
    let warm = (hex(0x4a3f38), hex(0xd8c7a4));
    let big: [(Point, Point, f64); 7] = [
        ((350.0, 300.0), (120.0, 84.0), 0.7),
        ((590.0, 292.0), (132.0, 92.0), 0.6),
        ((468.0, 248.0), (110.0, 66.0), 0.9),
        ((250.0, 360.0), (84.0, 54.0), 0.5),
        ((706.0, 356.0), (90.0, 58.0), 0.4),
        ((400.0, 362.0), (58.0, 36.0), 0.3),
        ((548.0, 366.0), (62.0, 38.0), 0.3),
    ];
    for (seed, (middle, half, moss)) in (360..).zip(big) {
        stone(canvas, middle, half, if seed % 2 == 0 { grey } else { warm }, moss, seed);
    }
    // The dark mouth that the water comes from.
    canvas.flat(&ellipse((SOURCE.0, SOURCE.1 - 6.0), (46.0, 30.0), 0.0), hex(0x15242c), 0.95);
}

/// Left or right bank of the brook at a height, as an outline from the source down.
fn bank(side: f64) -> Vec<Point> {
    let knee = (SOURCE.0 + side * 60.0 - 60.0, 440.0);
    let foot = (SOURCE.0 + side * 330.0 + 40.0, HEIGHT as f64);
    let upper = bow((SOURCE.0 + side * 34.0, SOURCE.1), (SOURCE.0 + side * 40.0, 390.0), knee);
    let lower = bow(knee, (knee.0 + side * 50.0 - 30.0, 560.0), foot);
    [upper, lower].concat()
}

fn brook(canvas: &mut Canvas) {
    let mut outline = bank(-1.0);
    outline.extend(bank(1.0).into_iter().rev());
    canvas.fill(&polygon(&outline), |x, y| {
        let near = ((y - SOURCE.1) / (HEIGHT as f64 - SOURCE.1)).clamp(0.0, 1.0);
        let size = 9.0 + 40.0 * near;
        let wave = layered(x / (size * 1.4), y / (size * 0.5), 4, 371);
        let deep = hex(0x9fd0e2).mix(hex(0x1d6fb2), near * 0.8 + (wave - 0.5) * 0.9);
        let foam = step(0.6, 0.72, wave) * (0.95 - 0.4 * near);
        (deep.mix(hex(0xf6fbf8), foam), 1.0)
    });
    // The little fall below the mouth.
    canvas.fill(&polygon(&[(436.0, 318.0), (504.0, 318.0), (512.0, 396.0), (424.0, 396.0)]), |x, y| {
        let strand = layered(x / 5.0, y / 60.0, 3, 372);
        (hex(0x6fb4d8).mix(hex(0xffffff), step(0.35, 0.65, strand)), 0.92)
    });
}

fn banks(canvas: &mut Canvas) {
    let mut chance = Chance::new(381);
    let grey = (hex(0x46474a), hex(0xd2cdbf));
    for at in 0..26 {
        let side = if at % 2 == 0 { -1.0 } else { 1.0 };
        let points = bank(side);
        let middle = points[(chance.next() * 41.0) as usize];
        let near = (middle.1 - 300.0) / 420.0;
        let half = (10.0 + 34.0 * near * chance.between(0.6, 1.3), 6.0 + 20.0 * near);
        stone(canvas, (middle.0 + side * half.0 * 0.5, middle.1), half, grey, 0.4, 390 + at as u64);
    }
    let greens = [hex(0x2f6a2c), hex(0x6fa53c), hex(0xc3d95c), hex(0x1f4c2a)];
    for at in 0..70 {
        let foot = (chance.between(0.0, 960.0), chance.between(420.0, 720.0));
        let run = (foot.1 - SOURCE.1) / (HEIGHT as f64 - SOURCE.1);
        if (foot.0 - SOURCE.0).abs() > 70.0 + 330.0 * run {
            tuft(canvas, foot, 24.0 + 60.0 * run, &greens, 420 + at);
        }
    }
    for _ in 0..90 {
        let at = (chance.between(0.0, 960.0), chance.between(430.0, 712.0));
        let run = (at.1 - SOURCE.1) / (HEIGHT as f64 - SOURCE.1);
        if (at.0 - SOURCE.0).abs() > 80.0 + 330.0 * run {
            let petal = chance.pick(&[hex(0xf4cf3a), hex(0xec92b0), hex(0xf7f4ea), hex(0xc8262d)]);
            let size = 3.0 + 8.0 * run;
            canvas.flat(&ellipse(at, (size, size * 0.8), 0.0), petal, 1.0);
        }
    }
}
