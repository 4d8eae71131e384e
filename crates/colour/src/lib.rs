//! Colour spaces and differences, pictures, and matching pieces to a picture under a hard stock.

mod blur;
mod confusion;
mod difference;
mod draw;
mod exact;
mod grid_error;
mod look;
mod measure;
mod picture;
mod problem;
mod resample;
mod seen;
mod spaces;
mod supply;
#[doc(hidden)]
pub mod support;

pub use blur::{EYE_MM_PER_METRE, EyeBlur, LEAST_SIGMA, MOST_SIGMA, sigma_of_eye};
pub use confusion::{CONFUSION_LIMIT, Confusion, SIGHTS, Sight, confusions, seen_as};
pub use difference::{ciede2000, ciede2000_textbook};
pub use draw::to_png;
pub use exact::{ChangeFlow, FreeMatch, Matched, change_flows, match_exact, match_free};
#[doc(hidden)]
pub use exact::{ClassTable, class_table};
pub use grid_error::{GridError, MAX_CELLS, MAX_RASTER_PIXELS};
pub use look::{
    Eye, FallInPicture, FieldDrawing, FieldGeometry, PieceFaces, Raster, Shares, Side, View, render,
    seen_colours, shares, shares_at,
};
pub use measure::{Runs, mean_difference, mean_difference_seen, runs, sum_of_differences};
pub use picture::{
    Picture, PictureError, PictureKind, PictureLimits, PictureNote, Pixels, Turn, decode as decode_picture,
};
pub use problem::{
    Axis, Called, CellRule, EMPTY, FieldWanted, Flow, MAX_COLOURS, MAX_SIGMA, MatchError, Problem, Progress,
    Report, Stage,
};
pub use resample::{CellGrid, Cells, CropRect, Fit, to_cells};
pub use seen::{SeenMatched, SeenOptions, match_seen};
pub use spaces::{
    Lab, Linear, OkLab, Srgb8, Xyz, decode_channel, decode8, encode_channel, encode8, relative_luminance,
};
