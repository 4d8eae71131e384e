//! Changes of the plan, their answers, and what every refusal carries.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::arrange::{ArrangeHow, PartDraft, SurfaceIs};
use super::cells::{DrawnWith, StrokeDraft};
use super::said::SaidRow;
use super::section::SectionMove;
use super::taped::{MarkRow, TapeRow};
use super::timed::TimedRow;
use super::{Fall, GearDraft, GripRow, ItemDraft, Saved, Wish};

/// `POST /api/do`: one change of the plan.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "do", deny_unknown_fields)]
pub enum Change {
    /// Names the event.
    Rename {
        /// The name.
        name: String,
    },
    /// Adds a field with the usual pitches, empty, beside the others.
    AddField {
        /// Its name.
        name: String,
        /// Lanes.
        lanes: u32,
        /// Ranks.
        ranks: u32,
        /// How the fall crosses the picture.
        fall: Fall,
        /// A picture to show, if any.
        picture: Option<u32>,
        /// Instead of it a picture that is not in the plan yet and comes into it with the field.
        #[serde(default)]
        #[ts(optional)]
        shows: Option<FreshPicture>,
    },
    /// Changes name and place of an item.
    Place {
        /// Which.
        item: u32,
        /// Its name.
        name: String,
        /// mm east.
        x: f64,
        /// mm north.
        y: f64,
        /// Degrees.
        heading: f64,
    },
    /// Takes an item away.
    Remove {
        /// Which.
        item: u32,
    },
    /// Changes the grid of a field.
    Frame {
        /// Which.
        item: u32,
        /// Lanes.
        lanes: u32,
        /// Ranks.
        ranks: u32,
        /// mm.
        pitch_along: f64,
        /// mm.
        pitch_across: f64,
        /// mm.
        stagger: f64,
        /// How the fall crosses the picture.
        fall: Fall,
    },
    /// Chooses the picture of a field.
    Picture {
        /// Which field.
        item: u32,
        /// Which picture, or none.
        picture: Option<u32>,
        /// -1 to 1.
        contrast: f64,
        /// Instead of it a picture that is not in the plan yet and comes into it with this change.
        #[serde(default)]
        #[ts(optional)]
        shows: Option<FreshPicture>,
    },
    /// Changes what the match of a field aims for.
    Wish {
        /// Which field.
        item: u32,
        /// The wish.
        wish: Wish,
    },
    /// Sets cells by hand, or releases them for the next match.
    Paint {
        /// Which field.
        item: u32,
        /// Cells, index lane by lane, rank 0 first.
        cells: Vec<u32>,
        /// Colour id, 0 for no piece; absent releases the cells and leaves their colour.
        colour: Option<u16>,
    },
    /// Sets or releases many cells by hand, in one step.
    Draw {
        /// Which field.
        item: u32,
        /// What it was done with, for the words of the step.
        with: DrawnWith,
        /// The cells by colour; of two that name the same cell the later one holds.
        strokes: Vec<StrokeDraft>,
    },
    /// Changes the pieces of a lot.
    Count {
        /// Which lot.
        lot: u32,
        /// Its count.
        count: u32,
        /// What could be lent in addition.
        offered: u32,
    },
    /// Opens the example in a plan without items, as one step.
    Example {},
    /// Takes a stock list (CSV text) as the stock.
    StockList {
        /// The file's name, for messages.
        file: String,
        /// Its text.
        text: String,
        /// What comes with it that is not a piece; the gear of the plan stays besides.
        #[serde(default)]
        gear: Vec<GearDraft>,
    },
    /// Adds or changes a thing that is not a piece.
    PutGear {
        /// Its id; null for a new one.
        id: Option<u32>,
        /// The thing.
        gear: GearDraft,
    },
    /// Takes a thing that is not a piece away.
    RemoveGear {
        /// Which.
        id: u32,
    },
    /// Adds and changes items in one step.
    Put {
        /// The items, whole.
        items: Vec<ItemDraft>,
        /// What is done, in words, for the list of steps.
        label: String,
    },
    /// Takes several items away.
    Take {
        /// Which.
        items: Vec<u32>,
    },
    /// Moves, turns, mirrors, copies, lines up, groups or locks several items.
    Arrange {
        /// Which.
        items: Vec<u32>,
        /// What is done with them.
        how: ArrangeHow,
    },
    /// Sets down what `POST /api/copy` kept, displaced: it need not be in the plan any more.
    Paste {
        /// What was kept.
        copied: String,
        /// How far from where it was copied, mm to the east and to the north.
        by: [f64; 2],
    },
    /// Changes the hall. What was measured in it stays.
    Hall {
        /// What the crew calls it.
        name: String,
        /// Colour of the floor, `#rrggbb`.
        floor: String,
        /// The walls, mm; empty while nobody knows them.
        outline: Vec<[f64; 2]>,
        /// What stands and hangs in it.
        parts: Vec<PartDraft>,
        /// How floor and pieces rub.
        grip: GripRow,
    },
    /// Adds or changes a mark of the hall; what was taped from it goes along with its name.
    PutMark {
        /// Its name so far; null for a new one.
        was: Option<String>,
        /// The mark.
        mark: MarkRow,
    },
    /// Takes a mark away, with what was taped from it and to it.
    RemoveMark {
        /// Which.
        name: String,
    },
    /// Adds or changes a taped distance.
    PutTape {
        /// What it said so far; null for a new one.
        was: Option<TapeRow>,
        /// What it says.
        tape: TapeRow,
        /// Marks that are added with it; one that is there already, with this name in this place, stays as it is.
        marks: Vec<MarkRow>,
    },
    /// Takes a taped distance away; its marks stay.
    RemoveTape {
        /// What it said.
        tape: TapeRow,
    },
    /// Draws the hall as measured: moves marks and walls to where the tapes have them.
    DrawAsMeasured {},
    /// Adds or changes a timed line.
    PutTimed {
        /// What was put in so far; null for a new one.
        was: Option<TimedRow>,
        /// The line.
        line: TimedRow,
    },
    /// Takes a timed line away.
    RemoveTimed {
        /// What was put in.
        line: TimedRow,
    },
    /// Adds or changes a section.
    PutSection {
        /// Its id; null for a new one.
        id: Option<u32>,
        /// What the crew calls it.
        name: String,
        /// Who leads it, may be empty.
        lead: String,
    },
    /// Moves and turns a section, as one that stands elsewhere than it was drawn.
    ShiftSection {
        /// Which.
        id: u32,
        /// How far.
        by: SectionMove,
    },
    /// Takes a section away that no item is in.
    RemoveSection {
        /// Which.
        id: u32,
    },
    /// Adds or changes a surface.
    PutSurface {
        /// Its id; null for a new one.
        id: Option<u32>,
        /// What the crew calls it.
        name: String,
        /// What it is.
        is: SurfaceIs,
        /// Height of its upper side above the floor, of its lowest corner when it slopes, mm.
        height: f64,
        /// How steeply it rises, degrees from 0 to 45; level when it is not said.
        #[serde(default)]
        slope: f64,
        /// The direction on the floor plan in which it rises, degrees.
        #[serde(default)]
        uphill: f64,
        /// Its corners, mm.
        outline: Vec<[f64; 2]>,
    },
    /// Takes a surface away that no item stands on.
    RemoveSurface {
        /// Which.
        id: u32,
    },
}

/// `POST /api/mend`: mend a finding, where the mend is clear. Refused with `changed` when the plan is another one by now.
#[derive(Debug, Clone, Copy, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct MendAsk {
    /// Its number among the findings, from 1.
    pub finding: u32,
    /// The change of the plan that the findings are of.
    pub change: u32,
}

/// Answer to a change.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Done {
    /// The change that is now on disk.
    pub saved: Saved,
    /// What was done, in words.
    pub label: String,
    /// The same as a saying; null when whoever did it chose the words.
    pub label_said: Option<SaidRow>,
    /// Id of what was added, if something was: the largest one.
    pub added: Option<u32>,
    /// Ids of the items that `put` and `arrange` added, in order.
    pub items: Vec<u32>,
    /// What whoever asked should know: whole sentences.
    pub notes: Vec<String>,
}

/// `GET /api/steps`: a part of the list of steps. The query: `skip` rows, at most `most`, and `all=1` for every entry
/// of the journal, the newest first; without it only the course, what can be made again, the farthest first, then
/// what stands, the newest first.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Steps {
    /// The rows.
    pub rows: Vec<StepRow>,
    /// How many rows there are in all.
    pub all: u32,
    /// How many changes undo can take back.
    pub undo: u32,
    /// How many changes redo can make again.
    pub redo: u32,
    /// How much the whole history holds.
    pub weight: StepsWeight,
    /// The last change that was forgotten; 0 while the history is whole.
    pub forgotten: u32,
}

/// How much steps hold. `GET /api/steps/older?before=2026-05-01T14:03:22Z` answers with that of all that was done before a
/// time; the last step is never among it. `POST /api/steps/forget` answers with what was forgotten.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StepsWeight {
    /// The last of them.
    pub upto: u32,
    /// How many.
    pub steps: u32,
    /// Bytes of the project file, about.
    pub bytes: f64,
}

/// `POST /api/steps/forget`: the steps up to a change are forgotten for good; the plan stays as it is.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct ForgetAsk {
    /// The last one.
    pub upto: u32,
}

/// `POST /api/copy`: keeps items as they are now, for a `paste` to come.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct CopyAsk {
    /// Which.
    pub items: Vec<u32>,
}

/// What a copy is known by, until the program ends or many others were made.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct CopyKept {
    /// For `paste`.
    pub copied: String,
}

/// A step that was taken.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StepRow {
    /// Its number.
    pub change: u32,
    /// When it came on disk, UTC.
    pub at: String,
    /// Who took it.
    pub who: String,
    /// What was done, in words; for undo and redo the words of the change that they led to.
    pub label: String,
    /// The same as a saying; null when whoever did it chose the words.
    pub label_said: Option<SaidRow>,
    /// What it is.
    pub did: Did,
    /// How many undo steps lead to the plan as it was right after this step; null when undo does not lead there.
    pub undo: Option<u32>,
    /// How many redo steps make this step again; null when redo does not.
    pub redo: Option<u32>,
}

/// What a step is. In the course: whether it stands or was taken back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum Did {
    /// A change.
    Do,
    /// A change taken back.
    Undo,
    /// A change made again.
    Redo,
}

/// Every answer that is not 2xx carries this.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
#[ts(export)]
pub struct Trouble {
    /// Stable code.
    pub code: String,
    /// Whole sentences: place, value, next step.
    pub message: String,
    /// The same as a saying.
    pub said: Option<SaidRow>,
}

/// A picture whose bytes the project has, but that is not in the plan yet: `POST /api/pictures/kept` gave it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct FreshPicture {
    /// File name, for people.
    pub name: String,
    /// SHA-256 of its bytes, lower-case hex.
    pub sha256: String,
}

/// `POST /api/pictures/kept` answers with this; the plan does not change.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PictureKept {
    /// What a change names to show it.
    pub shows: FreshPicture,
    /// Upright width in pixels.
    pub width: u32,
    /// Upright height in pixels.
    pub height: u32,
    /// What was done to it: turned, first frame only, …
    pub notes: Vec<String>,
    /// The same as sayings.
    pub notes_said: Vec<SaidRow>,
}

/// `POST /api/pictures` answers with this.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct PictureAdded {
    /// Its id.
    pub picture: u32,
    /// Upright width in pixels.
    pub width: u32,
    /// Upright height in pixels.
    pub height: u32,
    /// What was done to it: turned, first frame only, …
    pub notes: Vec<String>,
    /// The same as sayings.
    pub notes_said: Vec<SaidRow>,
    /// The change that is now on disk.
    pub saved: Saved,
}
