//! Sails on the sea: a red and a cream sail before a noon sky, gulls above, long waves below.

use crate::canvas::{Canvas, Water};
use crate::colour::{Colour, hex};
use crate::nature::{birds, clouds, glow, sky};
use crate::noise::{layered, step};
use crate::shape::{Point, bow, circle, line, polygon};

/// The line between sea and sky.
const HORIZON: f64 = 430.0;

/// Draws the scene.
pub(crate) fn draw() -> Canvas {
    let mut canvas = Canvas::new();
    noon(&mut canvas);
    boat(&mut canvas, (690.0, HORIZON + 10.0), 0.55, (hex(0xf2e3bd), hex(0xc79a52)));
    canvas.water(&Water {
        top: HORIZON,
        bottom: 720.0,
        swing: 26.0,
        mirror: (0.6, 0.3),
        far: hex(0x4aa3c9),
        near: hex(0x0f3f86),
        crest: hex(0xf4faf8),
        seed: 71,
    });
    boat(&mut canvas, (330.0, 590.0), 1.35, (hex(0xe1423a), hex(0x8e1f2c)));
    foam(&mut canvas);
    canvas
}

fn noon(canvas: &mut Canvas) {
    sky(canvas, HORIZON, &[(0.0, hex(0x1f6fc4)), (0.55, hex(0x6fb6e6)), (1.0, hex(0xdceef0))]);
    glow(canvas, (812.0, 96.0), 330.0, hex(0xfff3b8), 0.8);
    canvas.flat(&circle((812.0, 96.0), 46.0), hex(0xffe06a), 1.0);
    clouds(canvas, (120.0, 400.0), 0.5, (hex(0xffffff), hex(0x9db7cf)), 705);
    birds(canvas, (520.0, 150.0), 9, hex(0x2c3a52), 72);
}

/// A boat with a main sail and a jib; `foot` is the middle of its water line.
fn boat(canvas: &mut Canvas, foot: Point, size: f64, (lit, shade): (Colour, Colour)) {
    let at = |x: f64, y: f64| (foot.0 + x * size, foot.1 + y * size);
    let cloth = |x: f64, y: f64| {
        let fold = layered((x - foot.0) / (16.0 * size), (y - foot.1) / (70.0 * size), 3, 73);
        let down = ((foot.0 + 100.0 * size - x) / (200.0 * size)).clamp(0.0, 1.0);
        (lit.mix(shade, down * 0.7 + (fold - 0.5) * 0.7), 1.0)
    };
    let mast = [at(0.0, -20.0), at(4.0, -300.0)];
    canvas.flat(&line(&mast, 5.0 * size), hex(0x4b3423), 1.0);
    let main = [bow(at(8.0, -288.0), at(80.0, -170.0), at(150.0, -44.0)), vec![at(8.0, -36.0)]].concat();
    canvas.fill(&polygon(&main), cloth);
    let jib = [bow(at(-4.0, -262.0), at(-50.0, -140.0), at(-128.0, -36.0)), vec![at(-6.0, -44.0)]].concat();
    canvas.fill(&polygon(&jib), |x, y| {
        let (colour, cover) = cloth(x, y);
        (colour.mix(hex(0xfff6e0), 0.45), cover)
    });
    for seam in [-84.0, -138.0, -196.0] {
        canvas.flat(&line(&[at(8.0, seam), at(140.0 + (seam + 44.0) * 0.56, seam)], 1.6 * size), shade, 0.7);
    }
    let hull = [
        vec![at(-140.0, -26.0), at(164.0, -34.0)],
        bow(at(164.0, -34.0), at(140.0, 14.0), at(90.0, 20.0)),
        bow(at(90.0, 20.0), at(-60.0, 28.0), at(-140.0, -26.0)),
    ]
    .concat();
    canvas.fill(&polygon(&hull), |_, y| {
        let band = (y - foot.1) / size;
        (
            if band < -16.0 { hex(0xf2ecd8) } else { hex(0x23324f).mix(hex(0x111a2c), (band + 16.0) / 30.0) },
            1.0,
        )
    });
    let pennant = [at(4.0, -300.0), at(-44.0, -290.0), at(4.0, -280.0)];
    canvas.flat(&polygon(&pennant), hex(0xf2c41f), 1.0);
}

/// White water along the hull and on the crests nearby.
fn foam(canvas: &mut Canvas) {
    canvas.wash(|x, y| {
        let wake = layered(x / 40.0, y / 9.0, 4, 75);
        let along = step(596.0, 612.0, y) * (1.0 - step(622.0, 650.0, y));
        let beside = step(120.0, 180.0, x) * (1.0 - step(540.0, 640.0, x));
        (hex(0xffffff), 0.9 * along * beside * step(0.42, 0.6, wake))
    });
    canvas.wash(|x, y| {
        let swell = layered(x / 150.0, y / 22.0, 3, 76);
        (hex(0xe8f4f4), 0.5 * step(650.0, 690.0, y) * step(0.56, 0.66, swell))
    });
}
