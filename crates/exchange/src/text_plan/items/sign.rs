//! Notes, dimensions and places for cameras as text.

use plan::{Camera, Dimension, Note};
use units::Length;

use crate::text_plan::quantity::{angle, length};
use crate::text_plan::source::Section;
use crate::text_plan::write::{Out, point, quote};

pub(super) const NOTE_KEYS: [&str; 1] = ["text"];
pub(super) const DIMENSION_KEYS: [&str; 1] = ["to"];
pub(super) const CAMERA_KEYS: [&str; 4] = ["height", "look", "look_height", "field_of_view"];

pub(super) fn read_note(s: &Section<'_>) -> Note {
    Note { text: s.needed_text("text") }
}

pub(super) fn read_dimension(s: &Section<'_>) -> Dimension {
    Dimension { to: s.needed_point("to") }
}

pub(super) fn read_camera(s: &Section<'_>) -> Camera {
    Camera {
        height: s.needed_length("height"),
        look: s.needed_point("look"),
        look_height: s.length("look_height").unwrap_or(Length::ZERO),
        field_of_view: s.needed_angle("field_of_view"),
    }
}

impl Out<'_> {
    pub(in crate::text_plan) fn note(&mut self, n: &Note) {
        self.key("text", quote(&n.text));
    }

    pub(in crate::text_plan) fn dimension(&mut self, d: &Dimension) {
        self.key("to", point(d.to));
    }

    pub(in crate::text_plan) fn camera(&mut self, c: &Camera) {
        self.key("height", length(c.height));
        self.key("look", point(c.look));
        if c.look_height != Length::ZERO {
            self.key("look_height", length(c.look_height));
        }
        self.key("field_of_view", angle(c.field_of_view));
    }
}
