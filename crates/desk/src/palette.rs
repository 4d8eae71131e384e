//! From the plan's colours to the palettes that matching and drawing work with.

use colour::{Linear, Srgb8};
use plan::{Colour, ColourId, Field, KindId, Need, Plan};

/// What a match may choose from: kind and colour of each palette entry, and the pieces that are free for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Choice {
    /// Kind and colour by palette index.
    pub entries: Vec<(KindId, ColourId)>,
    /// Pieces free by palette index: usable stock less what other items take.
    pub stock: Vec<u64>,
}

impl Choice {
    /// Everything of the given kinds, less what the items outside `matched` take.
    pub(crate) fn of(plan: &Plan, kinds: &[KindId], matched: &[plan::ItemId]) -> Self {
        let mut entries = Vec::new();
        for &kind in kinds {
            entries.extend(plan.stock.colours.iter().map(|c| (kind, c.id)));
        }
        let mut stock: Vec<u64> = entries.iter().map(|&(k, c)| plan.stock.usable(k, c)).collect();
        let others = placement::needs_of_all(plan).into_iter().filter(|(id, _)| !matched.contains(id));
        for Need { kind, colour, count } in others.flat_map(|(_, needs)| needs) {
            if let Some(i) = entries.iter().position(|&e| e == (kind, colour)) {
                stock[i] = stock[i].saturating_sub(count.into());
            }
        }
        Self { entries, stock }
    }

    /// Palette index of a colour of a kind.
    pub(crate) fn index(&self, kind: KindId, colour: ColourId) -> Option<u16> {
        self.entries.iter().position(|&e| e == (kind, colour)).map(|i| i as u16)
    }

    /// Per palette index, whether a field may use it.
    pub(crate) fn allowed(&self, field: &Field) -> Vec<bool> {
        let wanted = |c: &ColourId| field.wish.allowed.as_ref().is_none_or(|a| a.contains(c));
        self.entries.iter().map(|(k, c)| *k == field.kind && wanted(c)).collect()
    }
}

/// A plan's 8-bit colour as the colour crate's.
pub(crate) fn srgb(c: plan::Rgb) -> Srgb8 {
    Srgb8 { r: c.r, g: c.g, b: c.b }
}

/// A plan's 8-bit colour in linear light.
pub(crate) fn linear(c: plan::Rgb) -> Linear {
    srgb(c).to_linear()
}

/// Faces of a colour in linear light.
pub(crate) fn faces(c: &Colour) -> colour::PieceFaces {
    colour::PieceFaces { front: linear(c.front), back: linear(c.back), edge: linear(c.edge) }
}
