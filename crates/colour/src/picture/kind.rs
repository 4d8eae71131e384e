//! Tells the kind of a file from its first bytes.

use super::error::{PictureError, PictureKind};

/// The kind of picture that `bytes` hold, or a refusal that says what they look like.
pub(super) fn kind_of(bytes: &[u8]) -> Result<PictureKind, PictureError> {
    if bytes.is_empty() {
        return Err(PictureError::Empty);
    }
    if let Some(kind) = readable(bytes) {
        return Ok(kind);
    }
    match foreign(bytes) {
        Some(looks_like) => Err(PictureError::OtherKind { looks_like }),
        None => Err(PictureError::Unknown),
    }
}

fn readable(bytes: &[u8]) -> Option<PictureKind> {
    let at = |offset: usize, magic: &[u8]| bytes.get(offset..).is_some_and(|b| b.starts_with(magic));
    if at(0, b"\x89PNG\r\n\x1a\n") {
        Some(PictureKind::Png)
    } else if at(0, b"\xff\xd8\xff") {
        Some(PictureKind::Jpeg)
    } else if at(0, b"RIFF") && at(8, b"WEBP") {
        Some(PictureKind::WebP)
    } else if [b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"].iter().any(|m| at(0, *m)) {
        Some(PictureKind::Tiff)
    } else {
        None
    }
}

/// Kinds that people try, so that the refusal can name them.
const FOREIGN: [(usize, &[u8], &str); 20] = [
    (0, b"GIF8", "a GIF picture"),
    (0, b"BM", "a BMP picture"),
    (4, b"ftypheic", "an HEIC photo"),
    (4, b"ftypheix", "an HEIC photo"),
    (4, b"ftypmif1", "an HEIF photo"),
    (4, b"ftypmsf1", "an HEIF photo"),
    (4, b"ftypavif", "an AVIF picture"),
    (4, b"ftypavis", "an AVIF picture"),
    (4, b"ftyp", "a film or photo in an MPEG-4 container"),
    (0, b"\xff\x0a", "a JPEG XL picture"),
    (4, b"JXL \r\n\x87\n", "a JPEG XL picture"),
    (4, b"jP  \r\n\x87\n", "a JPEG 2000 picture"),
    (0, b"8BPS", "a layered PSD document"),
    (0, b"%PDF", "a PDF document"),
    (0, b"%!PS", "a PostScript document"),
    (0, b"<?xml", "an XML document, perhaps an SVG drawing"),
    (0, b"<svg", "an SVG drawing"),
    (0, b"PK\x03\x04", "a ZIP archive"),
    (0, b"\0\0\x01\0", "an icon file"),
    (0, b"qoif", "a QOI picture"),
];

fn foreign(bytes: &[u8]) -> Option<&'static str> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    FOREIGN
        .iter()
        .find(|(offset, magic, _)| bytes.get(*offset..).is_some_and(|b| b.starts_with(magic)))
        .map(|(_, _, name)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_foreign_kind_is_named_with_the_next_step() {
        let said = |bytes: &[u8]| kind_of(bytes).unwrap_err().to_string();
        assert_eq!(
            said(b"GIF89a\x01\0\x01\0"),
            "The file looks like a GIF picture, which is not read: save it as PNG, JPEG, WebP or TIFF."
        );
        assert!(said(b"\0\0\0\x18ftypheic\0\0\0\0").contains("an HEIC photo"));
        assert!(said(b"hello").contains("choose a PNG"));
        assert_eq!(said(b""), "The file is empty: choose another file.");
    }
}
