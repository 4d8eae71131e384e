//! Hashes that tie the journal, the stored states and the file together (SHA-256, FIPS 180-4).

use plan::Plan;
use sha2::{Digest, Sha256};

/// A SHA-256 value.
pub(crate) type Hash = [u8; 32];

/// Hash of some bytes.
pub(crate) fn of(bytes: &[u8]) -> Hash {
    Sha256::digest(bytes).into()
}

/// SHA-256 of some bytes as 64 lower-case hex digits, as pictures are named in a plan.
pub fn sha256_hex(bytes: &[u8]) -> String {
    hex(&of(bytes))
}

/// Hash over several parts. Each part is preceded by its length, so that no two lists of parts read the same.
pub(crate) fn of_parts(parts: &[&[u8]]) -> Hash {
    let mut hasher = Sha256::new();
    for part in parts {
        hasher.update((part.len() as u64).to_le_bytes());
        hasher.update(part);
    }
    hasher.finalize().into()
}

/// Where the chain of a new project begins; it also names the project.
pub(crate) fn genesis(created: &str, first_state: &Hash) -> Hash {
    of_parts(&[b"standfast project", created.as_bytes(), first_state])
}

/// Hash of a plan's content. Which ids were given and taken back does not count, as in comparing plans.
pub(crate) fn content(plan: &Plan) -> Hash {
    let mut value = serde_json::to_value(plan).expect("a plan holds nothing that JSON cannot");
    if let Some(map) = value.as_object_mut() {
        map.remove("last_id");
    }
    of(value.to_string().as_bytes())
}

/// Lower-case hex digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// The hash written as 64 hex digits; `None` for anything else.
pub(crate) fn from_hex(text: &str) -> Option<Hash> {
    let digits = text.as_bytes();
    if digits.len() != 64 || !digits.iter().all(u8::is_ascii_hexdigit) {
        return None;
    }
    let mut hash = [0; 32];
    for (byte, pair) in hash.iter_mut().zip(digits.chunks_exact(2)) {
        *byte = u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()?;
    }
    Some(hash)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4 example: SHA-256 of "abc".
    #[test]
    fn hash_of_abc_is_the_published_one() {
        let known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hex(&of(b"abc")), known);
        assert_eq!(from_hex(known), Some(of(b"abc")));
        assert_eq!(from_hex(&known[1..]), None);
    }

    #[test]
    fn moving_a_byte_between_parts_changes_the_hash() {
        assert_ne!(of_parts(&[b"ab", b"c"]), of_parts(&[b"a", b"bc"]));
    }
}
