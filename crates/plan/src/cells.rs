//! The cells of a field: one colour each, shared between copies until one of them changes.

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// No piece.
pub const EMPTY: u16 = 0;

/// One colour id a cell, lane by lane, rank 0 first; [`EMPTY`] where no piece stands.
///
/// Serialised as runs: `"22x3 5x0 1x7"` is 22 cells of colour 3, 5 empty ones and one of colour 7.
#[derive(Clone, PartialEq, Eq)]
pub struct Cells(Arc<Vec<u16>>);

/// One bit a cell, in the order of [`Cells`].
///
/// Serialised as runs that alternate from "not set": `"10 3 7"` is 10 without, 3 with, 7 without.
#[derive(Clone, PartialEq, Eq, Default)]
pub struct CellMask(Arc<Vec<bool>>);

impl Cells {
    /// `len` cells without pieces.
    pub fn empty(len: usize) -> Self {
        Self(Arc::new(vec![EMPTY; len]))
    }

    /// The cells as a slice.
    pub fn as_slice(&self) -> &[u16] {
        &self.0
    }

    /// Number of cells.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// True when there is no cell.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The cells for writing; copies them first where they are shared.
    pub fn make_mut(&mut self) -> &mut Vec<u16> {
        Arc::make_mut(&mut self.0)
    }

    /// Number of pieces.
    pub fn pieces(&self) -> usize {
        self.0.iter().filter(|&&c| c != EMPTY).count()
    }
}

impl From<Vec<u16>> for Cells {
    fn from(cells: Vec<u16>) -> Self {
        Self(Arc::new(cells))
    }
}

impl CellMask {
    /// `len` cells, none set.
    pub fn none(len: usize) -> Self {
        Self(Arc::new(vec![false; len]))
    }

    /// The bits as a slice.
    pub fn as_slice(&self) -> &[bool] {
        &self.0
    }

    /// Number of cells.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// True when there is no cell at all.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many are set.
    pub fn count(&self) -> usize {
        self.0.iter().filter(|&&b| b).count()
    }

    /// The bits for writing; copies them first where they are shared.
    pub fn make_mut(&mut self) -> &mut Vec<bool> {
        Arc::make_mut(&mut self.0)
    }
}

impl From<Vec<bool>> for CellMask {
    fn from(bits: Vec<bool>) -> Self {
        Self(Arc::new(bits))
    }
}

impl fmt::Debug for Cells {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Cells({} cells, {} pieces)", self.len(), self.pieces())
    }
}

impl fmt::Debug for CellMask {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "CellMask({} of {})", self.count(), self.len())
    }
}

/// Calls `each(length, value)` for every run of equal values.
fn runs<T: Copy + PartialEq>(values: &[T], mut each: impl FnMut(usize, T)) {
    let mut start = 0;
    for i in 1..=values.len() {
        if i == values.len() || values[i] != values[start] {
            each(i - start, values[start]);
            start = i;
        }
    }
}

impl Serialize for Cells {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        use fmt::Write;
        let mut text = String::new();
        runs(&self.0, |n, c| {
            let gap = if text.is_empty() { "" } else { " " };
            let _ = write!(text, "{gap}{n}x{c}");
        });
        to.serialize_str(&text)
    }
}

impl<'de> Deserialize<'de> for Cells {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
        let mut cells = Vec::new();
        for run in text.split_ascii_whitespace() {
            let parsed = run.split_once('x').and_then(|(n, c)| Some((n.parse().ok()?, c.parse().ok()?)));
            let Some((n, c)) = parsed else {
                return Err(serde::de::Error::custom(format!("\"{run}\" is not a run such as 22x3")));
            };
            extend(&mut cells, n, c).map_err(serde::de::Error::custom)?;
        }
        Ok(cells.into())
    }
}

impl Serialize for CellMask {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        use fmt::Write;
        let mut text = String::new();
        if self.0.first() == Some(&true) {
            text.push('0');
        }
        runs(&self.0, |n, _| {
            let gap = if text.is_empty() { "" } else { " " };
            let _ = write!(text, "{gap}{n}");
        });
        to.serialize_str(&text)
    }
}

impl<'de> Deserialize<'de> for CellMask {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
        let mut bits = Vec::new();
        for (i, run) in text.split_ascii_whitespace().enumerate() {
            let n = run
                .parse()
                .map_err(|_| serde::de::Error::custom(format!("\"{run}\" is not a run length")))?;
            extend(&mut bits, n, i % 2 == 1).map_err(serde::de::Error::custom)?;
        }
        Ok(bits.into())
    }
}

/// Appends a run, unless the field would grow past all limits: a short text must not claim a huge field.
fn extend<T: Clone>(to: &mut Vec<T>, n: usize, value: T) -> Result<(), String> {
    let len = to.len().saturating_add(n);
    if len > crate::gate::MAX_CELLS {
        return Err(format!(
            "{len} cells are more than the {} that one field may have",
            crate::gate::MAX_CELLS
        ));
    }
    to.resize(len, value);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_come_back_as_the_same_cells() {
        let cells: Cells = vec![3, 3, 0, 0, 7].into();
        let text = serde_json::to_string(&cells).unwrap();
        assert_eq!(text, "\"2x3 2x0 1x7\"");
        assert_eq!(serde_json::from_str::<Cells>(&text).unwrap(), cells);
        for bits in [vec![true, false, false], vec![false, true], vec![], vec![true]] {
            let mask: CellMask = bits.into();
            let text = serde_json::to_string(&mask).unwrap();
            assert_eq!(serde_json::from_str::<CellMask>(&text).unwrap(), mask, "{text}");
        }
    }

    #[test]
    fn a_short_text_cannot_claim_a_huge_field() {
        assert!(serde_json::from_str::<Cells>("\"99999999999x1\"").is_err());
        assert!(serde_json::from_str::<Cells>("\"18446744073709551615x1 5x1\"").is_err());
    }
}
