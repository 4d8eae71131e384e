//! Reads picture files: PNG, JPEG, WebP and TIFF, upright, in sRGB, within limits of size.

mod error;
mod exif;
mod jpeg;
mod kind;
mod png;
mod profile;
mod tiff;
mod turn;
mod webp;

use sayings::{Said, say, telling};

use std::panic::{AssertUnwindSafe, catch_unwind};

pub use error::{PictureError, PictureKind};
pub use turn::Turn;

/// How large a picture may be; checked against the file's own header before anything is decoded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PictureLimits {
    /// Most pixels in all; default 100 000 000. With the bytes of the file itself that takes 0.3 GB for a
    /// plain JPEG, 0.9 GB for a progressive one, 1.0 GB for a PNG with alpha in 16 bits and 1.2 GB for such a
    /// TIFF that is not packed, most of it the file itself (measured with the example `picture_cost`).
    pub max_pixels: u64,
    /// Longest side in pixels; default 60 000.
    pub max_side: u32,
    /// Largest colour profile or other extra block in bytes once unpacked; default 16 MiB.
    /// Profiles of presses with many inks reach a few MiB.
    pub max_extra_bytes: usize,
    /// A TIFF whose samples of 16 bits would take more bytes than this is narrowed to 8 bits while it is read,
    /// strip by strip or tile by tile, with a note; default 512 MiB.
    pub max_deep_bytes: usize,
    /// A TIFF in one single strip cannot be narrowed on the way; it is refused when the file and its samples of 16
    /// bits together would take more bytes than this; default 1.3 GB.
    pub max_held_bytes: usize,
}

impl Default for PictureLimits {
    fn default() -> Self {
        Self {
            max_pixels: 100_000_000,
            max_side: 60_000,
            max_extra_bytes: 16 << 20,
            max_deep_bytes: 512 << 20,
            max_held_bytes: 1_300_000_000,
        }
    }
}

/// A decoded picture in sRGB (IEC 61966-2-1).
///
/// Pixels lie in rows from top to bottom, each row from left to right, *as stored in the file*;
/// [`Picture::turn`] says how they are turned to stand upright.
/// Everything else about the picture ([`Picture::width`], [`Picture::rgba16`]) is upright.
/// Keeping the turn apart saves a second copy of a large picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    stored_width: u32,
    stored_height: u32,
    pixels: Pixels,
    turn: Turn,
    notes: Vec<PictureNote>,
}

/// The samples of a picture, interleaved; alpha is straight, not premultiplied.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pixels {
    /// Red, green, blue, 0 to 255.
    Rgb8(Vec<u8>),
    /// Red, green, blue, alpha, 0 to 255.
    Rgba8(Vec<u8>),
    /// Red, green, blue, 0 to 65 535.
    Rgb16(Vec<u16>),
    /// Red, green, blue, alpha, 0 to 65 535.
    Rgba16(Vec<u16>),
}

/// Something about the file that the user may want to know; the picture is usable all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PictureNote {
    /// The file is animated; its first picture was taken.
    FirstFrameOnly,
    /// The file has several pages; the first was taken.
    FirstPageOnly,
    /// The colour profile could not be used; colours were taken as sRGB.
    ProfileNotUsed,
    /// The file describes its colours in a way that is not read; they were taken as sRGB.
    TakenAsSrgb,
    /// The data break the rules of JPEG; what could be decoded was taken.
    FlawedData,
    /// The file has 16 bits a channel and is too large to be held that deep; it was taken with 8.
    Narrowed,
}

impl PictureNote {
    /// A whole sentence.
    pub fn said(self) -> Said {
        match self {
            Self::FirstFrameOnly => say!(telling::PICTURE_FIRST_FRAME),
            Self::FirstPageOnly => say!(telling::PICTURE_FIRST_PAGE),
            Self::ProfileNotUsed => say!(telling::PICTURE_PROFILE),
            Self::TakenAsSrgb => say!(telling::PICTURE_SRGB),
            Self::FlawedData => say!(telling::PICTURE_FLAWED),
            Self::Narrowed => say!(telling::PICTURE_NARROWED),
        }
    }
}

impl std::fmt::Display for PictureNote {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said().fmt(f)
    }
}

/// Reads a picture file from its bytes.
///
/// The kind is told from the content, never from a file name.
/// Orientation and colour profile are respected; of an animation the first picture is taken, of a
/// TIFF with several pages the first page, each with a note.
///
/// # Errors
/// [`PictureError`] for anything that is not wholly readable: of a file that is cut off, half a picture
/// is never returned. One case cannot be told: a JPEG that was cut off and then closed with an end
/// marker by another program.
pub fn decode(bytes: &[u8], limits: &PictureLimits) -> Result<Picture, PictureError> {
    let kind = kind::kind_of(bytes)?;
    // The decoders are other people's code reading hostile input: a defect there must cost one
    // picture, not the session. They own nothing that outlives the call.
    let raw = catch_unwind(AssertUnwindSafe(|| match kind {
        PictureKind::Png => png::read(bytes, limits),
        PictureKind::Jpeg => jpeg::read(bytes, limits),
        PictureKind::WebP => webp::read(bytes, limits),
        PictureKind::Tiff => tiff::read(bytes, limits),
    }))
    .unwrap_or_else(|_| Err(PictureError::Damaged { kind, detail: "the decoder gave up".into() }))?;
    profile::into_srgb(raw, kind)
}

impl Picture {
    /// A picture from 8-bit sRGB samples in rows, upright; `None` unless there are `width * height * 3`.
    pub fn from_rgb8(width: u32, height: u32, samples: Vec<u8>) -> Option<Self> {
        Self::from_pixels(width, height, Pixels::Rgb8(samples))
    }

    /// A picture from samples in rows, upright; `None` unless their number fits and is not 0.
    pub fn from_pixels(width: u32, height: u32, pixels: Pixels) -> Option<Self> {
        let (have, per_pixel) = match &pixels {
            Pixels::Rgb8(v) => (v.len(), 3),
            Pixels::Rgba8(v) => (v.len(), 4),
            Pixels::Rgb16(v) => (v.len(), 3),
            Pixels::Rgba16(v) => (v.len(), 4),
        };
        let want = u64::from(width) * u64::from(height);
        let fits = want > 0 && want.checked_mul(per_pixel) == Some(have as u64);
        fits.then_some(Self {
            stored_width: width,
            stored_height: height,
            pixels,
            turn: Turn::AsStored,
            notes: Vec::new(),
        })
    }

    /// Width in pixels, upright.
    pub fn width(&self) -> u32 {
        if self.turn.swaps_sides() { self.stored_height } else { self.stored_width }
    }

    /// Height in pixels, upright.
    pub fn height(&self) -> u32 {
        if self.turn.swaps_sides() { self.stored_width } else { self.stored_height }
    }

    /// Width and height as stored, before the turn.
    pub fn stored_size(&self) -> (u32, u32) {
        (self.stored_width, self.stored_height)
    }

    /// The samples as stored, before the turn.
    pub fn pixels(&self) -> &Pixels {
        &self.pixels
    }

    /// How the stored pixels are turned to stand upright.
    pub fn turn(&self) -> Turn {
        self.turn
    }

    /// What the user may want to know about the file.
    pub fn notes(&self) -> &[PictureNote] {
        &self.notes
    }

    /// Red, green, blue and alpha at column `x` from the left and row `y` from the top, upright,
    /// in 16 bits (8-bit samples times 257); `None` outside.
    pub fn rgba16(&self, x: u32, y: u32) -> Option<[u16; 4]> {
        if x >= self.width() || y >= self.height() {
            return None;
        }
        let (sx, sy) = self.turn.stored_place(x, y, (self.stored_width, self.stored_height));
        let i = sy as usize * self.stored_width as usize + sx as usize;
        let wide = |v: u8| u16::from(v) * 257;
        Some(match &self.pixels {
            Pixels::Rgb8(v) => [wide(v[3 * i]), wide(v[3 * i + 1]), wide(v[3 * i + 2]), u16::MAX],
            Pixels::Rgba8(v) => [wide(v[4 * i]), wide(v[4 * i + 1]), wide(v[4 * i + 2]), wide(v[4 * i + 3])],
            Pixels::Rgb16(v) => [v[3 * i], v[3 * i + 1], v[3 * i + 2], u16::MAX],
            Pixels::Rgba16(v) => [v[4 * i], v[4 * i + 1], v[4 * i + 2], v[4 * i + 3]],
        })
    }
}

/// What the samples of a file mean, before the colour profile is applied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Channels {
    Grey,
    GreyAlpha,
    Rgb,
    Rgba,
    /// Printing inks, 0 = none.
    Cmyk,
}

impl Channels {
    fn count(self) -> usize {
        match self {
            Self::Grey => 1,
            Self::GreyAlpha => 2,
            Self::Rgb => 3,
            Self::Rgba | Self::Cmyk => 4,
        }
    }
}

/// Interleaved samples of a file in the width they were stored.
#[derive(Debug)]
enum Samples {
    U8(Vec<u8>),
    U16(Vec<u16>),
}

impl Samples {
    fn len(&self) -> usize {
        match self {
            Self::U8(v) => v.len(),
            Self::U16(v) => v.len(),
        }
    }
}

/// A decoded file before the colour profile is applied.
#[derive(Debug)]
struct Raw {
    width: u32,
    height: u32,
    channels: Channels,
    samples: Samples,
    icc: Option<Vec<u8>>,
    turn: Turn,
    notes: Vec<PictureNote>,
}

/// Refuses a declared size before anything is decoded.
fn check_size(kind: PictureKind, size: (u32, u32), limits: &PictureLimits) -> Result<(), PictureError> {
    let (width, height) = size;
    if width == 0 || height == 0 {
        return Err(PictureError::NoSize { kind });
    }
    if u64::from(width) * u64::from(height) > limits.max_pixels {
        return Err(PictureError::TooManyPixels { width, height, max_pixels: limits.max_pixels });
    }
    if width.max(height) > limits.max_side {
        return Err(PictureError::SideTooLong { width, height, max_side: limits.max_side });
    }
    Ok(())
}
