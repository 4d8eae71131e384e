//! The colour difference CIEDE2000, in a textbook form and in a fast form without angles.
//!
//! Source: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
//! supplementary test data, and mathematical observations", Color Research & Application 30(1), 2005;
//! parametric factors kL = kC = kH = 1.

use std::{f64::consts::PI, sync::LazyLock};

use units::maths::{atan2, cos, exp, sin};

use crate::spaces::{Lab, Srgb8};

/// 25 to the power 7.
const C25_7: f64 = 6_103_515_625.0;

/// Below this cosine of half the angle between two hues the textbook form is used:
/// nearly opposite hues have no well-determined bisector.
const OPPOSITE: f64 = 1e-3;

/// Colours that are compared at once, so that the compiler can use vector instructions.
pub(crate) const LANES: usize = 8;

/// CIEDE2000 colour difference of two colours, at least 0; about 1 is just noticeable side by side.
///
/// The mean hue is the direction of the bisector of the two (a', b) vectors, so that no arc tangent is needed:
/// multiple angles follow from one sine and cosine, and the rotation term from a table over the direction.
/// Equal to [`ciede2000_textbook`] to 1e-9.
pub fn ciede2000(a: Lab, b: Lab) -> f64 {
    let chroma = |c: Lab| (c.a * c.a + c.b * c.b).sqrt();
    let parts = compare([a.l, a.a, a.b, chroma(a)], [b.l, b.a, b.b, chroma(b)]);
    if parts.opposite > 0.0 { ciede2000_textbook(a, b) } else { parts.difference() }
}

/// A list of colours to which many colours are compared.
pub(crate) struct Tones {
    colours: Vec<Lab>,
    /// Per block of [`LANES`] colours: lightness, a, b and chroma; the last block is filled up with black.
    blocks: Vec<[[f64; LANES]; 4]>,
    rotation: &'static [[f64; 4]; PIECES],
}

impl Tones {
    pub(crate) fn new(colours: impl IntoIterator<Item = Lab>) -> Self {
        let colours: Vec<Lab> = colours.into_iter().collect();
        let blocks = colours
            .chunks(LANES)
            .map(|chunk| {
                let mut block = [[0.0; LANES]; 4];
                for (lane, c) in chunk.iter().enumerate() {
                    let chroma = (c.a * c.a + c.b * c.b).sqrt();
                    [c.l, c.a, c.b, chroma].into_iter().enumerate().for_each(|(i, v)| block[i][lane] = v);
                }
                block
            })
            .collect();
        Self { colours, blocks, rotation: &ROTATION }
    }

    /// How many blocks of [`LANES`] colours the list has, the last filled up.
    pub(crate) fn blocks(&self) -> usize {
        self.blocks.len()
    }

    /// CIEDE2000 of a wanted colour to each colour of a block, as [`ciede2000`]; those past the end mean nothing.
    ///
    /// `wanted` may be off by 1e-10; `exact` gives it without, for nearly opposite hues, where the formula has a jump.
    #[inline(always)]
    pub(crate) fn differences(&self, number: usize, wanted: Lab, exact: Srgb8) -> [f64; LANES] {
        let chroma = (wanted.a * wanted.a + wanted.b * wanted.b).sqrt();
        let p = [wanted.l, wanted.a, wanted.b, chroma];
        let block = &self.blocks[number];
        let [mut straight, mut turned, mut direction, mut opposite] = [[0.0; LANES]; 4];
        for lane in 0..LANES {
            let found = compare(p, [block[0][lane], block[1][lane], block[2][lane], block[3][lane]]);
            straight[lane] = found.straight;
            turned[lane] = found.turned;
            direction[lane] = found.direction;
            opposite[lane] = found.opposite;
        }
        let turns = rotations(&direction, self.rotation);
        for lane in 0..LANES {
            straight[lane] = (straight[lane] - turned[lane] * turns[lane]).max(0.0).sqrt();
        }
        if opposite.iter().fold(0.0, |most: f64, &o| most.max(o)) > 0.0 {
            let colours = &self.colours[number * LANES..];
            for (lane, &colour) in colours.iter().enumerate().take(LANES) {
                if opposite[lane] > 0.0 {
                    straight[lane] = ciede2000_textbook(exact.to_lab(), colour);
                }
            }
        }
        straight
    }
}

/// What CIEDE2000 is made of, up to the rotation term.
struct Parts {
    /// The sum of the squares.
    straight: f64,
    /// The factor of the rotation term.
    turned: f64,
    /// The direction of the mean hue, as [`rotation`] takes it.
    direction: f64,
    /// Above 0 where the hues are too nearly opposite for this form.
    opposite: f64,
}

impl Parts {
    fn difference(&self) -> f64 {
        (self.straight - self.turned * rotation(self.direction)).max(0.0).sqrt()
    }
}

/// Compares two colours given as lightness, a, b and chroma; straight arithmetic without branches.
#[inline(always)]
fn compare([l1, a1, b1, chroma1]: [f64; 4], [l2, a2, b2, chroma2]: [f64; 4]) -> Parts {
    let stretch = 1.5 - 0.5 * chroma_share(0.5 * (chroma1 + chroma2));
    let (a1, a2) = (stretch * a1, stretch * a2);
    let c1 = (a1 * a1 + b1 * b1).sqrt();
    let c2 = (a2 * a2 + b2 * b2).sqrt();
    let product = c1 * c2;
    // Both vectors brought to the same length: their sum points along the bisector of the hues,
    // and its length is 2 C1 C2 cos(dh / 2).
    let (x, y) = (a1 * c2 + a2 * c1, b1 * c2 + b2 * c1);
    let length = (x * x + y * y).sqrt();
    let scale = 1.0 / length.max(f64::MIN_POSITIVE);
    let (cos_h, sin_h) = (x * scale, y * scale);
    // dH = 2 sqrt(C1 C2) sin(dh / 2), from the cross product C1 C2 sin(dh); 0 where one colour is grey.
    let dh = 2.0 * (a1 * b2 - a2 * b1) * product.sqrt() * scale;
    let mean_c = 0.5 * (c1 + c2);
    let mean_l = 0.5 * (l1 + l2) - 50.0;
    let l2_20 = mean_l * mean_l + 20.0;
    // dL / (1 + 0.015 m / sqrt(20 + m)) with m = (mean L - 50)^2, multiplied through by the root.
    let root = l2_20.sqrt();
    let below_l = root + 0.015 * (mean_l * mean_l);
    let below_c = 1.0 + 0.045 * mean_c;
    let below_h = 1.0 + 0.015 * mean_c * hue_weight(cos_h, sin_h);
    // One division serves all three.
    let below = 1.0 / (below_l * below_c * below_h);
    let tl = (l2 - l1) * root * below * (below_c * below_h);
    let tc = (c2 - c1) * below * (below_l * below_h);
    let th = dh * below * (below_l * below_c);
    // The direction as a number that grows with the angle: -2 at 90, -1 at 180, 0 at 270, 1 at 360 degrees.
    let across = 1.0 / (x.abs() + y.abs()).max(f64::MIN_POSITIVE);
    let below_axis = x * across;
    let above_axis = if x < 0.0 { -1.0 - y * across } else { -2.0 };
    Parts {
        straight: tl * tl + tc * tc + th * th,
        turned: 2.0 * chroma_share(mean_c) * tc * th,
        direction: if y < 0.0 { below_axis } else { above_axis },
        opposite: 2.0 * OPPOSITE * product - length,
    }
}

/// sqrt(C^7 / (C^7 + 25^7)).
#[inline(always)]
fn chroma_share(c: f64) -> f64 {
    let c2 = c * c;
    let c7 = c2 * c2 * c2 * c;
    (c7 / (c7 + C25_7)).sqrt()
}

/// The factor T from the cosine and sine of the mean hue, by the multiple-angle formulas.
#[inline(always)]
fn hue_weight(c: f64, s: f64) -> f64 {
    const C30: f64 = 0.866_025_403_784_438_6;
    const S30: f64 = 0.5;
    const C6: f64 = 0.994_521_895_368_273_3;
    const S6: f64 = 0.104_528_463_267_653_47;
    const C63: f64 = 0.453_990_499_739_546_8;
    const S63: f64 = 0.891_006_524_188_367_9;
    let (c2, s2) = (2.0 * c * c - 1.0, 2.0 * s * c);
    let (c3, s3) = (c2 * c - s2 * s, s2 * c + c2 * s);
    let (c4, s4) = (2.0 * c2 * c2 - 1.0, 2.0 * s2 * c2);
    1.0 - 0.17 * (c * C30 + s * S30) + 0.24 * c2 + 0.32 * (c3 * C6 - s3 * S6) - 0.20 * (c4 * C63 + s4 * S63)
}

/// Nodes of the rotation table per quarter of the circle.
const NODES: usize = 1024;

/// Pieces of the rotation table, from 90 to 360 degrees.
const PIECES: usize = 3 * NODES;

/// Per piece of the rotation term the coefficients of its cubic (Hermite), the constant first.
static ROTATION: LazyLock<Box<[[f64; 4]; PIECES]>> = LazyLock::new(|| {
    let step = 1.0 / NODES as f64;
    let mut pieces = Box::new([[0.0; 4]; PIECES]);
    for (place, piece) in pieces.iter_mut().enumerate() {
        let [v0, m0] = rotation_node(place as f64 * step - 2.0, step);
        let [v1, m1] = rotation_node((place + 1) as f64 * step - 2.0, step);
        let rise = v1 - v0;
        *piece = [v0, m0, 3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise];
    }
    pieces
});

/// Value of the rotation term at a direction, and its slope times the distance of the nodes.
fn rotation_node(direction: f64, step: f64) -> [f64; 2] {
    // The point on the square |x| + |y| = 1; along it the angle grows by 1 / (x^2 + y^2).
    let (x, y) = match direction {
        d if d < -1.0 => (-2.0 - d, -1.0 - d),
        d => (d, d.abs() - 1.0),
    };
    let from_90 = atan2(-x, y) * (180.0 / PI);
    let degrees = 90.0 + if from_90 < 0.0 { from_90 + 360.0 } else { from_90 };
    let from_275 = (degrees - 275.0) / 25.0;
    let bell = PI / 3.0 * exp(-from_275 * from_275);
    let per_degree = cos(bell) * bell * (-2.0 * from_275 / 25.0);
    [sin(bell), per_degree * (180.0 / PI) / (x * x + y * y) * step]
}

/// sin(2 dtheta) with dtheta = 30 deg exp(-((h - 275 deg) / 25 deg)^2), where h is taken in 0..360 without a turn:
/// from 0 to 90 degrees it is 0. Cubic interpolation (Hermite) with an error below 1e-10.
fn rotation(direction: f64) -> f64 {
    let (piece, t) = rotation_place(direction);
    cubic(ROTATION[piece], t)
}

/// [`rotation`] of several directions at once.
#[inline(always)]
fn rotations(directions: &[f64; LANES], table: &[[f64; 4]; PIECES]) -> [f64; LANES] {
    let mut pieces = [0; LANES];
    let mut along = [0.0; LANES];
    for lane in 0..LANES {
        (pieces[lane], along[lane]) = rotation_place(directions[lane]);
    }
    let mut cubics = [[0.0; LANES]; 4];
    for lane in 0..LANES {
        let found = &table[pieces[lane]];
        (0..4).for_each(|i| cubics[i][lane] = found[i]);
    }
    let mut turns = [0.0; LANES];
    for lane in 0..LANES {
        turns[lane] =
            cubic([cubics[0][lane], cubics[1][lane], cubics[2][lane], cubics[3][lane]], along[lane]);
    }
    turns
}

/// The piece of the rotation table for a direction, and how far into it the direction lies, 0..=1.
#[inline(always)]
fn rotation_place(direction: f64) -> (usize, f64) {
    let place = (direction + 2.0) * NODES as f64;
    let piece = (place as i32).clamp(0, PIECES as i32 - 1);
    (piece as usize, place - f64::from(piece))
}

#[inline(always)]
fn cubic([c0, c1, c2, c3]: [f64; 4], t: f64) -> f64 {
    c0 + t * (c1 + t * (c2 + t * c3))
}

/// CIEDE2000 as the paper writes it, step by step with angles in degrees; slow, for checks and for nearly opposite hues.
pub fn ciede2000_textbook(p: Lab, q: Lab) -> f64 {
    let mean_chroma = 0.5 * ((p.a * p.a + p.b * p.b).sqrt() + (q.a * q.a + q.b * q.b).sqrt());
    let stretch = 1.5 - 0.5 * chroma_share(mean_chroma);
    let (a1, a2) = (stretch * p.a, stretch * q.a);
    let c1 = (a1 * a1 + p.b * p.b).sqrt();
    let c2 = (a2 * a2 + q.b * q.b).sqrt();
    let (h1, h2) = (hue_degrees(a1, p.b), hue_degrees(a2, q.b));
    let grey = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if grey => 0.0,
        d if d > 180.0 => d - 360.0,
        d if d < -180.0 => d + 360.0,
        d => d,
    };
    let mean_h = match (h1 - h2).abs() {
        _ if grey => h1 + h2,
        d if d <= 180.0 => 0.5 * (h1 + h2),
        _ if h1 + h2 < 360.0 => 0.5 * (h1 + h2 + 360.0),
        _ => 0.5 * (h1 + h2 - 360.0),
    };
    let dh = 2.0 * (c1 * c2).sqrt() * sin_degrees(0.5 * turn);
    let mean_c = 0.5 * (c1 + c2);
    let mean_l = 0.5 * (p.l + q.l) - 50.0;
    let t = 1.0 - 0.17 * cos_degrees(mean_h - 30.0)
        + 0.24 * cos_degrees(2.0 * mean_h)
        + 0.32 * cos_degrees(3.0 * mean_h + 6.0)
        - 0.20 * cos_degrees(4.0 * mean_h - 63.0);
    let scale_l = 1.0 + 0.015 * mean_l * mean_l / (20.0 + mean_l * mean_l).sqrt();
    let scale_c = 1.0 + 0.045 * mean_c;
    let scale_h = 1.0 + 0.015 * mean_c * t;
    let from_275 = (mean_h - 275.0) / 25.0;
    let rotation = -2.0 * chroma_share(mean_c) * sin_degrees(60.0 * exp(-from_275 * from_275));
    let (tl, tc, th) = ((q.l - p.l) / scale_l, (c2 - c1) / scale_c, dh / scale_h);
    (tl * tl + tc * tc + th * th + rotation * tc * th).max(0.0).sqrt()
}

/// Hue of (a, b) in degrees, 0.0..360.0; 0 for grey.
fn hue_degrees(a: f64, b: f64) -> f64 {
    if a == 0.0 && b == 0.0 {
        return 0.0;
    }
    let h = atan2(b, a) * (180.0 / PI);
    if h < 0.0 { h + 360.0 } else { h }
}

fn sin_degrees(x: f64) -> f64 {
    sin(x * (PI / 180.0))
}

fn cos_degrees(x: f64) -> f64 {
    cos(x * (PI / 180.0))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn any_lab() -> impl Strategy<Value = Lab> {
        (0.0..100.0, -110.0..110.0, -110.0..110.0).prop_map(|(l, a, b)| Lab { l, a, b })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]
        #[test]
        fn the_fast_form_is_the_textbook_form(p in any_lab(), q in any_lab()) {
            let (fast, textbook) = (ciede2000(p, q), ciede2000_textbook(p, q));
            prop_assert!((fast - textbook).abs() < 1e-9, "{fast} {textbook}");
        }

        #[test]
        fn close_colours_agree_too(p in any_lab(), dl in -1.0..1.0, da in -1.0..1.0, db in -1.0..1.0) {
            let q = Lab { l: p.l + dl, a: p.a + da, b: p.b + db };
            let (fast, textbook) = (ciede2000(p, q), ciede2000_textbook(p, q));
            prop_assert!((fast - textbook).abs() < 1e-9, "{fast} {textbook}");
        }
    }

    #[test]
    fn equal_colours_do_not_differ() {
        let grey = Lab { l: 50.0, a: 0.0, b: 0.0 };
        let red = Lab { l: 50.0, a: 60.0, b: 30.0 };
        assert_eq!(ciede2000(grey, grey), 0.0);
        assert!(ciede2000(red, red) < 1e-6);
    }
}
