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
    // It also makes room for a frame as large as the frame itself says, whatever the canvas.
    check_frames(bytes.get(12..).unwrap_or_default(), limits)?;
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

/// Checks the size that each frame states: lossy (RFC 6386, section 9.1), lossless (RFC 9649, section 3.4),
/// and both within the frames of an animation (RFC 9649, section 2.7.1.1).
fn check_frames(mut chunks: &[u8], limits: &PictureLimits) -> Result<(), PictureError> {
    while let Some((head, rest)) = chunks.split_first_chunk::<8>() {
        let length = u32::from_le_bytes([head[4], head[5], head[6], head[7]]) as usize;
        let body = &rest[..length.min(rest.len())];
        let size = match &head[..4] {
            b"VP8 " => body.get(6..10).map(|b| {
                let side = |at: usize| u32::from(u16::from_le_bytes([b[at], b[at + 1]]) & 0x3fff);
                (side(0), side(2))
            }),
            b"VP8L" => body.get(1..5).map(|b| {
                let bits = u32::from_le_bytes([b[0], b[1], b[2], b[3]]);
                ((bits & 0x3fff) + 1, ((bits >> 14) & 0x3fff) + 1)
            }),
            b"ANMF" => {
                check_frames(body.get(16..).unwrap_or_default(), limits)?;
                None
            }
            _ => None,
        };
        // A side of 0 is for the decoder to refuse.
        if let Some((width @ 1.., height @ 1..)) = size {
            check_size(KIND, (width, height), limits)?;
        }
        // Chunks begin at even places.
        chunks = rest.get(length.saturating_add(length % 2)..).unwrap_or_default();
    }
    Ok(())
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
