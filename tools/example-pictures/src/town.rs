//! Town at dusk: lit windows climb the hill above a quay, and the river carries their light away.

use crate::building::{Window, courses, lamp, plaster, tiles};
use crate::canvas::{Canvas, Water};
use crate::colour::{Colour, hex};
use crate::nature::{Ridge, birds, clouds, glow, sky, stars};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, arc, bow, circle, line, polygon, rect, taper};

/// Where the quay meets the river.
const RIVER: f64 = 604.0;
const LAMPS: [f64; 7] = [64.0, 196.0, 330.0, 470.0, 604.0, 742.0, 884.0];

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    backdrop(&mut canvas);
    let mut chance = Chance::new(77);
    tier(&mut canvas, 400.0, 0.62, &mut chance);
    tier(&mut canvas, 446.0, 0.74, &mut chance);
    tower(&mut canvas);
    tier(&mut canvas, 502.0, 0.88, &mut chance);
    tier(&mut canvas, 566.0, 1.06, &mut chance);
    quay(&mut canvas);
    for x in LAMPS {
        glow(&mut canvas, (x, 528.0), 74.0, hex(0xffc766), 0.6);
    }
    canvas.water(&Water {
        top: RIVER,
        bottom: 720.0,
        swing: 15.0,
        mirror: (0.82, 0.55),
        far: hex(0x8a5a92),
        near: hex(0x141f4d),
        crest: hex(0xf0a878),
        seed: 82,
    });
    boats(&mut canvas);
    canvas
}

fn backdrop(canvas: &mut Canvas) {
    let dusk = [
        (0.0, hex(0x18235a)),
        (0.28, hex(0x4a418f)),
        (0.52, hex(0xa65f9e)),
        (0.72, hex(0xec8d8c)),
        (0.88, hex(0xf8b263)),
        (1.0, hex(0xfbdc92)),
    ];
    sky(canvas, 400.0, &dusk);
    stars(canvas, 170.0, 70, 12);
    glow(canvas, (236.0, 392.0), 330.0, hex(0xffe3a0), 0.7);
    clouds(canvas, (70.0, 330.0), 0.34, (hex(0xf7a58a), hex(0x6a4a93)), 520);
    // The young moon: a disc without the part that another disc covers.
    canvas.fill(&circle((742.0, 96.0), 30.0), |x, y| {
        let (dx, dy) = (x - 754.0, y - 90.0);
        (hex(0xfdf3d3), step(25.0, 28.0, (dx * dx + dy * dy).sqrt()))
    });
    glow(canvas, (736.0, 98.0), 90.0, hex(0xfdf3d3), 0.16);
    let ridges = [
        (356.0, 56.0, 260.0, 0.0, 0x7a5a98, 0xd98a92, 90.0),
        (384.0, 40.0, 190.0, 8.0, 0x50447f, 0x9a6a90, 90.0),
    ];
    for (seed, (height, swing, wave, trees, crest, foot, depth)) in (64..).zip(ridges) {
        Ridge { height, swing, wave, trees, crest: hex(crest), foot: hex(foot), depth, seed: seed * 5 }
            .draw(canvas);
    }
    let hill: Vec<Point> = bow((0.0, 430.0), (640.0, 300.0), (960.0, 396.0));
    canvas.fill(&polygon(&[&hill[..], &[(960.0, 720.0), (0.0, 720.0)]].concat()), |x, y| {
        (hex(0x35325f).mix(hex(0x565a5c), layered(x / 40.0, y / 14.0, 4, 88)), 1.0)
    });
    birds(canvas, (420.0, 190.0), 9, hex(0x2a2450), 15);
}

/// A row of houses whose feet follow the hill, the higher rows smaller.
fn tier(canvas: &mut Canvas, foot: f64, scale: f64, chance: &mut Chance) {
    let walls = [0xead9ae, 0xe7a9a4, 0xf3f1ea, 0xd98a55, 0xb9c3c9, 0xd8bd80, 0xa9b78c, 0xc6a9c4].map(hex);
    let roofs = [0xb8382f, 0x8f2a2c, 0xa8502f, 0x6b4233, 0x5f4a80, 0x7d3a3c].map(hex);
    let mut x = -20.0 - 40.0 * chance.next();
    while x < 960.0 {
        let width = scale * chance.between(62.0, 112.0);
        let height = scale * chance.between(78.0, 142.0);
        let rise =
            if foot < 560.0 { 46.0 * (1.0 - ((x - 640.0) / 640.0) * ((x - 640.0) / 640.0)) } else { 0.0 };
        let house = House {
            corner: (x, foot - rise),
            size: (width, height),
            scale,
            wall: chance.pick(&walls),
            roof: chance.pick(&roofs),
            gable: chance.next() < 0.5,
        };
        house.draw(canvas, chance);
        x += width + scale * chance.between(-2.0, 5.0);
    }
    // Dusk lies thicker over what is further away.
    let far = (1.06 - scale) * 0.75;
    canvas.wash(|_, y| (hex(0x8a5c96), far * step(foot - 190.0, foot - 20.0, y) * 0.55));
}

struct House {
    corner: Point,
    size: Point,
    scale: f64,
    wall: Colour,
    roof: Colour,
    gable: bool,
}

impl House {
    fn draw(&self, canvas: &mut Canvas, chance: &mut Chance) {
        let ((x, foot), (w, h)) = (self.corner, self.size);
        let top = foot - h;
        let seed = (x * 7.0 + foot) as i64 as u64;
        let dusk = self.wall.mix(hex(0x3c3268), 0.36);
        canvas.fill(&rect(x, top, w, h + 60.0), |px, py| {
            let along = (px - x) / w;
            (plaster(px, py, dusk.mix(hex(0xffb070), 0.2 * (1.0 - along)).lighter(-0.1 * along), seed), 1.0)
        });
        canvas.fill(&rect(x, top, w, 12.0 * self.scale), |_, py| {
            (hex(0x1c1438), 0.5 * (1.0 - (py - top) / (12.0 * self.scale)))
        });
        self.roof(canvas, chance, seed);
        self.windows(canvas, chance);
    }

    fn roof(&self, canvas: &mut Canvas, chance: &mut Chance, seed: u64) {
        let ((x, foot), (w, h), s) = (self.corner, self.size, self.scale);
        let top = foot - h;
        let peak = top - s * chance.between(34.0, 58.0);
        let stack = x + w * chance.between(0.62, 0.82);
        canvas.fill(&rect(stack, peak - 4.0 * s, 11.0 * s, 46.0 * s), |px, py| {
            (courses(px, py, (6.0 * s, 4.0 * s), hex(0x8a4f4a), hex(0x4f2f3f), seed), 1.0)
        });
        canvas.flat(&rect(stack - 2.0 * s, peak - 6.0 * s, 15.0 * s, 4.0 * s), hex(0x3a2636), 1.0);
        let eave = 5.0 * s;
        let roof = if self.gable {
            vec![(x - eave, top + 2.0), (x + w / 2.0, peak), (x + w + eave, top + 2.0)]
        } else {
            vec![(x - eave, top + 2.0), (x + w * 0.13, peak), (x + w * 0.87, peak), (x + w + eave, top + 2.0)]
        };
        let (light, dark) = (self.roof.mix(hex(0xff9a66), 0.12), self.roof.mix(hex(0x2a1f4a), 0.55));
        canvas.fill(&polygon(&roof), |px, py| {
            let shade =
                -0.13 * step(x + w * 0.45, x + w * 0.55, px + if self.gable { 0.0 } else { -w * 0.2 });
            (tiles(px, py, 5.2 * s, light, dark, seed + 2).lighter(shade), 1.0)
        });
        let rim = [roof[0], roof[1]];
        canvas.flat(&line(&rim, 2.0 * s), hex(0xffb98a), 0.55);
        canvas.flat(&line(&[roof[0], roof[roof.len() - 1]], 2.6 * s), hex(0x2a1d33), 0.9);
    }

    fn windows(&self, canvas: &mut Canvas, chance: &mut Chance) {
        let ((x, foot), (w, h), s) = (self.corner, self.size, self.scale);
        let (wide, tall) = (13.0 * s, 20.0 * s);
        let columns = ((w - 8.0 * s) / (wide + 10.0 * s)) as usize;
        let gap = (w - columns as f64 * wide) / (columns as f64 + 1.0);
        let floors = ((h - 10.0 * s) / (tall + 13.0 * s)) as usize;
        for floor in 0..floors {
            for column in 0..columns {
                let corner = (
                    x + gap + column as f64 * (wide + gap),
                    foot - h + 14.0 * s + floor as f64 * (tall + 13.0 * s),
                );
                let lit = chance.next() < 0.62;
                let glass = if lit {
                    chance.pick(&[
                        (hex(0xfff0b0), hex(0xf2b23c)),
                        (hex(0xffd978), hex(0xe8842e)),
                        (hex(0xfff6d8), hex(0xf6cf6a)),
                    ])
                } else {
                    (hex(0x232650), hex(0x5a5a90))
                };
                let shutter = self.roof.mix(hex(0x1f3a4a), 0.6);
                if s > 0.8 {
                    canvas.flat(&rect(corner.0 - 6.0 * s, corner.1 - 1.0, 5.0 * s, tall + 2.0), shutter, 1.0);
                    canvas.flat(
                        &rect(corner.0 + wide + s, corner.1 - 1.0, 5.0 * s, tall + 2.0),
                        shutter,
                        1.0,
                    );
                }
                let frame = self.wall.mix(hex(0x3a3050), 0.55);
                Window { corner, size: (wide, tall), panes: (2, 3), glass, frame }.draw(canvas);
                if lit {
                    spill(canvas, (corner.0 + wide / 2.0, corner.1 + tall / 2.0), 26.0 * s);
                }
            }
        }
    }
}

/// The warm light around a lit window.
fn spill(canvas: &mut Canvas, middle: Point, radius: f64) {
    canvas.fill(&circle(middle, radius), |x, y| {
        let far = ((x - middle.0) * (x - middle.0) + (y - middle.1) * (y - middle.1)).sqrt() / radius;
        (hex(0xffb454), 0.34 * (1.0 - far).max(0.0))
    });
}

fn tower(canvas: &mut Canvas) {
    let (x, w) = (604.0, 74.0);
    canvas.fill(&rect(x, 128.0, w, 380.0), |px, py| {
        let along = (px - x) / w;
        let stone = courses(px, py, (17.0, 9.0), hex(0xd8bd98), hex(0x8f7a7c), 300);
        (
            stone
                .mix(hex(0xffb27a), 0.25 * (1.0 - along))
                .mix(hex(0x2d2456), 0.12 + 0.5 * step(0.5, 1.0, along)),
            1.0,
        )
    });
    for y in [128.0, 212.0, 292.0] {
        canvas.flat(&rect(x - 5.0, y - 4.0, w + 10.0, 7.0), hex(0x8a7076), 1.0);
        canvas.flat(&rect(x - 5.0, y - 4.0, w * 0.5, 2.0), hex(0xf0c9a0), 0.9);
    }
    let spire = [(x - 8.0, 126.0), (x + w / 2.0, 26.0), (x + w + 8.0, 126.0)];
    canvas.fill(&polygon(&spire), |px, py| {
        let copper = tiles(px, py, 6.0, hex(0x4f9a86), hex(0x245a60), 310);
        (copper.mix(hex(0x1a2350), 0.6 * step(x + w * 0.42, x + w * 0.62, px)), 1.0)
    });
    canvas.flat(&line(&[(x + w / 2.0, 28.0), (x + w / 2.0, 6.0)], 2.0), hex(0xe0b860), 1.0);
    canvas.flat(
        &polygon(&[(x + w / 2.0, 7.0), (x + w / 2.0 + 18.0, 11.5), (x + w / 2.0, 16.0)]),
        hex(0xe0b860),
        1.0,
    );
    for side in [0.18, 0.58] {
        let left = x + w * side;
        let arch = [
            &arc((left + 9.0, 158.0), (9.0, 10.0), std::f64::consts::PI, std::f64::consts::TAU)[..],
            &[(left + 18.0, 194.0), (left, 194.0)],
        ]
        .concat();
        canvas.flat(&polygon(&arch), hex(0x1d1a3c), 1.0);
        for slat in 0..5 {
            canvas.flat(&rect(left, 161.0 + 7.0 * f64::from(slat), 18.0, 2.0), hex(0x7a6470), 1.0);
        }
    }
    clock(canvas, (x + w / 2.0, 250.0), 27.0);
    let glass = (hex(0xffe9a6), hex(0xf0a23c));
    for y in [404.0, 448.0] {
        Window { corner: (x + 28.0, y), size: (17.0, 28.0), panes: (2, 4), glass, frame: hex(0x5a4858) }
            .draw(canvas);
    }
}

fn clock(canvas: &mut Canvas, middle: Point, radius: f64) {
    canvas.flat(&circle(middle, radius + 4.0), hex(0x4a3a4a), 1.0);
    canvas.fill(&circle(middle, radius), |x, y| {
        let far = ((x - middle.0) * (x - middle.0) + (y - middle.1) * (y - middle.1)).sqrt() / radius;
        (hex(0xfff6d2).mix(hex(0xf3cf7a), far), 1.0)
    });
    for hour in 0..12 {
        let (s, c) = units::maths::sin_cos(std::f64::consts::TAU * f64::from(hour) / 12.0);
        let at = |r: f64| (middle.0 + c * radius * r, middle.1 + s * radius * r);
        canvas.flat(&line(&[at(0.78), at(0.93)], if hour % 3 == 0 { 2.6 } else { 1.4 }), hex(0x2a2030), 1.0);
    }
    canvas.flat(&taper(&[middle, (middle.0 + 9.0, middle.1 + 9.0)], 3.2, 2.0), hex(0x1b1622), 1.0);
    canvas.flat(&taper(&[middle, (middle.0 - 4.0, middle.1 - 20.0)], 2.4, 1.4), hex(0x1b1622), 1.0);
}

fn quay(canvas: &mut Canvas) {
    canvas.fill(&rect(0.0, 566.0, 960.0, 50.0), |x, y| {
        let stone = courses(x, y, (30.0, 10.0), hex(0x9a8490), hex(0x55496a), 320);
        let nearest = LAMPS.iter().map(|lamp| (lamp - x).abs()).fold(f64::MAX, f64::min);
        (
            stone
                .mix(hex(0xffb866), 0.42 * (1.0 - nearest / 60.0).max(0.0))
                .mix(hex(0x221d48), (y - 566.0) / 80.0),
            1.0,
        )
    });
    canvas.flat(&rect(0.0, 563.0, 960.0, 6.0), hex(0xc4a59c), 1.0);
    let iron = hex(0x1d1c30);
    canvas.flat(&rect(0.0, 548.0, 960.0, 1.8), iron, 0.9);
    for post in 0..97 {
        canvas.flat(&rect(f64::from(post) * 10.0, 548.0, 1.2, 16.0), iron, 0.85);
    }
    for x in LAMPS {
        lamp(canvas, (x, 564.0), 34.0);
    }
    for x in [130.0, 540.0, 820.0] {
        let steps = [(x, 568.0), (x + 34.0, 568.0), (x + 34.0, RIVER), (x - 26.0, RIVER)];
        canvas.fill(&polygon(&steps), |_, y| {
            let tread = (y / 6.0).fract();
            (hex(0x7a6a80).mix(hex(0x352c54), tread), 1.0)
        });
    }
}

fn boats(canvas: &mut Canvas) {
    for (x, y, long, colour) in
        [(150.0, 640.0, 118.0, 0xc8262d), (404.0, 652.0, 140.0, 0x1f63c4), (704.0, 646.0, 128.0, 0xead9ae)]
    {
        let hull = hex(colour).mix(hex(0x2a2050), 0.35);
        let deep = long * 0.15;
        let side =
            [
                &bow((x, y), (x + long * 0.5, y + 7.0), (x + long, y - 5.0))[..],
                &bow(
                    (x + long * 0.9, y + deep),
                    (x + long * 0.5, y + deep * 1.25),
                    (x + long * 0.1, y + deep),
                )[..],
            ]
            .concat();
        canvas.fill(
            &polygon(&bow((x - 4.0, y + deep), (x + long * 0.5, y + deep * 2.6), (x + long, y + deep))),
            |_, _| (hex(0x0f1536), 0.5),
        );
        canvas.fill(&polygon(&side), |px, py| {
            (
                hull.lighter(
                    0.1 - 0.2 * (py - y) / deep + (layered(px / 20.0, py / 2.0, 2, 33) - 0.5) * 0.08,
                ),
                1.0,
            )
        });
        for plank in [0.35, 0.68] {
            let strake = bow(
                (x + 6.0 * plank, y + deep * plank),
                (x + long * 0.5, y + 7.0 + deep * plank),
                (x + long * 0.97, y - 4.0 + deep * plank),
            );
            canvas.flat(&taper(&strake, 1.0, 1.0), hex(0x1a1638), 0.8);
        }
        canvas.flat(
            &taper(&bow((x, y), (x + long * 0.5, y + 7.0), (x + long, y - 5.0)), 2.6, 2.6),
            hex(0xf0c08a),
            0.9,
        );
        canvas.flat(
            &line(&[(x + long * 0.42, y + 3.0), (x + long * 0.42, y - 74.0)], 2.4),
            hex(0x2a1d28),
            1.0,
        );
        for stay in [0.02, 0.98] {
            canvas.flat(
                &line(&[(x + long * 0.42, y - 72.0), (x + long * stay, y - 2.0)], 1.0),
                hex(0x2a1d28),
                0.9,
            );
        }
        canvas.flat(
            &polygon(
                &bow((x + long * 0.42, y - 20.0), (x + long * 0.66, y - 16.0), (x + long * 0.9, y - 12.0))
                    .into_iter()
                    .chain([(x + long * 0.42, y - 13.0)])
                    .collect::<Vec<_>>(),
            ),
            hex(0xc9b8a8),
            1.0,
        );
        canvas.flat(&circle((x + long * 0.42, y - 76.0), 2.6), hex(0xffe7a0), 1.0);
        spill(canvas, (x + long * 0.42, y - 76.0), 20.0);
    }
}
