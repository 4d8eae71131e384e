//! Colour profiles are applied, and a picture in sRGB is left alone.

use colour::PictureNote;
use moxcms::{
    ColorProfile, DataColorSpace, LutDataType, LutStore, LutType, LutWarehouse, Matrix3d, ProfileClass,
};

use units::maths::{cbrt, pow};

use crate::build::{
    Tiff, at, decode, jpeg_with_profile, png_rgb, png_with_profile, sample, tiff_rgb, webp, with_chunk,
};

/// The primaries (red, green, blue) of a space as CIE x, y.
type Primaries = [[f64; 2]; 3];

/// SMPTE EG 432-1, which Display P3 uses with the white D65.
const P3: Primaries = [[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]];
/// IEC 61966-2-1 (and ITU-R BT.709).
const SRGB: Primaries = [[0.640, 0.330], [0.300, 0.600], [0.150, 0.060]];
/// D65 as in IEC 61966-2-1.
const D65: [f64; 2] = [0.3127, 0.3290];

type Matrix = [[f64; 3]; 3];

fn xyz([x, y]: [f64; 2]) -> [f64; 3] {
    [x / y, 1.0, (1.0 - x - y) / y]
}

fn times(m: &Matrix, v: [f64; 3]) -> [f64; 3] {
    m.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

fn inverse(m: &Matrix) -> Matrix {
    let minor = |r: usize, c: usize| {
        let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let det: f64 = (0..3).map(|c| m[0][c] * minor(0, c)).sum();
    std::array::from_fn(|r| std::array::from_fn(|c| minor(c, r) / det))
}

/// Linear light to XYZ from the primaries and the white alone.
fn to_xyz(primaries: &Primaries) -> Matrix {
    let columns = primaries.map(xyz);
    let m: Matrix = std::array::from_fn(|r| std::array::from_fn(|c| columns[c][r]));
    let scale = times(&inverse(&m), xyz(D65));
    std::array::from_fn(|r| std::array::from_fn(|c| m[r][c] * scale[c]))
}

fn decoded(v: f64) -> f64 {
    if v <= 0.04045 { v / 12.92 } else { pow((v + 0.055) / 1.055, 2.4) }
}

fn encoded(v: f64) -> f64 {
    if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * pow(v, 1.0 / 2.4) - 0.055 }
}

/// A colour of Display P3 in sRGB, both 0 to 1, or `None` if it lies outside sRGB.
fn p3_in_srgb(colour: [f64; 3]) -> Option<[f64; 3]> {
    let light = times(&inverse(&to_xyz(&SRGB)), times(&to_xyz(&P3), colour.map(decoded)));
    light.iter().all(|v| (0.0..=1.0).contains(v)).then(|| light.map(encoded))
}

/// Colours spread over the cube that have a place in sRGB.
fn p3_samples() -> Vec<([u8; 3], [f64; 3])> {
    let steps = [20u8, 70, 128, 190, 240];
    let cube = (0..125).map(|i| [steps[i / 25], steps[i / 5 % 5], steps[i % 5]]);
    cube.filter_map(|c| p3_in_srgb(c.map(|v| f64::from(v) / 255.0)).map(|want| (c, want))).collect()
}

fn check_p3(file: &[u8], samples: &[([u8; 3], [f64; 3])], what: &str) {
    let picture = decode(file).unwrap();
    assert!(picture.notes().is_empty(), "{what}");
    for (x, (stored, want)) in (0u32..).zip(samples) {
        let got = picture.rgba16(x, 0).unwrap();
        for k in 0..3 {
            let got = f64::from(got[k]) / 65_535.0;
            // One step of 8 bits.
            assert!((got - want[k]).abs() <= 1.0 / 255.0, "{what} {stored:?}: wanted {want:?}, got {got}");
        }
    }
}

#[test]
fn display_p3_becomes_srgb_by_the_published_primaries() {
    let samples = p3_samples();
    assert!(samples.len() > 40);
    let size = (samples.len() as u32, 1);
    let icc = ColorProfile::new_display_p3().encode().unwrap();
    let rgb: Vec<u8> = samples.iter().flat_map(|(c, _)| *c).collect();
    let rgba: Vec<u8> = samples.iter().flat_map(|(c, _)| [c[0], c[1], c[2], 255]).collect();
    check_p3(&png_with_profile(size, png::ColorType::Rgb, &rgb, icc.clone()), &samples, "PNG");
    check_p3(&png_with_profile(size, png::ColorType::Rgba, &rgba, icc.clone()), &samples, "PNG with alpha");
    check_p3(&webp(size, &rgba, Some(icc.clone()), None), &samples, "WebP");
    check_p3(&Tiff { icc: &icc, ..tiff_rgb(size, &rgb) }.bytes(), &samples, "TIFF");
    let deep: Vec<u8> = rgb.iter().flat_map(|v| [*v, *v]).collect();
    check_p3(&Tiff { icc: &icc, bits: 16, ..tiff_rgb(size, &deep) }.bytes(), &samples, "TIFF of 16 bits");
}

#[test]
fn a_profile_with_red_and_blue_exchanged_exchanges_red_and_blue() {
    let mut profile = ColorProfile::new_srgb();
    std::mem::swap(&mut profile.red_colorant, &mut profile.blue_colorant);
    profile.cicp = None;
    let icc = profile.encode().unwrap();
    let blocks = decode(&jpeg_with_profile(&sample("blocks.jpg"), &icc)).unwrap();
    let [r, g, b, _] = at(&blocks, 4, 4);
    assert!(r < 40 && g < 40 && b > 240, "red became {r} {g} {b}");
}

#[test]
fn a_picture_tagged_srgb_keeps_every_bit() {
    let icc = ColorProfile::new_srgb().encode().unwrap();
    let rgb: Vec<u8> = (0..=255u8).flat_map(|v| [v, 255 - v, v.wrapping_mul(7)]).collect();
    let picture = decode(&png_with_profile((256, 1), png::ColorType::Rgb, &rgb, icc)).unwrap();
    assert!(picture.notes().is_empty());
    let got: Vec<u8> = (0..256).flat_map(|x| at(&picture, x, 0)[..3].to_vec()).collect();
    assert_eq!(got, rgb);
}

#[test]
fn alpha_passes_through_a_profile() {
    let icc = ColorProfile::new_display_p3().encode().unwrap();
    let rgba: Vec<u8> = (0..=255u8).flat_map(|v| [200, 100, 50, v]).collect();
    let picture = decode(&png_with_profile((256, 1), png::ColorType::Rgba, &rgba, icc)).unwrap();
    assert!((0..256).all(|x| u32::from(at(&picture, x, 0)[3]) == x));
}

#[test]
fn a_grey_profile_is_applied() {
    // A grey of gamma 1 at half light: sRGB 188 (IEC 61966-2-1: 0.7354 * 255 = 187.5).
    let icc = ColorProfile::new_gray_with_gamma(1.0).encode().unwrap();
    let picture = decode(&png_with_profile((1, 1), png::ColorType::Grayscale, &[128], icc)).unwrap();
    let [r, g, b, _] = at(&picture, 0, 0);
    assert!(r.abs_diff(188) <= 1 && r == g && g == b, "{r} {g} {b}");
}

#[test]
fn a_profile_that_cannot_be_read_is_left_out_with_a_note() {
    let file = png_with_profile((1, 1), png::ColorType::Rgb, &[9, 8, 7], vec![1; 500]);
    let picture = decode(&file).unwrap();
    assert_eq!(picture.notes(), [PictureNote::ProfileNotUsed]);
    assert_eq!(at(&picture, 0, 0), [9, 8, 7, 255]);
}

#[test]
fn another_gamma_is_named_in_a_note_and_the_usual_one_is_not() {
    let file = |gamma: u32| with_chunk(&png_rgb((1, 1), &[1, 2, 3]), b"gAMA", &gamma.to_be_bytes());
    assert_eq!(decode(&file(100_000)).unwrap().notes(), [PictureNote::TakenAsSrgb]);
    assert!(decode(&file(45_455)).unwrap().notes().is_empty());
}

/// A profile for inks that add like ideal filters, (1 - ink)(1 - black) for each of red, green and
/// blue, with its 16 corners in CIE Lab for D50 in 16 bits.
fn ink_profile() -> Vec<u8> {
    let corners: Vec<u16> = (0..16u8)
        .flat_map(|i| {
            let ink = |bit: u8| f64::from(i >> bit & 1);
            let light = [ink(3), ink(2), ink(1)].map(|c| (1.0 - c) * (1.0 - ink(0)));
            let [l, a, b] = lab_d50(light);
            // The older encoding of Lab in 16 bits, which a table of this type uses (ICC.1:2022, 10.10).
            [l * 652.8, (a + 128.0) * 256.0, (b + 128.0) * 256.0]
                .map(|v| v.round().clamp(0.0, 65_535.0) as u16)
        })
        .collect();
    let mut profile = ColorProfile::new_srgb();
    profile.profile_class = ProfileClass::OutputDevice;
    profile.color_space = DataColorSpace::Cmyk;
    profile.pcs = DataColorSpace::Lab;
    profile.cicp = None;
    (profile.red_trc, profile.green_trc, profile.blue_trc) = (None, None, None);
    profile.lut_a_to_b_perceptual = Some(LutWarehouse::Lut(LutDataType {
        num_input_channels: 4,
        num_output_channels: 3,
        num_clut_grid_points: 2,
        matrix: Matrix3d::IDENTITY,
        num_input_table_entries: 2,
        num_output_table_entries: 2,
        input_table: LutStore::Store16([0, 65_535].repeat(4)),
        clut_table: LutStore::Store16(corners),
        output_table: LutStore::Store16([0, 65_535].repeat(3)),
        lut_type: LutType::Lut16,
    }));
    profile.encode().unwrap()
}

/// Linear sRGB to CIE Lab for D50, with the matrix adapted by Bradford (B. Lindbloom, RGB/XYZ matrices).
fn lab_d50(light: [f64; 3]) -> [f64; 3] {
    const TO_XYZ: Matrix = [
        [0.436_074_7, 0.385_064_9, 0.143_080_4],
        [0.222_504_5, 0.716_878_6, 0.060_616_9],
        [0.013_932_2, 0.097_104_5, 0.714_173_3],
    ];
    let white = [0.964_22, 1.0, 0.825_21];
    let xyz = times(&TO_XYZ, light);
    let f = |i: usize| {
        let t: f64 = xyz[i] / white[i];
        if t > 216.0 / 24_389.0 { cbrt(t) } else { (24_389.0 / 27.0 * t + 16.0) / 116.0 }
    };
    [116.0 * f(1) - 16.0, 500.0 * (f(0) - f(1)), 200.0 * (f(1) - f(2))]
}

fn check_inks(icc: &[u8], inks: [u8; 4], want: [u8; 3]) {
    let tiff = Tiff { channels: 4, photometric: 5, icc, ..tiff_rgb((1, 1), &inks) };
    let got = at(&decode(&tiff.bytes()).unwrap(), 0, 0);
    for k in 0..3 {
        assert!(got[k].abs_diff(want[k]) <= 3, "inks {inks:?}: wanted {want:?}, got {got:?}");
    }
}

#[test]
fn inks_with_a_profile_become_what_the_profile_says() {
    let icc = ink_profile();
    check_inks(&icc, [0, 0, 0, 0], [255, 255, 255]);
    check_inks(&icc, [0, 0, 0, 255], [0, 0, 0]);
    check_inks(&icc, [255, 0, 0, 0], [0, 255, 255]);
    check_inks(&icc, [0, 255, 0, 0], [255, 0, 255]);
    check_inks(&icc, [0, 255, 255, 0], [255, 0, 0]);
}

#[test]
fn inks_of_a_jpeg_are_the_same_as_those_of_a_tiff() {
    // The JPEG stores them the other way round, as Adobe's marker says.
    let icc = ink_profile();
    let jpeg = decode(&jpeg_with_profile(&sample("inks.jpg"), &icc)).unwrap();
    let tiff = Tiff { channels: 4, photometric: 5, icc: &icc, ..tiff_rgb((1, 1), &[51, 102, 153, 25]) };
    let (jpeg, tiff) = (at(&jpeg, 4, 4), at(&decode(&tiff.bytes()).unwrap(), 0, 0));
    assert!((0..3).all(|k| jpeg[k].abs_diff(tiff[k]) <= 3), "{jpeg:?} {tiff:?}");
}

#[test]
fn inks_stored_as_luma_and_chroma_are_told_by_adobes_marker() {
    // The stored channels are 204, 153, 102, 230. Read as Y, Cb, Cr, K (ITU-T T.871) the inks are
    // C = 204 + 1.402 (102 - 128) = 167.5, M = 204 - 0.344 (153 - 128) - 0.714 (102 - 128) = 214.0,
    // Y = 204 + 1.772 (153 - 128) = 248.3, K = 255 - 230 = 25.
    let icc = ink_profile();
    let mut file = sample("inks.jpg");
    let adobe = file.windows(5).position(|w| w == b"Adobe").unwrap();
    file[adobe + 11] = 2;
    let jpeg = at(&decode(&jpeg_with_profile(&file, &icc)).unwrap(), 4, 4);
    let tiff = Tiff { channels: 4, photometric: 5, icc: &icc, ..tiff_rgb((1, 1), &[168, 214, 248, 25]) };
    let tiff = at(&decode(&tiff.bytes()).unwrap(), 0, 0);
    assert!((0..3).all(|k| jpeg[k].abs_diff(tiff[k]) <= 4), "{jpeg:?} {tiff:?}");
}
