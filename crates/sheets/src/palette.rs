//! The colours as the sheets show them: a printable code, a tone and, for grey printers, a texture.

use std::collections::BTreeMap;

use plan::{Colour, ColourId, Rgb, Stock};

use crate::font::{MISSING, printable};
use crate::options::Ink;
use crate::page::{BLACK, WHITE, grey};

/// Eight drawings that stay apart on a grey printer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Texture {
    Plain,
    Rising,
    Falling,
    Rows,
    Columns,
    Diamond,
    Grid,
    Dots,
}

/// One colour on paper.
#[derive(Debug, Clone)]
pub(crate) struct Tone {
    /// What is called: the code of the stock, or a stand-in where the font lacks a sign of it.
    pub(crate) code: String,
    /// The name, printable.
    pub(crate) name: String,
    /// The ground.
    pub(crate) fill: Rgb,
    /// What is drawn on the ground.
    pub(crate) mark: Rgb,
    /// The drawing, plain when there is colour.
    pub(crate) texture: Texture,
}

const TEXTURES: [Texture; 8] = [
    Texture::Plain,
    Texture::Rising,
    Texture::Falling,
    Texture::Rows,
    Texture::Columns,
    Texture::Diamond,
    Texture::Grid,
    Texture::Dots,
];

/// Relative luminance of an sRGB colour, 0 to 1 (WCAG 2.1; IEC 61966-2-1).
pub(crate) fn luminance(c: Rgb) -> f64 {
    let part = |v: u8| {
        let x = f64::from(v) / 255.0;
        if x <= 0.040_45 { x / 12.92 } else { units::maths::pow((x + 0.055) / 1.055, 2.4) }
    };
    0.2126 * part(c.r) + 0.7152 * part(c.g) + 0.0722 * part(c.b)
}

/// The sRGB grey of the same luminance.
fn same_grey(c: Rgb) -> Rgb {
    let y = luminance(c);
    let x = if y <= 0.003_130_8 { 12.92 * y } else { 1.055 * units::maths::pow(y, 1.0 / 2.4) - 0.055 };
    grey((x * 255.0).round().clamp(0.0, 255.0) as u8)
}

/// All colours of the stock as they are printed, by id.
pub(crate) fn palette(stock: &Stock, ink: Ink) -> BTreeMap<ColourId, Tone> {
    let mut taken: Vec<String> = stock.colours.iter().map(|c| c.code.to_uppercase()).collect();
    let (mut dark, mut light) = (0, 0);
    let mut out = BTreeMap::new();
    for colour in &stock.colours {
        let fill = if ink == Ink::Grey { same_grey(colour.front) } else { colour.front };
        // Contrast (L1 + 0.05) / (L2 + 0.05) is equal against black and white at 0.179 (WCAG 2.1).
        let bright = luminance(fill) > 0.179;
        let nth = if bright { &mut dark } else { &mut light };
        let texture = if ink == Ink::Grey { TEXTURES[*nth % 8] } else { Texture::Plain };
        *nth += 1;
        let mark = if bright { BLACK } else { WHITE };
        let code = code(colour, &mut taken);
        out.insert(colour.id, Tone { code, name: printable(&colour.name), fill, mark, texture });
    }
    out
}

/// The colour's own code, or the first free of X1, X2, … where it cannot be printed.
fn code(colour: &Colour, taken: &mut Vec<String>) -> String {
    let own = printable(&colour.code);
    if !own.is_empty() && !own.contains([MISSING, ' ']) {
        return own;
    }
    let free = (1..).map(|n| format!("X{n}")).find(|c| !taken.contains(c));
    let free = free.expect("there are more numbers than colours");
    taken.push(free.clone());
    free
}
