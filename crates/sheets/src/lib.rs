//! Lane sheets: a field as papers that a crew builds from, as PDF, as a preview and as text.
//!
//! Three layers. *Reading order*: [`reading`] and [`strips`] turn a field into what is called, unit by unit,
//! as the builder sees it from their [`Seat`]. *Pages*: [`document`] lays that out as drawing operations in
//! millimetres. *Backends*: [`pdf()`], [`svg()`] and [`text()`] write them. [`read_back()`] goes the other way
//! and rebuilds the fields from the words alone; every document is counted that way before it is handed out.

mod draw;
mod dump;
mod error;
mod font;
mod layout;
mod options;
mod page;
mod palette;
mod pdf;
mod read;
mod read_back;
mod seat;
mod svg;
mod words;

pub use dump::text;
pub use error::SheetError;
pub use layout::document;
pub use options::{Ink, Language, Measure, Paper, ReadFrom, ReadOptions, SheetOptions, Side, Start, Unit};
pub use page::{Document, Face, Mark, Op, Page, SheetCounts, Text};
pub use pdf::pdf;
pub use read::{Call, ReadUnit, Strip, comb_load, reading, strips, units_in_strip};
pub use read_back::{FieldRead, read_back};
pub use seat::{Compass, FallSeen, Seat};
pub use svg::svg;
