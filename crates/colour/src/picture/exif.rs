//! Reads the one thing needed from an Exif block: how the picture must be turned to stand upright.

use super::Turn;

/// The tag of the orientation (Exif 3.0, table of TIFF-attribute tags; also TIFF 6.0, page 36).
const ORIENTATION: u16 = 0x0112;

/// The turn that an Exif block (starting at its TIFF header) asks for.
/// Anything unreadable means "as stored": a wrong block must not cost the picture.
pub(super) fn turn_of(block: &[u8]) -> Turn {
    orientation(block).map_or(Turn::AsStored, Turn::of_exif)
}

fn orientation(block: &[u8]) -> Option<u16> {
    let little = match block.get(..4)? {
        b"II*\0" => true,
        b"MM\0*" => false,
        _ => return None,
    };
    let u16_at = |at: usize| {
        let b: [u8; 2] = block.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(b) } else { u16::from_be_bytes(b) })
    };
    let u32_at = |at: usize| {
        let b: [u8; 4] = block.get(at..at.checked_add(4)?)?.try_into().ok()?;
        Some(if little { u32::from_le_bytes(b) } else { u32::from_be_bytes(b) })
    };
    let directory = usize::try_from(u32_at(4)?).ok()?;
    let entries = usize::from(u16_at(directory)?);
    (0..entries)
        .map_while(|i| directory.checked_add(2 + 12 * i))
        .find(|at| u16_at(*at) == Some(ORIENTATION))
        .and_then(|at| match u16_at(at + 2)? {
            3 => u16_at(at + 8),
            4 => u32_at(at + 8).and_then(|v| u16::try_from(v).ok()),
            _ => None,
        })
}
