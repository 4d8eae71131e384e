//! The text plan: `plan.toml` beside its pictures and `stock.csv`, complete and made to be read in a diff.
//!
//! ```toml
//! format = 1
//! name = "From Spring to Sea"
//!
//! [[item]]
//! id = 7
//! is = "field"
//! name = "Mill"
//! at = ["1200 mm", "-300 mm"]
//! heading = "90 deg"
//! kind = "Standard"
//! lanes = 2
//! ranks = 32
//! pitch_along = "15 mm"
//! pitch_across = "25 mm"
//! fall = "up"
//!
//! [item.cells]
//! lanes = [
//!   "S22 W6 .3 S1",
//!   ".32",
//! ]
//! by_hand = ["lane 1: 5-9 12"]
//!
//! [[item]]
//! id = 8
//! is = "line"
//! name = "Brook"
//! at = ["0 mm", "0 mm"]
//! heading = "0 deg"
//! gaps = [
//!   "121-124",
//!   "301-306 stopper",
//! ]
//! kind = "Standard"
//! pitch = "15 mm"
//! to = "Mill: entry"
//! colours = { repeat = "B3 W1" }
//! leg = [
//!   { straight = "1200 mm" },
//!   { arc = "90 deg", radius = "300 mm" },
//! ]
//! ```
//!
//! * Quantities are strings with a unit: `mm`, `cm`, `m`, `in`; `s`, `min`, `h`; `g`, `kg`; `deg`.
//! * A lane is one line of runs in the order of the fall: a colour code and how many, `.` for no piece.
//!   Where the code ends with a figure, a colon stands between: `B2:22`.
//! * Cells set by hand are ranges of pieces by lane, both from 1: `"lanes 1-40: 3-9 12"`.
//! * Kinds, surfaces and sections are named; where a name is not unique, the id stands without quotes.
//! * Links name an item and its port, `"Spring: end"`, or `{ item = 7, port = "end" }` where the name alone does not tell.
//! * Safety gaps are ranges of pieces from 1; what is short stands as an inline table on one line.
//! * Ids may be left out of a plan written by hand. Colours and lots stand in `stock.csv`.
//! * Items are in order of id, one value a line; what has its usual value is left out.

mod files;
mod hall;
mod items;
mod lanes;
mod nearest;
mod quantity;
mod read;
mod source;
mod write;

pub use quantity::{read_angle, read_length};
pub use read::{MAX_TEXT_BYTES, read_text_plan};
pub use source::{TextPlanError, TextProblem};
pub use write::{TextPlan, write_text_plan};

/// What the caller found out about a picture file beside the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureFacts {
    /// SHA-256 of the file's bytes, 64 lower-case hex digits.
    pub sha256: String,
    /// Width in pixels, upright.
    pub width: u32,
    /// Height in pixels, upright.
    pub height: u32,
}

/// The version of the format that is written.
const FORMAT: u32 = 1;
