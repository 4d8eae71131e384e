//! Makes small picture files byte by byte.

use std::borrow::Cow;

use colour::{Picture, PictureError, PictureLimits, decode_picture};

/// A file of `data/pictures`.
pub(crate) fn sample(name: &str) -> Vec<u8> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/pictures").join(name);
    std::fs::read(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

pub(crate) fn decode(bytes: &[u8]) -> Result<Picture, PictureError> {
    decode_picture(bytes, &PictureLimits::default())
}

/// Red, green, blue, alpha in 8 bits.
pub(crate) fn at(picture: &Picture, x: u32, y: u32) -> [u8; 4] {
    picture.rgba16(x, y).expect("the pixel is inside").map(|v| (v / 257) as u8)
}

/// A PNG of the given colour type and depth.
pub(crate) fn png(size: (u32, u32), color: png::ColorType, depth: png::BitDepth, data: &[u8]) -> Vec<u8> {
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, size.0, size.1);
    encoder.set_color(color);
    encoder.set_depth(depth);
    encoder.write_header().unwrap().write_image_data(data).unwrap();
    file
}

pub(crate) fn png_rgb(size: (u32, u32), data: &[u8]) -> Vec<u8> {
    png(size, png::ColorType::Rgb, png::BitDepth::Eight, data)
}

/// An 8-bit PNG with a colour profile, which the encoder packs.
pub(crate) fn png_with_profile(
    size: (u32, u32),
    color: png::ColorType,
    data: &[u8],
    icc: Vec<u8>,
) -> Vec<u8> {
    let mut file = Vec::new();
    let mut info = png::Info::with_size(size.0, size.1);
    info.color_type = color;
    info.bit_depth = png::BitDepth::Eight;
    info.icc_profile = Some(Cow::Owned(icc));
    let encoder = png::Encoder::with_info(&mut file, info).unwrap();
    encoder.write_header().unwrap().write_image_data(data).unwrap();
    file
}

/// Puts a chunk behind the header chunk of a PNG.
pub(crate) fn with_chunk(png: &[u8], name: &[u8; 4], body: &[u8]) -> Vec<u8> {
    const AFTER_HEADER: usize = 8 + 25;
    let mut file = png[..AFTER_HEADER].to_vec();
    file.extend((body.len() as u32).to_be_bytes());
    let named: Vec<u8> = name.iter().chain(body).copied().collect();
    file.extend(&named);
    file.extend(crc(&named).to_be_bytes());
    file.extend(&png[AFTER_HEADER..]);
    file
}

/// CRC-32 of a chunk (PNG specification, annex D).
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xedb8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

/// An Exif block that holds nothing but an orientation.
pub(crate) fn exif(orientation: u16, little: bool) -> Vec<u8> {
    let two = |v: u16| if little { v.to_le_bytes() } else { v.to_be_bytes() };
    let four = |v: u32| if little { v.to_le_bytes() } else { v.to_be_bytes() };
    let mut block = if little { b"II*\0".to_vec() } else { b"MM\0*".to_vec() };
    block.extend(four(8));
    block.extend(two(1));
    block.extend(two(0x0112));
    block.extend(two(3));
    block.extend(four(1));
    block.extend(two(orientation));
    block.extend(two(0));
    block.extend(four(0));
    block
}

/// Puts a segment behind the start marker of a JPEG.
pub(crate) fn with_segment(jpeg: &[u8], marker: u8, body: &[u8]) -> Vec<u8> {
    let mut file = vec![0xff, 0xd8, 0xff, marker];
    file.extend((body.len() as u16 + 2).to_be_bytes());
    file.extend(body);
    file.extend(&jpeg[2..]);
    file
}

/// Puts a colour profile into a JPEG, in pieces of at most 60 000 bytes, in reverse order.
pub(crate) fn jpeg_with_profile(jpeg: &[u8], icc: &[u8]) -> Vec<u8> {
    let pieces: Vec<&[u8]> = icc.chunks(60_000).collect();
    pieces.iter().enumerate().fold(jpeg.to_vec(), |file, (i, piece)| {
        let mut body = b"ICC_PROFILE\0".to_vec();
        body.extend([i as u8 + 1, pieces.len() as u8]);
        body.extend(*piece);
        with_segment(&file, 0xe2, &body)
    })
}

/// A lossless WebP.
pub(crate) fn webp(size: (u32, u32), rgba: &[u8], icc: Option<Vec<u8>>, exif: Option<Vec<u8>>) -> Vec<u8> {
    let mut file = Vec::new();
    let mut encoder = image_webp::WebPEncoder::new(&mut file);
    if let Some(icc) = icc {
        encoder.set_icc_profile(icc);
    }
    if let Some(exif) = exif {
        encoder.set_exif_metadata(exif);
    }
    encoder.encode(rgba, size.0, size.1, image_webp::ColorType::Rgba8).unwrap();
    file
}

/// A TIFF in one uncompressed strip.
pub(crate) struct Tiff<'a> {
    pub(crate) size: (u32, u32),
    pub(crate) channels: u16,
    pub(crate) bits: u16,
    /// 1 = black is zero, 2 = RGB, 3 = palette, 5 = CMYK.
    pub(crate) photometric: u16,
    pub(crate) data: &'a [u8],
    /// Further tags of type SHORT.
    pub(crate) shorts: &'a [(u16, u16)],
    pub(crate) icc: &'a [u8],
}

impl Tiff<'_> {
    /// The file, little-endian. With the tag 284 = 2 the data are planes, with 284 = 1 pixels; either way
    /// each row is then in a strip of its own.
    pub(crate) fn bytes(&self) -> Vec<u8> {
        let planar = self.shorts.contains(&(284, 2));
        let by_rows = planar || self.shorts.contains(&(284, 1));
        let planes = if planar { u32::from(self.channels) } else { 1 };
        let strips = if by_rows { planes * self.size.1 } else { 1 };
        let strip_length = self.data.len() as u32 / strips;
        let mut file = b"II*\0\0\0\0\0".to_vec();
        file.extend(self.data);
        let bits_at = put(&mut file, &self.bits.to_le_bytes().repeat(usize::from(self.channels)));
        let offsets: Vec<u8> = (0..strips).flat_map(|i| (8 + i * strip_length).to_le_bytes()).collect();
        let offsets_at = put(&mut file, &offsets);
        let lengths_at = put(&mut file, &strip_length.to_le_bytes().repeat(strips as usize));
        let icc_at = put(&mut file, self.icc);
        let bits = match self.channels {
            1 => u32::from(self.bits),
            2 => u32::from(self.bits) * 0x1_0001,
            _ => bits_at,
        };
        let one_or = |at: u32, value: u32| if strips == 1 { value } else { at };
        let mut entries: Vec<(u16, u16, u32, u32)> = vec![
            (256, 4, 1, self.size.0),
            (257, 4, 1, self.size.1),
            (258, 3, u32::from(self.channels), bits),
            (259, 3, 1, 1),
            (262, 3, 1, u32::from(self.photometric)),
            (273, 4, strips, one_or(offsets_at, 8)),
            (277, 3, 1, u32::from(self.channels)),
            (278, 4, 1, if by_rows { 1 } else { self.size.1 }),
            (279, 4, strips, one_or(lengths_at, strip_length)),
        ];
        entries.extend(self.shorts.iter().map(|(tag, value)| (*tag, 3, 1, u32::from(*value))));
        if !self.icc.is_empty() {
            entries.push((34_675, 7, self.icc.len() as u32, icc_at));
        }
        entries.sort();
        let directory_at = file.len() as u32;
        file[4..8].copy_from_slice(&directory_at.to_le_bytes());
        file.extend((entries.len() as u16).to_le_bytes());
        for (tag, kind, count, value) in entries {
            file.extend(tag.to_le_bytes());
            file.extend(kind.to_le_bytes());
            file.extend(count.to_le_bytes());
            file.extend(value.to_le_bytes());
        }
        file.extend(0u32.to_le_bytes());
        file
    }
}

/// Appends bytes at an even place and tells where they begin.
fn put(file: &mut Vec<u8>, bytes: &[u8]) -> u32 {
    if file.len() % 2 == 1 {
        file.push(0);
    }
    file.extend(bytes);
    (file.len() - bytes.len()) as u32
}

pub(crate) fn tiff_rgb<'a>(size: (u32, u32), data: &'a [u8]) -> Tiff<'a> {
    Tiff { size, channels: 3, bits: 8, photometric: 2, data, shorts: &[], icc: &[] }
}
