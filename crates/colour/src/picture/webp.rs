//! Reads WebP files.

use std::io::{Cursor, ErrorKind};

use image_webp::{DecodingError, WebPDecoder};

use super::{
    Channels, PictureError, PictureKind, PictureLimits, PictureNote, Raw, Samples, Turn, check_size, exif,
};

const KIND: PictureKind = PictureKind::WebP;

pub(super) fn read(bytes: &[u8], limits: &PictureLimits) -> Result<Raw, PictureError> {
    check_length(bytes)?;
    // The decoder itself has no words for sizes beyond 32 bits.
    if let Some(size) = canvas(bytes) {
        check_size(KIND, size, limits)?;
    }
    let wrong = |e: DecodingError| wrong(&e, limits);
    let mut decoder = WebPDecoder::new(Cursor::new(bytes)).map_err(wrong)?;
    let size = decoder.dimensions();
    check_size(KIND, size, limits)?;
    decoder.set_memory_limit(limits.max_extra_bytes);
    let icc = decoder.icc_profile().map_err(wrong)?;
    let turn = decoder.exif_metadata().map_err(wrong)?.map_or(Turn::AsStored, |block| {
        // Some writers keep the prefix that belongs to JPEG.
        exif::turn_of(block.strip_prefix(b"Exif\0\0").unwrap_or(&block))
    });
    let channels = if decoder.has_alpha() { Channels::Rgba } else { Channels::Rgb };
    let mut samples = vec![0u8; size.0 as usize * size.1 as usize * channels.count()];
    decoder.read_image(&mut samples).map_err(wrong)?;
    let notes = if decoder.is_animated() { vec![PictureNote::FirstFrameOnly] } else { Vec::new() };
    Ok(Raw { width: size.0, height: size.1, channels, samples: Samples::U8(samples), icc, turn, notes })
}

/// The container says how long it is (RFC 9649, section 2.4); a shorter file was cut off.
fn check_length(bytes: &[u8]) -> Result<(), PictureError> {
    let stated = bytes.get(4..8).and_then(|b| b.try_into().ok()).map(u32::from_le_bytes);
    match stated {
        Some(stated) if bytes.len() as u64 >= u64::from(stated) + 8 => Ok(()),
        _ => Err(PictureError::CutOff { kind: KIND }),
    }
}

/// The size in the extended header (RFC 9649, section 2.7), if there is one.
fn canvas(bytes: &[u8]) -> Option<(u32, u32)> {
    let header = bytes.get(12..30)?.strip_prefix(b"VP8X")?;
    let side = |at: usize| u32::from_le_bytes([header[at], header[at + 1], header[at + 2], 0]) + 1;
    Some((side(8), side(11)))
}

fn wrong(error: &DecodingError, limits: &PictureLimits) -> PictureError {
    match error {
        DecodingError::IoError(e) if e.kind() == ErrorKind::UnexpectedEof => {
            PictureError::CutOff { kind: KIND }
        }
        DecodingError::MemoryLimitExceeded => {
            PictureError::ExtraDataTooLarge { kind: KIND, limit_bytes: limits.max_extra_bytes }
        }
        other => PictureError::Damaged { kind: KIND, detail: other.to_string() },
    }
}
