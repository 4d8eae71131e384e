//! Small files that promise or unpack to far too much are refused in words, without the memory.

#![allow(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::borrow::Cow;

use colour::{PictureError, PictureKind, PictureLimits, PictureNote, decode_picture};

fn decode(bytes: &[u8]) -> Result<colour::Picture, PictureError> {
    decode_picture(bytes, &PictureLimits::default())
}

/// A PNG of 57 bytes or a little more: a header, one chunk, an empty end. Checksums are right where
/// a decoder would look at them first.
fn png_header(width: u32, height: u32) -> Vec<u8> {
    let mut body = b"IHDR".to_vec();
    body.extend(width.to_be_bytes());
    body.extend(height.to_be_bytes());
    body.extend([8, 2, 0, 0, 0]);
    let mut file = b"\x89PNG\r\n\x1a\n\0\0\0\r".to_vec();
    file.extend(&body);
    file.extend(crc(&body).to_be_bytes());
    file
}

fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

fn chunk(name: &[u8; 4], length: u32, body: &[u8]) -> Vec<u8> {
    let mut chunk = length.to_be_bytes().to_vec();
    chunk.extend(name);
    chunk.extend(body);
    chunk
}

/// The most memory this process has held, in MiB; 0 where the system does not tell.
fn peak_mib() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|kib| kib.parse::<u64>().ok()).unwrap_or(0) / 1024
}

/// Runs everything in one test, so that the memory it is held to is its own.
#[test]
fn bombs_are_refused_without_the_memory_they_ask_for() {
    sizes_that_are_too_large();
    sizes_that_the_file_cannot_hold();
    extra_data_that_is_too_large();
    let peak = peak_mib();
    assert!(peak < 200, "{peak} MiB were held");
}

fn sizes_that_are_too_large() {
    let said = decode(&png_header(60_000, 60_000)).unwrap_err().to_string();
    assert!(said.contains("60\u{a0}000 x 60\u{a0}000 pixels") && said.contains("100 megapixels"), "{said}");
    // 33 bytes of header and 8 more.
    let mut tall = png_header(1, i32::MAX as u32);
    tall.extend(chunk(b"IDAT", 0, b""));
    assert_eq!(tall.len(), 41);
    assert!(matches!(decode(&tall), Err(PictureError::TooManyPixels { .. })));
    assert!(matches!(decode(&png_header(1, 90_000)), Err(PictureError::SideTooLong { .. })));
    assert!(matches!(decode(&png_header(0, 9)), Err(PictureError::NoSize { .. })));

    let jpeg = b"\xff\xd8\xff\xc0\0\x11\x08\xff\xff\xff\xff\x03\x01\x22\0\x02\x11\x01\x03\x11\x01\xff\xd9";
    assert!(matches!(decode(jpeg), Err(PictureError::TooManyPixels { width: 65_535, height: 65_535, .. })));

    let mut webp = b"RIFF\x40\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0\xff\xff\xff\xff\xff\xff".to_vec();
    webp.extend(b"VP8L\x05\0\0\0\x2f\0\0\0\0\0");
    webp.resize(100, 0);
    assert!(matches!(decode(&webp), Err(PictureError::TooManyPixels { .. })), "{:?}", decode(&webp));

    let tiff =
        tiff(&[(256, 4, 1, u32::MAX), (257, 4, 1, u32::MAX), (262, 3, 1, 1), (273, 4, 1, 8), (279, 4, 1, 8)]);
    assert!(matches!(decode(&tiff), Err(PictureError::TooManyPixels { .. })), "{:?}", decode(&tiff));
}

/// A little-endian TIFF of one directory: tag, type, count, value or offset.
fn tiff(entries: &[(u16, u16, u32, u32)]) -> Vec<u8> {
    let mut file = b"II*\0\x08\0\0\0".to_vec();
    file.extend((entries.len() as u16).to_le_bytes());
    for (tag, kind, count, value) in entries {
        file.extend(tag.to_le_bytes());
        file.extend(kind.to_le_bytes());
        file.extend(count.to_le_bytes());
        file.extend(value.to_le_bytes());
    }
    file.extend([0; 4]);
    file
}

fn sizes_that_the_file_cannot_hold() {
    // Within the limit, but 300 MB cannot be in a file this short.
    let mut flat = png_header(10_000, 10_000);
    flat.extend(chunk(b"IDAT", 9, &[0; 13]));
    flat.extend(chunk(b"IEND", 0, &[0; 4]));
    assert_eq!(decode(&flat), Err(PictureError::CutOff { kind: PictureKind::Png }));

    let jpeg = b"\xff\xd8\xff\xc0\0\x11\x08\x27\x10\x27\x10\x03\x01\x22\0\x02\x11\x01\x03\x11\x01\xff\xd9";
    assert_eq!(decode(jpeg), Err(PictureError::CutOff { kind: PictureKind::Jpeg }));

    // A million strips that are not there.
    let strips = 1_000_000;
    let tiff = tiff(&[
        (256, 4, 1, 10_000),
        (257, 4, 1, 10_000),
        (258, 3, 1, 8),
        (259, 3, 1, 1),
        (262, 3, 1, 1),
        (273, 4, strips, 8),
        (277, 3, 1, 1),
        (278, 4, 1, 1),
        (279, 4, strips, 8),
    ]);
    assert!(decode(&tiff).is_err());
    // 65 535 KiB of tag data where the file has 100 bytes.
    let tiff = self::tiff(&[(256, 4, 1, 1), (257, 4, 1, 1), (262, 3, 1, 1), (34_675, 7, u32::MAX, 8)]);
    assert!(decode(&tiff).is_err());
}

fn extra_data_that_is_too_large() {
    // Chunks that claim a gibibyte.
    for name in [b"tEXt", b"zTXt", b"iTXt", b"eXIf", b"iCCP", b"abCd"] {
        let mut file = png_header(1, 1);
        file.extend(chunk(name, 1 << 30, &[7; 100]));
        assert_eq!(decode(&file), Err(PictureError::CutOff { kind: PictureKind::Png }), "{name:?}");
    }
    // Texts and profiles of 64 MiB of zeros, packed.
    let zeros = vec![0u8; 64 << 20];
    let with_profile = one_pixel(|info| info.icc_profile = Some(Cow::Borrowed(&zeros)));
    assert!(with_profile.len() < 200_000);
    let picture = decode(&with_profile).unwrap();
    assert_eq!(picture.notes(), [PictureNote::ProfileNotUsed]);
    let text = String::from_utf8(zeros).unwrap();
    let with_text = one_pixel(|info| {
        info.compressed_latin1_text.push(png::text_metadata::ZTXtChunk::new("Comment", text));
    });
    assert!(with_text.len() < 1_000_000);
    assert!(decode(&with_text).unwrap().notes().is_empty());
}

/// A PNG of one pixel with whatever `extra` puts into its header.
fn one_pixel<'a>(extra: impl FnOnce(&mut png::Info<'a>)) -> Vec<u8> {
    let mut info = png::Info::with_size(1, 1);
    info.color_type = png::ColorType::Grayscale;
    info.bit_depth = png::BitDepth::Eight;
    extra(&mut info);
    let mut file = Vec::new();
    let encoder = png::Encoder::with_info(&mut file, info).unwrap();
    encoder.write_header().unwrap().write_image_data(&[9]).unwrap();
    file
}
