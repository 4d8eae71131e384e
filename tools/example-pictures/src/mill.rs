//! Spring and mill: water leaves the rocks on a misty morning and turns its first wheel.

use units::maths;

use crate::building::{Window, beam, courses, plaster, tiles};
use crate::canvas::{Canvas, Water};
use crate::colour::{Colour, hex, ramp};
use crate::nature::{Leaves, Ridge, clouds, conifer, glow, sky, stone, tree, tuft};
use crate::noise::{Chance, layered, step};
use crate::shape::{Point, arc, bow, circle, ellipse, line, polygon, rect, taper};

/// Where the wheel turns and how large it is.
const HUB: Point = (452.0, 452.0);
const RADIUS: f64 = 128.0;
/// Height of the pond's edge.
const POND: f64 = 556.0;

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    backdrop(&mut canvas);
    house(&mut canvas);
    rocks(&mut canvas);
    flume(&mut canvas);
    wheel(&mut canvas);
    canvas.water(&Water {
        top: POND,
        bottom: 720.0,
        swing: 16.0,
        mirror: (0.72, 0.4),
        far: hex(0x7fb4b4),
        near: hex(0x16506b),
        crest: hex(0xdff0ee),
        seed: 31,
    });
    spray(&mut canvas);
    bank(&mut canvas);
    canvas
}

fn backdrop(canvas: &mut Canvas) {
    let dawn = [(0.0, hex(0x5f9fcf)), (0.45, hex(0xa9d0e2)), (0.8, hex(0xf3e6bd)), (1.0, hex(0xf6d9a2))];
    sky(canvas, 330.0, &dawn);
    clouds(canvas, (10.0, 240.0), 0.42, (hex(0xfdf8ea), hex(0xb9c6d2)), 401);
    glow(canvas, (250.0, 250.0), 420.0, hex(0xfff0c0), 0.55);
    let ridges = [
        (262.0, 42.0, 230.0, 0.0, 0x8fb0c0, 0xdfe6d6, 90.0),
        (292.0, 30.0, 180.0, 7.0, 0x6f9c93, 0xd5dfbf, 80.0),
        (330.0, 24.0, 150.0, 16.0, 0x4a8263, 0xb5cc95, 90.0),
    ];
    for (seed, (height, swing, wave, trees, crest, foot, depth)) in (50..).zip(ridges) {
        Ridge { height, swing, wave, trees, crest: hex(crest), foot: hex(foot), depth, seed: seed * 3 }
            .draw(canvas);
    }
    let firs: Leaves = [hex(0x1d4a3a), hex(0x2f6b48), hex(0x6fa05a)];
    let mut chance = Chance::new(8);
    for at in 0..26 {
        let x = f64::from(at) * 39.0 + chance.between(-14.0, 14.0);
        conifer(
            canvas,
            (x, 402.0 + chance.between(-8.0, 10.0)),
            chance.between(62.0, 112.0),
            &firs,
            700 + at as u64,
        );
    }
    let meadow = |x: f64, y: f64| {
        let patch = layered(x / 60.0, y / 12.0, 4, 17);
        ramp(
            &[(0.2, hex(0x4f8f3a)), (0.5, hex(0x86b54a)), (0.75, hex(0xc3d276))],
            patch + (470.0 - y) / 400.0,
        )
    };
    let edge: Vec<Point> = bow((0.0, 400.0), (500.0, 372.0), (960.0, 408.0));
    canvas.fill(&polygon(&[&edge[..], &[(960.0, 720.0), (0.0, 720.0)]].concat()), |x, y| (meadow(x, y), 1.0));
    canvas.wash(|x, y| {
        let veil = layered(x / 210.0, y / 34.0, 4, 23);
        (hex(0xf4efd9), 0.75 * step(0.42, 0.8, veil) * step(280.0, 380.0, y) * (1.0 - step(390.0, 470.0, y)))
    });
    let oak: Leaves = [hex(0x1c4a2c), hex(0x3f8a3c), hex(0xb4cf5e)];
    tree(canvas, (866.0, 520.0), 350.0, &oak, 5);
    tree(canvas, (948.0, 560.0), 300.0, &oak, 6);
}

fn house(canvas: &mut Canvas) {
    let wall = |x: f64, y: f64| {
        let shade = 0.05 - 0.1 * step(560.0, 830.0, x);
        courses(x, y, (27.0, 13.0), hex(0xcdbf9f), hex(0x8f7f68), 61).lighter(shade)
    };
    canvas.fill(&rect(520.0, 430.0, 300.0, 132.0), |x, y| (wall(x, y), 1.0));
    canvas.fill(&rect(508.0, 296.0, 324.0, 138.0), |x, y| {
        (plaster(x, y, hex(0xf1e3bd).mix(hex(0xd5bd8c), (x - 508.0) / 420.0), 62), 1.0)
    });
    canvas.fill(&rect(508.0, 296.0, 324.0, 26.0), |_, y| (hex(0x4a3326), 0.55 * (1.0 - (y - 296.0) / 26.0)));
    timber(canvas);
    let roof = [(480.0, 310.0), (560.0, 166.0), (790.0, 166.0), (862.0, 310.0)];
    canvas.fill(&polygon(&roof), |x, y| {
        let light = 0.06 - 0.16 * step(520.0, 860.0, x);
        let mossy = step(0.56, 0.74, layered(x / 55.0, y / 24.0, 4, 66));
        let tile = tiles(x, y, 9.0, hex(0xcf5a38), hex(0x86302a), 65).lighter(light);
        (tile.mix(hex(0x6f8038), mossy * 0.55), 1.0)
    });
    canvas.flat(&line(&[(558.0, 166.0), (792.0, 166.0)], 6.0), hex(0x6e2a22), 1.0);
    canvas.flat(&line(&[(480.0, 311.0), (862.0, 311.0)], 5.0), hex(0x4f2a20), 1.0);
    chimney(canvas);
    dormer(canvas);
    let door = rect(742.0, 470.0, 46.0, 88.0);
    canvas.fill(&door, |x, y| (hex(0x2f5a63).lighter((layered(x / 3.0, y / 40.0, 2, 4) - 0.5) * 0.16), 1.0));
    for plank in 1..5 {
        let x = 742.0 + f64::from(plank) * 9.2;
        canvas.flat(&rect(x, 470.0, 1.2, 88.0), hex(0x173038), 1.0);
    }
    canvas.flat(&circle((781.0, 518.0), 2.6), hex(0xe6c268), 1.0);
    canvas.flat(&rect(736.0, 462.0, 58.0, 8.0), hex(0x6b5a45), 1.0);
}

fn timber(canvas: &mut Canvas) {
    let oak = hex(0x4b3021);
    for x in [512.0, 576.0, 640.0, 704.0, 768.0, 828.0] {
        beam(canvas, (x, 300.0), (x, 432.0), 9.0, oak);
    }
    for y in [304.0, 366.0, 432.0] {
        beam(canvas, (508.0, y), (832.0, y), 9.0, oak);
    }
    for (from, to) in [
        ((516.0, 430.0), (572.0, 370.0)),
        ((824.0, 430.0), (772.0, 370.0)),
        ((644.0, 430.0), (700.0, 370.0)),
        ((580.0, 308.0), (636.0, 362.0)),
    ] {
        beam(canvas, from, to, 7.0, oak);
    }
    let panes = (hex(0x34506e), hex(0xa9c6d4));
    for (x, y) in
        [(528.0, 318.0), (656.0, 318.0), (720.0, 318.0), (784.0, 318.0), (592.0, 384.0), (720.0, 384.0)]
    {
        let frame = hex(0xf3ead2);
        Window { corner: (x, y), size: (32.0, 37.0), panes: (3, 3), glass: panes, frame }.draw(canvas);
    }
    let lit = (hex(0xf7d774), hex(0xe89a3c));
    for x in [570.0, 650.0] {
        let frame = hex(0x5b4734);
        Window { corner: (x, 468.0), size: (36.0, 46.0), panes: (3, 4), glass: lit, frame }.draw(canvas);
    }
}

fn chimney(canvas: &mut Canvas) {
    canvas.fill(&rect(728.0, 128.0, 34.0, 70.0), |x, y| {
        (
            courses(x, y, (11.0, 6.0), hex(0xb8694a), hex(0x7a3c30), 71).lighter(if x > 748.0 {
                -0.08
            } else {
                0.03
            }),
            1.0,
        )
    });
    canvas.flat(&rect(724.0, 122.0, 42.0, 8.0), hex(0x5d4436), 1.0);
    canvas.wash(|x, y| {
        let rise = (122.0 - y) / 122.0;
        if rise < 0.0 {
            return (hex(0xffffff), 0.0);
        }
        let middle = 745.0 + 90.0 * rise * rise + 26.0 * (layered(y / 40.0, 0.3, 2, 72) - 0.5);
        let wide = 9.0 + 46.0 * rise;
        let puff = layered(x / 24.0, y / 20.0, 4, 73);
        let off = ((x - middle) / wide).abs();
        (hex(0xf1eee6), (1.0 - step(0.3, 1.1, off)) * step(0.3, 0.65, puff) * 0.8 * (1.0 - rise * 0.7))
    });
}

fn dormer(canvas: &mut Canvas) {
    canvas.fill(&rect(622.0, 218.0, 58.0, 56.0), |x, y| (plaster(x, y, hex(0xe8d6a6), 75), 1.0));
    let frame = hex(0xf3ead2);
    let glass = (hex(0x2d4766), hex(0x8fb2c6));
    Window { corner: (635.0, 230.0), size: (32.0, 34.0), panes: (3, 3), glass, frame }.draw(canvas);
    canvas.fill(&polygon(&[(610.0, 224.0), (651.0, 186.0), (692.0, 224.0)]), |x, y| {
        (tiles(x, y, 6.0, hex(0xec9464), hex(0xb9583c), 76), 1.0)
    });
    canvas.flat(&line(&[(610.0, 225.0), (651.0, 187.0), (692.0, 225.0)], 3.6), hex(0x4f2a20), 1.0);
}

fn rocks(canvas: &mut Canvas) {
    let mut chance = Chance::new(90);
    let grey = (hex(0x3a3c40), hex(0xc9c4b4));
    let slope = |x: f64| 262.0 + 250.0 * step(120.0, 330.0, x);
    let firs: Leaves = [hex(0x14402f), hex(0x2a6a40), hex(0x79a84f)];
    for at in 0..6 {
        conifer(
            canvas,
            (8.0 + 26.0 * f64::from(at), 320.0),
            150.0 - 14.0 * f64::from(at),
            &firs,
            95 + at as u64,
        );
    }
    let hill: Vec<Point> =
        (0..=68).map(|at| (f64::from(at) * 5.0, slope(f64::from(at) * 5.0) - 4.0)).collect();
    canvas.fill(&polygon(&[&hill[..], &[(340.0, 600.0), (0.0, 600.0)]].concat()), |x, y| {
        let grain = layered(x / 30.0, y / 16.0, 4, 89);
        let turf = hex(0x35622f).mix(hex(0xa3bd55), grain * 1.3 - 0.1);
        (turf.mix(hex(0x2c2f2c), step(4.0, 60.0, y - slope(x) + grain * 30.0)), 1.0)
    });
    for at in 0..110 {
        let t = f64::from(at) / 110.0;
        let x = chance.between(-20.0, 340.0);
        let y = slope(x) + chance.between(6.0, 40.0) + t * (600.0 - slope(x) - 20.0);
        let size = chance.between(26.0, 52.0) * (0.7 + 0.5 * t);
        stone(
            canvas,
            (x, y),
            (size, size * chance.between(0.55, 0.75)),
            grey,
            chance.between(0.0, 0.95),
            200 + at as u64,
        );
    }
    canvas.fill(&ellipse((170.0, 340.0), (46.0, 24.0), 0.1), |x, y| {
        let far = maths::hypot((x - 170.0) / 46.0, (y - 340.0) / 24.0);
        (hex(0x0c1a20), 1.0 - step(0.6, 1.0, far))
    });
    cascade(canvas);
}

/// The spring's water as threads that follow three steps of rock.
fn cascade(canvas: &mut Canvas) {
    let mut chance = Chance::new(91);
    let tones = [0xffffff, 0xe3f2f6, 0xb5dcea, 0x7cbde6, 0x3f8fc4, 0x2b6f9f].map(hex);
    for _ in 0..190 {
        let lane = chance.between(-1.0, 1.0);
        let path = [
            (172.0 + lane * 24.0, 342.0 + lane.abs() * 6.0),
            (180.0 + lane * 28.0, 404.0),
            (204.0 + lane * 36.0, 418.0),
            (214.0 + lane * 34.0, 480.0),
            (240.0 + lane * 46.0, 496.0),
            (250.0 + lane * 48.0, 566.0),
        ];
        let jitter = chance.between(-4.0, 4.0);
        let start = (chance.next() * 5.0) as usize;
        for pair in path[start..].windows(2).take(2) {
            let (a, b) = ((pair[0].0 + jitter, pair[0].1), (pair[1].0 + jitter, pair[1].1));
            let thread = bow(a, (b.0, a.1 + 4.0), b);
            canvas.flat(
                &taper(&thread, chance.between(1.0, 2.6), chance.between(1.0, 3.6)),
                chance.pick(&tones),
                0.75,
            );
        }
    }
}

fn flume(canvas: &mut Canvas) {
    let oak = hex(0x6a4830);
    for (x, foot) in [(262.0, 470.0), (322.0, 545.0), (382.0, 548.0)] {
        beam(canvas, (x - 9.0, foot), (x, 322.0), 5.5, oak.lighter(-0.08));
        beam(canvas, (x + 9.0, foot), (x, 322.0), 5.5, oak.lighter(-0.03));
        beam(canvas, (x - 6.0, 430.0), (x + 6.0, 430.0), 4.0, oak);
    }
    beam(canvas, (262.0, 330.0), (322.0, 430.0), 3.2, oak.lighter(-0.05));
    beam(canvas, (322.0, 330.0), (382.0, 430.0), 3.2, oak.lighter(-0.05));
    let trough = polygon(&[(104.0, 293.0), (440.0, 304.0), (440.0, 322.0), (104.0, 311.0)]);
    canvas.fill(&trough, |x, y| (oak.lighter((layered(x / 22.0, y / 2.5, 3, 7) - 0.5) * 0.2), 1.0));
    for x in [140.0, 200.0, 262.0, 322.0, 382.0, 428.0] {
        canvas.flat(&rect(x - 2.0, 294.0 + (x - 190.0) * 0.032, 4.0, 22.0), oak.lighter(-0.12), 1.0);
    }
    canvas.fill(&polygon(&[(104.0, 288.0), (440.0, 299.0), (440.0, 305.0), (104.0, 294.0)]), |x, y| {
        (hex(0x8fcbe6).mix(hex(0xf2fafc), layered(x / 9.0, y / 2.0, 3, 9)), 1.0)
    });
}

fn wheel(canvas: &mut Canvas) {
    canvas.fill(&circle(HUB, RADIUS * 1.08), |x, y| {
        let far = maths::hypot(x - HUB.0, y - HUB.1) / (RADIUS * 1.08);
        (hex(0x1d1a1c), 0.42 * (1.0 - step(0.85, 1.0, far)))
    });
    let (dark, oak, pale) = (hex(0x2b1a12), hex(0x5d3b25), hex(0x9a6c45));
    let ring = |canvas: &mut Canvas, radius: f64, width: f64, colour: Colour| {
        let points = arc(HUB, (radius, radius), 0.0, std::f64::consts::TAU);
        canvas.fill(&line(&points, width), |x, y| {
            let light = -(x - HUB.0) / radius * 0.04 - (y - HUB.1) / radius * 0.08;
            (colour.lighter(light + (layered(x / 6.0, y / 6.0, 2, 3) - 0.5) * 0.08), 1.0)
        });
    };
    ring(canvas, RADIUS * 0.96, 5.0, dark);
    for paddle in 0..32 {
        let (s, c) = maths::sin_cos(std::f64::consts::TAU * (f64::from(paddle) + 0.3) / 32.0);
        let at = |r: f64| (HUB.0 + c * RADIUS * r, HUB.1 + s * RADIUS * r);
        let tone = if paddle % 2 == 0 { pale } else { oak };
        beam(canvas, at(0.84), at(1.1), 7.0, tone.lighter(-0.08 * s - 0.03 * c));
    }
    for spoke in 0..16 {
        let (s, c) = maths::sin_cos(std::f64::consts::TAU * (f64::from(spoke) + 0.15) / 16.0);
        let end = (HUB.0 + c * RADIUS * 0.98, HUB.1 + s * RADIUS * 0.98);
        beam(canvas, (HUB.0 + 2.5, HUB.1 + 3.0), (end.0 + 2.5, end.1 + 3.0), 4.6, dark);
        beam(canvas, HUB, end, if spoke % 2 == 0 { 5.6 } else { 3.8 }, pale.mix(oak, 0.5 + 0.4 * s));
    }
    ring(canvas, RADIUS, 9.0, oak);
    ring(canvas, RADIUS * 0.82, 6.0, pale.mix(oak, 0.4));
    ring(canvas, RADIUS * 0.42, 4.0, oak);
    canvas.flat(&circle(HUB, 15.0), dark, 1.0);
    canvas.flat(&circle((HUB.0 - 2.0, HUB.1 - 2.0), 10.0), hex(0x7d8286), 1.0);
    canvas.flat(&circle(HUB, 4.5), dark, 1.0);
}

/// Water that pours over the wheel, and the white where it meets the pond.
fn spray(canvas: &mut Canvas) {
    let mut chance = Chance::new(44);
    let tones = [0xffffff, 0xe3f2f6, 0xb5dcea, 0x86c3dd].map(hex);
    for _ in 0..120 {
        let reach = RADIUS * chance.between(0.98, 1.16);
        let from = chance.between(-1.62, -0.9);
        let path = arc(HUB, (reach, reach), from, from + chance.between(0.2, 0.8));
        canvas.flat(&taper(&path, 1.0, chance.between(1.0, 2.4)), chance.pick(&tones), 0.6);
    }
    for _ in 0..60 {
        let x = 440.0 + chance.between(0.0, 16.0);
        let path = bow((x, 302.0), (x + 12.0, 304.0), (x + 14.0, 332.0));
        canvas.flat(&taper(&path, 1.6, 2.2), chance.pick(&tones), 0.7);
    }
    for (middle, wide, count) in [((470.0, POND + 10.0), 120.0, 240), ((252.0, POND + 8.0), 84.0, 200)] {
        for _ in 0..count {
            let off = chance.between(-1.0, 1.0) * chance.next();
            let at = (middle.0 + off * wide, middle.1 + chance.between(-14.0, 22.0) * (1.0 - off.abs()));
            let size = chance.between(1.2, 6.0) * (1.1 - off.abs());
            canvas.flat(&ellipse(at, (size * 1.7, size * 0.8), 0.0), chance.pick(&tones), 0.42);
        }
    }
}

fn bank(canvas: &mut Canvas) {
    let grey = (hex(0x2f3236), hex(0xb9b5a8));
    let mut chance = Chance::new(140);
    for at in 0..16 {
        let x = if at < 9 { chance.between(520.0, 960.0) } else { chance.between(-10.0, 150.0) };
        let y = if at < 9 { 566.0 + chance.between(0.0, 16.0) } else { chance.between(590.0, 640.0) };
        let size = chance.between(16.0, 34.0);
        stone(canvas, (x, y), (size * 1.2, size * 0.6), grey, 0.5, 330 + at as u64);
    }
    let edge = [&bow((560.0, 720.0), (700.0, 640.0), (960.0, 628.0))[..], &[(960.0, 720.0)]].concat();
    canvas.fill(&polygon(&edge), |x, y| {
        (hex(0x2f6a2f).mix(hex(0x9cc04c), layered(x / 30.0, y / 14.0, 4, 150) * 1.3 - 0.2), 1.0)
    });
    let blades = [0x1d5a2c, 0x3f8a35, 0x6fae3f, 0xa9cc55, 0xcfdc7c].map(hex);
    for at in 0..70 {
        let x = chance.between(560.0, 965.0);
        let y = 716.0 - (x - 560.0) * 0.2 + chance.between(-6.0, 40.0);
        tuft(canvas, (x, y), chance.between(18.0, 40.0), &blades, 900 + at as u64);
    }
    for at in 0..16 {
        tuft(
            canvas,
            (chance.between(-5.0, 130.0), chance.between(690.0, 726.0)),
            62.0,
            &blades,
            990 + at as u64,
        );
    }
    let petals = [0xf2c41f, 0xf3f1ea, 0xec92b0, 0xc8262d, 0xf3f1ea].map(hex);
    for _ in 0..70 {
        let x = chance.between(600.0, 955.0);
        let y = 712.0 - (x - 560.0) * 0.2 + chance.between(-14.0, 50.0);
        canvas.flat(&circle((x, y), chance.between(2.0, 4.2)), chance.pick(&petals), 1.0);
        canvas.flat(&circle((x, y), 1.2), hex(0xb9781f), 1.0);
    }
}
