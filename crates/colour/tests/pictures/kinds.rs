//! Every kind of file that is read, and what is said about the others.

use colour::{PictureError, PictureKind, PictureLimits, PictureNote, Pixels};

use crate::build::{Tiff, at, decode, jpeg_with_profile, png, png_rgb, sample, tiff_rgb};

/// The blocks of the samples, in reading order.
const BLOCKS: [[u8; 3]; 6] =
    [[255, 0, 0], [0, 255, 0], [0, 0, 255], [255, 255, 255], [0, 0, 0], [255, 255, 0]];

/// Checks the middle of every block within `tolerance`; alpha is checked by the tests that have one.
fn check_blocks(name: &str, tolerance: u8) -> colour::Picture {
    let picture = decode(&sample(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert_eq!((picture.width(), picture.height()), (16, 24), "{name}");
    for (i, want) in (0u32..).zip(BLOCKS) {
        let got = at(&picture, i % 2 * 8 + 4, i / 2 * 8 + 4);
        for k in 0..3 {
            // What is transparent has no colour to be held to.
            let near = got[3] == 0 || got[k].abs_diff(want[k]) <= tolerance;
            assert!(near, "{name}, block {i}: wanted {want:?}, got {got:?}");
        }
    }
    picture
}

#[test]
fn jpeg_is_read_baseline_and_progressive() {
    assert!(check_blocks("blocks.jpg", 6).notes().is_empty());
    // Chroma at half size bleeds between blocks.
    assert!(check_blocks("blocks-progressive.jpg", 40).notes().is_empty());
}

#[test]
fn a_grey_jpeg_becomes_three_equal_channels() {
    let picture = decode(&sample("blocks-grey.jpg")).unwrap();
    // Luma of red is 76 (ITU-R BT.601: 0.299 * 255).
    let [r, g, b, a] = at(&picture, 4, 4);
    assert!(r.abs_diff(76) <= 3 && r == g && g == b && a == 255);
}

#[test]
fn webp_is_read_lossy_lossless_and_with_alpha() {
    check_blocks("blocks-lossy.webp", 45);
    for name in ["blocks-alpha-lossy.webp", "blocks-alpha-lossless.webp"] {
        let picture = check_blocks(name, 45);
        assert_eq!(at(&picture, 4, 4)[3], 0, "{name}");
        assert!(at(&picture, 12, 20)[3].abs_diff(128) <= 2, "{name}");
        assert_eq!(at(&picture, 4, 20)[3], 255, "{name}");
    }
    check_blocks("blocks-alpha-lossless.webp", 0);
}

#[test]
fn of_an_animation_the_first_picture_is_taken_with_a_note() {
    for name in ["animated.png", "animated.webp"] {
        let picture = check_blocks(name, 0);
        assert_eq!(picture.notes(), [PictureNote::FirstFrameOnly], "{name}");
    }
}

#[test]
fn of_a_tiff_with_pages_the_first_is_taken_with_a_note() {
    assert_eq!(check_blocks("pages.tif", 0).notes(), [PictureNote::FirstPageOnly]);
}

#[test]
fn a_palette_png_is_read() {
    check_blocks("palette.png", 0);
}

#[test]
fn png_is_read_at_every_depth() {
    use png::{BitDepth, ColorType};
    // Eight pixels of one bit: 1010 0000.
    let picture = decode(&png((8, 1), ColorType::Grayscale, BitDepth::One, &[0xa0])).unwrap();
    assert_eq!([0, 1, 2, 3].map(|x| at(&picture, x, 0)[0]), [255, 0, 255, 0]);
    let sixteen = [0x12, 0x34, 0x56, 0x78, 0x9a, 0xbc, 0xde, 0xf0];
    let picture = decode(&png((1, 1), ColorType::Rgba, BitDepth::Sixteen, &sixteen)).unwrap();
    assert_eq!(picture.rgba16(0, 0), Some([0x1234, 0x5678, 0x9abc, 0xdef0]));
    let picture = decode(&png((1, 1), ColorType::Grayscale, BitDepth::Sixteen, &sixteen[..2])).unwrap();
    assert_eq!(picture.rgba16(0, 0), Some([0x1234, 0x1234, 0x1234, 0xffff]));
    let picture = decode(&png((1, 1), ColorType::GrayscaleAlpha, BitDepth::Eight, &[7, 9])).unwrap();
    assert_eq!(at(&picture, 0, 0), [7, 7, 7, 9]);
}

#[test]
fn tiff_is_read_in_8_and_16_bits_grey_rgb_and_rgba() {
    let rgb16: Vec<u8> = [0x1234u16, 0x5678, 0x9abc].iter().flat_map(|v| v.to_le_bytes()).collect();
    let deep = Tiff { bits: 16, ..tiff_rgb((1, 1), &rgb16) };
    assert_eq!(decode(&deep.bytes()).unwrap().rgba16(0, 0), Some([0x1234, 0x5678, 0x9abc, 0xffff]));
    let grey = Tiff { channels: 1, photometric: 1, ..tiff_rgb((2, 1), &[3, 200]) };
    let picture = decode(&grey.bytes()).unwrap();
    assert_eq!([at(&picture, 0, 0), at(&picture, 1, 0)], [[3, 3, 3, 255], [200, 200, 200, 255]]);
    let white_is_zero = Tiff { photometric: 0, ..grey };
    assert_eq!(at(&decode(&white_is_zero.bytes()).unwrap(), 0, 0), [252, 252, 252, 255]);
    let straight = Tiff { channels: 4, shorts: &[(338, 2)], ..tiff_rgb((1, 1), &[50, 60, 70, 128]) };
    assert_eq!(at(&decode(&straight.bytes()).unwrap(), 0, 0), [50, 60, 70, 128]);
}

#[test]
fn a_deep_tiff_too_large_to_hold_is_narrowed_strip_by_strip_with_a_note() {
    let samples = [0u16, 128, 129, 257, 0x1234, 0xfffe, 0xffff, 0x8000, 0x7fff, 700, 800, 900];
    let data: Vec<u8> = samples.iter().flat_map(|v| v.to_le_bytes()).collect();
    let file = Tiff { bits: 16, shorts: &[(284, 1)], ..tiff_rgb((2, 2), &data) }.bytes();
    let narrow = PictureLimits { max_deep_bytes: 0, ..PictureLimits::default() };
    let picture = colour::decode_picture(&file, &narrow).unwrap();
    assert_eq!(picture.notes(), [PictureNote::Narrowed]);
    for (i, deep) in samples.iter().enumerate() {
        let got = picture.rgba16((i / 3 % 2) as u32, (i / 6) as u32).unwrap()[i % 3];
        let nearest = (f64::from(*deep) / 257.0).round() as u16 * 257;
        assert_eq!(got, nearest, "sample {i}");
    }
    let whole = colour::decode_picture(&file, &PictureLimits::default()).unwrap();
    assert!(whole.notes().is_empty());
    assert_eq!(whole.rgba16(0, 0), Some([0, 128, 129, 0xffff]));
    let cut = colour::decode_picture(&file[..file.len() - 1], &narrow);
    assert!(cut.is_err());
}

#[test]
fn a_deep_tiff_in_tiles_is_narrowed_tile_by_tile() {
    let file = sample("deep-tiles.tif");
    let deep = colour::decode_picture(&file, &PictureLimits::default()).unwrap();
    let narrow = PictureLimits { max_deep_bytes: 0, ..PictureLimits::default() };
    let narrow = colour::decode_picture(&file, &narrow).unwrap();
    assert_eq!((deep.width(), deep.height()), (37, 29));
    assert_eq!((deep.notes(), narrow.notes()), (&[][..], &[PictureNote::Narrowed][..]));
    for (x, y) in (0..29).flat_map(|y| (0..37).map(move |x| (x, y))) {
        let (deep, narrow) = (deep.rgba16(x, y).unwrap(), narrow.rgba16(x, y).unwrap());
        assert_eq!(deep.map(|v| (f64::from(v) / 257.0).round() as u16 * 257), narrow, "{x}, {y}");
    }
    // It shades from pure red to pure blue, so tiles in a wrong place would be seen.
    assert!(deep.rgba16(0, 0).unwrap()[0] > 60_000 && deep.rgba16(36, 28).unwrap()[2] > 60_000);
}

#[test]
fn a_deep_tiff_in_one_strip_too_large_to_hold_is_refused_with_the_way_out() {
    let data = [0u8; 24];
    let file = Tiff { bits: 16, ..tiff_rgb((2, 2), &data) }.bytes();
    let limits = PictureLimits { max_deep_bytes: 0, max_held_bytes: file.len() + 24, ..Default::default() };
    assert!(colour::decode_picture(&file, &limits).is_ok());
    let limits = PictureLimits { max_held_bytes: limits.max_held_bytes - 1, ..limits };
    let refused = colour::decode_picture(&file, &limits).unwrap_err();
    assert_eq!(refused, PictureError::TooDeep { kind: PictureKind::Tiff, held_bytes: file.len() + 24 });
    assert!(refused.to_string().contains("in several strips"), "{refused}");
}

#[test]
fn premultiplied_tiff_colours_are_divided_by_alpha() {
    let tiff = Tiff { channels: 4, shorts: &[(338, 1)], ..tiff_rgb((2, 1), &[64, 32, 0, 128, 9, 9, 9, 0]) };
    let picture = decode(&tiff.bytes()).unwrap();
    // 64 * 255 / 128 = 127.5, 32 * 255 / 128 = 63.75.
    assert_eq!(at(&picture, 0, 0), [128, 64, 0, 128]);
    assert_eq!(at(&picture, 1, 0), [0, 0, 0, 0]);
}

#[test]
fn a_tiff_stored_plane_by_plane_is_woven_together() {
    let planes = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
    let picture = decode(&Tiff { shorts: &[(284, 2)], ..tiff_rgb((2, 2), &planes) }.bytes()).unwrap();
    assert_eq!(at(&picture, 0, 0), [1, 5, 9, 255]);
    assert_eq!(at(&picture, 1, 1), [4, 8, 12, 255]);
    let deep: Vec<u8> = planes.iter().flat_map(|v| [0, *v]).collect();
    let picture = decode(&Tiff { shorts: &[(284, 2)], bits: 16, ..tiff_rgb((2, 2), &deep) }.bytes()).unwrap();
    assert_eq!(picture.rgba16(1, 0), Some([0x200, 0x600, 0xa00, 0xffff]));
}

#[test]
fn a_black_and_white_tiff_is_read() {
    // Ten pixels a row: 10100000 01......, 00000000 11.......
    let data = [0xa0, 0x40, 0x00, 0xc0];
    let tiff = Tiff { channels: 1, bits: 1, photometric: 1, ..tiff_rgb((10, 2), &data) };
    let picture = decode(&tiff.bytes()).unwrap();
    let white: Vec<(u32, u32)> =
        (0..20).map(|i| (i % 10, i / 10)).filter(|(x, y)| at(&picture, *x, *y)[0] == 255).collect();
    assert_eq!(white, [(0, 0), (2, 0), (9, 0), (8, 1), (9, 1)]);
}

#[test]
fn ways_of_coding_a_jpeg_that_are_not_read_are_named() {
    let said = |change: &dyn Fn(&mut Vec<u8>)| {
        let mut file = sample("blocks.jpg");
        change(&mut file);
        decode(&file).unwrap_err().to_string()
    };
    let frame = sample("blocks.jpg").windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    assert!(said(&|f| f[frame + 1] = 0xc9).contains("arithmetic coding"));
    assert!(said(&|f| f[frame + 4] = 12).contains("8 bits per channel"));
}

#[test]
fn a_tiff_with_a_palette_is_refused_with_the_next_step() {
    let palette = Tiff { channels: 1, photometric: 3, ..tiff_rgb((1, 1), &[0]) };
    let said = decode(&palette.bytes()).unwrap_err().to_string();
    assert!(said.contains("TIFF") && said.contains("save it as an RGB file"), "{said}");
}

#[test]
fn a_picture_of_one_pixel_is_read() {
    assert_eq!(at(&decode(&png_rgb((1, 1), &[1, 2, 3])).unwrap(), 0, 0), [1, 2, 3, 255]);
    assert_eq!(at(&decode(&tiff_rgb((1, 1), &[1, 2, 3]).bytes()).unwrap(), 0, 0), [1, 2, 3, 255]);
}

#[test]
fn samples_keep_the_depth_of_the_file() {
    assert!(matches!(decode(&png_rgb((1, 1), &[1, 2, 3])).unwrap().pixels(), Pixels::Rgb8(_)));
    let deep = png((1, 1), png::ColorType::Rgb, png::BitDepth::Sixteen, &[0; 6]);
    assert!(matches!(decode(&deep).unwrap().pixels(), Pixels::Rgb16(_)));
}

#[test]
fn an_animated_gif_is_refused_in_words() {
    assert_eq!(
        decode(&sample("blocks.gif")).unwrap_err().to_string(),
        "The file looks like a GIF picture, which is not read: save it as PNG, JPEG, WebP or TIFF."
    );
}

#[test]
fn inks_without_a_profile_are_refused_and_rgb_is_named_as_the_way_out() {
    let want = PictureError::CmykWithoutProfile { kind: PictureKind::Jpeg };
    assert_eq!(decode(&sample("inks.jpg")), Err(want.clone()));
    assert!(want.to_string().contains("CMYK") && want.to_string().contains("save it as RGB"));
    // A profile that is none does not help.
    assert_eq!(decode(&jpeg_with_profile(&sample("inks.jpg"), &[7; 300])), Err(want));
    let tiff = Tiff { channels: 4, photometric: 5, ..tiff_rgb((1, 1), &[1, 2, 3, 4]) };
    assert_eq!(decode(&tiff.bytes()), Err(PictureError::CmykWithoutProfile { kind: PictureKind::Tiff }));
}
