//! Which colours of a stock get confused: in normal sight, by colour-blind builders, and in hall light.
//!
//! Sources: the matrices for protan, deutan and tritan sight are those of G. M. Machado, M. M. Oliveira,
//! L. A. F. Fernandes, "A physiologically-based model for simulation of color vision deficiency",
//! IEEE Transactions on Visualization and Computer Graphics 15(6), 2009, for severity 1.0, applied to linear sRGB.
//! The Bradford matrix is that of K. M. Lam, 1985, as in ICC.1. The hall light is a model of our own, see [`Sight::HallLight`].

use crate::{
    difference::ciede2000,
    spaces::{Lab, Linear, WHITE_D65, Xyz, apply},
};

/// Colours closer than this (CIEDE2000) are confused when sorted in a hurry; common practice, no source.
pub const CONFUSION_LIMIT: f64 = 8.0;

/// Conditions under which colours are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sight {
    /// Normal sight in daylight.
    Normal,
    /// Without the long-wave cones.
    Protan,
    /// Without the middle-wave cones.
    Deutan,
    /// Without the short-wave cones.
    Tritan,
    /// Normal sight under dim warm lamps, by a simple model, not a measurement.
    ///
    /// The lamp's white is that of a black body at 2700 K (x 0.4599, y 0.4106); the eye adapts to it by four fifths
    /// (von Kries in Bradford's cone space), so that a fifth of the warm cast stays. Stray light of 2 % of white
    /// lies over everything, so that dark colours come closer together, and colourfulness falls to 70 %, as it does
    /// in dim light (the Hunt effect). The two shares and the 70 % are chosen, without a source; lamps that render
    /// colours badly are worse than this.
    HallLight,
}

/// All conditions that [`confusions`] tries, in its order.
pub const SIGHTS: [Sight; 5] = [Sight::Normal, Sight::Protan, Sight::Deutan, Sight::Tritan, Sight::HallLight];

/// Two colours that are confused.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Confusion {
    /// The colour with the smaller number.
    pub first: usize,
    /// The other colour.
    pub second: usize,
    /// Under which condition.
    pub sight: Sight,
    /// CIEDE2000 as seen under it.
    pub difference: f64,
}

const PROTAN: [[f64; 3]; 3] =
    [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]];
const DEUTAN: [[f64; 3]; 3] =
    [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.01182, 0.04294, 0.968881]];
const TRITAN: [[f64; 3]; 3] =
    [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.3039]];

const BRADFORD: [[f64; 3]; 3] =
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];
const BRADFORD_BACK: [[f64; 3]; 3] = [
    [0.986_992_905_466_712_3, -0.147_054_256_420_990_13, 0.159_962_651_663_731_25],
    [0.432_305_269_723_394_56, 0.518_360_271_536_777_8, 0.049_291_228_212_855_594],
    [-0.008_528_664_575_177_328, 0.040_042_821_654_084_86, 0.968_486_695_787_550_1],
];

/// XYZ of the lamp's white, from its chromaticity with Y = 1.
const LAMP: [f64; 3] = [0.4599 / 0.4106, 1.0, (1.0 - 0.4599 - 0.4106) / 0.4106];
/// The share of the lamp's cast that adaptation takes away.
const ADAPTED: f64 = 0.8;
/// Stray light as a share of white.
const STRAY: f64 = 0.02;
/// What is left of colourfulness in dim light.
const COLOURFULNESS: f64 = 0.7;

/// How a colour looks under a condition, in linear sRGB; for [`Sight::HallLight`] without the loss of colourfulness.
pub fn seen_as(colour: Linear, sight: Sight) -> Linear {
    let matrix = match sight {
        Sight::Normal => return colour,
        Sight::HallLight => return in_hall_light(colour).to_linear(),
        Sight::Protan => &PROTAN,
        Sight::Deutan => &DEUTAN,
        Sight::Tritan => &TRITAN,
    };
    Linear(apply(matrix, colour.0.map(f64::from)).map(|v| v.clamp(0.0, 1.0) as f32))
}

/// The pairs whose CIEDE2000 is below `limit` under a condition, by first colour, second colour and condition.
///
/// `colours` are the faces that the builders sort by, in linear light.
pub fn confusions(colours: &[Linear], limit: f64) -> Vec<Confusion> {
    let looks: Vec<Vec<Lab>> =
        SIGHTS.iter().map(|&sight| colours.iter().map(|&c| lab_seen(c, sight)).collect()).collect();
    let mut found = Vec::new();
    for first in 0..colours.len() {
        for second in first + 1..colours.len() {
            for (&sight, looks) in SIGHTS.iter().zip(&looks) {
                let difference = ciede2000(looks[first], looks[second]);
                if difference < limit {
                    found.push(Confusion { first, second, sight, difference });
                }
            }
        }
    }
    found
}

fn lab_seen(colour: Linear, sight: Sight) -> Lab {
    if sight == Sight::HallLight {
        let Lab { l, a, b } = in_hall_light(colour).to_lab();
        return Lab { l, a: COLOURFULNESS * a, b: COLOURFULNESS * b };
    }
    seen_as(colour, sight).to_lab()
}

/// Incomplete adaptation to the lamp, and stray light.
fn in_hall_light(colour: Linear) -> Xyz {
    let (lamp, daylight) = (apply(&BRADFORD, LAMP), apply(&BRADFORD, WHITE_D65));
    let cones = apply(&BRADFORD, colour.to_xyz().0);
    let gain = |i: usize| 1.0 + (1.0 - ADAPTED) * (lamp[i] / daylight[i] - 1.0);
    let white = apply(&BRADFORD_BACK, std::array::from_fn(|i| daylight[i] * gain(i)));
    let seen = apply(&BRADFORD_BACK, std::array::from_fn(|i| cones[i] * gain(i)));
    Xyz(std::array::from_fn(|i| (1.0 - STRAY) * seen[i] + STRAY * white[i]))
}
