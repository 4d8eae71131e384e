//! What can go wrong when a picture file is read: each message is a sentence with the next step.

use sayings::{Said, refusing, say};

/// Why a picture file could not be read; the caller adds the name of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PictureError {
    /// The file has no bytes.
    Empty,
    /// The first bytes belong to no kind of picture known here.
    Unknown,
    /// The file is of a known kind that is not read.
    OtherKind {
        /// The kind with its article, for example "a GIF picture".
        looks_like: &'static str,
    },
    /// The header claims more pixels than allowed; nothing was decoded.
    TooManyPixels {
        /// Declared width in pixels.
        width: u32,
        /// Declared height in pixels.
        height: u32,
        /// The limit in pixels.
        max_pixels: u64,
    },
    /// One side is longer than allowed; nothing was decoded.
    SideTooLong {
        /// Declared width in pixels.
        width: u32,
        /// Declared height in pixels.
        height: u32,
        /// The limit of one side in pixels.
        max_side: u32,
    },
    /// The header gives a width or height of 0.
    NoSize {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The file ends before its picture does.
    CutOff {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The content contradicts itself.
    Damaged {
        /// The kind of file.
        kind: PictureKind,
        /// What the decoder met, in its own words.
        detail: String,
    },
    /// Extra data, such as a colour profile, is larger than allowed.
    ExtraDataTooLarge {
        /// The kind of file.
        kind: PictureKind,
        /// The limit in bytes.
        limit_bytes: usize,
    },
    /// The picture is stored in one piece of 16 bits a channel that is too large to hold.
    TooDeep {
        /// The kind of file.
        kind: PictureKind,
        /// What reading it would take in bytes.
        held_bytes: usize,
    },
    /// The picture is stored in printing inks, and nothing says how these look.
    CmykWithoutProfile {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The file uses a part of its format that is not read.
    NotRead {
        /// The kind of file.
        kind: PictureKind,
        /// The part of the format, for example "a palette".
        what: String,
    },
}

impl PictureError {
    /// A whole sentence with the next step; the caller adds the name of the file.
    pub fn said(&self) -> Said {
        match self {
            Self::Empty => say!(refusing::PICTURE_EMPTY),
            Self::Unknown => say!(refusing::PICTURE_UNKNOWN),
            Self::OtherKind { looks_like } => say!(refusing::PICTURE_OTHER_KIND, kind = *looks_like),
            Self::TooManyPixels { width, height, max_pixels } => say!(
                refusing::PICTURE_PIXELS,
                width = *width,
                height = *height,
                most = max_pixels.div_ceil(1_000_000)
            ),
            Self::SideTooLong { width, height, max_side } => {
                say!(refusing::PICTURE_SIDE, width = *width, height = *height, most = *max_side)
            }
            Self::NoSize { kind } => say!(refusing::PICTURE_NO_SIZE, kind = kind.word()),
            Self::CutOff { kind } => say!(refusing::PICTURE_CUT, kind = kind.word()),
            Self::Damaged { kind, detail } => {
                say!(refusing::PICTURE_DAMAGED, kind = kind.word(), detail = detail)
            }
            Self::ExtraDataTooLarge { kind, limit_bytes } => {
                say!(refusing::PICTURE_EXTRA, kind = kind.word(), most = limit_bytes >> 20)
            }
            Self::TooDeep { kind, held_bytes } => {
                say!(refusing::PICTURE_DEEP, kind = kind.word(), n = held_bytes / 1_000_000)
            }
            Self::CmykWithoutProfile { kind } => say!(refusing::PICTURE_INKS, kind = kind.word()),
            Self::NotRead { kind, what } => say!(refusing::PICTURE_NOT_READ, kind = kind.word(), what = what),
        }
    }
}

impl std::fmt::Display for PictureError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for PictureError {}

/// The kinds of picture file that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PictureKind {
    /// Portable Network Graphics, ISO/IEC 15948.
    Png,
    /// JPEG, ITU-T T.81.
    Jpeg,
    /// WebP, RFC 9649.
    WebP,
    /// Tagged Image File Format 6.0, with the 64-bit variant.
    Tiff,
}

impl PictureKind {
    /// What such a file is called everywhere.
    fn word(self) -> &'static str {
        match self {
            Self::Png => "PNG",
            Self::Jpeg => "JPEG",
            Self::WebP => "WebP",
            Self::Tiff => "TIFF",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_names_size_limit_and_next_step() {
        let e = PictureError::TooManyPixels { width: 60_000, height: 60_000, max_pixels: 100_000_000 };
        assert_eq!(
            e.to_string(),
            "The picture is 60\u{a0}000 x 60\u{a0}000 pixels, more than the limit of 100 megapixels: \
             scale it down and save it again."
        );
    }
}
