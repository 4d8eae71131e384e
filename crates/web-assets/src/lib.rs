//! The workbench's built pages, carried inside the binary.
//!
//! The build script decides what is inside: the built pages of `web/`, or a one-page notice in a debug build.
//! See `STANDFAST_WEB` in `build.rs` for the choice.

mod table {
    //! The sorted table that the build script wrote.
    use super::Asset;
    include!(concat!(env!("OUT_DIR"), "/assets.rs"));
}

/// One file of the workbench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asset {
    /// The file's content.
    pub bytes: &'static [u8],
    /// The value for the `Content-Type` header, with the character set where there is one.
    pub mime: &'static str,
    /// Content hash for an `ETag`: 64-bit FNV-1a as sixteen hexadecimal digits.
    /// It tells versions of a file apart and protects against nothing.
    pub hash: &'static str,
}

/// The file at `path`, which is relative, has forward slashes and no leading slash: `assets/app-3f2a.js`.
/// None when there is no file of exactly this name; a folder is not a file.
pub fn file(path: &str) -> Option<Asset> {
    let at = table::ASSETS.binary_search_by(|(name, _)| (*name).cmp(path)).ok()?;
    Some(table::ASSETS[at].1)
}

/// The paths of all files in byte order.
pub fn paths() -> impl Iterator<Item = &'static str> {
    table::ASSETS.iter().map(|(name, _)| *name)
}

/// Whether the built pages are inside, and not just the notice of a debug build.
pub fn has_workbench() -> bool {
    table::HAS_WORKBENCH
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_always_an_index_page() {
        let index = file("index.html").expect("an index page");
        assert_eq!(index.mime, "text/html; charset=utf-8");
        assert!(index.bytes.starts_with(b"<!doctype html>") || index.bytes.starts_with(b"<!DOCTYPE html>"));
    }

    #[test]
    fn paths_are_sorted_relative_and_found() {
        let all: Vec<_> = paths().collect();
        assert!(all.is_sorted());
        for path in all {
            assert!(!path.starts_with('/') && !path.contains('\\') && !path.contains(".."), "{path}");
            let asset = file(path).expect("listed");
            assert_eq!(asset.hash.len(), 16, "{path}");
            assert!(asset.mime.contains('/'), "{path}");
        }
    }

    #[test]
    fn anything_else_is_absent() {
        for path in ["", "/", "/index.html", "index.htm", "assets", "../Cargo.toml", "INDEX.HTML"] {
            assert!(file(path).is_none(), "{path}");
        }
    }
}
