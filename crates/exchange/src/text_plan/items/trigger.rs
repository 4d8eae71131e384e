//! Starts and stoppers as text.

use plan::{Start, Stopper};
use units::Duration;

use crate::text_plan::quantity::{length, seconds};
use crate::text_plan::source::Section;
use crate::text_plan::write::Out;

pub(super) const START_KEYS: [&str; 2] = ["width", "after"];
pub(super) const STOPPER_KEYS: [&str; 4] = ["thickness", "width", "height", "fixed"];

pub(super) fn read_start(s: &Section<'_>) -> Start {
    Start { width: s.needed_length("width"), after: s.duration("after").unwrap_or(Duration::ZERO) }
}

pub(super) fn read_stopper(s: &Section<'_>) -> Stopper {
    Stopper {
        thickness: s.needed_length("thickness"),
        width: s.needed_length("width"),
        height: s.needed_length("height"),
        fixed: s.flag("fixed").unwrap_or(false),
    }
}

impl Out<'_> {
    pub(in crate::text_plan) fn start(&mut self, s: &Start) {
        self.key("width", length(s.width));
        if s.after != Duration::ZERO {
            self.key("after", seconds(s.after));
        }
    }

    pub(in crate::text_plan) fn stopper(&mut self, s: &Stopper) {
        self.key("thickness", length(s.thickness));
        self.key("width", length(s.width));
        self.key("height", length(s.height));
        if s.fixed {
            self.key("fixed", true);
        }
    }
}
