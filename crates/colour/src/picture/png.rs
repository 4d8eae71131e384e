//! Reads PNG files.

use std::borrow::Cow;
use std::io::{Cursor, ErrorKind};

use png::{BitDepth, ColorType, Decoder, DecodingError, Reader, Transformations};

use super::{
    Channels, PictureError, PictureKind, PictureLimits, PictureNote, Raw, Samples, Turn, check_size, exif,
};

const KIND: PictureKind = PictureKind::Png;

/// Deflate packs at most 1032 bytes into one (zlib's technical details: 258 bytes take at least 2 bits).
const DEFLATE_RATIO: u64 = 1032;

/// What the chunk headers say, read without unpacking anything.
#[derive(Default)]
struct Outline<'a> {
    exif: Option<&'a [u8]>,
    has_profile: bool,
    says_srgb: bool,
    says_other: bool,
    animated: bool,
}

pub(super) fn read(bytes: &[u8], limits: &PictureLimits) -> Result<Raw, PictureError> {
    let size = declared_size(bytes)?;
    check_size(KIND, size, limits)?;
    let outline = outline(bytes);
    let mut reader = open(bytes, limits)?;
    let (color, depth) = reader.output_color_type();
    let channels = match color {
        ColorType::Grayscale => Channels::Grey,
        ColorType::GrayscaleAlpha => Channels::GreyAlpha,
        ColorType::Rgb => Channels::Rgb,
        ColorType::Rgba => Channels::Rgba,
        ColorType::Indexed => return Err(not_read("a palette without colours")),
    };
    // A header can promise more than the bytes could ever unpack to: refuse before reserving.
    let stored = reader.info().raw_bytes() as u64;
    if stored / DEFLATE_RATIO > bytes.len() as u64 {
        return Err(PictureError::CutOff { kind: KIND });
    }
    let count = size.0 as usize * size.1 as usize * channels.count();
    let samples = match depth {
        BitDepth::Sixteen => Samples::U16(sixteen_bit(&mut reader, count, limits)?),
        _ => Samples::U8(eight_bit(&mut reader, count, limits)?),
    };
    let icc = reader.info().icc_profile.as_ref().map(|p| Cow::clone(p).into_owned());
    let notes = notes(&outline, icc.is_some());
    let turn = outline.exif.map_or(Turn::AsStored, exif::turn_of);
    Ok(Raw { width: size.0, height: size.1, channels, samples, icc, turn, notes })
}

fn open<'a>(bytes: &'a [u8], limits: &PictureLimits) -> Result<Reader<Cursor<&'a [u8]>>, PictureError> {
    let cap = png::Limits { bytes: limits.max_extra_bytes.saturating_mul(2) };
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), cap);
    decoder.set_ignore_text_chunk(true);
    decoder.set_transformations(Transformations::EXPAND);
    decoder.read_info().map_err(|e| wrong(&e, limits))
}

fn eight_bit(
    reader: &mut Reader<Cursor<&[u8]>>,
    count: usize,
    limits: &PictureLimits,
) -> Result<Vec<u8>, PictureError> {
    let mut samples = vec![0u8; count];
    reader.next_frame(&mut samples).map_err(|e| wrong(&e, limits))?;
    Ok(samples)
}

fn sixteen_bit(
    reader: &mut Reader<Cursor<&[u8]>>,
    count: usize,
    limits: &PictureLimits,
) -> Result<Vec<u16>, PictureError> {
    let mut samples = vec![0u16; count];
    reader.next_frame(bytemuck::cast_slice_mut(&mut samples)).map_err(|e| wrong(&e, limits))?;
    for sample in &mut samples {
        *sample = u16::from_be(*sample);
    }
    Ok(samples)
}

/// Width and height from the header chunk, which the format puts first.
fn declared_size(bytes: &[u8]) -> Result<(u32, u32), PictureError> {
    let cut_off = PictureError::CutOff { kind: KIND };
    if bytes.get(12..16).ok_or(cut_off.clone())? != b"IHDR" {
        return Err(PictureError::Damaged { kind: KIND, detail: "the header chunk is missing".into() });
    }
    let side = |at: usize| bytes.get(at..at + 4).and_then(be_u32);
    side(16).zip(side(20)).ok_or(cut_off)
}

fn outline(bytes: &[u8]) -> Outline<'_> {
    let mut outline = Outline::default();
    let mut at = 8usize;
    while let Some(length) = bytes.get(at..at + 4).and_then(be_u32) {
        let Some(name) = bytes.get(at + 4..at + 8) else { break };
        let body = at + 8..(at + 8).saturating_add(length as usize);
        match name {
            b"eXIf" => outline.exif = bytes.get(body.clone()),
            b"iCCP" => outline.has_profile = true,
            b"sRGB" => outline.says_srgb = true,
            b"cICP" => outline.says_other |= bytes.get(body.clone()) != Some(&[1, 13, 0, 1]),
            b"gAMA" => outline.says_other |= !is_usual_gamma(bytes.get(body.clone())),
            b"acTL" => outline.animated = true,
            _ => {}
        }
        at = body.end.saturating_add(4);
    }
    outline
}

/// Whether a gAMA chunk says 1/2.2, which the format recommends for sRGB (45 455 in units of 1/100 000).
fn is_usual_gamma(body: Option<&[u8]>) -> bool {
    body.and_then(be_u32).is_some_and(|g| g.abs_diff(45_455) <= 100)
}

fn notes(outline: &Outline<'_>, have_profile: bool) -> Vec<PictureNote> {
    let mut notes = Vec::new();
    if outline.animated {
        notes.push(PictureNote::FirstFrameOnly);
    }
    if outline.has_profile && !have_profile {
        notes.push(PictureNote::ProfileNotUsed);
    }
    if outline.says_other && !outline.says_srgb && !outline.has_profile {
        notes.push(PictureNote::TakenAsSrgb);
    }
    notes
}

fn be_u32(bytes: &[u8]) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.get(..4)?.try_into().ok()?))
}

fn not_read(what: &str) -> PictureError {
    PictureError::NotRead { kind: KIND, what: what.into() }
}

fn wrong(error: &DecodingError, limits: &PictureLimits) -> PictureError {
    match error {
        DecodingError::IoError(e) if e.kind() == ErrorKind::UnexpectedEof => {
            PictureError::CutOff { kind: KIND }
        }
        DecodingError::LimitsExceeded => {
            PictureError::ExtraDataTooLarge { kind: KIND, limit_bytes: limits.max_extra_bytes }
        }
        other => PictureError::Damaged { kind: KIND, detail: other.to_string() },
    }
}
