//! Colour spaces: sRGB in 8 bits, linear light, CIE XYZ, CIE Lab (D65) and OKLab.
//!
//! Sources: IEC 61966-2-1 for the sRGB transfer curve, primaries and white point;
//! CIE 15 for Lab; B. Ottosson, "A perceptual color space for image processing", 2020, for OKLab.

use std::sync::LazyLock;

use units::maths::{cbrt, pow};

/// A colour in sRGB with 8 bits a channel, as a screen or a stock list names it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Srgb8 {
    /// Red, 0..=255, sRGB encoded.
    pub r: u8,
    /// Green, 0..=255, sRGB encoded.
    pub g: u8,
    /// Blue, 0..=255, sRGB encoded.
    pub b: u8,
}

/// A colour in linear light with the sRGB primaries: red, green, blue, each 0.0..=1.0 inside the gamut.
///
/// Light adds in this space: averages, blurs and mixtures of surfaces are taken here.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Linear(pub [f32; 3]);

/// CIE XYZ relative to D65, with Y = 1 for the white of sRGB.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Xyz(pub [f64; 3]);

/// CIE Lab for the D65 white of sRGB: `l` 0..=100, `a` towards red, `b` towards yellow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lab {
    /// Lightness, 0..=100.
    pub l: f64,
    /// Green (negative) to red (positive).
    pub a: f64,
    /// Blue (negative) to yellow (positive).
    pub b: f64,
}

/// OKLab: `l` 0..=1, `a` towards red, `b` towards yellow, both about -0.4..=0.4.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OkLab {
    /// Lightness, 0..=1.
    pub l: f64,
    /// Green (negative) to red (positive).
    pub a: f64,
    /// Blue (negative) to yellow (positive).
    pub b: f64,
}

/// Linear sRGB to XYZ, from the primaries and white point of IEC 61966-2-1 without its rounding to four decimals.
const SRGB_TO_XYZ: [[f64; 3]; 3] = [
    [0.412_390_799_265_959_23, 0.357_584_339_383_878, 0.180_480_788_401_834_3],
    [0.212_639_005_871_510_22, 0.715_168_678_767_756, 0.072_192_315_360_733_71],
    [0.019_330_818_715_591_853, 0.119_194_779_794_626_12, 0.950_532_152_249_660_7],
];

/// XYZ to linear sRGB, the inverse of [`SRGB_TO_XYZ`].
const XYZ_TO_SRGB: [[f64; 3]; 3] = [
    [3.240_969_941_904_523, -1.537_383_177_570_094_1, -0.498_610_760_293_003_55],
    [-0.969_243_636_280_879_6, 1.875_967_501_507_720_2, 0.041_555_057_407_175_62],
    [0.055_630_079_696_993_65, -0.203_976_958_888_976_68, 1.056_971_514_242_878_4],
];

/// XYZ of the D65 white of sRGB: what [`SRGB_TO_XYZ`] makes of (1, 1, 1).
pub(crate) const WHITE_D65: [f64; 3] = [0.950_455_927_051_671_6, 1.0, 1.089_057_750_759_878_7];

/// Below this share of white Lab is linear (CIE 15).
const LAB_LIMIT: f64 = 216.0 / 24389.0;

/// The slope of the linear part of Lab (CIE 15).
const LAB_SLOPE: f64 = 24389.0 / 27.0;

/// XYZ to the cone responses of OKLab (Ottosson 2020, M1).
const XYZ_TO_LMS: [[f64; 3]; 3] = [
    [0.818_933_010_1, 0.361_866_742_4, -0.128_859_713_7],
    [0.032_984_543_6, 0.929_311_871_5, 0.036_145_638_7],
    [0.048_200_301_8, 0.264_366_269_1, 0.633_851_707_0],
];

/// Cube roots of the cone responses to OKLab (Ottosson 2020, M2).
pub(crate) const ROOTS_TO_OKLAB: [[f64; 3]; 3] = [
    [0.210_454_255_3, 0.793_617_785_0, -0.004_072_046_8],
    [1.977_998_495_1, -2.428_592_205_0, 0.450_593_709_9],
    [0.025_904_037_1, 0.782_771_766_2, -0.808_675_766_0],
];

/// Buckets of the table that starts the search for an 8-bit value; each is narrower than the narrowest step of sRGB,
/// so that at most one threshold lies in a bucket.
const BUCKETS: usize = 4096;

struct Tables {
    /// Linear light of each 8-bit value.
    decode: [f64; 256],
    /// `above[v]` is the least linear value that rounds to more than `v`.
    above: [f32; 256],
    /// The 8-bit value at the lower end of each bucket.
    start: Vec<u8>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    let decode = std::array::from_fn(|v| decode_channel(v as f64 / 255.0));
    let above: [f32; 256] = std::array::from_fn(|v| match v {
        255 => f32::INFINITY,
        _ => decode_channel((v as f64 + 0.5) / 255.0) as f32,
    });
    let start = (0..BUCKETS)
        .map(|bucket| {
            let low = bucket as f32 / BUCKETS as f32;
            above.partition_point(|&limit| limit <= low) as u8
        })
        .collect();
    Tables { decode, above, start }
});

/// The sRGB transfer curve from an encoded to a linear value, both 0..=1 (IEC 61966-2-1).
pub fn decode_channel(encoded: f64) -> f64 {
    if encoded <= 0.04045 { encoded / 12.92 } else { pow((encoded + 0.055) / 1.055, 2.4) }
}

/// The sRGB transfer curve from a linear to an encoded value, both 0..=1 (IEC 61966-2-1).
pub fn encode_channel(linear: f64) -> f64 {
    if linear <= 0.003_130_8 { linear * 12.92 } else { 1.055 * pow(linear, 1.0 / 2.4) - 0.055 }
}

/// The 8-bit sRGB value nearest to a linear one; outside 0..=1 it is cut off, and NaN becomes 0.
pub fn encode8(linear: f32) -> u8 {
    let tables = &*TABLES;
    if linear >= 1.0 {
        return 255;
    }
    // A NaN fails every comparison and the cast makes it 0.
    let bucket = (linear * BUCKETS as f32) as usize;
    let low = tables.start[bucket.min(BUCKETS - 1)];
    low + u8::from(linear >= tables.above[low as usize])
}

/// The linear light of an 8-bit sRGB value, 0..=1.
pub fn decode8(value: u8) -> f32 {
    TABLES.decode[value as usize] as f32
}

pub(crate) fn apply(matrix: &[[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

impl Srgb8 {
    /// A colour from its three channels, 0..=255 each.
    pub const fn new(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b }
    }

    /// Reads `#rrggbb` or `rrggbb`, upper or lower case; anything else gives nothing.
    pub fn from_hex(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#').unwrap_or(text);
        if digits.len() != 6 || !digits.bytes().all(|c| c.is_ascii_hexdigit()) {
            return None;
        }
        let value = u32::from_str_radix(digits, 16).ok()?;
        Some(Self::from_key(value))
    }

    /// Writes `#rrggbb` in lower case.
    pub fn to_hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }

    /// The colour in linear light.
    pub fn to_linear(self) -> Linear {
        Linear([decode8(self.r), decode8(self.g), decode8(self.b)])
    }

    /// The colour in CIE XYZ, from the transfer curve in double precision.
    pub fn to_xyz(self) -> Xyz {
        let decode = &TABLES.decode;
        let linear = [self.r, self.g, self.b].map(|v| decode[v as usize]);
        Xyz(apply(&SRGB_TO_XYZ, linear))
    }

    /// The colour in CIE Lab, from the transfer curve in double precision.
    ///
    /// Greys have a and b of exactly 0.
    pub fn to_lab(self) -> Lab {
        let lab = self.to_xyz().to_lab();
        if self.r == self.g && self.g == self.b { Lab { l: lab.l, a: 0.0, b: 0.0 } } else { lab }
    }

    /// The colour from `0xrrggbb`.
    pub(crate) const fn from_key(key: u32) -> Self {
        Self { r: (key >> 16) as u8, g: (key >> 8) as u8, b: key as u8 }
    }
}

/// [`Srgb8::to_lab`] of several colours at once, to 1e-10, in arithmetic that the compiler can turn into vector instructions.
#[inline(always)]
pub(crate) fn quick_labs<const N: usize>(colours: &[Srgb8; N]) -> [Lab; N] {
    let decode = &TABLES.decode;
    let mut shares = [[0.0; N]; 3];
    for (n, colour) in colours.iter().enumerate() {
        let (r, g, b) = (decode[colour.r as usize], decode[colour.g as usize], decode[colour.b as usize]);
        for (share, (row, white)) in shares.iter_mut().zip(SRGB_TO_XYZ.iter().zip(WHITE_D65)) {
            share[n] = (row[0] * r + row[1] * g + row[2] * b) / white;
        }
    }
    for share in shares.as_flattened_mut() {
        let (curved, linear) = (quick_root(*share), (LAB_SLOPE * *share + 16.0) / 116.0);
        *share = if *share > LAB_LIMIT { curved } else { linear };
    }
    let [x, y, z] = shares;
    let mut labs = [Lab::default(); N];
    for (n, (lab, colour)) in labs.iter_mut().zip(colours).enumerate() {
        let tinted = if colour.r == colour.g && colour.g == colour.b { 0.0 } else { 1.0 };
        *lab = Lab {
            l: 116.0 * y[n] - 16.0,
            a: tinted * 500.0 * (x[n] - y[n]),
            b: tinted * 200.0 * (y[n] - z[n]),
        };
    }
    labs
}

/// The cube root of a number in 0.001..=2 to 1e-13: a first guess from a third of the exponent, then Halley's method.
#[inline(always)]
fn quick_root(t: f64) -> f64 {
    // A third of the bits of 1 taken from those of 1, less what centres the error of the guess.
    const BASE: u32 = 0x2a51_4067;
    let guess = f64::from(f32::from_bits((t as f32).to_bits() / 3 + BASE));
    let closer = |y: f64| {
        let cube = y * y * y;
        y * (cube + 2.0 * t) / (2.0 * cube + t)
    };
    closer(closer(guess))
}

impl Linear {
    /// The nearest colour in 8-bit sRGB; what lies outside the gamut is cut off channel by channel.
    pub fn to_srgb8(self) -> Srgb8 {
        let [r, g, b] = self.0.map(encode8);
        Srgb8 { r, g, b }
    }

    /// The colour in CIE XYZ.
    pub fn to_xyz(self) -> Xyz {
        Xyz(apply(&SRGB_TO_XYZ, self.0.map(f64::from)))
    }

    /// The colour in CIE Lab.
    ///
    /// A colour that is exactly one of 8-bit sRGB gives the same bits as [`Srgb8::to_lab`];
    /// single precision would otherwise move some rounded differences by one unit.
    pub fn to_lab(self) -> Lab {
        let near = self.to_srgb8();
        if near.to_linear() == self { near.to_lab() } else { self.to_xyz().to_lab() }
    }

    /// The colour in OKLab.
    pub fn to_oklab(self) -> OkLab {
        self.to_xyz().to_oklab()
    }

    /// Relative luminance, 0 for black to 1 for white (the Y of XYZ).
    pub fn relative_luminance(self) -> f64 {
        let [r, g, b] = self.0.map(f64::from);
        let row = &SRGB_TO_XYZ[1];
        row[0] * r + row[1] * g + row[2] * b
    }

    /// This colour and another mixed by area: `share` 0 gives this one, 1 the other.
    pub fn mix(self, other: Linear, share: f32) -> Linear {
        Linear(std::array::from_fn(|i| self.0[i] + (other.0[i] - self.0[i]) * share))
    }
}

/// Relative luminance of a colour in linear light, 0 for black to 1 for white (the Y of XYZ).
pub fn relative_luminance(colour: Linear) -> f64 {
    colour.relative_luminance()
}

impl Xyz {
    /// The colour in CIE Lab for the D65 white (CIE 15, with the exact rational limits of the linear part).
    pub fn to_lab(self) -> Lab {
        let f = |t: f64| if t > LAB_LIMIT { cbrt(t) } else { (LAB_SLOPE * t + 16.0) / 116.0 };
        let [x, y, z] = std::array::from_fn(|i| f(self.0[i] / WHITE_D65[i]));
        Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }

    /// The colour in OKLab.
    pub fn to_oklab(self) -> OkLab {
        let roots = apply(&XYZ_TO_LMS, self.0).map(cbrt);
        let [l, a, b] = apply(&ROOTS_TO_OKLAB, roots);
        OkLab { l, a, b }
    }

    /// The colour in linear light; values outside 0..=1 are outside the gamut of sRGB and are kept.
    pub fn to_linear(self) -> Linear {
        Linear(apply(&XYZ_TO_SRGB, self.0).map(|v| v as f32))
    }
}

/// Linear sRGB straight to the cone responses of OKLab.
pub(crate) fn linear_to_cones() -> [[f64; 3]; 3] {
    std::array::from_fn(|i| {
        std::array::from_fn(|j| (0..3).map(|k| XYZ_TO_LMS[i][k] * SRGB_TO_XYZ[k][j]).sum())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_8_bit_value_survives_linear_light() {
        for v in 0..=255 {
            assert_eq!(encode8(decode8(v)), v);
        }
    }

    #[test]
    fn encoding_rounds_as_the_curve_does() {
        for i in 0..=200_000 {
            let x = i as f32 / 200_000.0;
            let exact = 255.0 * encode_channel(f64::from(x));
            let near_a_tie = (exact.fract() - 0.5).abs() < 1e-4;
            assert!(near_a_tie || f64::from(encode8(x)) == exact.round(), "{x}");
        }
    }

    #[test]
    fn what_is_no_light_is_cut_off() {
        assert_eq!([-1.0, f32::NAN, 7.0, f32::INFINITY, f32::NEG_INFINITY].map(encode8), [0, 0, 255, 255, 0]);
    }

    #[test]
    fn hex_is_read_strictly() {
        assert_eq!(Srgb8::from_hex("#1a2B3c"), Some(Srgb8::new(0x1a, 0x2b, 0x3c)));
        assert_eq!(Srgb8::from_hex("1a2b3c").map(Srgb8::to_hex).as_deref(), Some("#1a2b3c"));
        for bad in ["", "#", "#12345", "#1234567", "+12345", "#12345g", "##12345", "#12é45"] {
            assert_eq!(Srgb8::from_hex(bad), None, "{bad}");
        }
    }

    #[test]
    fn quick_lab_is_lab() {
        for key in (0..0x100_0000).step_by(97) {
            let colours = [Srgb8::from_key(key), Srgb8::from_key(key % 256 * 0x01_0101)];
            for (quick, lab) in quick_labs(&colours).into_iter().zip(colours.map(Srgb8::to_lab)) {
                let off = [quick.l - lab.l, quick.a - lab.a, quick.b - lab.b];
                assert!(off.iter().all(|v| v.abs() < 1e-10), "{key:06x}: {off:?}");
            }
        }
    }

    #[test]
    fn the_way_to_xyz_and_back_is_closed() {
        for key in (0..0x100_0000).step_by(4_099) {
            let colour = Srgb8::from_key(key);
            assert_eq!(colour.to_xyz().to_linear().to_srgb8(), colour);
        }
    }
}
