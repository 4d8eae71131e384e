//! Feeds: the pieces that bring the fall to every lane of a field, in ways that were measured to work.

use serde::{Deserialize, Serialize};
use units::{Angle, Length};

use crate::ids::{ColourId, ItemId, KindId};
use crate::line::Hand;

/// The pieces that bring the fall to every lane of a field. They stand before its first rank; where exactly follows
/// from the field and the way, so the item's own place is not used.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Feed {
    /// The field that it feeds.
    pub of: ItemId,
    /// How.
    pub way: FeedWay,
    /// Which kind of piece.
    pub kind: KindId,
    /// Their colour.
    pub colour: ColourId,
    /// Centre to centre of pieces that simply follow one another.
    pub pitch: Length,
}

/// The ways of feeding a field that were measured to work; each is described where its pieces are placed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum FeedWay {
    /// Ranks shifted alternately by half a lane pitch; one line hits the first between two pieces. The surest.
    Brick {
        /// Where the line comes in.
        enter: Enter,
    },
    /// A line along the edge; beside a wider gap of it, for each lane, a turned piece pokes into its sweep.
    Beside {
        /// From which side of the field the line comes, seen along the fall.
        side: Hand,
        /// How far the piece is turned out of the line's direction; 45° and 30° were found good.
        turn: Angle,
        /// Clear gap of the line beside the turned piece; 16 mm.
        gap: Length,
        /// How far its corner pokes into the sweep; 6 mm.
        poke: Length,
    },
    /// A line that runs past the lanes at an angle; the lanes themselves begin one after another.
    Angled {
        /// From which side the line comes.
        side: Hand,
        /// Angle between the line and the lanes' fall; 30° to 45°.
        turn: Angle,
        /// How far each lane's first piece pokes into the sweep; 6 mm.
        poke: Length,
    },
    /// A line along the edge in which one piece for each lane is turned.
    InLine {
        /// From which side the line comes.
        side: Hand,
        /// How far the piece is turned; 45°.
        turn: Angle,
        /// Clear distance before and after it; 3 mm.
        clear: Length,
    },
    /// One turned piece for each lane, side by side along the edge. The cheapest.
    Echelon {
        /// From which side the fall comes.
        side: Hand,
        /// How far the pieces are turned; 50°.
        turn: Angle,
    },
    /// All pieces face along the lanes; each lane begins two ranks later, with one piece between, half a lane over.
    HalfShift {
        /// From which side the fall comes.
        side: Hand,
    },
}

/// Where the line comes in to brick ranks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Enter {
    /// In the middle: half as many ranks.
    Middle,
    /// At lane 0, the rightmost along the fall.
    Right,
    /// At the last lane.
    Left,
}
