//! Lines: pieces one after another along a path, in one lane or several side by side.

use geometry::Point;
use serde::{Deserialize, Serialize};
use units::{Angle, Length};

use crate::ids::{ColourId, ItemId, KindId};

/// Pieces one after another along a path. The path begins at the item's origin in the direction of its heading, or,
/// when `from` is given, where the fall leaves the other item; then `at` and `heading` are only kept for later.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Which kind of piece.
    pub kind: KindId,
    /// Lanes side by side, centred on the path; lane 0 is the rightmost.
    #[serde(default = "one")]
    pub lanes: u32,
    /// Centre to centre between lanes; 26 mm leaves 2 mm between usual pieces.
    #[serde(default = "usual_across")]
    pub pitch_across: Length,
    /// How far the pieces stand apart.
    pub spacing: Spacing,
    /// How they are placed.
    #[serde(default)]
    pub placed: Placing,
    /// The path, leg by leg; each leg begins where the one before ends, in its direction.
    #[serde(default)]
    pub path: Vec<Leg>,
    /// The port of another item from which the line carries on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Link>,
    /// The port of another item to which the line leads; a smooth last leg is laid from the end of the path.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Link>,
    /// The colours, in the order of the fall.
    pub colours: Pattern,
    /// Where the line climbs over something.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bridges: Vec<Bridge>,
}

impl Line {
    /// One lane of one colour from piece to piece at the usual pitch of 15 mm, set with a comb; linked to nothing.
    pub fn plain(kind: KindId, colour: ColourId, path: Vec<Leg>) -> Self {
        Self {
            kind,
            lanes: one(),
            pitch_across: usual_across(),
            spacing: Spacing::Pitch { pitch: Length::mm(15.0) },
            placed: Placing::Comb,
            path,
            from: None,
            to: None,
            colours: Pattern::Plain { colour },
            bridges: Vec::new(),
        }
    }
}

fn one() -> u32 {
    1
}

fn usual_across() -> Length {
    Length::mm(26.0)
}

/// How far the pieces of a line stand apart, along the path.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "by")]
pub enum Spacing {
    /// Centre to centre, as a comb sets them.
    Pitch {
        /// The pitch.
        pitch: Length,
    },
    /// Face to face; the pitch is this and the thickness of the kind.
    Gap {
        /// The clear gap.
        gap: Length,
    },
}

/// How pieces are placed, which tells how evenly they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Placing {
    /// With a comb: scatter of about 0.5 mm and 1°.
    #[default]
    Comb,
    /// By hand and eye: scatter of about 1.5 mm and 3°.
    Hand,
}

/// Left or right of where the path leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hand {
    /// To the left.
    Left,
    /// To the right.
    Right,
}

/// One leg of a path.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum Leg {
    /// Straight on.
    Straight {
        /// How far.
        length: Length,
    },
    /// Along a circle.
    Arc {
        /// Radius of the centre line.
        radius: Length,
        /// How far round; to the left when positive.
        turn: Angle,
    },
    /// Along a spiral whose rings are a fixed distance apart.
    Spiral {
        /// Radius where the leg begins.
        radius: Length,
        /// From one ring to the next; inwards when negative.
        ring: Length,
        /// How many turns, not only whole ones.
        turns: f64,
        /// To which side it turns.
        hand: Hand,
    },
    /// A smooth curve through points, given in the item's own frame. It begins in the direction of the path.
    Through {
        /// The points, in order.
        points: Vec<Point>,
    },
}

/// A port of another item, by name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Link {
    /// The other item.
    pub item: ItemId,
    /// The name of its port. Lines have `start` and `end`, and for joins and splits `start left`, `start right`,
    /// `end left` and `end right`; fields have `entry`, `end`, and `lane 1`, `lane 1 end` and so on, counted from 1;
    /// feeds have `entry` and `end`; placeholders have those that they name.
    pub port: String,
}

/// So many pieces of one colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stretch {
    /// The colour.
    pub colour: ColourId,
    /// How many pieces.
    pub count: u32,
}

/// The colours of a line, in the order of the fall. All lanes have the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum Pattern {
    /// One colour.
    Plain {
        /// The colour.
        colour: ColourId,
    },
    /// Stretches of colour, again and again.
    Repeat {
        /// The stretches, at least one.
        stretches: Vec<Stretch>,
    },
    /// From the first colour over those between to the last one, mixed evenly.
    Blend {
        /// The colours, at least two.
        colours: Vec<ColourId>,
    },
    /// So many of each as the stock leaves, spread evenly along the line; the last one fills up.
    Spread {
        /// The colours with their counts, at least one.
        stretches: Vec<Stretch>,
    },
}

/// A part of a line that climbs by even steps to a deck, crosses over what lies beneath, and comes down again.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bridge {
    /// Where the first step up begins, along the path.
    pub from: Length,
    /// How long the deck is.
    pub deck: Length,
    /// Height of the deck's upper side above the item's surface.
    pub height: Length,
    /// Thickness of the deck.
    pub thickness: Length,
    /// Height of one step; 7.5 mm was found to work always.
    pub step: Length,
    /// Pieces of the line on each step.
    pub per_step: u32,
}

impl Spacing {
    /// Centre to centre, for pieces of this thickness.
    pub fn pitch(&self, thickness: Length) -> Length {
        match *self {
            Self::Pitch { pitch } => pitch,
            Self::Gap { gap } => gap + thickness,
        }
    }
}

impl Bridge {
    /// Number of steps on each side; the last one may be lower than the others.
    pub fn steps(&self) -> u32 {
        let (height, step) = (self.height.to_mm(), self.step.to_mm());
        // A step of nothing is refused by the gate; this keeps the figure finite all the same.
        if step > 0.0 { ((height / step - 1e-9).ceil().max(0.0) as u32).min(100_000) } else { 0 }
    }

    /// Length of the steps on one side, for pieces of this pitch.
    pub fn flight(&self, pitch: Length) -> Length {
        pitch * f64::from(self.steps().saturating_mul(self.per_step))
    }
}

impl Pattern {
    /// The colours of a line of `count` pieces.
    ///
    /// `Blend` mixes by the fraction of the way with an even (not random) scatter: piece i lies at `t = (i + ½) / n` of
    /// the way, and the share of the next colour is kept by carrying the remainder along, so that any stretch of
    /// the line holds both colours in the right shares to within one piece. `Spread` lays the counts by the same
    /// carry (largest remainder first, then the earlier colour), so that each is spread over the whole line.
    pub fn colours(&self, count: usize) -> Vec<u16> {
        match self {
            Self::Plain { colour } => vec![colour.0; count],
            Self::Repeat { stretches } => {
                let round = stretches.iter().flat_map(|s| std::iter::repeat_n(s.colour.0, s.count as usize));
                let round: Vec<u16> = round.take(count).collect();
                if round.is_empty() {
                    return vec![0; count];
                }
                round.iter().copied().cycle().take(count).collect()
            }
            Self::Blend { colours } => blend(colours, count),
            Self::Spread { stretches } => spread(stretches, count),
        }
    }

    /// The colours that the pattern names, in order.
    pub fn named(&self) -> Vec<ColourId> {
        match self {
            Self::Plain { colour } => vec![*colour],
            Self::Blend { colours } => colours.clone(),
            Self::Repeat { stretches } | Self::Spread { stretches } => {
                stretches.iter().map(|s| s.colour).collect()
            }
        }
    }
}

fn blend(colours: &[ColourId], count: usize) -> Vec<u16> {
    let steps = colours.len().saturating_sub(1);
    let mut out = Vec::with_capacity(count);
    let (mut carry, mut last) = (0.0, 0);
    for i in 0..count {
        let t = (i as f64 + 0.5) / count as f64 * steps as f64;
        let at = (t.floor() as usize).min(steps.saturating_sub(1));
        if at != last {
            (carry, last) = (0.0, at);
        }
        carry += t - at as f64;
        let next = carry >= 0.5;
        if next {
            carry -= 1.0;
        }
        out.push(colours.get(at + usize::from(next)).or(colours.last()).map_or(0, |c| c.0));
    }
    out
}

fn spread(stretches: &[Stretch], count: usize) -> Vec<u16> {
    let mut left: Vec<u64> = stretches.iter().map(|s| u64::from(s.count)).collect();
    let short = (count as u64).saturating_sub(left.iter().sum());
    if let Some(last) = left.last_mut() {
        *last += short;
    }
    let total: u64 = left.iter().sum();
    let mut due = vec![0.0; left.len()];
    let mut out = Vec::with_capacity(count);
    for _ in 0..count {
        let mut best = None::<usize>;
        for i in 0..left.len() {
            due[i] += stretches_share(stretches, i, short, total);
            if left[i] > 0 && best.is_none_or(|b| due[i] > due[b] + 1e-9) {
                best = Some(i);
            }
        }
        let Some(i) = best else { return vec![0; count] };
        due[i] -= 1.0;
        left[i] -= 1;
        out.push(stretches[i].colour.0);
    }
    out
}

fn stretches_share(stretches: &[Stretch], i: usize, short: u64, total: u64) -> f64 {
    let own = u64::from(stretches[i].count) + if i + 1 == stretches.len() { short } else { 0 };
    own as f64 / total.max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(pattern: &Pattern, n: usize) -> String {
        pattern.colours(n).iter().map(|c| char::from(b'a' + *c as u8 - 1)).collect()
    }

    fn stretch(colour: u16, count: u32) -> Stretch {
        Stretch { colour: ColourId(colour), count }
    }

    #[test]
    fn a_repeat_goes_round_and_round() {
        let pattern = Pattern::Repeat { stretches: vec![stretch(1, 2), stretch(2, 1)] };
        assert_eq!(of(&pattern, 7), "aabaaba");
    }

    #[test]
    fn a_blend_holds_both_colours_in_their_shares() {
        let pattern = Pattern::Blend { colours: vec![ColourId(1), ColourId(2)] };
        let text = of(&pattern, 100);
        let count = |part: &str| part.chars().filter(|&c| c == 'b').count() as f64;
        // The share grows from 0 to 1: a quarter of the way holds 1/8 of it, and so on (integral of t).
        for part in [0.25, 0.5, 0.75, 1.0] {
            let n = (100.0 * part) as usize;
            assert!((count(&text[..n]) - 50.0 * part * part).abs() <= 1.0, "{part}: {text}");
        }
        assert!(text.starts_with('a') && text.ends_with('b'));
    }

    #[test]
    fn a_spread_takes_exactly_so_many_and_the_last_one_fills_up() {
        let pattern = Pattern::Spread { stretches: vec![stretch(1, 5), stretch(2, 10)] };
        let text = of(&pattern, 20);
        assert_eq!(text.matches('a').count(), 5);
        assert_eq!(text.matches('b').count(), 15);
        assert!(text[..8].contains('a') && text[12..].contains('a'), "{text}");
    }
}
