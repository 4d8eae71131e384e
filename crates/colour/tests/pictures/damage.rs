//! Cut off, mixed up and random files: an error or the whole picture, never half of one, never a panic.

use colour::{PictureError, PictureLimits, PictureNote, decode_picture};
use proptest::prelude::*;

use crate::build::{Tiff, decode, exif, png, png_rgb, sample, tiff_rgb, webp};

/// Files of every kind that is read.
fn files() -> Vec<(&'static str, Vec<u8>)> {
    let noise: Vec<u8> = (0..40 * 30 * 3u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let rgba: Vec<u8> = noise.chunks(3).flat_map(|p| [p[0], p[1], p[2], p[0]]).collect();
    let deep = png((20, 30), png::ColorType::Rgb, png::BitDepth::Sixteen, &noise);
    let mut files: Vec<(&'static str, Vec<u8>)> = [
        "blocks.jpg",
        "blocks-progressive.jpg",
        "blocks-grey.jpg",
        "blocks-lossy.webp",
        "blocks-alpha-lossy.webp",
        "blocks-alpha-lossless.webp",
        "animated.webp",
        "animated.png",
        "palette.png",
        "pages.tif",
    ]
    .map(|name| (name, sample(name)))
    .into();
    files.push(("noise.png", png_rgb((40, 30), &noise)));
    files.push(("deep.png", deep));
    files.push(("noise.tif", tiff_rgb((40, 30), &noise).bytes()));
    let planar = Tiff { shorts: &[(284, 2)], ..tiff_rgb((40, 30), &noise) };
    files.push(("planar.tif", planar.bytes()));
    files.push(("noise.webp", webp((40, 30), &rgba, None, Some(exif(6, true)))));
    files
}

#[test]
fn a_file_cut_off_anywhere_gives_an_error_or_the_whole_picture() {
    for (name, file) in files() {
        let whole = decode(&file).unwrap_or_else(|e| panic!("{name}: {e}"));
        for twentieth in 0..20 {
            let cut = &file[..file.len() * twentieth / 20];
            match decode(cut) {
                Ok(picture) => {
                    assert_eq!(picture.pixels(), whole.pixels(), "{name} cut at {twentieth}/20");
                }
                Err(e) => assert!(e.to_string().ends_with('.'), "{name}: {e}"),
            }
        }
    }
}

#[test]
fn a_jpeg_without_its_end_is_called_cut_off() {
    let file = sample("blocks.jpg");
    let said = decode(&file[..file.len() - 2]).unwrap_err();
    assert_eq!(said, PictureError::CutOff { kind: colour::PictureKind::Jpeg });
    assert_eq!(
        said.to_string(),
        "The JPEG file is cut off before the picture is complete: copy or save it again."
    );
}

#[test]
fn a_jpeg_that_bends_the_rules_is_read_with_a_note() {
    // Eight stray bytes between two segments.
    let file = sample("blocks.jpg");
    let second = 4 + usize::from(u16::from_be_bytes([file[4], file[5]]));
    let mut bent = file[..second].to_vec();
    bent.extend([0; 8]);
    bent.extend(&file[second..]);
    let picture = decode(&bent).unwrap();
    assert_eq!(picture.notes(), [PictureNote::FlawedData]);
    assert_eq!(picture.pixels(), decode(&file).unwrap().pixels());
}

/// Small limits, so that a changed size costs no time.
const SMALL: PictureLimits = PictureLimits {
    max_pixels: 1_000_000,
    max_side: 60_000,
    max_extra_bytes: 1 << 20,
    max_deep_bytes: 1 << 20,
    max_held_bytes: 1 << 22,
};

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes_behind_any_first_bytes_never_panic(
        start in 0usize..6,
        tail in proptest::collection::vec(any::<u8>(), 0..300),
    ) {
        let starts: [&[u8]; 6] = [b"", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"\xff\xd8\xff", b"RIFF\x40\0\0\0WEBPVP8X", b"II*\0", b"MM\0*"];
        let bytes: Vec<u8> = starts[start].iter().chain(&tail).copied().collect();
        let _ = decode_picture(&bytes, &SMALL);
    }

    #[test]
    fn changed_bytes_never_panic(
        which in any::<prop::sample::Index>(),
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let files = files();
        let mut file = which.get(&files).1.clone();
        for (place, value) in changes {
            let at = place.index(file.len());
            file[at] = value;
        }
        if let Ok(picture) = decode_picture(&file, &SMALL) {
            prop_assert!(picture.rgba16(0, 0).is_some());
            prop_assert!(picture.rgba16(picture.width() - 1, picture.height() - 1).is_some());
        }
    }
}
