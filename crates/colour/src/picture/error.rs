//! What can go wrong when a picture file is read: each message is a sentence with the next step.

/// Why a picture file could not be read; the caller adds the name of the file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    /// The file has no bytes.
    #[error("The file is empty: choose another file.")]
    Empty,
    /// The first bytes belong to no kind of picture known here.
    #[error("The file is not a picture that can be read: choose a PNG, JPEG, WebP or TIFF file.")]
    Unknown,
    /// The file is of a known kind that is not read.
    #[error("The file looks like {looks_like}, which is not read: save it as PNG, JPEG, WebP or TIFF.")]
    OtherKind {
        /// The kind with its article, for example "a GIF picture".
        looks_like: &'static str,
    },
    /// The header claims more pixels than allowed; nothing was decoded.
    #[error(
        "The picture is {} x {} pixels, more than the limit of {} megapixels: scale it down and save it again.",
        grouped(u64::from(*width)), grouped(u64::from(*height)), grouped(max_pixels.div_ceil(1_000_000))
    )]
    TooManyPixels {
        /// Declared width in pixels.
        width: u32,
        /// Declared height in pixels.
        height: u32,
        /// The limit in pixels.
        max_pixels: u64,
    },
    /// One side is longer than allowed; nothing was decoded.
    #[error(
        "The picture is {} x {} pixels, and a side may be at most {} pixels long: scale it down and save it again.",
        grouped(u64::from(*width)), grouped(u64::from(*height)), grouped(u64::from(*max_side))
    )]
    SideTooLong {
        /// Declared width in pixels.
        width: u32,
        /// Declared height in pixels.
        height: u32,
        /// The limit of one side in pixels.
        max_side: u32,
    },
    /// The header gives a width or height of 0.
    #[error("The {kind} file says that its picture is 0 pixels wide or high: save the picture again.")]
    NoSize {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The file ends before its picture does.
    #[error("The {kind} file is cut off before the picture is complete: copy or save it again.")]
    CutOff {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The content contradicts itself.
    #[error("The {kind} file is damaged ({detail}): open it in a picture editor and save it again.")]
    Damaged {
        /// The kind of file.
        kind: PictureKind,
        /// What the decoder met, in its own words.
        detail: String,
    },
    /// Extra data, such as a colour profile, is larger than allowed.
    #[error(
        "The {kind} file carries extra data larger than the limit of {} MiB: save it again without extra data.",
        limit_bytes >> 20
    )]
    ExtraDataTooLarge {
        /// The kind of file.
        kind: PictureKind,
        /// The limit in bytes.
        limit_bytes: usize,
    },
    /// The picture is stored in one piece of 16 bits a channel that is too large to hold.
    #[error(
        "The {kind} file keeps its 16 bits a channel in one single strip, which takes {} MB to read: save it with 8 bits a channel, or in several strips.",
        grouped(*held_bytes as u64 / 1_000_000)
    )]
    TooDeep {
        /// The kind of file.
        kind: PictureKind,
        /// What reading it would take in bytes.
        held_bytes: usize,
    },
    /// The picture is stored in printing inks, and nothing says how these look.
    #[error(
        "The {kind} file is stored in CMYK printing inks without a colour profile that could be used, so its colours are not known: save it as RGB."
    )]
    CmykWithoutProfile {
        /// The kind of file.
        kind: PictureKind,
    },
    /// The file uses a part of its format that is not read.
    #[error("The {kind} file uses {what}, which is not read: save it as an RGB file with 8 or 16 bits.")]
    NotRead {
        /// The kind of file.
        kind: PictureKind,
        /// The part of the format, for example "a palette".
        what: String,
    },
}

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

impl std::fmt::Display for PictureKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Png => "PNG",
            Self::Jpeg => "JPEG",
            Self::WebP => "WebP",
            Self::Tiff => "TIFF",
        })
    }
}

/// A number with its thousands grouped by a no-break space.
fn grouped(n: u64) -> String {
    let digits = n.to_string();
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push('\u{a0}');
        }
        out.push(c);
    }
    out
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
