//! Ids: small integers that are never given twice within a plan's history.

use serde::{Deserialize, Serialize};

macro_rules! id {
    ($(#[$doc:meta])* $name:ident($int:ty)) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub $int);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)
            }
        }
    };
}

id!(
    /// A colour of pieces; 1 and up, since 0 in a cell means "no piece".
    ColourId(u16)
);
id!(
    /// A kind of piece: its size, mass and material.
    KindId(u16)
);
id!(
    /// A lot: so many pieces of one kind and colour, of one batch, from one owner.
    LotId(u32)
);
id!(
    /// A thing that is not a piece: a comb, a plank, a support, a cord.
    GearId(u32)
);
id!(
    /// A source picture.
    PictureId(u32)
);
id!(
    /// A section: what one crew builds, signs and locks.
    SectionId(u32)
);
id!(
    /// A surface that items stand on. 0 is the floor and always exists.
    SurfaceId(u32)
);
id!(
    /// An item: anything placed.
    ItemId(u32)
);
id!(
    /// A group: items that are chosen and moved as one.
    GroupId(u32)
);
