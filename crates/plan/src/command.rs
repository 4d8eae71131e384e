//! Commands: every change of a plan as plain data, and what applying one yields.

use serde::{Deserialize, Serialize};

use crate::cells::{CellMask, Cells};
use crate::document::Plan;
use crate::field::{FieldFrame, MatchWish, PictureUse};
use crate::gate;
use crate::hall::Hall;
use crate::ids::{ColourId, GearId, ItemId, KindId, LotId, PictureId, SectionId, SurfaceId};
use crate::item::Item;
use crate::refusal::Refusal;
use crate::scene::{Picture, Section, Surface};
use crate::stock::{Colour, Gear, Kind, Lot, Stock};

/// One cell of a field, set to a colour or emptied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CellChange {
    /// Index lane by lane, rank 0 first.
    pub index: u32,
    /// The colour id, or 0 for no piece.
    pub colour: u16,
    /// Whether it then counts as set by hand.
    pub by_hand: bool,
}

/// Which items a command is meant for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Which {
    /// All items of a section.
    Section(SectionId),
    /// These; one that is named twice counts once.
    Items(Vec<ItemId>),
}

/// A change of the plan. `Put…` adds what has a new id and replaces what has a known one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "do")]
pub enum Command {
    /// Several commands as one step: all or none.
    Together {
        /// In this order.
        steps: Vec<Command>,
    },
    /// Names the event.
    Rename {
        /// The new name.
        name: String,
    },
    /// Changes the hall.
    SetHall {
        /// The new hall.
        hall: Hall,
    },
    /// Takes another stock whole, as from a stock list; ids that items use must stay.
    ReplaceStock {
        /// The new stock.
        stock: Stock,
    },
    /// Adds or changes a kind of piece.
    PutKind {
        /// The kind.
        kind: Kind,
    },
    /// Takes a kind away.
    RemoveKind {
        /// Which.
        id: KindId,
    },
    /// Adds or changes a colour.
    PutColour {
        /// The colour.
        colour: Colour,
    },
    /// Takes a colour away.
    RemoveColour {
        /// Which.
        id: ColourId,
    },
    /// Adds or changes a lot.
    PutLot {
        /// The lot.
        lot: Lot,
    },
    /// Takes a lot away.
    RemoveLot {
        /// Which.
        id: LotId,
    },
    /// Adds or changes a thing that is not a piece.
    PutGear {
        /// The thing.
        gear: Gear,
    },
    /// Takes a thing away.
    RemoveGear {
        /// Which.
        id: GearId,
    },
    /// Adds or changes a surface.
    PutSurface {
        /// The surface.
        surface: Surface,
    },
    /// Takes a surface away.
    RemoveSurface {
        /// Which.
        id: SurfaceId,
    },
    /// Adds or changes a section.
    PutSection {
        /// The section.
        section: Section,
    },
    /// Takes a section away.
    RemoveSection {
        /// Which.
        id: SectionId,
    },
    /// Adds or changes a source picture.
    PutPicture {
        /// The picture.
        picture: Picture,
    },
    /// Takes a source picture away.
    RemovePicture {
        /// Which.
        id: PictureId,
    },
    /// Adds or changes an item.
    PutItem {
        /// The item.
        item: Box<Item>,
    },
    /// Takes an item away.
    RemoveItem {
        /// Which.
        id: ItemId,
    },
    /// Moves and turns an item.
    MoveItem {
        /// Which.
        id: ItemId,
        /// Where its origin comes to lie.
        at: geometry::Point,
        /// Its new heading.
        heading: units::Angle,
    },
    /// Turns several items about a point, as if they were drawn on one sheet, and then moves that sheet. Links stay, so
    /// that lines are laid again from where their ports come to lie; how far an item was measured to stand from its drawing
    /// stays as it is, in millimetres east and north.
    Shift {
        /// Which; at least one.
        which: Which,
        /// So far to the east.
        east: units::Length,
        /// So far to the north.
        north: units::Length,
        /// So far to the left, at most one whole turn.
        turn: units::Angle,
        /// About this point of the floor plan, which is moved like all others.
        about: geometry::Point,
    },
    /// Changes the grid of a field. Cells keep their lane and rank; new ones are empty.
    SetFrame {
        /// Which field.
        id: ItemId,
        /// The new grid.
        frame: FieldFrame,
    },
    /// Chooses the picture of a field, or none.
    UsePicture {
        /// Which field.
        id: ItemId,
        /// The picture and how it is fitted.
        picture: Option<PictureUse>,
    },
    /// Changes what the match of a field is to aim for.
    SetWish {
        /// Which field.
        id: ItemId,
        /// The wish.
        wish: MatchWish,
    },
    /// Lays a match: all cells but those set by hand, which must be unchanged.
    Lay {
        /// Which field.
        id: ItemId,
        /// All cells.
        cells: Cells,
    },
    /// Sets single cells.
    Paint {
        /// Which field.
        id: ItemId,
        /// The cells.
        cells: Vec<CellChange>,
    },
    /// Puts back all cells and which of them were set by hand.
    Restore {
        /// Which field.
        id: ItemId,
        /// All cells.
        cells: Cells,
        /// Which were set by hand.
        by_hand: CellMask,
    },
}

/// What a command touched, for those who keep derived results.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Touched {
    /// Items that were added, changed or taken away; sorted, none twice.
    pub items: Vec<ItemId>,
    /// The stock or its colours changed.
    pub stock: bool,
    /// The name, hall, pictures, sections or surfaces changed.
    pub scene: bool,
}

/// What applying a command yields.
#[derive(Debug, Clone, PartialEq)]
pub struct Applied {
    /// The command that takes it back.
    pub inverse: Command,
    /// What was touched.
    pub touched: Touched,
}

impl Plan {
    /// The commands that make this plan out of an empty one, or out of one that holds no sections, surfaces, pictures and
    /// items. Ids that were given to things which are gone are not among them.
    pub fn commands(&self) -> Vec<Command> {
        let mut all = vec![
            Command::Rename { name: self.name.clone() },
            Command::SetHall { hall: self.hall.clone() },
            Command::ReplaceStock { stock: self.stock.clone() },
        ];
        all.extend(self.surfaces.iter().map(|s| Command::PutSurface { surface: s.clone() }));
        all.extend(self.sections.iter().map(|s| Command::PutSection { section: s.clone() }));
        all.extend(self.pictures.iter().map(|p| Command::PutPicture { picture: p.clone() }));
        let put = |item: Item| Command::PutItem { item: Box::new(item) };
        // Links may lead to later items and in rings: what has some comes first without them, and then as it is.
        all.extend(self.items.iter().map(|i| put(i.unlinked().unwrap_or_else(|| i.clone()))));
        let linked = self.items.iter().filter(|i| i.leads_to().next().is_some());
        all.extend(linked.map(|i| put(i.clone())));
        all
    }

    /// Applies a command whole, or refuses it and leaves the plan as it was.
    ///
    /// Applying the returned inverse restores the same content.
    pub fn apply(&mut self, command: &Command) -> Result<Applied, Refusal> {
        gate::apply(self, command)
    }
}
