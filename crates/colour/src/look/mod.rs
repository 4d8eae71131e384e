//! What is seen of a field: shares of face, top and floor from an eye point, before and after the fall.

mod render;

pub use render::{FallInPicture, FieldDrawing, Raster, render};

use crate::spaces::Linear;

/// The colours of one kind of piece in linear light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceFaces {
    /// The large face that looks where the fall goes.
    pub front: Linear,
    /// The large face that looks back to where the fall comes from; it lies on top after the fall.
    pub back: Linear,
    /// The narrow faces: top and sides.
    pub edge: Linear,
}

impl PieceFaces {
    /// A piece of one colour on all sides.
    pub const fn plain(colour: Linear) -> Self {
        Self { front: colour, back: colour, edge: colour }
    }
}

/// Size and places of the pieces of a regular field, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FieldGeometry {
    /// Thickness of a piece, measured along the fall; 7.5 for the usual piece.
    pub thickness_mm: f64,
    /// Width of a piece, measured across the fall; 24 for the usual piece.
    pub width_mm: f64,
    /// Height of a standing piece; 48 for the usual piece.
    pub height_mm: f64,
    /// Centre to centre along the fall, between ranks; 15 with a usual comb.
    pub pitch_along_mm: f64,
    /// Centre to centre across the fall, between lanes; 25 to 27 are usual.
    pub pitch_across_mm: f64,
}

impl FieldGeometry {
    /// The usual piece, 48 x 24 x 7.5 mm, at the given pitches (common practice).
    pub const fn usual(pitch_along_mm: f64, pitch_across_mm: f64) -> Self {
        Self { thickness_mm: 7.5, width_mm: 24.0, height_mm: 48.0, pitch_along_mm, pitch_across_mm }
    }

    /// Thickness as a share of the pitch along the fall, 0 to 1.
    fn fill_along(&self) -> f64 {
        part(self.thickness_mm, self.pitch_along_mm)
    }

    /// Width as a share of the pitch across the fall, 0 to 1.
    fn fill_across(&self) -> f64 {
        part(self.width_mm, self.pitch_across_mm)
    }
}

/// From where a standing field is looked at, as told by somebody who looks where the fall goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// From behind the entry: the back faces are seen.
    Entry,
    /// From beyond the far end: the front faces are seen.
    FarEnd,
    /// From the left: the narrow sides are seen.
    Left,
    /// From the right: the narrow sides are seen.
    Right,
}

/// An eye point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    /// The side from which the eye looks.
    pub side: Side,
    /// Horizontal distance from the centre of the field in millimetres; 0 is straight above it.
    pub distance_mm: f64,
    /// Height above the floor that the pieces stand on, in millimetres.
    pub height_mm: f64,
}

/// What of a field is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum View {
    /// Pieces laid out close together, back up: the plain colour of each piece, no floor.
    /// This is the picture as a planner draws it and as a flat mosaic looks.
    Laid,
    /// Standing, from straight above: top edges with much floor between.
    Above,
    /// Standing, from an eye point.
    Standing(Eye),
    /// After the fall, from straight above.
    Fallen,
}

/// Shares of what is seen of one cell; together 1.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shares {
    /// Front face.
    pub front: f64,
    /// Back face.
    pub back: f64,
    /// Narrow faces: top or sides.
    pub edge: f64,
    /// Floor.
    pub floor: f64,
}

impl Shares {
    /// The colours mixed by their shares, in linear light.
    pub fn mix(&self, piece: &PieceFaces, floor: Linear) -> Linear {
        let parts = [
            (self.front, piece.front),
            (self.back, piece.back),
            (self.edge, piece.edge),
            (self.floor, floor),
        ];
        Linear([0, 1, 2].map(|k| {
            let sum: f64 = parts.iter().map(|(share, colour)| share * f64::from(colour.0[k])).sum();
            sum as f32
        }))
    }
}

/// Shares of a cell at the centre of the field.
///
/// * `Laid`: the back face alone.
/// * `Above`: the top edge, t w of p q (thickness, width, pitch along, pitch across): 24 x 7.5 of
///   25 x 15 mm is 48 %; the rest is floor.
/// * `Standing`: see [`shares_at`].
/// * `Fallen`: each piece leans on the next and covers it except for a strip about one pitch deep, so
///   that along a lane no floor is left: back face w of q, rest floor. The top edge of a leaning
///   piece, seen at a slant, is counted as face.
pub fn shares(geometry: &FieldGeometry, view: &View) -> Shares {
    shares_at(geometry, view, 0.0)
}

/// Shares of a cell that lies `beyond_mm` farther from the eye than the centre of the field
/// (negative: nearer), measured along the direction of the look.
///
/// Standing, looked at along the fall at the elevation e above the horizon: carry everything down the
/// lines of sight onto the floor. Within a lane, each pitch p then shows the top (length t), and the
/// near face would cover s = h cot e of the floor behind the piece. Where s is more than the gap p - t,
/// the piece in front hides the rest of the face. So in shares of p:
/// top t, face min(s, p - t), floor p - t - face. All times w/q; the strips between lanes show floor.
/// From the left or right, t and w, p and q change places and the face is a narrow side.
/// The eye is measured against the tops: cot e = distance / (eye height - h); an eye no higher than
/// the tops counts as level with them. The nearest rank, which nothing hides, is treated like the
/// others. Derived here; no source.
pub fn shares_at(geometry: &FieldGeometry, view: &View, beyond_mm: f64) -> Shares {
    let (along, across) = (geometry.fill_along(), geometry.fill_across());
    match view {
        View::Laid => Shares { back: 1.0, ..Shares::default() },
        View::Above => Shares { edge: along * across, floor: 1.0 - along * across, ..Shares::default() },
        View::Fallen => Shares { back: across, floor: 1.0 - across, ..Shares::default() },
        View::Standing(eye) => standing(geometry, eye, beyond_mm),
    }
}

/// What each piece colour looks like in the field: the palette to match a picture with.
///
/// One mixed colour for each of `pieces`, in their order, for a cell at the centre of the field.
pub fn seen_colours(
    pieces: &[PieceFaces],
    geometry: &FieldGeometry,
    floor: Linear,
    view: &View,
) -> Vec<Linear> {
    let shares = shares(geometry, view);
    pieces.iter().map(|piece| shares.mix(piece, floor)).collect()
}

/// What one period shows, in shares of the pitch in the direction of the look.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Period {
    /// The near face, 0 where none is seen.
    face: f64,
    /// The top.
    top: f64,
    /// Whether the eye has passed over the cell, so that the far side of the pieces is seen.
    passed: bool,
}

/// One period along the look; `side` as in [`Eye`], formula in [`shares_at`].
fn period(geometry: &FieldGeometry, eye: &Eye, beyond_mm: f64) -> Period {
    let (top, pitch) = match eye.side {
        Side::Entry | Side::FarEnd => (geometry.fill_along(), geometry.pitch_along_mm),
        Side::Left | Side::Right => (geometry.fill_across(), geometry.pitch_across_mm),
    };
    let distance = eye.distance_mm + beyond_mm;
    let above = eye.height_mm - geometry.height_mm;
    let reach = part(geometry.height_mm * distance.abs(), pitch * above.max(0.0));
    Period { face: reach.min(1.0 - top), top, passed: distance < 0.0 }
}

fn standing(geometry: &FieldGeometry, eye: &Eye, beyond_mm: f64) -> Shares {
    let Period { face, top, passed } = period(geometry, eye, beyond_mm);
    let strip = match eye.side {
        Side::Entry | Side::FarEnd => geometry.fill_across(),
        Side::Left | Side::Right => geometry.fill_along(),
    };
    let (face, top) = (face * strip, top * strip);
    let mut shares = Shares { edge: top, floor: 1.0 - face - top, ..Shares::default() };
    match near_face(eye.side, passed) {
        Face::Front => shares.front = face,
        Face::Back => shares.back = face,
        Face::Edge => shares.edge += face,
    }
    shares
}

/// Which colour of a piece a face has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Face {
    Front,
    Back,
    Edge,
}

impl Face {
    fn of(self, piece: &PieceFaces) -> Linear {
        match self {
            Self::Front => piece.front,
            Self::Back => piece.back,
            Self::Edge => piece.edge,
        }
    }
}

fn near_face(side: Side, passed: bool) -> Face {
    match (side, passed) {
        (Side::Entry, false) | (Side::FarEnd, true) => Face::Back,
        (Side::FarEnd, false) | (Side::Entry, true) => Face::Front,
        (Side::Left | Side::Right, _) => Face::Edge,
    }
}

/// `length` as a share of `whole`, 0 to 1; a whole of 0 or a value that is no number counts as full.
fn part(length: f64, whole: f64) -> f64 {
    let share = length / whole;
    if length <= 0.0 {
        0.0
    } else if share.is_nan() || whole <= 0.0 {
        1.0
    } else {
        share.clamp(0.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const USUAL: FieldGeometry = FieldGeometry::usual(15.0, 25.0);
    const RED: Linear = Linear([1.0, 0.0, 0.0]);
    const GREEN: Linear = Linear([0.0, 1.0, 0.0]);
    const BLUE: Linear = Linear([0.0, 0.0, 1.0]);
    const WHITE: Linear = Linear([1.0, 1.0, 1.0]);
    const THREE: PieceFaces = PieceFaces { front: RED, back: GREEN, edge: BLUE };

    fn standing(side: Side, distance_mm: f64, height_mm: f64) -> Shares {
        shares(&USUAL, &View::Standing(Eye { side, distance_mm, height_mm }))
    }

    fn sum(s: Shares) -> f64 {
        s.front + s.back + s.edge + s.floor
    }

    #[test]
    fn from_above_pieces_at_15_x_25_mm_cover_48_percent() {
        // 24 * 7.5 / (25 * 15) = 0.48; the figure the trade uses.
        assert!((shares(&USUAL, &View::Above).edge - 0.48).abs() < 1e-12);
    }

    #[test]
    fn an_eye_straight_above_sees_what_above_shows() {
        let (eye, above) = (standing(Side::Entry, 0.0, 5000.0), shares(&USUAL, &View::Above));
        assert!((eye.edge - above.edge).abs() < 1e-12 && eye.back == 0.0);
    }

    #[test]
    fn the_face_is_limited_by_the_line_of_sight_and_then_by_the_next_rank() {
        // cot e = 500 / 4800, so s = 48 * 500 / 4800 = 5 mm of the gap of 7.5 mm.
        let steep = standing(Side::Entry, 500.0, 4848.0);
        assert!((steep.back - 0.96 * 5.0 / 15.0).abs() < 1e-12);
        assert!((steep.floor - (1.0 - 0.96 * 12.5 / 15.0)).abs() < 1e-12);
        // At 45 degrees s = 48 mm: only the gap is left, and no floor within the lane.
        let low = standing(Side::Entry, 2000.0, 2048.0);
        assert!((low.back - 0.96 * 0.5).abs() < 1e-12 && (low.floor - 0.04).abs() < 1e-12);
    }

    #[test]
    fn behind_the_entry_the_back_is_seen_and_beyond_the_far_end_the_front() {
        let (entry, far) = (standing(Side::Entry, 8000.0, 1700.0), standing(Side::FarEnd, 8000.0, 1700.0));
        assert!(entry.back > 0.4 && entry.front == 0.0);
        assert!(far.front > 0.4 && far.back == 0.0);
        let flank = standing(Side::Left, 8000.0, 1700.0);
        assert!(flank.front == 0.0 && flank.back == 0.0 && flank.edge > 0.4);
    }

    #[test]
    fn shares_add_up_to_one_for_any_eye() {
        for side in [Side::Entry, Side::FarEnd, Side::Left, Side::Right] {
            for distance in [-3000.0, 0.0, 10.0, 700.0, 1e9, f64::NAN, f64::INFINITY] {
                for height in [-5.0, 0.0, 48.0, 49.0, 1700.0, f64::NAN] {
                    let s = standing(side, distance, height);
                    assert!((sum(s) - 1.0).abs() < 1e-12, "{side:?} {distance} {height} {s:?}");
                    assert!(s.floor >= -1e-12);
                }
            }
        }
    }

    #[test]
    fn two_faced_pieces_change_the_picture_in_falling() {
        let seen = |view: &View| seen_colours(&[THREE], &USUAL, Linear([0.0; 3]), view)[0];
        let far = View::Standing(Eye { side: Side::FarEnd, distance_mm: 4000.0, height_mm: 1700.0 });
        let before = seen(&far);
        let after = seen(&View::Fallen);
        assert!(before.0[0] > 0.4 && before.0[1] == 0.0);
        assert!(after.0[1] > 0.9 && after.0[0] == 0.0);
    }

    #[test]
    fn light_mixes_linearly_with_the_floor() {
        // A black piece on a white floor from above: 52 % of the light of the floor.
        let black = PieceFaces::plain(Linear([0.0; 3]));
        let seen = seen_colours(&[black], &USUAL, WHITE, &View::Above)[0];
        assert!((seen.0[0] - 0.52).abs() < 1e-6);
        // sRGB of linear 0.52 is 191 (IEC 61966-2-1: 1.055 * 0.52^(1/2.4) - 0.055 = 0.748, times 255 is 190.8).
        assert_eq!(seen.to_srgb8().r, 191);
    }

    #[test]
    fn laid_pieces_show_their_back_and_no_floor() {
        assert_eq!(seen_colours(&[THREE], &USUAL, WHITE, &View::Laid), [GREEN]);
    }
}
