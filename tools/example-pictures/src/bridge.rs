//! Bridge with a boat: four stone arches mirrored in the wide river, and a boat that has just passed below.

use std::f64::consts::PI;

use crate::building::{courses, lamp};
use crate::canvas::{Canvas, Water};
use crate::colour::{Colour, hex};
use crate::nature::{Leaves, Ridge, birds, clouds, conifer, glow, sky, stone, tree, tuft};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, Shape, arc, bow, circle, ellipse, line, polygon, rect, taper};

/// Where the piers meet the river.
const RIVER: f64 = 452.0;
/// Middle, half width and height of each arch.
const ARCHES: [(f64, f64, f64); 4] =
    [(128.0, 84.0, 74.0), (350.0, 106.0, 104.0), (600.0, 108.0, 106.0), (834.0, 92.0, 80.0)];

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    backdrop(&mut canvas);
    bridge(&mut canvas);
    canvas.water(&Water {
        top: RIVER,
        bottom: 720.0,
        swing: 20.0,
        mirror: (0.85, 0.34),
        far: hex(0x8fc3d6),
        near: hex(0x174a80),
        crest: hex(0xf3f8f4),
        seed: 19,
    });
    boat_mirrored(&mut canvas);
    boat(&mut canvas);
    shore(&mut canvas);
    canvas
}

/// Height of the roadway at x.
fn road(x: f64) -> f64 {
    let off = (x - 480.0) / 480.0;
    300.0 + 46.0 * off * off
}

fn backdrop(canvas: &mut Canvas) {
    let day = [(0.0, hex(0x2f7fcb)), (0.4, hex(0x7fbce6)), (0.75, hex(0xd6e6e2)), (1.0, hex(0xf8dfae))];
    sky(canvas, 400.0, &day);
    clouds(canvas, (0.0, 330.0), 0.62, (hex(0xfffaf0), hex(0x9fb6ca)), 903);
    glow(canvas, (840.0, 260.0), 380.0, hex(0xffeec0), 0.45);
    let ridges = [
        (268.0, 88.0, 210.0, 0.0, 0x7d97bd, 0xc9d5dc, 120.0),
        (318.0, 46.0, 190.0, 4.0, 0x5f8fa0, 0xc2d3bd, 100.0),
        (362.0, 26.0, 160.0, 13.0, 0x3f7a5c, 0x9dba78, 90.0),
    ];
    for (seed, (height, swing, wave, trees, crest, foot, depth)) in (21..).zip(ridges) {
        Ridge { height, swing, wave, trees, crest: hex(crest), foot: hex(foot), depth, seed: seed * 11 }
            .draw(canvas);
    }
    canvas.wash(|x, y| {
        let veil = layered(x / 170.0, y / 26.0, 4, 29);
        (hex(0xf2efdf), 0.6 * step(0.4, 0.8, veil) * step(300.0, 370.0, y) * (1.0 - step(390.0, 440.0, y)))
    });
    let leaves: Leaves = [hex(0x1c4d35), hex(0x3a8444), hex(0xa7c95b)];
    let poplar: Leaves = [hex(0x24523a), hex(0x4a8a48), hex(0xb9cf66)];
    let mut chance = Chance::new(70);
    for at in 0..15 {
        let x = f64::from(at) * 68.0 + chance.between(-24.0, 24.0);
        if at % 4 == 1 {
            conifer(canvas, (x, 446.0), chance.between(120.0, 156.0), &poplar, 160 + at as u64);
        } else {
            tree(canvas, (x, 452.0), chance.between(74.0, 118.0), &leaves, 180 + at as u64);
        }
    }
    canvas.fill(&rect(0.0, 436.0, 960.0, 20.0), |x, y| {
        (hex(0x4f7f38).mix(hex(0xb5c46a), layered(x / 22.0, y / 5.0, 3, 31)), 1.0)
    });
    birds(canvas, (250.0, 110.0), 8, hex(0x2d3c55), 33);
}

/// The bridge's outline with the arches cut out, moved by `shift`.
fn outline(shift: Point, grow: f64) -> Shape {
    let mut points: Vec<Point> = (-4..=100).map(|at| f64::from(at) * 10.0).map(|x| (x, road(x))).collect();
    points.push((1000.0, RIVER + 6.0));
    for (middle, half, height) in ARCHES.iter().rev() {
        let curve = arc((*middle, RIVER - 6.0), (*half - grow, *height - grow), 0.0, -PI);
        points.push((middle + half - grow, RIVER + 6.0));
        points.extend(curve);
        points.push((middle - half + grow, RIVER + 6.0));
    }
    points.push((-40.0, RIVER + 6.0));
    polygon(&points.iter().map(|(x, y)| (x + shift.0, y + shift.1)).collect::<Vec<_>>())
}

fn bridge(canvas: &mut Canvas) {
    // The far rim of each vault shows on the side away from the sun.
    canvas.fill(&outline((-13.0, -2.0), 5.0), |x, y| {
        (courses(x, y, (18.0, 8.0), hex(0x6a5b50), hex(0x3f3a40), 44), 1.0)
    });
    canvas.fill(&outline((0.0, 0.0), 0.0), |x, y| {
        let wall = courses(x, y, (25.0, 11.0), hex(0xe8d3a6), hex(0xa88f6c), 45);
        let damp = step(RIVER - 42.0, RIVER, y);
        let ivy = step(0.6, 0.74, layered(x / 42.0, y / 52.0, 4, 46)) * step(320.0, 400.0, y);
        (wall.mix(hex(0x5a5a48), damp * 0.55).mix(hex(0x55793a), ivy * 0.6), 1.0)
    });
    for arch in ARCHES {
        voussoirs(canvas, arch);
    }
    for (from, to) in [(212.0, 244.0), (456.0, 492.0), (708.0, 742.0)] {
        pier(canvas, from, to);
    }
    parapet(canvas);
    walkers(canvas);
}

/// The ring of wedge stones around an arch.
fn voussoirs(canvas: &mut Canvas, (middle, half, height): (f64, f64, f64)) {
    let count = 23;
    for at in 0..count {
        let (from, to) = (-PI * f64::from(at) / f64::from(count), -PI * f64::from(at + 1) / f64::from(count));
        let reach = if at == count / 2 { 24.0 } else { 17.0 };
        let corner = |angle: f64, out: f64| {
            let (s, c) = units::maths::sin_cos(angle);
            (middle + c * (half + out), RIVER - 6.0 + s * (height + out))
        };
        let gap = 0.006;
        let wedge = [
            corner(from - gap, 0.0),
            corner(from - gap, reach),
            corner(to + gap, reach),
            corner(to + gap, 0.0),
        ];
        let tone = layered(f64::from(at) * 3.1, middle, 1, 47);
        let light = -0.05 * units::maths::cos(from);
        canvas.flat(
            &polygon(&[
                corner(from, -0.5),
                corner(from, reach + 1.5),
                corner(to, reach + 1.5),
                corner(to, -0.5),
            ]),
            hex(0x6b5a48),
            1.0,
        );
        canvas.fill(&polygon(&wedge), |x, y| {
            let grain = layered(x / 5.0, y / 4.0, 3, 48) - 0.5;
            (hex(0xf1dfb6).mix(hex(0xbfa379), tone + grain * 0.5).lighter(-light), 1.0)
        });
    }
}

/// A pier with its pointed foot against the stream.
fn pier(canvas: &mut Canvas, from: f64, to: f64) {
    let (left, right, nose) = (from - 2.0, to + 2.0, (from + to) / 2.0 + 4.0);
    let lit = polygon(&[(left, 372.0), (nose, 366.0), (nose, RIVER + 8.0), (left, RIVER + 4.0)]);
    let shaded = polygon(&[(nose, 366.0), (right, 372.0), (right, RIVER + 4.0), (nose, RIVER + 8.0)]);
    for (face, light, seed) in [(lit, -0.09, 50), (shaded, 0.05, 51)] {
        canvas.fill(&face, |x, y| {
            let damp = step(RIVER - 40.0, RIVER, y);
            let wall = courses(x, y, (15.0, 10.0), hex(0xe8d3a6), hex(0xa88f6c), seed).lighter(light);
            (wall.mix(hex(0x4f5546), damp * 0.6), 1.0)
        });
    }
    let cap = polygon(&[(left - 3.0, 373.0), (nose, 348.0), (right + 3.0, 373.0), (nose, 380.0)]);
    canvas.fill(&cap, |x, _| (if x < nose { hex(0xb7a07a) } else { hex(0xf0e0bb) }, 1.0));
}

fn parapet(canvas: &mut Canvas) {
    let along = |lift: f64| -> Vec<Point> {
        (-2..=98).map(|at| f64::from(at) * 10.0).map(|x| (x, road(x) + lift)).collect()
    };
    canvas.flat(&line(&along(15.0), 5.0), hex(0x8c7657), 1.0);
    canvas.flat(&line(&along(12.5), 2.4), hex(0xf6e8c6), 1.0);
    for at in 0..69 {
        let x = 4.0 + f64::from(at) * 14.0;
        canvas.flat(&rect(x, road(x) - 17.0, 4.6, 18.0), hex(0xd9c298), 1.0);
        canvas.flat(&rect(x + 3.2, road(x) - 17.0, 1.4, 18.0), hex(0x8c7657), 1.0);
    }
    canvas.flat(&line(&along(-18.0), 6.0), hex(0xefddb4), 1.0);
    canvas.flat(&line(&along(-15.0), 1.8), hex(0x8c7657), 1.0);
    for x in [20.0, 238.0, 476.0, 724.0, 940.0] {
        canvas.flat(&rect(x - 7.0, road(x) - 24.0, 14.0, 26.0), hex(0xdcc79d), 1.0);
        canvas.flat(&rect(x + 3.0, road(x) - 24.0, 4.0, 26.0), hex(0xa48b66), 1.0);
        lamp(canvas, (x, road(x) - 24.0), 36.0);
    }
}

/// People who cross the bridge, seen above the parapet.
fn walkers(canvas: &mut Canvas) {
    for (x, coat, tall) in [
        (156.0, 0xc8262d, 25.0),
        (174.0, 0x1c2c5f, 22.0),
        (392.0, 0xf2c41f, 24.0),
        (560.0, 0x0d7d82, 25.0),
        (574.0, 0xf3f1ea, 18.0),
        (812.0, 0x6c4ba3, 24.0),
    ] {
        let foot = road(x) - 20.0;
        let body =
            [(x - 5.0, foot), (x - 3.6, foot - tall * 0.62), (x + 3.6, foot - tall * 0.62), (x + 5.0, foot)];
        canvas.flat(&polygon(&body), hex(coat), 1.0);
        canvas.flat(&circle((x, foot - tall * 0.78), 3.6), hex(0xc99873), 1.0);
        canvas.flat(&ellipse((x, foot - tall * 0.9), (3.9, 2.2), 0.0), hex(0x3a2a22), 1.0);
    }
}

/// A part of the boat: outline and its ink by position.
type Part = (Shape, Colour, Colour);

/// Everything of the boat that has an area; `up` is -1 for the mirrored one.
fn parts(up: f64) -> Vec<Part> {
    let (x, y) = (392.0, 606.0);
    let at = |dx: f64, dy: f64| (x + dx, y - dy * up);
    let curve = |a: Point, b: Point, c: Point| bow(at(a.0, a.1), at(b.0, b.1), at(c.0, c.1));
    let sail = [
        curve((84.0, 222.0), (40.0, 120.0), (-34.0, 34.0)),
        curve((-34.0, 34.0), (30.0, 24.0), (80.0, 34.0)),
    ]
    .concat();
    let gaff = [
        curve((92.0, 214.0), (150.0, 232.0), (196.0, 244.0)),
        curve((196.0, 244.0), (236.0, 130.0), (230.0, 38.0)),
        curve((230.0, 38.0), (160.0, 24.0), (92.0, 34.0)),
    ]
    .concat();
    let hull = [
        curve((-26.0, 24.0), (90.0, -4.0), (238.0, 30.0)),
        curve((226.0, -2.0), (100.0, -26.0), (2.0, -6.0)),
    ]
    .concat();
    let keel = [
        curve((-14.0, 8.0), (100.0, -14.0), (230.0, 10.0)),
        curve((226.0, -2.0), (100.0, -26.0), (2.0, -6.0)),
    ]
    .concat();
    vec![
        (polygon(&sail), hex(0xfaf3df), hex(0xe0c791)),
        (polygon(&gaff), hex(0xd9542f), hex(0x8f2527)),
        (polygon(&hull), hex(0x9a6138), hex(0x4a2c1c)),
        (polygon(&keel), hex(0x1f5a78), hex(0x12314f)),
    ]
}

fn boat_mirrored(canvas: &mut Canvas) {
    for (shape, light, dark) in parts(-1.0) {
        // The mirrored outline is broken by the waves, more so further from the hull.
        let broken = Shape {
            outlines: shape
                .outlines
                .iter()
                .map(|outline| {
                    let moved = outline.iter().map(|(x, y)| {
                        let wave = layered(*y / 7.0, 0.5, 2, 58) - 0.5;
                        (x + wave * (4.0 + (y - 606.0) * 0.16), 606.0 + (y - 606.0) * 0.52)
                    });
                    moved.collect()
                })
                .collect(),
        };
        canvas.fill(&broken, |x, y| {
            let ripple = layered(x / 36.0, y / 3.2, 3, 59);
            (light.mix(dark, 0.55).mix(hex(0x174a80), 0.35), 0.72 * step(0.34, 0.6, ripple))
        });
    }
}

fn boat(canvas: &mut Canvas) {
    let (x, y) = (392.0, 606.0);
    let at = |dx: f64, dy: f64| (x + dx, y - dy);
    for (index, (shape, light, dark)) in parts(1.0).into_iter().enumerate() {
        canvas.fill(&shape, |px, py| {
            let grain = layered(px / 30.0, py / if index > 1 { 2.0 } else { 44.0 }, 3, 60) - 0.5;
            let round = if index < 2 { (px - x) / 230.0 } else { (py - y + 26.0) / 52.0 };
            (light.mix(dark, round * 0.9 + grain * 0.5), 1.0)
        });
    }
    let seam = hex(0x6a4a2c);
    for cloth in 1..7 {
        let t = f64::from(cloth) / 7.0;
        let across = bow(
            at(92.0, 34.0 + 180.0 * t),
            at(160.0, 28.0 + 196.0 * t),
            at(230.0 - 33.0 * t * t, 38.0 + 206.0 * t),
        );
        canvas.flat(&taper(&across, 0.9, 0.9), hex(0x5f1c1f), 0.75);
        let lower = bow(
            at(80.0, 34.0 + 180.0 * t),
            at(40.0 + 30.0 * t, 28.0 + 182.0 * t),
            at(-34.0 + 112.0 * t, 34.0 + 178.0 * t),
        );
        canvas.flat(&taper(&lower, 0.8, 0.8), seam, 0.5);
    }
    for strake in 1..4 {
        let t = f64::from(strake) / 4.0;
        let plank = bow(
            at(-26.0 + 14.0 * t, 24.0 - 18.0 * t),
            at(94.0, -4.0 - 12.0 * t),
            at(238.0 - 8.0 * t, 30.0 - 22.0 * t),
        );
        canvas.flat(&taper(&plank, 1.2, 1.2), hex(0x2f1b12), 0.8);
    }
    canvas.flat(&taper(&bow(at(-27.0, 25.0), at(90.0, -3.0), at(239.0, 31.0)), 4.0, 4.0), hex(0xf0dfb4), 1.0);
    let wood = hex(0x5d3b25);
    for (from, to, wide) in [
        ((87.0, 8.0), (87.0, 262.0), 5.0),
        ((87.0, 212.0), (200.0, 247.0), 3.6),
        ((87.0, 34.0), (236.0, 37.0), 3.6),
        ((-22.0, 26.0), (-78.0, 42.0), 3.4),
    ] {
        canvas.flat(&taper(&[at(from.0, from.1), at(to.0, to.1)], wide, wide * 0.6), wood, 1.0);
    }
    let rope = hex(0x3a2a22);
    for (from, to) in [
        ((87.0, 258.0), (-76.0, 42.0)),
        ((87.0, 258.0), (236.0, 32.0)),
        ((87.0, 250.0), (40.0, 6.0)),
        ((87.0, 250.0), (130.0, 6.0)),
        ((87.0, 262.0), (160.0, 236.0)),
        ((87.0, 228.0), (-30.0, 30.0)),
    ] {
        canvas.flat(&line(&[at(from.0, from.1), at(to.0, to.1)], 1.1), rope, 0.95);
    }
    for rung in 1..8 {
        let t = f64::from(rung) / 9.0;
        let lift = 6.0 + 244.0 * t;
        canvas.flat(&line(&[at(40.0 + 47.0 * t, lift), at(130.0 - 43.0 * t, lift)], 0.9), rope, 0.8);
    }
    canvas.flat(&polygon(&[at(87.0, 264.0), at(128.0, 258.0), at(87.0, 250.0)]), hex(0xf2c41f), 1.0);
    for (dx, coat) in [(30.0, 0x1f63c4), (182.0, 0xf2c41f), (204.0, 0x1d7f41)] {
        canvas.flat(
            &polygon(&[at(dx - 7.0, 8.0), at(dx - 5.0, 32.0), at(dx + 5.0, 32.0), at(dx + 7.0, 8.0)]),
            hex(coat),
            1.0,
        );
        canvas.flat(&circle(at(dx, 38.0), 5.2), hex(0xc99873), 1.0);
        canvas.flat(&ellipse(at(dx, 42.0), (6.0, 2.6), 0.0), hex(0x4a3424), 1.0);
    }
    wake(canvas);
}

fn wake(canvas: &mut Canvas) {
    let mut chance = Chance::new(64);
    for _ in 0..150 {
        let t = chance.next();
        let at = (380.0 + 270.0 * t, 617.0 + chance.between(-4.0, 8.0) * (1.0 - t) + 3.0 * t);
        canvas.flat(
            &ellipse(at, (chance.between(3.0, 15.0), chance.between(0.7, 1.9)), 0.02),
            hex(0xf6fbfa),
            0.55,
        );
    }
}

fn shore(canvas: &mut Canvas) {
    let bank = [&bow((0.0, 628.0), (180.0, 664.0), (330.0, 720.0))[..], &[(0.0, 720.0)]].concat();
    canvas.fill(&polygon(&bank), |x, y| {
        (hex(0x3a6a2c).mix(hex(0xb3c35c), layered(x / 26.0, y / 12.0, 4, 81) * 1.3 - 0.2), 1.0)
    });
    let mut chance = Chance::new(82);
    for at in 0..14 {
        let t = chance.next();
        let size = chance.between(12.0, 30.0);
        let place = (t * 330.0, 636.0 + t * t * 84.0 + chance.between(-4.0, 10.0));
        stone(canvas, place, (size * 1.2, size * 0.65), (hex(0x3b3a3a), hex(0xd2c8b2)), 0.4, 500 + at as u64);
    }
    let blades = [0x255c2b, 0x4a8c36, 0x86b545, 0xc6d873].map(hex);
    for at in 0..34 {
        let t = chance.next();
        tuft(
            canvas,
            (t * 290.0, 652.0 + t * t * 80.0 + chance.between(0.0, 50.0)),
            chance.between(22.0, 56.0),
            &blades,
            600 + at as u64,
        );
    }
    for at in 0..26 {
        let x = chance.between(860.0, 965.0);
        let tall = chance.between(60.0, 132.0);
        let root = (x, 724.0);
        let tip = (x + chance.between(-16.0, 16.0), 724.0 - tall);
        canvas.flat(&taper(&bow(root, (x, 724.0 - tall * 0.6), tip), 3.0, 1.2), blades[at % 4], 1.0);
        if at % 2 == 0 {
            canvas.flat(
                &taper(&[(tip.0, tip.1 - 10.0), (tip.0, tip.1 + 14.0)], 5.0, 6.0),
                hex(0x6a4326),
                1.0,
            );
        }
    }
}
