//! Reads JPEG files.

use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

use super::{
    Channels, PictureError, PictureKind, PictureLimits, PictureNote, Raw, Samples, Turn, check_size, exif,
};

const KIND: PictureKind = PictureKind::Jpeg;

/// What the markers say (ITU-T T.81, annex B), read without decoding anything.
#[derive(Default)]
struct Outline<'a> {
    size: Option<(u32, u32)>,
    /// Why the way of coding cannot be read.
    not_read: Option<&'static str>,
    exif: Option<&'a [u8]>,
    icc: Vec<(u8, &'a [u8])>,
    adobe: bool,
    complete: bool,
}

pub(super) fn read(bytes: &[u8], limits: &PictureLimits) -> Result<Raw, PictureError> {
    let outline = outline(bytes);
    let size = outline.size.ok_or(PictureError::CutOff { kind: KIND })?;
    check_size(KIND, size, limits)?;
    if let Some(what) = outline.not_read {
        return Err(PictureError::NotRead { kind: KIND, what: what.into() });
    }
    // Each block of 64 pixels takes at least one bit in the first scan.
    let too_short = u64::from(size.0) * u64::from(size.1) / 512 > bytes.len() as u64;
    if !outline.complete || too_short {
        return Err(PictureError::CutOff { kind: KIND });
    }
    let icc = profile(&outline, limits)?;
    let (pixels, notes) = match pixels(bytes, true, outline.adobe, size) {
        Ok(pixels) => (pixels, Vec::new()),
        // Many cameras and editors bend the rules without harm; then the user is told to look.
        Err(Failed::Damaged(_)) => {
            (pixels_or_error(pixels(bytes, false, outline.adobe, size))?, vec![PictureNote::FlawedData])
        }
        Err(Failed::Refused(e)) => return Err(e),
    };
    let turn = outline.exif.map_or(Turn::AsStored, exif::turn_of);
    Ok(Raw {
        width: size.0,
        height: size.1,
        channels: pixels.0,
        samples: Samples::U8(pixels.1),
        icc,
        turn,
        notes,
    })
}

type Decoded = (Channels, Vec<u8>);

enum Failed {
    Damaged(DecodeErrors),
    Refused(PictureError),
}

fn pixels_or_error(result: Result<Decoded, Failed>) -> Result<Decoded, PictureError> {
    result.map_err(|failed| match failed {
        Failed::Damaged(e) => PictureError::Damaged { kind: KIND, detail: e.to_string() },
        Failed::Refused(e) => e,
    })
}

fn pixels(bytes: &[u8], strict: bool, adobe: bool, size: (u32, u32)) -> Result<Decoded, Failed> {
    let options = DecoderOptions::default()
        .set_strict_mode(strict)
        .set_max_width(usize::MAX)
        .set_max_height(usize::MAX);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(Failed::Damaged)?;
    let stored = decoder.input_colorspace().unwrap_or(ColorSpace::Unknown);
    let (channels, wanted) = match stored {
        ColorSpace::Luma => (Channels::Grey, ColorSpace::Luma),
        ColorSpace::YCbCr | ColorSpace::RGB => (Channels::Rgb, ColorSpace::RGB),
        // Only Adobe's marker says which way round the inks are stored.
        ColorSpace::CMYK | ColorSpace::YCCK if adobe => (Channels::Cmyk, stored),
        ColorSpace::CMYK | ColorSpace::YCCK => {
            return Err(Failed::Refused(PictureError::CmykWithoutProfile { kind: KIND }));
        }
        other => {
            let what = format!("colours of the kind {other:?}");
            return Err(Failed::Refused(PictureError::NotRead { kind: KIND, what }));
        }
    };
    decoder.set_options(options.jpeg_set_out_colorspace(wanted));
    let count = size.0 as usize * size.1 as usize * channels.count();
    if decoder.output_buffer_size() != Some(count) {
        let detail = "two headers disagree about the size".into();
        return Err(Failed::Refused(PictureError::Damaged { kind: KIND, detail }));
    }
    let mut samples = vec![0u8; count];
    decoder.decode_into(&mut samples).map_err(Failed::Damaged)?;
    match stored {
        ColorSpace::CMYK => samples.iter_mut().for_each(|v| *v = 255 - *v),
        ColorSpace::YCCK => samples.chunks_exact_mut(4).for_each(ycck_to_inks),
        _ => {}
    }
    Ok((channels, samples))
}

/// Adobe's YCCK to inks: the colour part decodes (ITU-T T.871, section 7) to 255 - (255 - ink) = ink,
/// the black part is stored as 255 - ink.
fn ycck_to_inks(pixel: &mut [u8]) {
    let (y, cb, cr) = (i32::from(pixel[0]), i32::from(pixel[1]) - 128, i32::from(pixel[2]) - 128);
    let byte = |thousandths: i32| ((thousandths + 500).div_euclid(1000)).clamp(0, 255) as u8;
    pixel[0] = byte(1000 * y + 1402 * cr);
    pixel[1] = byte(1000 * y - 344 * cb - 714 * cr);
    pixel[2] = byte(1000 * y + 1772 * cb);
    pixel[3] = 255 - pixel[3];
}

/// Puts the pieces of the colour profile together (ICC.1:2022, annex B.4).
fn profile(outline: &Outline<'_>, limits: &PictureLimits) -> Result<Option<Vec<u8>>, PictureError> {
    let mut pieces = outline.icc.clone();
    pieces.sort_by_key(|(number, _)| *number);
    let length: usize = pieces.iter().map(|(_, piece)| piece.len()).sum();
    if length > limits.max_extra_bytes {
        return Err(PictureError::ExtraDataTooLarge { kind: KIND, limit_bytes: limits.max_extra_bytes });
    }
    let whole: Vec<u8> = pieces.iter().flat_map(|(_, piece)| piece.iter().copied()).collect();
    Ok((!whole.is_empty()).then_some(whole))
}

fn outline(bytes: &[u8]) -> Outline<'_> {
    let mut outline = Outline::default();
    let mut at = 2usize;
    while let Some(found) = next_marker(bytes, at) {
        let (marker, after) = found;
        at = after;
        match marker {
            0xd9 => {
                outline.complete = true;
                break;
            }
            0x01 | 0xd0..=0xd8 => continue,
            _ => {}
        }
        let Some(length) = be_u16(bytes, at).filter(|l| *l >= 2) else { break };
        let Some(body) = bytes.get(at + 2..at + length) else { break };
        at += length;
        segment(&mut outline, marker, body);
    }
    outline
}

fn segment<'a>(outline: &mut Outline<'a>, marker: u8, body: &'a [u8]) {
    match marker {
        // All frame headers; 0xc4, 0xc8 and 0xcc in between are something else.
        0xc0..=0xcf if !matches!(marker, 0xc4 | 0xc8 | 0xcc) && outline.size.is_none() => {
            let side = |at| be_u16(body, at).and_then(|v| u32::try_from(v).ok());
            outline.size = side(3).zip(side(1));
            outline.not_read = match (marker, body.first()) {
                (0xc0..=0xc2, Some(8)) => None,
                (0xc0..=0xc2, _) => Some("another depth than 8 bits per channel"),
                _ => Some("lossless, layered or arithmetic coding"),
            };
        }
        0xe1 if outline.exif.is_none() => outline.exif = body.strip_prefix(b"Exif\0\0"),
        0xe2 => {
            if let Some([number, _total, piece @ ..]) = body.strip_prefix(b"ICC_PROFILE\0") {
                outline.icc.push((*number, piece));
            }
        }
        0xee => outline.adobe |= body.starts_with(b"Adobe"),
        _ => {}
    }
}

/// The next marker at or after `at`, and where its segment begins.
/// Stuffed zeros and restart markers inside the picture data are stepped over.
fn next_marker(bytes: &[u8], mut at: usize) -> Option<(u8, usize)> {
    loop {
        let ahead = bytes.get(at..)?.iter().position(|b| *b == 0xff)?;
        at += ahead + 1;
        match *bytes.get(at)? {
            0xff => {}
            0x00 | 0xd0..=0xd7 => at += 1,
            marker => return Some((marker, at + 1)),
        }
    }
}

fn be_u16(bytes: &[u8], at: usize) -> Option<usize> {
    let pair: [u8; 2] = bytes.get(at..at + 2)?.try_into().ok()?;
    Some(usize::from(u16::from_be_bytes(pair)))
}
