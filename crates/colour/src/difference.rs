//! The colour difference CIEDE2000, in a textbook form and in a fast form without angles.
//!
//! Source: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
//! supplementary test data, and mathematical observations", Color Research & Application 30(1), 2005;
//! parametric factors kL = kC = kH = 1.

use std::f64::consts::PI;

use units::maths::{atan2, cos, exp, sin};

use crate::spaces::Lab;

/// 25 to the power 7.
const C25_7: f64 = 6_103_515_625.0;

/// Below this share of the product of the chromas the mean hue is taken from the textbook form:
/// there the two hues are nearly opposite and their bisector is not well determined.
const OPPOSITE: f64 = 1e-4;

/// CIEDE2000 colour difference of two colours, at least 0; about 1 is just noticeable side by side.
///
/// The mean hue is the direction of the bisector of the two (a', b) vectors, so that no arc tangent is needed:
/// multiple angles follow from one sine and cosine, and the angle itself is only computed where the rotation term counts.
/// Equal to [`ciede2000_textbook`] to 1e-9.
pub fn ciede2000(a: Lab, b: Lab) -> f64 {
    Toned::new(a).difference(&Toned::new(b))
}

/// A colour with what CIEDE2000 needs of it alone.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Toned {
    lab: Lab,
    chroma: f64,
}

impl Toned {
    pub(crate) fn new(lab: Lab) -> Self {
        Self { lab, chroma: (lab.a * lab.a + lab.b * lab.b).sqrt() }
    }

    /// CIEDE2000 to another colour.
    pub(crate) fn difference(&self, other: &Toned) -> f64 {
        let (p, q) = (&self.lab, &other.lab);
        let mean_chroma = 0.5 * (self.chroma + other.chroma);
        let stretch = 1.5 - 0.5 * chroma_share(mean_chroma);
        let (a1, a2) = (stretch * p.a, stretch * q.a);
        let c1 = (a1 * a1 + p.b * p.b).sqrt();
        let c2 = (a2 * a2 + q.b * q.b).sqrt();
        let product = c1 * c2;
        // Both vectors brought to the same length: their sum points along the bisector of the hues.
        let (x, y) = (a1 * c2 + a2 * c1, p.b * c2 + q.b * c1);
        let length = (x * x + y * y).sqrt();
        if length <= OPPOSITE * product && product > 0.0 {
            return ciede2000_textbook(*p, *q);
        }
        let mean_c = 0.5 * (c1 + c2);
        let mean_l = 0.5 * (p.l + q.l) - 50.0;
        let l2 = mean_l * mean_l;
        let tl = (q.l - p.l) * (20.0 + l2).sqrt() / ((20.0 + l2).sqrt() + 0.015 * l2);
        let tc = (c2 - c1) / (1.0 + 0.045 * mean_c);
        let mut sum = tl * tl + tc * tc;
        if product == 0.0 {
            // Against grey there is no difference of hue.
            return sum.sqrt();
        }
        let (cos_h, sin_h) = (x / length, y / length);
        // dH = 2 sqrt(C1 C2) sin(dh / 2), with the sign of the cross product C1 C2 sin(dh). Divided by the cosine
        // it stays precise for close hues; where the cosine is small, the dot product gives it without loss.
        let (dot, cross) = (a1 * a2 + p.b * q.b, a1 * q.b - a2 * p.b);
        let dh = if dot > 0.0 {
            cross / (0.5 * (product + dot)).sqrt()
        } else {
            (2.0 * (product - dot)).sqrt().copysign(cross)
        };
        let th = dh / (1.0 + 0.015 * mean_c * hue_weight(cos_h, sin_h));
        sum += th * th;
        let turn = rotation(cos_h, sin_h);
        if turn != 0.0 {
            sum -= 2.0 * chroma_share(mean_c) * turn * tc * th;
        }
        sum.max(0.0).sqrt()
    }
}

/// sqrt(C^7 / (C^7 + 25^7)).
fn chroma_share(c: f64) -> f64 {
    let c2 = c * c;
    let c7 = c2 * c2 * c2 * c;
    (c7 / (c7 + C25_7)).sqrt()
}

/// The factor T from the cosine and sine of the mean hue, by the multiple-angle formulas.
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

/// sin(2 dtheta) with dtheta = 30 deg exp(-((h - 275 deg) / 25 deg)^2); 0 where it is below 1e-13.
fn rotation(c: f64, s: f64) -> f64 {
    const C275: f64 = 0.087_155_742_747_658_17;
    const S275: f64 = -0.996_194_698_091_745_5;
    // Cosine and sine of h - 275 deg.
    let (near_c, near_s) = (c * C275 + s * S275, s * C275 - c * S275);
    // At 140 deg away the exponent is -31. The paper takes h in 0..360 without a turn: 0..90 is never near 275.
    if near_c < -0.77 || (c >= 0.0 && s >= 0.0) {
        return 0.0;
    }
    let from_275 = atan2(near_s, near_c) * (180.0 / PI / 25.0);
    sin(PI / 3.0 * exp(-from_275 * from_275))
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
