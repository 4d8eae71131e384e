//! Pictures stand upright, whatever way they are stored.

use colour::{CellGrid, Fit, Flow, Picture, to_cells};

use crate::build::{Tiff, at, decode, exif, png_rgb, sample, tiff_rgb, webp, with_chunk, with_segment};

/// Upright, in reading order: three columns and two rows with six different reds.
const UPRIGHT: [u8; 6] = [10, 20, 30, 40, 50, 60];

/// How the upright picture is stored for each orientation: width, height, values in reading order.
///
/// Worked out by hand from the definitions of Exif 3.0, tag 274: orientation 6, for example, says that
/// row 0 of the stored picture is the right side seen and column 0 the top.
const STORED: [(u32, u32, [u8; 6]); 8] = [
    (3, 2, [10, 20, 30, 40, 50, 60]),
    (3, 2, [30, 20, 10, 60, 50, 40]),
    (3, 2, [60, 50, 40, 30, 20, 10]),
    (3, 2, [40, 50, 60, 10, 20, 30]),
    (2, 3, [10, 40, 20, 50, 30, 60]),
    (2, 3, [30, 60, 20, 50, 10, 40]),
    (2, 3, [60, 30, 50, 20, 40, 10]),
    (2, 3, [40, 10, 50, 20, 60, 30]),
];

fn rgb(reds: &[u8]) -> Vec<u8> {
    reds.iter().flat_map(|r| [*r, 0, 255]).collect()
}

fn check(picture: &Picture, what: &str) {
    assert_eq!((picture.width(), picture.height()), (3, 2), "{what}");
    let seen: Vec<u8> = (0..6).map(|i| at(picture, i % 3, i / 3)[0]).collect();
    assert_eq!(seen, UPRIGHT, "{what}");
    // The cells must see the same.
    let grid = CellGrid { fit: Fit::Stretch, ..CellGrid::new(3, 2, 1.0, 1.0) };
    let cells = to_cells(picture, &grid, &mut |_| Flow::Go).unwrap();
    let seen: Vec<u8> = cells.wanted.iter().map(|c| c.to_srgb8().r).collect();
    assert_eq!(seen, UPRIGHT, "cells of {what}");
}

#[test]
fn all_eight_orientations_come_out_upright_from_every_kind_of_file() {
    for (number, (w, h, reds)) in (1u16..).zip(STORED) {
        let (size, data) = ((w, h), rgb(&reds));
        for little in [true, false] {
            let block = exif(number, little);
            let file = with_chunk(&png_rgb(size, &data), b"eXIf", &block);
            check(&decode(&file).unwrap(), &format!("PNG {number}"));
            let rgba: Vec<u8> = data.chunks(3).flat_map(|p| [p[0], p[1], p[2], 255]).collect();
            let file = webp(size, &rgba, None, Some(block));
            check(&decode(&file).unwrap(), &format!("WebP {number}"));
        }
        let shorts = [(274, number)];
        let file = Tiff { shorts: &shorts, ..tiff_rgb(size, &data) }.bytes();
        check(&decode(&file).unwrap(), &format!("TIFF {number}"));
    }
}

#[test]
fn all_eight_orientations_of_a_jpeg_move_its_red_block_to_the_right_corner() {
    // Where the stored top left block (red, of 2 x 3 blocks) is seen, in blocks.
    let corners = [(0, 0), (1, 0), (1, 2), (0, 2), (0, 0), (2, 0), (2, 1), (0, 1)];
    for (number, corner) in (1u16..).zip(corners) {
        let mut body = b"Exif\0\0".to_vec();
        body.extend(exif(number, number % 2 == 0));
        let picture = decode(&with_segment(&sample("blocks.jpg"), 0xe1, &body)).unwrap();
        let sides = if number > 4 { (24, 16) } else { (16, 24) };
        assert_eq!((picture.width(), picture.height()), sides, "orientation {number}");
        let [r, g, b, _] = at(&picture, corner.0 * 8 + 4, corner.1 * 8 + 4);
        assert!(r > 245 && g < 10 && b < 10, "orientation {number}: {r} {g} {b}");
    }
}

#[test]
fn a_wrong_exif_block_costs_nothing() {
    for block in [&b""[..], b"II*\0", b"II*\0\xff\xff\xff\xff", b"MM\0*\0\0\0\x08\xff\xff", &[0xff; 40]] {
        let file = with_chunk(&png_rgb((3, 2), &rgb(&UPRIGHT)), b"eXIf", block);
        check(&decode(&file).unwrap(), "a wrong block");
    }
    for number in [0, 9, 65_535] {
        let file = with_chunk(&png_rgb((3, 2), &rgb(&UPRIGHT)), b"eXIf", &exif(number, true));
        check(&decode(&file).unwrap(), "an unknown orientation");
    }
}
