//! The stock: kinds and colours of pieces, lots of them by batch and owner, and the gear.

use std::fmt;

use serde::{Deserialize, Serialize};
use units::{Length, Mass};

use crate::ids::{ColourId, GearId, KindId, LotId};

/// A colour as 8-bit sRGB (IEC 61966-2-1), written `#rrggbb`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Rgb {
    /// Red, 0 to 255.
    pub r: u8,
    /// Green, 0 to 255.
    pub g: u8,
    /// Blue, 0 to 255.
    pub b: u8,
}

/// Everything the crew can lay its hands on.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Stock {
    /// Kinds of pieces, sorted by id.
    pub kinds: Vec<Kind>,
    /// Colours of pieces, sorted by id.
    pub colours: Vec<Colour>,
    /// Lots, sorted by id.
    pub lots: Vec<Lot>,
    /// Things that are not pieces, sorted by id.
    pub gear: Vec<Gear>,
}

/// A kind of piece. On end it stands `height` high, shows `width` across the fall and is `thickness` deep along it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Kind {
    /// Its id.
    pub id: KindId,
    /// What the crew calls it.
    pub name: String,
    /// Along the fall when on end; 7.5 mm for the usual piece (reported).
    pub thickness: Length,
    /// Across the fall when on end; 24 mm for the usual piece (reported).
    pub width: Length,
    /// Upwards when on end; 48 mm for the usual piece (reported).
    pub height: Length,
    /// Mean mass of one piece; 8.5 g for the usual piece (reported: 8 to 8.5 g; weigh a hundred of your own).
    pub mass: Mass,
    /// Free text: plastic, beech, …
    #[serde(default)]
    pub material: String,
}

/// How a face shines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Finish {
    /// Dull.
    #[default]
    Matt,
    /// Shining.
    Gloss,
    /// Like metal.
    Metallic,
    /// Lets light through.
    Clear,
    /// Painted or stuck over.
    Painted,
}

/// A colour of pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Colour {
    /// Its id.
    pub id: ColourId,
    /// Its name, different from all other colours of the plan.
    pub name: String,
    /// One to three signs that are called and printed; different from all others.
    pub code: String,
    /// The face that looks towards the fall while the piece stands.
    pub front: Rgb,
    /// The face that looks away from the fall; it is on top once the piece has fallen.
    pub back: Rgb,
    /// Top, bottom and sides.
    pub edge: Rgb,
    /// How it shines.
    #[serde(default)]
    pub finish: Finish,
}

/// So many pieces of one kind and colour, of one batch, from one owner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Lot {
    /// Its id.
    pub id: LotId,
    /// Of which kind.
    pub kind: KindId,
    /// Of which colour.
    pub colour: ColourId,
    /// Batch mark, may be empty. Shades and thickness differ between batches.
    #[serde(default)]
    pub batch: String,
    /// Who owns them, may be empty.
    #[serde(default)]
    pub owner: String,
    /// Pieces that are there or promised.
    pub count: u32,
    /// Pieces that the owner could lend in addition; not counted until somebody asks for them.
    #[serde(default)]
    pub offered: u32,
    /// Share kept back as spare, 0 to 0.5.
    #[serde(default)]
    pub spare: f64,
    /// Pieces in a crate, if crates are of one size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crate_size: Option<u32>,
    /// Measured mean thickness of the batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Length>,
    /// Measured mean mass of a piece of the batch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Option<Mass>,
}

/// A thing that is not a piece but is needed to build.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Gear {
    /// Its id.
    pub id: GearId,
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub what: GearKind,
    /// How many there are.
    pub count: u32,
    /// Who owns it, may be empty.
    #[serde(default)]
    pub owner: String,
}

/// What a thing that is not a piece is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum GearKind {
    /// A toothed strip that sets a run of pieces at a fixed pitch.
    Comb {
        /// Centre to centre of the pieces that it sets.
        pitch: Length,
        /// How many pieces it sets at a time.
        teeth: u32,
    },
    /// A board to stand on, to build on or to lead the fall over.
    Plank {
        /// Its length.
        length: Length,
        /// Its width.
        width: Length,
        /// Its thickness.
        thickness: Length,
    },
    /// A block or trestle that carries a plank.
    Support {
        /// Its height.
        height: Length,
    },
    /// Cord, on a roll.
    Cord {
        /// Length of one roll.
        length: Length,
    },
}

impl Rgb {
    /// Reads `#rrggbb` or `rrggbb`, in either case; `None` for anything else.
    pub fn from_hex(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#').unwrap_or(text);
        if digits.len() != 6 || !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let part = |i: usize| u8::from_str_radix(&digits[i..i + 2], 16).ok();
        Some(Self { r: part(0)?, g: part(2)?, b: part(4)? })
    }
}

impl fmt::Display for Rgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

impl Serialize for Rgb {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Rgb {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
        Self::from_hex(&text).ok_or_else(|| {
            serde::de::Error::custom(format!("\"{text}\" is not a colour; write it as #rrggbb"))
        })
    }
}

impl Colour {
    /// Pieces of the same colour on all faces, matt.
    pub fn plain(id: ColourId, name: impl Into<String>, code: impl Into<String>, faces: Rgb) -> Self {
        let (name, code) = (name.into(), code.into());
        Self { id, name, code, front: faces, back: faces, edge: faces, finish: Finish::Matt }
    }
}

impl Kind {
    /// The usual piece: 48 x 24 x 7.5 mm, 8.5 g (reported sizes; weigh and measure your own).
    pub fn usual(id: KindId) -> Self {
        Self {
            id,
            name: "Standard".into(),
            thickness: Length::mm(7.5),
            width: Length::mm(24.0),
            height: Length::mm(48.0),
            mass: Mass::g(8.5),
            material: "plastic".into(),
        }
    }
}

impl Lot {
    /// Pieces that may be planned with: the count less the spare share, rounded down.
    pub fn usable(&self) -> u32 {
        // The share is kept to the piece: 1000 at 3 % leaves 970, without an error of the last digit.
        let kept = (f64::from(self.count) * self.spare - 1e-9).ceil().max(0.0);
        self.count.saturating_sub(kept as u32)
    }
}

impl Stock {
    /// The colour with this id.
    pub fn colour(&self, id: ColourId) -> Option<&Colour> {
        self.colours.binary_search_by_key(&id, |c| c.id).ok().map(|i| &self.colours[i])
    }

    /// The kind with this id.
    pub fn kind(&self, id: KindId) -> Option<&Kind> {
        self.kinds.binary_search_by_key(&id, |k| k.id).ok().map(|i| &self.kinds[i])
    }

    /// The colour with this code, if any.
    pub fn colour_by_code(&self, code: &str) -> Option<&Colour> {
        self.colours.iter().find(|c| c.code == code)
    }

    /// Pieces of one kind and colour that may be planned with, over all batches and owners.
    pub fn usable(&self, kind: KindId, colour: ColourId) -> u64 {
        self.lots_of(kind, colour).map(|l| u64::from(l.usable())).sum()
    }

    /// Pieces of one kind and colour that are owned, spare included.
    pub fn owned(&self, kind: KindId, colour: ColourId) -> u64 {
        self.lots_of(kind, colour).map(|l| u64::from(l.count)).sum()
    }

    /// The lots of one kind and colour, in order of id.
    pub fn lots_of(&self, kind: KindId, colour: ColourId) -> impl Iterator<Item = &Lot> {
        self.lots.iter().filter(move |l| l.kind == kind && l.colour == colour)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spare_is_kept_to_the_piece() {
        let lot = |count, spare| Lot {
            id: LotId(1),
            kind: KindId(1),
            colour: ColourId(1),
            batch: String::new(),
            owner: String::new(),
            count,
            offered: 0,
            spare,
            crate_size: None,
            thickness: None,
            mass: None,
        };
        assert_eq!(lot(1000, 0.03).usable(), 970);
        assert_eq!(lot(10, 0.03).usable(), 9);
        assert_eq!(lot(1000, 0.0).usable(), 1000);
        assert_eq!(lot(0, 0.5).usable(), 0);
    }

    #[test]
    fn hex_is_read_with_and_without_the_sign_and_nothing_else() {
        assert_eq!(Rgb::from_hex("#1F63c4"), Some(Rgb { r: 0x1f, g: 0x63, b: 0xc4 }));
        assert_eq!(Rgb::from_hex("1f63c4"), Rgb::from_hex("#1f63c4"));
        for bad in ["", "#", "#12345", "#1234567", "#12345g", "ääää", "+12345"] {
            assert_eq!(Rgb::from_hex(bad), None, "{bad}");
        }
    }
}
