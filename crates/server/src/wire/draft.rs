//! Items as they are drawn: drafts that may become items, and what a trial says of them.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::state::{Fall, Wish};

/// An item, whole, as it is drawn or changed. `GET /api/item/{id}` answers with one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct ItemDraft {
    /// Its id; null for a new item.
    pub id: Option<u32>,
    /// What the crew calls it.
    pub name: String,
    /// Id of its section, if it is in one.
    pub section: Option<u32>,
    /// Id of what it stands on; 0 is the floor.
    pub surface: u32,
    /// mm east of the datum.
    pub x: f64,
    /// mm north of the datum.
    pub y: f64,
    /// Degrees counter-clockwise from east.
    pub heading: f64,
    /// Where it really stands, once that was measured.
    pub built: Option<BuiltDraft>,
    /// Pieces that are left out while building, in rising order.
    pub gaps: Vec<GapDraft>,
    /// A locked item takes no change but to be unlocked.
    pub locked: bool,
    /// The number of its group, if it is in one.
    pub group: Option<u32>,
    /// What it is.
    pub body: BodyDraft,
    /// Id of another field whose cells a field takes. Without it a field keeps those of the item `id`, and a new one is
    /// empty; cells keep their lane and rank.
    pub cells_from: Option<u32>,
}

/// How far an item stands from where it was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct BuiltDraft {
    /// Too far to the east, mm.
    pub east: f64,
    /// Too far to the north, mm.
    pub north: f64,
    /// Turned to the left, degrees.
    pub turn: f64,
}

/// A safety gap.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct GapDraft {
    /// Rank of the first piece that is left out, from 0.
    pub first: u32,
    /// How many are left out.
    pub count: u32,
    /// True when a stopper stands in the middle of it.
    pub stopper: bool,
}

/// What a draft is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum BodyDraft {
    /// A picture in lanes and ranks.
    Field(Box<FieldDraft>),
    /// Pieces one after another along a path.
    Line(Box<LineDraft>),
    /// An area filled with a line.
    Fill(FillDraft),
    /// The pieces that bring the fall to every lane of a field.
    Feed(FeedDraft),
    /// Where the first piece is pushed.
    Start(StartDraft),
    /// A block that a fallen lane runs against.
    Stopper(StopperDraft),
    /// Known only by its size, pieces and hours.
    Placeholder(PlaceholderDraft),
    /// Words at a place.
    Note(NoteDraft),
    /// A distance that is shown with its figure.
    Dimension(DimensionDraft),
    /// A place from which the fall is filmed.
    Camera(CameraDraft),
}

/// A field. Its cells do not travel with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct FieldDraft {
    /// Id of its kind of piece.
    pub kind: u16,
    /// Number of lanes.
    pub lanes: u32,
    /// Number of ranks.
    pub ranks: u32,
    /// Centre to centre along the fall, mm.
    pub pitch_along: f64,
    /// Centre to centre between lanes, mm.
    pub pitch_across: f64,
    /// Shift of every second lane along the fall, mm.
    pub stagger: f64,
    /// How its lanes fall.
    pub course: Course,
    /// How the fall crosses the upright picture.
    pub fall: Fall,
    /// Id of its picture, if one is chosen.
    pub picture: Option<u32>,
    /// How the picture is fitted; says nothing without one.
    pub fit: Fit,
    /// Contrast added to the picture, -1 to 1; says nothing without one.
    pub contrast: f64,
    /// The part of the picture that is shown, in shares from the left, top, right and bottom; all of it when null.
    pub crop: Option<[f64; 4]>,
    /// What the match aims for.
    pub wish: Wish,
}

/// How the lanes of a field fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Course {
    /// All the same way.
    Together,
    /// Every second lane the other way, each fed at its own beginning.
    Opposed,
    /// One after another, with round turns from each lane into the next.
    InTurn,
}

/// How a picture is fitted to a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Fit {
    /// Fills the field; what hangs over is cut off.
    Fill,
    /// All of it; cells beside it stay empty.
    Within,
    /// Pulled to the field.
    Stretch,
}

/// A line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct LineDraft {
    /// Id of its kind of piece.
    pub kind: u16,
    /// Lanes side by side.
    pub lanes: u32,
    /// Centre to centre between lanes, mm.
    pub pitch_across: f64,
    /// How far the pieces stand apart.
    pub spacing: SpacingDraft,
    /// How they are placed.
    pub placed: Placed,
    /// The path, leg by leg.
    pub path: Vec<LegDraft>,
    /// From which port it carries on.
    pub from: Option<LinkDraft>,
    /// To which port it leads.
    pub to: Option<LinkDraft>,
    /// Its colours.
    pub colours: PatternDraft,
    /// Where it climbs over something.
    pub bridges: Vec<BridgeDraft>,
}

/// How far pieces stand apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct SpacingDraft {
    /// Between what it is measured.
    pub by: SpacedBy,
    /// How far, mm.
    pub mm: f64,
}

/// Between what a spacing is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum SpacedBy {
    /// Centre to centre.
    Pitch,
    /// Face to face.
    Gap,
}

/// How pieces are placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Placed {
    /// With a comb.
    Comb,
    /// By hand and eye.
    Hand,
}

/// Left or right of the way of the fall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// To the left.
    Left,
    /// To the right.
    Right,
}

/// One leg of a path.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum LegDraft {
    /// Straight on.
    Straight {
        /// How far, mm.
        length: f64,
    },
    /// Along a circle.
    Arc {
        /// Radius, mm.
        radius: f64,
        /// How far round, degrees; to the left when positive.
        turn: f64,
    },
    /// Along a spiral.
    Spiral {
        /// Radius where it begins, mm.
        radius: f64,
        /// From one ring to the next, mm; inwards when negative.
        ring: f64,
        /// How many turns.
        turns: f64,
        /// To which side.
        hand: Side,
    },
    /// A smooth curve through points.
    Through {
        /// The points in the item's own frame, mm along its heading and to the left of it.
        points: Vec<[f64; 2]>,
    },
}

/// A port of another item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct LinkDraft {
    /// Id of the other item.
    pub item: u32,
    /// The name of its port.
    pub port: String,
    /// True when the other item is itself new and sent with this one: then `item` is its place among the items that are
    /// sent together, from 0. Answers never say so.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[ts(optional, as = "Option<bool>")]
    pub sent: bool,
}

/// So many pieces of one colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct StretchDraft {
    /// Id of the colour.
    pub colour: u16,
    /// How many pieces.
    pub count: u32,
}

/// The colours of a line, in the order of the fall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum PatternDraft {
    /// One colour.
    Plain {
        /// Its id.
        colour: u16,
    },
    /// Stretches again and again.
    Repeat {
        /// The stretches.
        stretches: Vec<StretchDraft>,
    },
    /// From the first colour to the last one, mixed evenly.
    Blend {
        /// Ids of the colours.
        colours: Vec<u16>,
    },
    /// So many of each, spread evenly.
    Spread {
        /// The stretches.
        stretches: Vec<StretchDraft>,
    },
}

/// A part of a line that climbs to a deck and comes down again. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct BridgeDraft {
    /// Where the first step up begins, along the path.
    pub from: f64,
    /// Length of the deck.
    pub deck: f64,
    /// Height of its upper side.
    pub height: f64,
    /// Its thickness.
    pub thickness: f64,
    /// Height of one step.
    pub step: f64,
    /// Pieces on each step.
    pub per_step: u32,
}

/// A filled area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct FillDraft {
    /// Id of its kind of piece.
    pub kind: u16,
    /// The area in the item's own frame, mm, counter-clockwise.
    pub outline: Vec<[f64; 2]>,
    /// How it is filled.
    pub with: FillingDraft,
    /// From one course of the line to the next, mm.
    pub ring: f64,
    /// How far the pieces stand apart.
    pub spacing: SpacingDraft,
    /// How they are placed.
    pub placed: Placed,
    /// Their colours.
    pub colours: PatternDraft,
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum FillingDraft {
    /// To and fro.
    Waves {
        /// Direction of the courses against the heading, degrees.
        course: f64,
    },
    /// A double spiral.
    Spiral {},
    /// To and fro in waved courses.
    Curls {
        /// Direction of the courses against the heading, degrees.
        course: f64,
        /// How far each curl swings out, mm.
        swing: f64,
    },
}

/// A feed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct FeedDraft {
    /// Id of the field that it feeds.
    pub of: u32,
    /// How.
    pub way: WayDraft,
    /// Id of its kind of piece.
    pub kind: u16,
    /// Id of its colour.
    pub colour: u16,
    /// Centre to centre, mm.
    pub pitch: f64,
}

/// The ways of feeding a field.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is", deny_unknown_fields)]
pub enum WayDraft {
    /// Ranks shifted by half a lane pitch.
    Brick {
        /// Where the line comes in.
        enter: Enter,
    },
    /// A line along the edge with a turned piece beside it for each lane.
    Beside {
        /// From which side the line comes.
        side: Side,
        /// How far the piece is turned, degrees.
        turn: f64,
        /// Clear gap of the line beside it, mm.
        gap: f64,
        /// How far it pokes into the sweep, mm.
        poke: f64,
    },
    /// A line past the lanes at an angle.
    Angled {
        /// From which side the line comes.
        side: Side,
        /// Angle between the line and the lanes, degrees.
        turn: f64,
        /// How far the lanes poke into the sweep, mm.
        poke: f64,
    },
    /// A line along the edge in which one piece for each lane is turned.
    InLine {
        /// From which side the line comes.
        side: Side,
        /// How far the piece is turned, degrees.
        turn: f64,
        /// Clear distance before and after it, mm.
        clear: f64,
    },
    /// One turned piece for each lane.
    Echelon {
        /// From which side the fall comes.
        side: Side,
        /// How far the pieces are turned, degrees.
        turn: f64,
    },
    /// Each lane begins two ranks later.
    HalfShift {
        /// From which side the fall comes.
        side: Side,
    },
}

/// Where the line comes in to brick ranks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Enter {
    /// In the middle.
    Middle,
    /// At the rightmost lane.
    Right,
    /// At the leftmost lane.
    Left,
}

/// A start.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct StartDraft {
    /// Width of the push, mm.
    pub width: f64,
    /// When it pushes after the first one, s.
    pub after: f64,
}

/// A stopper. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct StopperDraft {
    /// Along the heading.
    pub thickness: f64,
    /// Across it.
    pub width: f64,
    /// Upwards.
    pub height: f64,
    /// True when it is fixed to the floor.
    pub fixed: bool,
}

/// A placeholder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct PlaceholderDraft {
    /// Along the heading, mm.
    pub length: f64,
    /// To the left, mm.
    pub width: f64,
    /// Upwards, mm.
    pub height: f64,
    /// Pieces that it takes.
    pub needs: Vec<NeedDraft>,
    /// Person-hours.
    pub hours: f64,
    /// Who designs or builds it.
    pub who: String,
    /// Where the fall enters and leaves.
    pub ports: Vec<PortDraft>,
    /// How long the fall takes through it, at the least and at the most, s.
    pub delay: Option<[f64; 2]>,
}

/// So many pieces of a kind and colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct NeedDraft {
    /// Id of the kind.
    pub kind: u16,
    /// Id of the colour.
    pub colour: u16,
    /// How many.
    pub count: u32,
}

/// A port of a placeholder, in the item's own frame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct PortDraft {
    /// Its name.
    pub name: String,
    /// Whether the fall enters or leaves there.
    pub flow: Flow,
    /// Along the heading, mm.
    pub x: f64,
    /// To the left, mm.
    pub y: f64,
    /// In which direction the fall runs there against the heading, degrees.
    pub direction: f64,
    /// Height above the surface, mm.
    pub height: f64,
    /// Width across the fall, mm.
    pub width: f64,
}

/// Whether the fall enters or leaves at a port.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Flow {
    /// It comes in.
    In,
    /// It goes out.
    Out,
}

/// Words at a place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct NoteDraft {
    /// The words; they may have several lines.
    pub text: String,
}

/// A distance that is shown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct DimensionDraft {
    /// The other end, mm along the heading and to the left of it.
    pub to: [f64; 2],
}

/// A place for a camera.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct CameraDraft {
    /// Height of the lens, mm.
    pub height: f64,
    /// What it looks at, mm along the heading and to the left of it.
    pub look: [f64; 2],
    /// Height of that, mm.
    pub look_height: f64,
    /// From the left edge of what it sees to the right one, degrees.
    pub field_of_view: f64,
}
