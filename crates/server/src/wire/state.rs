//! The plan at a glance: items, colours and cost; and what is wrong with it.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::arrange::SurfaceIs;
use super::draft::{CameraDraft, DimensionDraft, NoteDraft};
use super::hall::{GapRow, HallRow, KindRow, PortRow};
use super::said::SaidRow;
use super::stock::GearRow;

/// Who is asking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// May change the plan.
    Planner,
    /// May look at the plan and read lanes.
    Crew,
}

/// `GET /api/state`: the plan at a glance.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct State {
    /// The event.
    pub name: String,
    /// The hall.
    pub hall: String,
    /// Colour of the floor, `#rrggbb`.
    pub floor: String,
    /// The hall as drawn.
    pub floor_plan: HallRow,
    /// Kinds of pieces, in order of id.
    pub kinds: Vec<KindRow>,
    /// Name of the project file, without folders.
    pub file: String,
    /// The project's own number, 64 hex digits: the same for all copies of it, and for projects that began with the same plan in
    /// the same second.
    pub project: String,
    /// The last change that is on disk.
    pub saved: Saved,
    /// Things the user must know about the file: a loss, a read-only disk. Empty when all is well.
    pub notes: Vec<String>,
    /// What undo would take back, if anything.
    pub undo: Option<String>,
    /// The same as a saying; null when whoever did it chose the words.
    pub undo_said: Option<SaidRow>,
    /// What redo would bring back, if anything.
    pub redo: Option<String>,
    /// The same as a saying; null when whoever did it chose the words.
    pub redo_said: Option<SaidRow>,
    /// Sections, in order of id.
    pub sections: Vec<SectionRow>,
    /// Surfaces above the floor, in order of id.
    pub surfaces: Vec<SurfaceRow>,
    /// Source pictures, in order of id.
    pub pictures: Vec<PictureRow>,
    /// Colours of the stock, in order of id.
    pub colours: Vec<ColourRow>,
    /// Things that are not pieces, in order of id.
    pub gear: Vec<GearRow>,
    /// Items, in order of id.
    pub items: Vec<ItemRow>,
    /// Sums over the plan.
    pub cost: Cost,
    /// Who is asking.
    pub role: Role,
}

/// A section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
pub struct SectionRow {
    /// Its id.
    pub id: u32,
    /// What the crew calls it.
    pub name: String,
    /// Who leads it, may be empty.
    pub lead: String,
}

/// Something above the floor that items stand on.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(export)]
pub struct SurfaceRow {
    /// Its id.
    pub id: u32,
    /// What the crew calls it.
    pub name: String,
    /// What it is.
    pub is: SurfaceIs,
    /// Height of its upper side above the floor, of its lowest corner when it slopes, mm.
    pub height: f64,
    /// How steeply it rises, degrees; 0 when it is level.
    pub slope: f64,
    /// The direction on the floor plan in which it rises, degrees.
    pub uphill: f64,
    /// Its corners, mm.
    pub outline: Vec<[f64; 2]>,
}

/// A source picture.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
pub struct PictureRow {
    /// Its id.
    pub id: u32,
    /// Its file name.
    pub name: String,
    /// Upright width in pixels.
    pub width: u32,
    /// Upright height in pixels.
    pub height: u32,
}

/// The last change that is on disk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
pub struct Saved {
    /// Its number; 0 before the first change.
    pub change: u32,
    /// When, UTC in the form `2026-05-01T14:03:22Z` (the page shows it as local time); empty before the first change.
    pub at: String,
    /// False when the file cannot be written; `notes` says why.
    pub writable: bool,
}

/// A colour of pieces.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ColourRow {
    /// Its id, as used in cells.
    pub id: u16,
    /// Its name.
    pub name: String,
    /// One to three signs.
    pub code: String,
    /// The face towards the fall, `#rrggbb`.
    pub front: String,
    /// The face away from the fall, `#rrggbb`.
    pub back: String,
    /// Top and sides, `#rrggbb`.
    pub edge: String,
    /// Ink for the code on the front face: `#000000` or `#ffffff`, whichever contrasts more.
    pub ink: String,
}

/// An item.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ItemRow {
    /// Its id.
    pub id: u32,
    /// Its name.
    pub name: String,
    /// Its section's name, or empty.
    pub section: String,
    /// Id of the surface it stands on; 0 is the floor.
    pub surface: u32,
    /// True when it takes no change but to be unlocked.
    pub locked: bool,
    /// The number of its group, if it is in one.
    pub group: Option<u32>,
    /// Pieces that it takes.
    pub pieces: u32,
    /// Millimetres east of the datum.
    pub x: f64,
    /// Millimetres north of the datum.
    pub y: f64,
    /// Degrees counter-clockwise from east.
    pub heading: f64,
    /// Person-hours, low and high.
    pub hours: [f64; 2],
    /// What sort of item it is, in one word: `field`, `line`, `fill`, `feed`, `start`, `stopper`, `placeholder`, `note`,
    /// `dimension` or `camera`.
    pub sort: String,
    /// The four corners around all of it on the floor plan, mm; empty when it takes no floor.
    pub outline: Vec<[f64; 2]>,
    /// From piece to piece along the fall and across it, mm; zeros where there are no pieces.
    pub pitch: [f64; 2],
    /// Where the fall enters and leaves; the single lanes of fields are left out.
    pub ports: Vec<PortRow>,
    /// Pieces that are left out while building.
    pub gaps: Vec<GapRow>,
    /// What it is.
    pub body: BodyRow,
}

/// What an item is.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum BodyRow {
    /// A picture in lanes and ranks.
    Field(Box<FieldRow>),
    /// Known only by its size, pieces and hours.
    Placeholder {
        /// Extent along the heading, mm.
        length: f64,
        /// Extent to the left, mm.
        width: f64,
        /// Height, mm.
        height: f64,
        /// Who designs or builds it.
        who: String,
    },
    /// Words at a place.
    Note(NoteDraft),
    /// A distance that is shown with its figure.
    Dimension(DimensionDraft),
    /// A place from which the fall is filmed.
    Camera(CameraDraft),
    /// Anything whose pieces and outline say it all.
    Plain {},
}

/// A field.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FieldRow {
    /// Number of lanes.
    pub lanes: u32,
    /// Number of ranks.
    pub ranks: u32,
    /// Centre to centre along the fall, mm.
    pub pitch_along: f64,
    /// Centre to centre between lanes, mm.
    pub pitch_across: f64,
    /// Shift of every second lane, mm.
    pub stagger: f64,
    /// How the fall crosses the upright picture.
    pub fall: Fall,
    /// Columns of the picture.
    pub columns: u32,
    /// Rows of the picture.
    pub rows: u32,
    /// Extent along the fall and across it, mm.
    pub size: [f64; 2],
    /// Id of the picture, if one is chosen.
    pub picture: Option<u32>,
    /// File name of the picture, or empty.
    pub picture_name: String,
    /// Contrast added to the picture before the match, -1 to 1; 0 without a picture.
    pub contrast: f64,
    /// What the match aims for.
    pub wish: Wish,
    /// Cells set by hand.
    pub by_hand: u32,
    /// Runs of one colour, mean over the lanes.
    pub runs_per_lane: f64,
    /// Mean CIEDE2000 cell by cell against the picture; absent without a picture.
    pub difference: Option<f64>,
    /// Mean CIEDE2000 as seen from the wished distance; absent without a picture.
    pub difference_seen: Option<f64>,
    /// True when single pieces are seen from the wished distance.
    pub pieces_seen_singly: bool,
    /// Changes whenever a picture of this field would look different; part of picture addresses.
    pub look: String,
}

/// How the fall crosses the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Fall {
    /// From left to right.
    Right,
    /// Upwards.
    Up,
    /// From right to left.
    Left,
    /// Downwards.
    Down,
}

/// What a match aims for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Goal {
    /// Cell by cell, proven.
    Exact,
    /// As the eye sees it.
    Seen,
}

/// As what the picture is to be right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum SeenAs {
    /// Plain colours, as on paper.
    Laid,
    /// Standing, from straight above.
    Above,
    /// Standing, from the eye point.
    Standing,
    /// Fallen, from above.
    Fallen,
}

/// What the match of a field aims for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
pub struct Wish {
    /// Cell by cell or as seen.
    pub goal: Goal,
    /// As what the picture is to be right.
    pub seen_as: SeenAs,
    /// Viewing distance, mm.
    pub seen_from: f64,
    /// Distance of the eye for `standing`, mm, where it is another one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub eye_distance: Option<f64>,
    /// Eye height for `standing`, mm.
    pub eye_height: f64,
    /// Eye bearing against the fall for `standing`, degrees; 180 stands behind the entry.
    pub eye_bearing: f64,
    /// 0 to 5.
    pub fewer_changes: f64,
    /// 1 to 100.
    pub weight: u32,
    /// Colour ids that may be used; all when absent.
    pub allowed: Option<Vec<u16>>,
}

/// Sums over the plan.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Cost {
    /// Pieces of all items.
    pub pieces: u32,
    /// Person-hours, low and high.
    pub hours: [f64; 2],
    /// Mass of all pieces, kg.
    pub mass: f64,
    /// Full and begun crates, one colour each.
    pub crates: u32,
    /// Changes of colour along all lanes.
    pub changes: u32,
    /// Share of pieces that only placeholders ask for, 0 to 1.
    pub assumed: f64,
}

/// `GET /api/findings`: what is wrong with the plan. It takes longer than the plan at a glance, so that nobody waits for both.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Findings {
    /// The change of the plan that they are of.
    pub change: u32,
    /// Worst first.
    pub list: Vec<FindingRow>,
}

/// A finding.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FindingRow {
    /// Stable code.
    pub code: String,
    /// `must`, `should` or `note`.
    pub severity: Severity,
    /// The item it is about, if any.
    pub item: Option<u32>,
    /// Place, in words.
    pub place: String,
    /// Place on the floor plan, mm east and north of the datum, where there is one.
    pub at: Option<[f64; 2]>,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// The same three with their figures kept apart, for any language.
    pub said: FindingSaid,
    /// True when the mend is clear: see `POST /api/mend`.
    pub mend: bool,
}

/// The words of a finding with their figures kept apart.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct FindingSaid {
    /// Where.
    pub place: SaidRow,
    /// What is wrong.
    pub message: SaidRow,
    /// What to do.
    pub hint: SaidRow,
}

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// It will not work.
    Must,
    /// It may not work.
    Should,
    /// Good to know.
    Note,
}
