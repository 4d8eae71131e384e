//! What is drawn for people and takes no piece: notes, dimensions and places for cameras.

use geometry::Point;
use serde::{Deserialize, Serialize};
use units::{Angle, Length};

/// Words at a place. They begin at the item's origin and run along its heading.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// The words, at most [`MAX_NOTE`](crate::MAX_NOTE) signs; they may have several lines.
    pub text: String,
}

/// A distance that is shown with its figure, from the item's origin to another place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Dimension {
    /// The other end, in the item's own frame, mm.
    pub to: Point,
}

/// A place from which the fall is filmed or shown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Camera {
    /// Height of the lens above the item's surface.
    pub height: Length,
    /// What it looks at, in the item's own frame, mm.
    pub look: Point,
    /// Height of what it looks at above the item's surface.
    pub look_height: Length,
    /// From the left edge of what it sees to the right one, 1° to 170°.
    pub field_of_view: Angle,
}

impl Dimension {
    /// The distance.
    pub fn length(&self) -> Length {
        Length::mm(units::maths::hypot(self.to.x, self.to.y))
    }
}
