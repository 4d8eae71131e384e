//! The document itself.

use geometry::Point;
use serde::{Deserialize, Serialize};

use crate::hall::Hall;
use crate::ids::{ColourId, ItemId, PictureId, SurfaceId};
use crate::item::Item;
use crate::scene::{Picture, Section, Surface};
use crate::stock::{Colour, Stock};

/// A whole plan. All lists are sorted by id.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub struct Plan {
    /// What the event is called.
    pub name: String,
    /// The hall.
    pub hall: Hall,
    /// The stock.
    pub stock: Stock,
    /// Surfaces above the floor.
    #[serde(default)]
    pub surfaces: Vec<Surface>,
    /// Sections.
    #[serde(default)]
    pub sections: Vec<Section>,
    /// Source pictures.
    #[serde(default)]
    pub pictures: Vec<Picture>,
    /// Items.
    #[serde(default)]
    pub items: Vec<Item>,
    /// The largest id that was ever given. Not part of the content: undo does not give ids back.
    #[serde(default)]
    pub(crate) last_id: u32,
}

/// Two plans are the same when their content is; which ids were given and taken back does not count.
impl PartialEq for Plan {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
            && self.hall == other.hall
            && self.stock == other.stock
            && self.surfaces == other.surfaces
            && self.sections == other.sections
            && self.pictures == other.pictures
            && self.items == other.items
    }
}

impl Plan {
    /// An empty plan with a name.
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into(), ..Self::default() }
    }

    /// An id that was never given in this plan. It counts as given once a command that carries it was applied.
    pub fn fresh_id(&self) -> u32 {
        self.last_id.saturating_add(1)
    }

    /// The item with this id.
    pub fn item(&self, id: ItemId) -> Option<&Item> {
        self.items.binary_search_by_key(&id, |i| i.id).ok().map(|i| &self.items[i])
    }

    /// The first item with this name.
    pub fn item_by_name(&self, name: &str) -> Option<&Item> {
        self.items.iter().find(|i| i.name == name)
    }

    /// The surface with this id; none for the floor.
    pub fn surface(&self, id: SurfaceId) -> Option<&Surface> {
        self.surfaces.iter().find(|s| s.id == id)
    }

    /// Height above the floor of a surface at a place of the floor plan, in mm; 0 on the floor itself.
    pub fn height_at(&self, surface: SurfaceId, at: Point) -> f64 {
        self.surface(surface).map_or(0.0, |s| s.height_at(at))
    }

    /// The picture with this id.
    pub fn picture(&self, id: PictureId) -> Option<&Picture> {
        self.pictures.binary_search_by_key(&id, |p| p.id).ok().map(|i| &self.pictures[i])
    }

    /// The colour with this id.
    pub fn colour(&self, id: ColourId) -> Option<&Colour> {
        self.stock.colour(id)
    }
}
