//! Colour spaces and differences, pictures, and matching pieces to a picture under a hard stock.

mod difference;
mod spaces;

pub use difference::{ciede2000, ciede2000_textbook};
pub use spaces::{
    Lab, Linear, OkLab, Srgb8, Xyz, decode_channel, decode8, encode_channel, encode8, relative_luminance,
};
