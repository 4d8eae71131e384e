//! Colours of the painter: mixed in OKLab, laid over each other in linear light.

use units::maths;

/// A colour in OKLab (Björn Ottosson, "A perceptual color space for image processing", 2020),
/// where halfway between two colours looks halfway.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Colour {
    l: f64,
    a: f64,
    b: f64,
}

/// Linear-light sRGB, each part 0..=1.
pub(crate) type Linear = [f64; 3];

/// A colour and how much of what lies below it covers, 0..=1.
pub(crate) type Ink = (Colour, f64);

/// A colour from `0xRRGGBB` in sRGB.
pub(crate) fn hex(rgb: u32) -> Colour {
    let part = |shift: u32| decode(f64::from((rgb >> shift) & 0xff) / 255.0);
    let (r, g, b) = (part(16), part(8), part(0));
    let l = maths::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
    let m = maths::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
    let s = maths::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
    Colour {
        l: 0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
        a: 1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
        b: 0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s,
    }
}

impl Colour {
    /// The colour that is `t` of the way to `other`.
    pub(crate) fn mix(self, other: Colour, t: f64) -> Colour {
        let t = t.clamp(0.0, 1.0);
        let part = |from: f64, to: f64| from + (to - from) * t;
        Colour { l: part(self.l, other.l), a: part(self.a, other.a), b: part(self.b, other.b) }
    }

    /// Lighter by `by` (darker when negative) on OKLab's scale, where white is 1.
    pub(crate) fn lighter(self, by: f64) -> Colour {
        Colour { l: (self.l + by).clamp(0.0, 1.0), ..self }
    }

    /// The colour in linear light, clipped to what a screen shows.
    pub(crate) fn linear(self) -> Linear {
        let l = self.l + 0.3963377774 * self.a + 0.2158037573 * self.b;
        let m = self.l - 0.1055613458 * self.a - 0.0638541728 * self.b;
        let s = self.l - 0.0894841775 * self.a - 1.2914855480 * self.b;
        let (l, m, s) = (l * l * l, m * m * m, s * s * s);
        [
            (4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s).clamp(0.0, 1.0),
            (-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s).clamp(0.0, 1.0),
            (-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s).clamp(0.0, 1.0),
        ]
    }
}

/// A run of colours at rising places, read at `t`; the ends go on beyond.
pub(crate) fn ramp(stops: &[(f64, Colour)], t: f64) -> Colour {
    let after = stops.iter().position(|(at, _)| *at > t).unwrap_or(stops.len());
    match (after.checked_sub(1).and_then(|at| stops.get(at)), stops.get(after)) {
        (Some(&(from, low)), Some(&(to, high))) => low.mix(high, (t - from) / (to - from)),
        (Some(&(_, only)), None) | (None, Some(&(_, only))) => only,
        (None, None) => hex(0),
    }
}

/// sRGB transfer function backwards (IEC 61966-2-1).
fn decode(value: f64) -> f64 {
    if value <= 0.04045 { value / 12.92 } else { maths::pow((value + 0.055) / 1.055, 2.4) }
}

/// A part of linear light as an sRGB byte.
pub(crate) fn encode(value: f64) -> u8 {
    let value = value.clamp(0.0, 1.0);
    let curved =
        if value <= 0.0031308 { value * 12.92 } else { 1.055 * maths::pow(value, 1.0 / 2.4) - 0.055 };
    (curved * 255.0 + 0.5) as u8
}
