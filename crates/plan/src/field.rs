//! Fields: a picture laid as lanes and ranks.

use geometry::{FallInPicture, GridMap, Point};
use serde::{Deserialize, Serialize};
use units::{Angle, Length};

use crate::cells::{CellMask, Cells, EMPTY};
use crate::ids::{ColourId, KindId, PictureId};
use crate::item::{Need, Port, PortFlow};

/// A picture laid as lanes and ranks. Its local origin is the centre of the piece at lane 0, rank 0.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Field {
    /// Which kind of piece it is laid from.
    pub kind: KindId,
    /// Its lanes, ranks and pitches.
    pub frame: FieldFrame,
    /// The picture that it shows, if one was chosen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub picture: Option<PictureUse>,
    /// What the match is to aim for.
    #[serde(default)]
    pub wish: MatchWish,
    /// The colour of each cell, lane by lane, rank 0 first.
    pub cells: Cells,
    /// Cells that were set by hand and survive a new match; same order.
    #[serde(default)]
    pub by_hand: CellMask,
}

/// The grid of a field.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FieldFrame {
    /// Number of lanes.
    pub lanes: u32,
    /// Number of ranks: pieces in a full lane.
    pub ranks: u32,
    /// Centre to centre along the fall; 15 mm is a usual comb.
    pub pitch_along: Length,
    /// Centre to centre between lanes; 25 to 27 mm is usual.
    pub pitch_across: Length,
    /// How far every second lane (1, 3, 5 …) is shifted along the fall; 0 for none, at most one pitch.
    #[serde(default)]
    pub stagger: Length,
    /// How the fall crosses the upright picture.
    #[serde(default)]
    pub fall: FallInPicture,
    /// How its lanes fall.
    #[serde(default, skip_serializing_if = "LaneCourse::is_usual")]
    pub course: LaneCourse,
}

/// How the lanes of a field fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum LaneCourse {
    /// All the same way.
    #[default]
    Together,
    /// Every second lane (1, 3, 5 …) the other way, each fed at its own beginning.
    Opposed,
    /// One after another: every second lane the other way, and round turns lead from each lane into the next.
    InTurn,
}

impl LaneCourse {
    /// True when all lanes fall the same way.
    pub fn is_usual(&self) -> bool {
        *self == Self::Together
    }
}

/// How a picture is fitted to the frame of a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum PictureFit {
    /// Fills the frame; what hangs over is cut off evenly.
    #[default]
    Fill,
    /// All of it within the frame; cells beside it stay empty.
    Within,
    /// Pulled to the frame; shapes change.
    Stretch,
}

/// A rectangle of a picture, in shares of its width and height from the top left, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Crop {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

/// How a field uses its picture.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PictureUse {
    /// Which picture.
    pub picture: PictureId,
    /// The part of it that is shown; all of it when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop: Option<Crop>,
    /// How it is fitted.
    #[serde(default)]
    pub fit: PictureFit,
    /// Contrast, -1 (flat) to 1 (hard); 0 leaves it as it is.
    #[serde(default)]
    pub contrast: f64,
}

/// What the match is to make right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum MatchGoal {
    /// The least sum of differences cell by cell, proven.
    Exact,
    /// What the eye sees from where it stands.
    #[default]
    Seen,
}

/// An eye point, against the field.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Eye {
    /// Distance on the floor from the middle of the field.
    pub distance: Length,
    /// Height of the eye above the field's surface; 1.6 m for somebody who stands (common practice).
    pub height: Length,
    /// Where it stands, against the heading of the fall: 180° is behind the entry and sees the backs.
    pub bearing: Angle,
}

/// As what the picture is to be right.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum SeenAs {
    /// The plain colour of each piece, as on paper.
    #[default]
    Laid,
    /// Standing, from straight above: tops, and floor between them.
    Above,
    /// Standing, from an eye point.
    Standing {
        /// The eye.
        eye: Eye,
    },
    /// Fallen, from above.
    Fallen,
}

/// What the match of a field is to aim for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MatchWish {
    /// Cell by cell or as seen.
    #[serde(default)]
    pub goal: MatchGoal,
    /// As what the picture is to be right.
    #[serde(default)]
    pub seen_as: SeenAs,
    /// From how far the picture is looked at, for the goal `seen`; 20 m unless said otherwise (common practice).
    #[serde(default = "usual_distance")]
    pub seen_from: Length,
    /// Weight for fewer changes of colour along a lane, 0 to 5.
    #[serde(default)]
    pub fewer_changes: f64,
    /// Importance against other fields that share the stock, 1 to 100.
    #[serde(default = "usual_weight")]
    pub weight: u32,
    /// Colours that may be used; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowed: Option<Vec<ColourId>>,
}

fn usual_distance() -> Length {
    Length::m(20.0)
}

fn usual_weight() -> u32 {
    1
}

impl Default for MatchWish {
    fn default() -> Self {
        Self {
            goal: MatchGoal::default(),
            seen_as: SeenAs::default(),
            seen_from: usual_distance(),
            fewer_changes: 0.0,
            weight: usual_weight(),
            allowed: None,
        }
    }
}

impl FieldFrame {
    /// A grid without stagger whose lanes all fall the same way, the picture's rows from left to right.
    pub fn new(lanes: u32, ranks: u32, pitch_along: Length, pitch_across: Length) -> Self {
        Self {
            lanes,
            ranks,
            pitch_along,
            pitch_across,
            stagger: Length::ZERO,
            fall: FallInPicture::default(),
            course: LaneCourse::default(),
        }
    }

    /// The map between lanes and ranks and the picture.
    pub fn map(&self) -> GridMap {
        GridMap { lanes: self.lanes, ranks: self.ranks, fall: self.fall }
    }

    /// Number of cells.
    pub fn len(&self) -> usize {
        self.map().len()
    }

    /// True when there is no cell.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Size of one cell in the upright picture: width and height in mm.
    pub fn cell_size(&self) -> (f64, f64) {
        self.map().cell_size(self.pitch_along.to_mm(), self.pitch_across.to_mm())
    }
}

impl Field {
    /// A field without a picture, all cells empty.
    pub fn empty(kind: KindId, frame: FieldFrame) -> Self {
        Self {
            kind,
            frame,
            picture: None,
            wish: MatchWish::default(),
            cells: Cells::empty(frame.len()),
            by_hand: CellMask::none(frame.len()),
        }
    }

    /// The same field with another grid: every lane and rank that still exists keeps its cell, new ones are empty.
    #[must_use]
    pub fn resized(&self, frame: FieldFrame) -> Self {
        let mut field = Self { frame, ..self.clone() };
        if (frame.lanes, frame.ranks) != (self.frame.lanes, self.frame.ranks) {
            (field.cells, field.by_hand) = field.carried(self.frame.lanes, self.frame.ranks);
        }
        field
    }

    /// Cells and marks, which are still those of a grid of `lanes` and `ranks`, carried to the field's own size.
    pub(crate) fn carried(&self, lanes: u32, ranks: u32) -> (Cells, CellMask) {
        let len = self.frame.len();
        let (mut cells, mut marks) = (vec![EMPTY; len], vec![false; len]);
        let keep = ranks.min(self.frame.ranks) as usize;
        for lane in 0..lanes.min(self.frame.lanes) as usize {
            let (from, to) = (lane * ranks as usize, lane * self.frame.ranks as usize);
            cells[to..to + keep].copy_from_slice(&self.cells.as_slice()[from..from + keep]);
            marks[to..to + keep].copy_from_slice(&self.by_hand.as_slice()[from..from + keep]);
        }
        (cells.into(), marks.into())
    }

    /// The way in: before rank 0, over all lanes; and the way out: behind the last rank.
    pub fn ports(&self) -> Vec<Port> {
        let f = &self.frame;
        let across = f64::from(f.lanes.saturating_sub(1)) * f.pitch_across.to_mm();
        let along = f64::from(f.ranks.saturating_sub(1)) * f.pitch_along.to_mm();
        let port = |name: &str, flow, x| Port {
            name: name.into(),
            flow,
            at: Point::new(x, across / 2.0),
            direction: Angle::ZERO,
            height: Length::ZERO,
            width: Length::mm(across) + f.pitch_across,
        };
        vec![port("entry", PortFlow::In, 0.0), port("end", PortFlow::Out, along)]
    }

    /// Extent in its own frame: (least along, least left, most along, most left) in mm, half a pitch around the pieces.
    pub fn extent(&self) -> (f64, f64, f64, f64) {
        let f = &self.frame;
        let (pa, pc) = (f.pitch_along.to_mm(), f.pitch_across.to_mm());
        let shift = if f.lanes > 1 { f.stagger.to_mm() } else { 0.0 };
        let u1 = (f64::from(f.ranks) - 0.5) * pa + shift;
        (-pa / 2.0, -pc / 2.0, u1, (f64::from(f.lanes) - 0.5) * pc)
    }

    /// Pieces by colour, in order of colour id.
    pub fn needs(&self) -> Vec<Need> {
        let mut counts = std::collections::BTreeMap::<u16, u32>::new();
        for &c in self.cells.as_slice() {
            if c != EMPTY {
                *counts.entry(c).or_default() += 1;
            }
        }
        counts.into_iter().map(|(c, count)| Need { kind: self.kind, colour: ColourId(c), count }).collect()
    }
}
