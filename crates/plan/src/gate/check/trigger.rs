//! Starts and stoppers.

use super::{Checked, length, within};
use crate::gate::REACH_MM;
use crate::trigger::{Start, Stopper};

pub(super) fn start(place: &str, s: &Start) -> Checked {
    length(&format!("{place}, width"), s.width, 0.1, REACH_MM)?;
    within(&format!("{place}, time after the first start"), s.after.to_s(), " s", 0.0, 1.0e6)
}

pub(super) fn stopper(place: &str, s: &Stopper) -> Checked {
    length(&format!("{place}, thickness"), s.thickness, 0.1, 100_000.0)?;
    length(&format!("{place}, width"), s.width, 0.1, 100_000.0)?;
    length(&format!("{place}, height"), s.height, 0.1, 100_000.0)
}
