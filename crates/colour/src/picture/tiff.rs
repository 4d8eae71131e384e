//! Reads TIFF files.

use std::io::{Cursor, ErrorKind};

use tiff::decoder::{Decoder, DecodingResult, Limits};
use tiff::tags::Tag;
use tiff::{ColorType, TiffError, TiffResult};

use super::{
    Channels, PictureError, PictureKind, PictureLimits, PictureNote, Raw, Samples, Turn, check_size,
};

const KIND: PictureKind = PictureKind::Tiff;

type Tiff<'a> = Decoder<Cursor<&'a [u8]>>;

/// What the decoder found wrong outside, what this module did not like inside.
type Read<T> = TiffResult<Result<T, PictureError>>;

/// ExtraSamples = 1: colours are premultiplied by alpha (TIFF 6.0, page 31).
const ASSOCIATED_ALPHA: u16 = 1;

/// No way of packing whole bytes that is read saves more: a code of LZW is 9 bits or more and stands
/// for at most 4096 bytes (TIFF 6.0, section 13).
const PACKING_RATIO: u64 = 4096;

pub(super) fn read(bytes: &[u8], limits: &PictureLimits) -> Result<Raw, PictureError> {
    let wrong = |e: TiffError| wrong(&e, limits);
    // The decoder makes room for the values of the first directory before it can be given limits.
    if values_beyond_the_file(bytes) {
        return Err(PictureError::CutOff { kind: KIND });
    }
    let mut decoder = Decoder::new(Cursor::new(bytes)).map_err(wrong)?;
    let size = decoder.dimensions().map_err(wrong)?;
    check_size(KIND, size, limits)?;
    decoder = decoder.with_limits(caps(size, limits));
    let color = decoder.colortype().map_err(wrong)?;
    let (channels, bits) = meaning(color)?;
    let count = size.0 as usize * size.1 as usize * channels.count();
    // A header can promise more than the bytes could ever unpack to: refuse before reserving.
    if bits >= 8 && count as u64 / PACKING_RATIO > bytes.len() as u64 {
        return Err(PictureError::CutOff { kind: KIND });
    }
    let icc = profile(&mut decoder, bytes.len(), limits)?;
    let turn = decoder.find_tag_unsigned::<u16>(Tag::Orientation).map_err(wrong)?;
    let extra = decoder.find_tag_unsigned_vec::<u16>(Tag::ExtraSamples).map_err(wrong)?;
    let planar = decoder.image_buffer_layout().map_err(wrong)?.planes > 1;
    let deep = bits == 16 && count * 2 > limits.max_deep_bytes;
    let narrowed = deep && (planar || in_pieces(&mut decoder, size));
    if deep && !narrowed && bytes.len() + count * 2 > limits.max_held_bytes {
        return Err(PictureError::TooDeep { kind: KIND, held_bytes: bytes.len() + count * 2 });
    }
    let mut samples = if planar || narrowed {
        let depth = if bits == 16 && !narrowed { Depth::Deep } else { Depth::Bytes };
        woven(&mut decoder, size, channels, planar, depth).map_err(wrong)??
    } else {
        chunky(&mut decoder, size.0, bits, count).map_err(wrong)??
    };
    if channels == Channels::Rgba && extra.is_some_and(|e| e.first() == Some(&ASSOCIATED_ALPHA)) {
        unmultiply(&mut samples);
    }
    let mut notes = if decoder.more_images() { vec![PictureNote::FirstPageOnly] } else { Vec::new() };
    if narrowed {
        notes.push(PictureNote::Narrowed);
    }
    let turn = turn.map_or(Turn::AsStored, Turn::of_exif);
    Ok(Raw { width: size.0, height: size.1, channels, samples, icc, turn, notes })
}

/// Whether a tag of the first directory states more values than the whole file could hold (TIFF 6.0, section 2).
/// `false` too where the directory cannot be read; the decoder says what is wrong then.
fn values_beyond_the_file(bytes: &[u8]) -> bool {
    let little = bytes.starts_with(b"II");
    let number = |at: usize, length: usize| -> Option<u64> {
        let digits = bytes.get(at..at.checked_add(length)?)?;
        let add = |sum: u64, b: &u8| sum << 8 | u64::from(*b);
        Some(if little { digits.iter().rev().fold(0, add) } else { digits.iter().fold(0, add) })
    };
    // Numbers of the large variant are 8 bytes long where those of the usual one are 4, or 2 for the count of tags.
    let large = number(2, 2) == Some(43);
    let (at_offset, wide, at_count) = if large { (8, 8, 8) } else { (4, 4, 2) };
    let Some(directory) = number(at_offset, wide).and_then(|n| usize::try_from(n).ok()) else { return false };
    let Some(tags) = number(directory, at_count) else { return false };
    let entry = 4 + 2 * wide;
    (0..tags.min(u64::from(u16::MAX)) as usize).any(|i| {
        let at = directory.saturating_add(at_count + i * entry);
        let size = match number(at.saturating_add(2), 2) {
            Some(3 | 8) => 2,
            Some(4 | 9 | 11 | 13) => 4,
            Some(5 | 10 | 12 | 16..=18) => 8,
            _ => 1,
        };
        number(at.saturating_add(4), wide)
            .is_some_and(|count| count.saturating_mul(size) > bytes.len() as u64)
    })
}

/// The bytes of the colour profile.
fn profile(
    decoder: &mut Tiff<'_>,
    file_length: usize,
    limits: &PictureLimits,
) -> Result<Option<Vec<u8>>, PictureError> {
    let Some(entry) = decoder.image_ifd().find_entry(Tag::IccProfile) else { return Ok(None) };
    let length = usize::try_from(entry.count()).unwrap_or(usize::MAX);
    if length > file_length {
        return Err(PictureError::CutOff { kind: KIND });
    }
    if length > limits.max_extra_bytes {
        return Err(PictureError::ExtraDataTooLarge { kind: KIND, limit_bytes: limits.max_extra_bytes });
    }
    let mut profile = vec![0u8; length];
    let read = decoder.image_ifd().find_tag_bytes(Tag::IccProfile, &mut profile, 0);
    let read = read.map_err(|e| wrong(&e, limits))?;
    Ok((read == Some(length)).then_some(profile))
}

/// What the decoder may reserve: the picture itself, and compressed strips no larger than that.
/// The decoder holds the values of tags against the room for the picture; these are short here.
fn caps(size: (u32, u32), limits: &PictureLimits) -> Limits {
    // Eight bytes are the largest pixel read, red, green, blue and alpha in 16 bits.
    let picture = (size.0 as usize * size.1 as usize * 8).max(1 << 20);
    let mut caps = Limits::default();
    caps.decoding_buffer_size = picture;
    caps.intermediate_buffer_size = picture.saturating_add(limits.max_extra_bytes);
    caps.ifd_value_size = limits.max_extra_bytes;
    caps
}

fn meaning(color: ColorType) -> Result<(Channels, u8), PictureError> {
    let (channels, bits) = match color {
        ColorType::Gray(bits) => (Channels::Grey, bits),
        ColorType::GrayA(bits) | ColorType::Multiband { bit_depth: bits, num_samples: 2 } => {
            (Channels::GreyAlpha, bits)
        }
        ColorType::RGB(bits) => (Channels::Rgb, bits),
        ColorType::RGBA(bits) => (Channels::Rgba, bits),
        ColorType::CMYK(bits) => (Channels::Cmyk, bits),
        ColorType::Palette(_) => return Err(not_read("a palette")),
        ColorType::YCbCr(_) => return Err(not_read("luma and chroma instead of RGB")),
        ColorType::Lab(_) => return Err(not_read("Lab colours")),
        _ => return Err(not_read("a rare arrangement of channels")),
    };
    match (channels, bits) {
        (_, 8 | 16) | (Channels::Grey, 1) => Ok((channels, bits)),
        _ => Err(not_read(&format!("{bits} bits per channel"))),
    }
}

fn samples(result: DecodingResult, bits: u8, width: u32) -> Result<Samples, PictureError> {
    match result {
        DecodingResult::U8(v) if bits == 1 => Ok(Samples::U8(unpack_bits(&v, width as usize))),
        DecodingResult::U8(v) => Ok(Samples::U8(v)),
        DecodingResult::U16(v) => Ok(Samples::U16(v)),
        _ => Err(not_read("signed or floating-point numbers")),
    }
}

/// Black and white, eight pixels to a byte, each row padded to whole bytes.
fn unpack_bits(packed: &[u8], width: usize) -> Vec<u8> {
    packed
        .chunks_exact(width.div_ceil(8))
        .flat_map(|row| (0..width).map(|x| if row[x / 8] >> (7 - x % 8) & 1 == 1 { 255 } else { 0 }))
        .collect()
}

/// A picture stored in pixel order.
fn chunky(decoder: &mut Tiff<'_>, width: u32, bits: u8, count: usize) -> Read<Samples> {
    let mut result = DecodingResult::U8(Vec::new());
    decoder.read_image_to_buffer(&mut result)?;
    Ok(samples(result, bits, width).and_then(|samples| match samples.len() == count {
        true => Ok(samples),
        false => Err(PictureError::CutOff { kind: KIND }),
    }))
}

/// Whether the picture is stored in several strips or tiles, so that one at a time can be held.
fn in_pieces(decoder: &mut Tiff<'_>, size: (u32, u32)) -> bool {
    let (width, height) = decoder.chunk_dimensions();
    (1..size.0).contains(&width) || (1..size.1).contains(&height)
}

/// In what the samples are held.
#[derive(Clone, Copy, PartialEq)]
enum Depth {
    /// In 16 bits.
    Deep,
    /// In 8 bits; deeper ones are narrowed.
    Bytes,
}

/// A picture woven together strip by strip or tile by tile, and plane by plane where it is stored so. Never more than
/// one of these is held at its full depth beside it.
fn woven(
    decoder: &mut Tiff<'_>,
    size: (u32, u32),
    channels: Channels,
    planar: bool,
    depth: Depth,
) -> Read<Samples> {
    let n = channels.count();
    // Samples of a pixel that lie side by side in a chunk, and how many planes of chunks there are.
    let (beside, planes) = if planar { (1, n) } else { (n, 1) };
    let count = size.0 as usize * size.1 as usize * n;
    let mut whole = match depth {
        Depth::Deep => Samples::U16(vec![0; count]),
        Depth::Bytes => Samples::U8(vec![0; count]),
    };
    let (chunk_w, chunk_h) = decoder.chunk_dimensions();
    let (across, down) = (size.0.div_ceil(chunk_w), size.1.div_ceil(chunk_h));
    let cut_off = Ok(Err(PictureError::CutOff { kind: KIND }));
    let Some(per_plane) = across.checked_mul(down).filter(|c| c.checked_mul(4).is_some()) else {
        return cut_off;
    };
    for chunk in 0..per_plane * planes as u32 {
        let place = chunk % per_plane;
        let width = decoder.chunk_data_dimensions(place).0 as usize * beside;
        let corner = ((place % across * chunk_w) as usize, (place / across * chunk_h) as usize);
        let first = (corner.1 * size.0 as usize + corner.0) * n;
        let target = Target { first, stride: size.0 as usize * n, n: n / beside };
        let plane = (chunk / per_plane) as usize;
        let fits = match (decoder.read_chunk(chunk)?, &mut whole) {
            (DecodingResult::U8(v), Samples::U8(out)) => target.put(plane, &v, width, out, |v| v),
            (DecodingResult::U16(v), Samples::U16(out)) => target.put(plane, &v, width, out, |v| v),
            (DecodingResult::U16(v), Samples::U8(out)) => target.put(plane, &v, width, out, narrow),
            _ => return Ok(Err(not_read("signed or floating-point numbers"))),
        };
        if !fits {
            return cut_off;
        }
    }
    Ok(Ok(whole))
}

/// 16 bits as 8, to the nearest.
fn narrow(v: u16) -> u8 {
    ((u32::from(v) * 255 + 32_767) / 65_535) as u8
}

/// Where a chunk goes: index of its first sample, samples in a row, and the step from one of its samples to the next.
struct Target {
    first: usize,
    stride: usize,
    n: usize,
}

impl Target {
    /// Puts `chunk`, rows of `width` samples, into its plane; false if it does not fit the picture.
    fn put<T: Copy, O>(
        &self,
        plane: usize,
        chunk: &[T],
        width: usize,
        out: &mut [O],
        to: impl Fn(T) -> O,
    ) -> bool {
        let fits = |row: usize| self.first + row * self.stride + (width - 1) * self.n + plane < out.len();
        if width == 0 || !chunk.len().is_multiple_of(width) || chunk.is_empty() {
            return false;
        }
        if !fits(chunk.len() / width - 1) {
            return false;
        }
        for (row, samples) in chunk.chunks_exact(width).enumerate() {
            let start = self.first + row * self.stride + plane;
            for (x, sample) in samples.iter().enumerate() {
                out[start + x * self.n] = to(*sample);
            }
        }
        true
    }
}

/// Divides colours by alpha, rounding to nearest.
fn unmultiply(samples: &mut Samples) {
    match samples {
        Samples::U8(v) => v.chunks_exact_mut(4).for_each(|p| {
            let a = u32::from(p[3]);
            p[..3].iter_mut().for_each(|c| *c = straight(u32::from(*c), a, 255) as u8);
        }),
        Samples::U16(v) => v.chunks_exact_mut(4).for_each(|p| {
            let a = u32::from(p[3]);
            p[..3].iter_mut().for_each(|c| *c = straight(u32::from(*c), a, 65_535) as u16);
        }),
    }
}

fn straight(c: u32, a: u32, max: u32) -> u32 {
    // 65 535 * 65 535 + 32 767 still fits 32 bits.
    (c * max + a / 2).checked_div(a).map_or(0, |v| v.min(max))
}

fn not_read(what: &str) -> PictureError {
    PictureError::NotRead { kind: KIND, what: what.into() }
}

fn wrong(error: &TiffError, limits: &PictureLimits) -> PictureError {
    match error {
        TiffError::IoError(e) if e.kind() == ErrorKind::UnexpectedEof => PictureError::CutOff { kind: KIND },
        TiffError::LimitsExceeded => {
            PictureError::ExtraDataTooLarge { kind: KIND, limit_bytes: limits.max_extra_bytes }
        }
        TiffError::UnsupportedError(what) => not_read(&format!("a part of the format ({what})")),
        other => PictureError::Damaged { kind: KIND, detail: other.to_string() },
    }
}
