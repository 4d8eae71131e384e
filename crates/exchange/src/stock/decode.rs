//! Bytes to text: UTF-8 and UTF-16 with or without a byte-order mark, else Latin-1.

/// Text and, where something other than plain UTF-8 was found, a note about it.
pub(super) struct Decoded {
    pub(super) text: String,
    pub(super) note: Option<String>,
}

/// Decodes a list. `None` when the bytes are no text at all (zero bytes in them, or half a UTF-16 sign).
pub(super) fn decode(bytes: &[u8]) -> Option<Decoded> {
    match bytes {
        [0xff, 0xfe, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => plain(rest),
        _ => plain(bytes),
    }
}

fn plain(bytes: &[u8]) -> Option<Decoded> {
    if bytes.contains(&0) {
        return None;
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return Some(Decoded { text: text.to_owned(), note: None });
    }
    // Latin-1 maps each byte to the code point of the same number (ISO/IEC 8859-1), so this cannot fail.
    let text = bytes.iter().map(|&b| char::from(b)).collect();
    let note = "The list is not UTF-8; it was read as Latin-1. Check names with accents.".to_owned();
    Some(Decoded { text, note: Some(note) })
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Option<Decoded> {
    if !bytes.len().is_multiple_of(2) {
        return None;
    }
    let units = bytes.chunks_exact(2).map(|b| unit([b[0], b[1]]));
    let text: String = char::decode_utf16(units).collect::<Result<_, _>>().ok()?;
    if text.contains('\0') {
        return None;
    }
    Some(Decoded { text, note: None })
}
