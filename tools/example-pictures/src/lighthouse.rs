//! Lighthouse and sea: the river has arrived, and a striped tower sweeps its light over the evening waves.

use std::f64::consts::{PI, TAU};

use units::maths;

use crate::building::{Window, courses, plaster, tiles};
use crate::canvas::{Canvas, HEIGHT, WIDTH, Water};
use crate::colour::{Colour, hex, ramp};
use crate::nature::{birds, clouds, glow, sky, stars, stone, tuft};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, arc, bow, circle, ellipse, line, polygon, rect, taper};

/// The line between sea and sky.
const HORIZON: f64 = 438.0;
/// Middle of the tower, its foot and its gallery.
const TOWER: f64 = 648.0;
const FOOT: f64 = 520.0;
const GALLERY: f64 = 196.0;

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    evening(&mut canvas);
    beams(&mut canvas);
    ship(&mut canvas);
    canvas.water(&Water {
        top: HORIZON,
        bottom: 720.0,
        swing: 30.0,
        mirror: (0.8, 0.42),
        far: hex(0x7a6fa8),
        near: hex(0x12234f),
        crest: hex(0xe8c6c0),
        seed: 41,
    });
    sunpath(&mut canvas);
    swell(&mut canvas);
    headland(&mut canvas);
    cottage(&mut canvas);
    tower(&mut canvas);
    lantern(&mut canvas);
    foreground(&mut canvas);
    canvas
}

fn evening(canvas: &mut Canvas) {
    let tones = [
        (0.0, hex(0x101a48)),
        (0.3, hex(0x35408c)),
        (0.55, hex(0x7d5ba3)),
        (0.76, hex(0xd97f93)),
        (0.9, hex(0xf6a662)),
        (1.0, hex(0xfcd68a)),
    ];
    sky(canvas, HORIZON, &tones);
    stars(canvas, 240.0, 120, 3);
    glow(canvas, (196.0, 424.0), 360.0, hex(0xffe6a6), 0.85);
    canvas.flat(&circle((196.0, 418.0), 30.0), hex(0xfff3cf), 0.95);
    clouds(canvas, (110.0, 420.0), 0.46, (hex(0xfbb08a), hex(0x5c4a8e)), 233);
    clouds(canvas, (250.0, 436.0), 0.3, (hex(0xfdd59a), hex(0xa9608e)), 238);
    birds(canvas, (400.0, 300.0), 8, hex(0x2a2450), 4);
}

/// Two beams with soft edges that thin out with distance.
fn beams(canvas: &mut Canvas) {
    let from = (TOWER, GALLERY - 44.0);
    for (angle, spread, reach, strength) in [(PI - 0.1, 0.085, 760.0, 0.62), (-0.13, 0.1, 480.0, 0.55)] {
        let (s, c) = maths::sin_cos(angle);
        canvas.wash(|x, y| {
            let (dx, dy) = (x - from.0, y - from.1);
            let along = dx * c + dy * s;
            if along < 0.0 {
                return (hex(0xfff0b8), 0.0);
            }
            let off = (dy * c - dx * s).abs() / (along * spread + 7.0);
            let dust = 0.8 + 0.4 * layered(x / 60.0, y / 18.0, 3, 6);
            (hex(0xfff0b8), strength * dust * (1.0 - step(0.2, 1.0, off)) * (1.0 - along / reach).max(0.0))
        });
    }
    glow(canvas, from, 150.0, hex(0xfff0b8), 0.7);
}

/// A three-master far out, dark against the evening.
fn ship(canvas: &mut Canvas) {
    let (x, y, dark) = (330.0, HORIZON - 1.0, hex(0x3a2b55));
    let hull = [
        bow((x - 36.0, y - 9.0), (x, y - 3.0), (x + 40.0, y - 11.0)),
        bow((x + 32.0, y + 1.0), (x, y + 2.0), (x - 29.0, y + 1.0)),
    ]
    .concat();
    canvas.flat(&polygon(&hull), dark, 0.95);
    for (dx, tall) in [(-20.0, 42.0), (2.0, 52.0), (23.0, 44.0)] {
        canvas.flat(&line(&[(x + dx, y - 4.0), (x + dx, y - tall)], 1.3), dark, 0.95);
        for sail in 0..3 {
            let high = y - 10.0 - (tall - 12.0) * f64::from(sail) / 3.0;
            let wide = 10.0 - 2.0 * f64::from(sail);
            let rise = (tall - 14.0) / 3.0 - 1.5;
            let cloth = [
                bow((x + dx - wide, high), (x + dx, high + 2.5), (x + dx + wide, high)),
                vec![(x + dx + wide - 1.5, high - rise), (x + dx - wide + 1.5, high - rise)],
            ]
            .concat();
            canvas.fill(&polygon(&cloth), |px, _| {
                (hex(0xf2b38c).mix(hex(0x8a5f86), (px - x - dx) / 18.0 + 0.4), 0.95)
            });
        }
    }
    canvas.flat(&line(&[(x + 38.0, y - 10.0), (x + 56.0, y - 20.0)], 1.2), dark, 0.9);
    for (a, b) in [
        ((x + 23.0, y - 43.0), (x + 55.0, y - 19.0)),
        ((x + 2.0, y - 51.0), (x + 23.0, y - 12.0)),
        ((x - 20.0, y - 41.0), (x - 36.0, y - 10.0)),
    ] {
        canvas.flat(&line(&[a, b], 0.8), dark, 0.8);
    }
}

/// The low sun's path on the water, in broken strokes.
fn sunpath(canvas: &mut Canvas) {
    let mut chance = Chance::new(51);
    for _ in 0..420 {
        let t = chance.next() * chance.next().sqrt();
        let wide = 16.0 + 90.0 * t;
        let at = (196.0 + (chance.next() + chance.next() - 1.0) * wide, HORIZON + 2.0 + 270.0 * t);
        let size = (chance.between(4.0, 12.0) * (0.5 + 2.0 * t), 0.7 + 2.0 * t);
        let colour = hex(0xfff0c4).mix(hex(0xf59a5c), chance.next());
        canvas.flat(&ellipse(at, size, 0.0), colour, 0.62 - 0.3 * t);
    }
}

/// Long waves that come in with foam on their backs.
fn swell(canvas: &mut Canvas) {
    for (seed, (y, thick)) in
        (60..).zip([(470.0, 3.0), (502.0, 5.0), (546.0, 8.0), (602.0, 12.0), (664.0, 17.0)])
    {
        let crest = |x: f64| y + (layered(x / 130.0, y, 3, seed) - 0.5) * thick * 3.0;
        canvas.wash(|x, py| {
            let below = (py - crest(x)) / thick;
            if !(-0.5..3.0).contains(&below) {
                return (hex(0), 0.0);
            }
            let lace = layered(x / (thick * 2.4), py / (thick * 0.5), 4, seed + 7);
            let foam = step(0.5, 0.72, lace) * step(-0.4, 0.1, below) * (1.0 - step(0.4, 1.5, below));
            let shade = step(0.6, 1.4, below) * (1.0 - step(1.4, 3.0, below)) * 0.4;
            let lit = 1.0 - x / 1500.0;
            if foam > 0.02 {
                (hex(0x9a96c4).mix(hex(0xffe9da), lit), foam * 0.85)
            } else {
                (hex(0x0e1c46), shade)
            }
        });
    }
}

/// The top of the headland at x.
fn land(x: f64) -> f64 {
    let rise = step(400.0, 560.0, x) * (1.0 - 0.35 * step(760.0, 960.0, x));
    720.0 - 196.0 * rise - 18.0 * (layered(x / 60.0, 1.5, 3, 70) - 0.5)
}

fn headland(canvas: &mut Canvas) {
    let top: Vec<Point> = (72..=192).map(|at| f64::from(at) * 5.0).map(|x| (x, land(x))).collect();
    let shape = [&top[..], &[(WIDTH as f64, HEIGHT as f64), (360.0, HEIGHT as f64)]].concat();
    canvas.fill(&polygon(&shape), |x, y| {
        let down = y - land(x);
        let crack = layered(x / 34.0 + y / 90.0, y / 46.0, 5, 71);
        let rock = ramp(
            &[(0.25, hex(0x1c1826)), (0.5, hex(0x54444c)), (0.72, hex(0xa27a6a)), (0.85, hex(0xd9a684))],
            crack + 0.12 * (1.0 - (x - 400.0) / 500.0),
        );
        let grass = hex(0x2c4a38).mix(hex(0x7f9a50), layered(x / 18.0, y / 6.0, 3, 72));
        let edge = 16.0 + 26.0 * layered(x / 24.0, 0.5, 3, 73);
        (grass.mix(rock, step(edge - 8.0, edge + 10.0, down)).lighter(-0.0008 * down), 1.0)
    });
    let path = [
        bow((560.0, 592.0), (590.0, 552.0), (628.0, FOOT + 8.0)),
        bow((664.0, FOOT + 8.0), (626.0, 560.0), (606.0, 600.0)),
    ]
    .concat();
    canvas.fill(&polygon(&path), |x, y| {
        (hex(0xb59a86).mix(hex(0x6f5a66), layered(x / 9.0, y / 5.0, 3, 74)), 0.9)
    });
    let wood = hex(0xd9cbb4);
    for at in 0..17 {
        let x = 700.0 + f64::from(at) * 16.0;
        canvas.flat(&rect(x, land(x) - 17.0, 2.6, 20.0), wood, 1.0);
        for lift in [15.0, 8.0] {
            canvas.flat(&line(&[(x, land(x) - lift), (x + 16.0, land(x + 16.0) - lift)], 1.6), wood, 0.95);
        }
    }
}

fn cottage(canvas: &mut Canvas) {
    let foot = 540.0;
    canvas.fill(&rect(744.0, 452.0, 148.0, foot - 452.0), |x, y| {
        (plaster(x, y, hex(0xf3e6d2), 80).mix(hex(0x3d3868), 0.28 + 0.3 * (x - 744.0) / 148.0), 1.0)
    });
    canvas.fill(&rect(744.0, 526.0, 148.0, 16.0), |x, y| {
        (courses(x, y, (14.0, 7.0), hex(0x8a7a80), hex(0x4a4258), 81), 1.0)
    });
    canvas.fill(&rect(848.0, 388.0, 20.0, 44.0), |x, y| {
        (courses(x, y, (8.0, 5.0), hex(0xa0655a), hex(0x5c3844), 82), 1.0)
    });
    let roof = [(732.0, 456.0), (762.0, 404.0), (876.0, 404.0), (904.0, 456.0)];
    canvas.fill(&polygon(&roof), |x, y| {
        let light = 0.05 - 0.14 * step(760.0, 900.0, x);
        (tiles(x, y, 6.5, hex(0x6a7a96), hex(0x343c5c), 83).lighter(light), 1.0)
    });
    canvas.flat(&line(&[(732.0, 456.0), (904.0, 456.0)], 3.0), hex(0x2a2440), 1.0);
    canvas.flat(&line(&[(733.0, 455.0), (762.0, 404.0)], 2.0), hex(0xffc79a), 0.7);
    let glass = (hex(0xfff0b0), hex(0xf2a53c));
    for x in [758.0, 850.0] {
        Window { corner: (x, 474.0), size: (26.0, 32.0), panes: (2, 3), glass, frame: hex(0xe9dcc6) }
            .draw(canvas);
        glow(canvas, (x + 13.0, 490.0), 46.0, hex(0xffbe62), 0.3);
    }
    canvas.fill(&rect(806.0, 472.0, 28.0, 66.0), |x, _| {
        (hex(0x1f5a62).lighter((layered(x / 4.0, 0.5, 2, 8) - 0.5) * 0.16), 1.0)
    });
    canvas.flat(&rect(802.0, 467.0, 36.0, 5.0), hex(0xe9dcc6), 1.0);
    canvas.flat(&circle((829.0, 508.0), 1.9), hex(0xf2c96a), 1.0);
}

/// Half the tower's width at a height.
fn half(y: f64) -> f64 {
    let t = (y - GALLERY) / (FOOT - GALLERY);
    35.0 + 17.0 * t + 9.0 * t * t
}

/// Light on a round wall: `u` runs from -1 at the left edge to 1 at the right; the sun stands low at the left.
fn round(colour: Colour, u: f64) -> Colour {
    let warm = colour.mix(hex(0xffb877), 0.36 * step(0.1, -0.7, u).max(0.0));
    let lit = warm.mix(hex(0xffb877), 0.3 * (1.0 - step(-0.9, 0.1, u)));
    lit.mix(hex(0x221d50), 0.1 + 0.58 * step(-0.2, 0.95, u)).lighter(-0.05 * step(-0.8, -1.0, u))
}

fn tower(canvas: &mut Canvas) {
    canvas.fill(
        &polygon(&[
            (TOWER - 76.0, FOOT + 16.0),
            (TOWER - 68.0, FOOT - 14.0),
            (TOWER + 68.0, FOOT - 14.0),
            (TOWER + 76.0, FOOT + 16.0),
        ]),
        |x, y| {
            (round(courses(x, y, (18.0, 10.0), hex(0xcdbfb0), hex(0x8a7d80), 90), (x - TOWER) / 72.0), 1.0)
        },
    );
    let side = |sign: f64| -> Vec<Point> {
        (0..=40)
            .map(|at| GALLERY + (FOOT - 12.0 - GALLERY) * f64::from(at) / 40.0)
            .map(|y| (TOWER + sign * half(y), y))
            .collect()
    };
    let wall = [side(-1.0), side(1.0).into_iter().rev().collect()].concat();
    canvas.fill(&polygon(&wall), |x, y| {
        let u = (x - TOWER) / half(y);
        // Rings bend with the round wall, seen from below.
        let lifted = y + 7.0 * (1.0 - u * u).max(0.0).sqrt();
        let ring = (lifted - GALLERY) / 48.0;
        let edge = (ring - ring.round()).abs() * 48.0;
        let (white, red) = (hex(0xf6f0e4), hex(0xc8262d));
        let even = (ring.floor() / 2.0).fract() < 0.25;
        let bands = if even { red } else { white };
        let soft = bands.mix(if even { white } else { red }, 0.5 - (edge / 1.4).min(1.0) * 0.5);
        let bed = (lifted / 8.0).fract();
        let worn = (layered(x / 14.0, y / 22.0, 4, 91) - 0.5) * 0.1 - if bed < 0.12 { 0.035 } else { 0.0 };
        (round(soft.lighter(worn), u), 1.0)
    });
    for (index, y) in [262.0, 342.0, 424.0].into_iter().enumerate() {
        let x = TOWER - 14.0 + 10.0 * index as f64;
        let glass = (hex(0xffefb4), hex(0xf0a848));
        canvas.flat(&polygon(&arc((x + 7.5, y), (10.0, 11.0), PI, TAU)), hex(0x3a2f48), 1.0);
        Window { corner: (x, y), size: (15.0, 24.0), panes: (2, 3), glass, frame: hex(0x3a2f48) }
            .draw(canvas);
    }
    let arch = [
        &arc((TOWER - 6.0, FOOT - 40.0), (15.0, 16.0), PI, TAU)[..],
        &[(TOWER + 9.0, FOOT + 10.0), (TOWER - 21.0, FOOT + 10.0)],
    ]
    .concat();
    canvas.flat(&line(&arch[..arch.len() - 2], 5.0), hex(0xcdbfb0), 1.0);
    canvas.fill(&polygon(&arch), |x, _| {
        (hex(0x184a58).lighter((layered(x / 3.0, 0.5, 2, 9) - 0.5) * 0.14), 1.0)
    });
}

fn lantern(canvas: &mut Canvas) {
    let iron = hex(0x1c1a2c);
    let slab = |canvas: &mut Canvas, y: f64, wide: f64, deep: f64| {
        canvas.fill(&rect(TOWER - wide, y, wide * 2.0, deep), |x, _| {
            (round(hex(0x55506c), (x - TOWER) / wide), 1.0)
        });
    };
    for bracket in -4..=4 {
        let x = TOWER + f64::from(bracket) * 10.0;
        canvas.flat(
            &polygon(&[
                (x - 1.6, GALLERY - 2.0),
                (x + 1.6, GALLERY - 2.0),
                (x * 0.94 + TOWER * 0.06 + 1.0, GALLERY + 16.0),
                (x * 0.94 + TOWER * 0.06 - 1.0, GALLERY + 16.0),
            ]),
            iron,
            0.9,
        );
    }
    slab(canvas, GALLERY - 8.0, 54.0, 8.0);
    canvas.fill(&rect(TOWER - 27.0, GALLERY - 66.0, 54.0, 58.0), |x, y| {
        let (dx, dy) = ((x - TOWER) / 27.0, (y - GALLERY + 40.0) / 30.0);
        (hex(0xfffbe0).mix(hex(0xf0b04a), dx * dx * 0.8 + dy * dy * 0.5), 1.0)
    });
    for ring in 0..6 {
        let y = GALLERY - 60.0 + 9.0 * f64::from(ring);
        canvas.flat(
            &taper(&bow((TOWER - 13.0, y), (TOWER, y + 4.0), (TOWER + 13.0, y)), 1.2, 1.2),
            hex(0xd9963a),
            0.8,
        );
    }
    for pane in -3..=3 {
        let x = TOWER + f64::from(pane) * 9.0;
        canvas.flat(&rect(x - 0.9, GALLERY - 66.0, 1.8, 58.0), iron, 1.0);
    }
    canvas.flat(&rect(TOWER - 27.0, GALLERY - 38.0, 54.0, 1.6), iron, 1.0);
    for side in [-1.0, 1.0] {
        for cross in [0.0, 18.0] {
            let x = TOWER + side * cross;
            canvas.flat(&line(&[(x, GALLERY - 66.0), (x + side * 9.0, GALLERY - 38.0)], 0.9), iron, 0.9);
        }
    }
    slab(canvas, GALLERY - 70.0, 33.0, 5.0);
    let dome = arc((TOWER, GALLERY - 69.0), (31.0, 34.0), PI, TAU);
    canvas.fill(&polygon(&dome), |x, _| (round(hex(0xa8242c), (x - TOWER) / 31.0), 1.0));
    for rib in [-18.0, -7.0, 7.0, 18.0] {
        let top = (TOWER, GALLERY - 103.0);
        canvas.flat(
            &taper(&bow((TOWER + rib, GALLERY - 70.0), (TOWER + rib * 0.95, GALLERY - 92.0), top), 1.2, 0.8),
            hex(0x5c141e),
            0.9,
        );
    }
    canvas.flat(&circle((TOWER, GALLERY - 105.0), 4.6), hex(0xe0b860), 1.0);
    canvas.flat(&line(&[(TOWER, GALLERY - 106.0), (TOWER, GALLERY - 132.0)], 1.6), iron, 1.0);
    canvas.flat(
        &polygon(&[
            (TOWER - 12.0, GALLERY - 124.0),
            (TOWER + 9.0, GALLERY - 127.0),
            (TOWER + 9.0, GALLERY - 121.0),
        ]),
        hex(0xe0b860),
        1.0,
    );
    for post in -9..=9 {
        let x = TOWER + f64::from(post) * 6.0;
        canvas.flat(&rect(x - 0.7, GALLERY - 30.0, 1.4, 23.0), iron, 1.0);
    }
    for lift in [30.0, 22.0, 14.0] {
        canvas.flat(&rect(TOWER - 55.0, GALLERY - lift, 110.0, 1.4), iron, 1.0);
    }
    glow(canvas, (TOWER, GALLERY - 42.0), 96.0, hex(0xfff3c4), 0.62);
}

fn foreground(canvas: &mut Canvas) {
    let mut chance = Chance::new(120);
    let rock = (hex(0x161424), hex(0xa98a86));
    for at in 0..46 {
        let t = f64::from(at) / 46.0;
        let x = 352.0 + chance.between(-30.0, 150.0) + 330.0 * t * chance.next();
        let y = (land(x) + 40.0).min(690.0) + chance.between(0.0, 50.0);
        let size = chance.between(16.0, 42.0);
        stone(canvas, (x, y), (size * 1.15, size * 0.7), rock, 0.12, 800 + at as u64);
    }
    for _ in 0..260 {
        let x = chance.between(300.0, 520.0);
        let y = 700.0 - (x - 300.0) * 0.14 + chance.between(-18.0, 18.0);
        let size = chance.between(1.0, 5.0);
        canvas.flat(&ellipse((x, y), (size * 1.8, size * 0.7), 0.0), hex(0xfff1e6), 0.4);
    }
    for _ in 0..90 {
        let from = chance.between(0.0, 1.0);
        let at =
            (390.0 + from * 70.0 + chance.between(-20.0, 20.0), 670.0 - chance.next() * chance.next() * 66.0);
        canvas.flat(&circle(at, chance.between(0.7, 2.2)), hex(0xfff1e6), 0.6);
    }
    let blades = [0x1f3a34, 0x35583c, 0x6c8a48, 0xb0ae62].map(hex);
    for at in 0..54 {
        let x = chance.between(560.0, 960.0);
        tuft(
            canvas,
            (x, land(x) + chance.between(26.0, 60.0)),
            chance.between(12.0, 26.0),
            &blades,
            1200 + at as u64,
        );
    }
    for at in 0..30 {
        tuft(
            canvas,
            (chance.between(760.0, 965.0), chance.between(700.0, 728.0)),
            chance.between(30.0, 62.0),
            &blades,
            1300 + at as u64,
        );
    }
    gull(canvas, (500.0, 236.0), 30.0);
    gull(canvas, (450.0, 262.0), 20.0);
    gull(canvas, (834.0, 300.0), 24.0);
}

/// A gull close enough to show its wings.
fn gull(canvas: &mut Canvas, at: Point, span: f64) {
    for side in [-1.0, 1.0] {
        let elbow = (at.0 + side * span * 0.45, at.1 - span * 0.42);
        let tip = (at.0 + side * span, at.1 - span * 0.2);
        let wing = [
            bow(at, (elbow.0, elbow.1 + 2.0), tip),
            bow(tip, (elbow.0, elbow.1 - span * 0.12), (at.0, at.1 - span * 0.14)),
        ]
        .concat();
        canvas.fill(&polygon(&wing), |x, _| {
            (hex(0xfdf4e6).mix(hex(0x6a6a90), (x - at.0).abs() / span * 0.9), 1.0)
        });
    }
    canvas.flat(&ellipse(at, (span * 0.24, span * 0.1), 0.3), hex(0xfdf4e6), 1.0);
    canvas.flat(
        &line(&[(at.0 + span * 0.22, at.1 + span * 0.06), (at.0 + span * 0.34, at.1 + span * 0.1)], 1.6),
        hex(0xf0a43c),
        1.0,
    );
}
