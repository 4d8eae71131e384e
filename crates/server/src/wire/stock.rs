//! Stock against plan, and the ways out of a shortage.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::said::SaidRow;

/// `GET /api/stock`: what is needed, owned and short.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StockReport {
    /// The state in words: "Two colours are short".
    pub headline: String,
    /// The same as a saying.
    pub headline_said: SaidRow,
    /// Pieces needed, owned (spare included) and usable (spare kept back).
    pub needed: u32,
    /// Owned in all.
    pub owned: u32,
    /// Usable in all.
    pub usable: u32,
    /// One row a kind and colour, least left first.
    pub rows: Vec<StockRow>,
    /// Ways out of a shortage, smallest visible change first.
    pub ways_out: Vec<WayOut>,
    /// Colours that get confused.
    pub alike: Vec<AlikeRow>,
}

/// One kind and colour of the stock.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StockRow {
    /// Colour id.
    pub colour: u16,
    /// Kind, by name.
    pub kind: String,
    /// Pieces that the plan takes as it is laid.
    pub needed: u32,
    /// Pieces that the pictures would take if stock did not matter.
    pub wanted: u32,
    /// Owned.
    pub owned: u32,
    /// Usable, spare kept back.
    pub usable: u32,
    /// Could be lent in addition.
    pub offered: u32,
    /// Lots: batch, owner, count, offered, mean thickness.
    pub lots: Vec<LotRow>,
    /// Who takes them: item id and pieces.
    pub takers: Vec<[u32; 2]>,
    /// Crates, full and begun.
    pub crates: u32,
}

/// A lot.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct LotRow {
    /// Its id.
    pub id: u32,
    /// Batch mark.
    pub batch: String,
    /// Owner.
    pub owner: String,
    /// Pieces.
    pub count: u32,
    /// Could be lent in addition.
    pub offered: u32,
    /// Mean thickness in mm, if measured.
    pub thickness: Option<f64>,
    /// Share kept back.
    pub spare: f64,
}

/// A thing that is not a piece but is needed to build.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct GearRow {
    /// Its id.
    pub id: u32,
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub what: GearWhat,
    /// How many there are.
    pub count: u32,
    /// Who owns it, may be empty.
    pub owner: String,
}

/// A thing that is not a piece, as it is put into the stock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct GearDraft {
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub what: GearWhat,
    /// How many there are.
    pub count: u32,
    /// Who owns it, may be empty.
    pub owner: String,
}

/// What a thing that is not a piece is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum GearWhat {
    /// A toothed strip that sets a run of pieces at a fixed pitch.
    Comb {
        /// Centre to centre of the pieces that it sets, mm.
        pitch: f64,
        /// How many pieces it sets at a time.
        teeth: u32,
    },
    /// A board to stand on, to build on or to lead the fall over.
    Plank {
        /// Its length, mm.
        length: f64,
        /// Its width, mm.
        width: f64,
        /// Its thickness, mm.
        thickness: f64,
    },
    /// A block or trestle that carries a plank.
    Support {
        /// Its height, mm.
        height: f64,
    },
    /// Cord, on a roll.
    Cord {
        /// Length of one roll, mm.
        length: f64,
    },
}

/// A way out of a shortage.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum WayOut {
    /// Let another colour stand in.
    OtherColour {
        /// The colour that is short.
        from: u16,
        /// The colour that stands in.
        to: u16,
        /// How many pieces.
        pieces: u32,
        /// Mean CIEDE2000 of the cells concerned, before and after.
        difference: [f64; 2],
    },
    /// Make one field smaller, or all of them evenly.
    SmallerFields {
        /// Item id, lanes and ranks that each would have.
        fields: Vec<[u32; 3]>,
    },
    /// Buy so many.
    Buy {
        /// Of which colour.
        colour: u16,
        /// How many.
        pieces: u32,
        /// CIEDE2000 that one more piece would save at most.
        worth: f64,
    },
    /// Borrow from an owner who offered.
    Borrow {
        /// Of which colour.
        colour: u16,
        /// From which lot.
        lot: u32,
        /// From whom.
        owner: String,
        /// How many.
        pieces: u32,
    },
}

/// Two colours that get confused.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct AlikeRow {
    /// One.
    pub a: u16,
    /// The other.
    pub b: u16,
    /// By whom or under which light, in words.
    pub why: String,
    /// The same for any language.
    pub said: SaidRow,
    /// CIEDE2000 under that condition.
    pub difference: f64,
}
