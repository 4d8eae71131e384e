//! What travels between the browser and the server. Converted by hand from and to the plan's own types,
//! so that neither side's inner shape leaks into the other.
//!
//! Lengths are millimetres, angles degrees, times seconds, hours as such. Numbers are below 2^53.
//!
//! Every POST and DELETE carries the header `X-Standfast: 1`, and JSON bodies say `application/json`.
//! `POST /api/pictures` takes the file as it is, with its name in `X-File-Name`, percent-encoded as UTF-8.
//! The socket sends [`News`] as text and needs no message from the browser; one that falls behind is closed,
//! and the [`News::Hello`] of its next connection tells whether the state must be fetched anew.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

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
    /// Name of the project file, without folders.
    pub file: String,
    /// The last change that is on disk.
    pub saved: Saved,
    /// Things the user must know about the file: a loss, a read-only disk. Empty when all is well.
    pub notes: Vec<String>,
    /// What undo would take back, if anything.
    pub undo: Option<String>,
    /// What redo would bring back, if anything.
    pub redo: Option<String>,
    /// Colours of the stock, in order of id.
    pub colours: Vec<ColourRow>,
    /// Items, in order of id.
    pub items: Vec<ItemRow>,
    /// Sums over the plan.
    pub cost: Cost,
    /// Findings, worst first.
    pub findings: Vec<FindingRow>,
    /// Who is asking.
    pub role: Role,
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
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
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

/// `GET /api/stock`: what is needed, owned and short.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StockReport {
    /// The state in words: "Two colours are short".
    pub headline: String,
    /// Pieces needed, owned (spare included) and usable (spare kept back).
    pub needed: u32,
    /// Owned in all.
    pub owned: u32,
    /// Usable in all.
    pub usable: u32,
    /// One row a kind and colour, least left first.
    pub rows: Vec<StockRow>,
    /// Ways out of a shortage, smallest visible change first.
    pub ways_out: Vec<WayOut>,
    /// Colours that get confused.
    pub alike: Vec<AlikeRow>,
}

/// One kind and colour of the stock.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct StockRow {
    /// Colour id.
    pub colour: u16,
    /// Kind, by name.
    pub kind: String,
    /// Pieces that the plan takes as it is laid.
    pub needed: u32,
    /// Pieces that the pictures would take if stock did not matter.
    pub wanted: u32,
    /// Owned.
    pub owned: u32,
    /// Usable, spare kept back.
    pub usable: u32,
    /// Could be lent in addition.
    pub offered: u32,
    /// Lots: batch, owner, count, offered, mean thickness.
    pub lots: Vec<LotRow>,
    /// Who takes them: item id and pieces.
    pub takers: Vec<[u32; 2]>,
    /// Crates, full and begun.
    pub crates: u32,
}

/// A lot.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct LotRow {
    /// Its id.
    pub id: u32,
    /// Batch mark.
    pub batch: String,
    /// Owner.
    pub owner: String,
    /// Pieces.
    pub count: u32,
    /// Could be lent in addition.
    pub offered: u32,
    /// Mean thickness in mm, if measured.
    pub thickness: Option<f64>,
    /// Share kept back.
    pub spare: f64,
}

/// A way out of a shortage.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum WayOut {
    /// Let another colour stand in.
    OtherColour {
        /// The colour that is short.
        from: u16,
        /// The colour that stands in.
        to: u16,
        /// How many pieces.
        pieces: u32,
        /// Mean CIEDE2000 of the cells concerned, before and after.
        difference: [f64; 2],
    },
    /// Make one field smaller, or all of them evenly.
    SmallerFields {
        /// Item id, lanes and ranks that each would have.
        fields: Vec<[u32; 3]>,
    },
    /// Buy so many.
    Buy {
        /// Of which colour.
        colour: u16,
        /// How many.
        pieces: u32,
        /// CIEDE2000 that one more piece would save at most.
        worth: f64,
    },
    /// Borrow from an owner who offered.
    Borrow {
        /// Of which colour.
        colour: u16,
        /// From which lot.
        lot: u32,
        /// From whom.
        owner: String,
        /// How many.
        pieces: u32,
    },
}

/// Two colours that get confused.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct AlikeRow {
    /// One.
    pub a: u16,
    /// The other.
    pub b: u16,
    /// By whom or under which light, in words.
    pub why: String,
    /// CIEDE2000 under that condition.
    pub difference: f64,
}

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
    /// Changes the pieces of a lot.
    Count {
        /// Which lot.
        lot: u32,
        /// Its count.
        count: u32,
        /// What could be lent in addition.
        offered: u32,
    },
    /// Takes a stock list (CSV text) as the stock.
    StockList {
        /// The file's name, for messages.
        file: String,
        /// Its text.
        text: String,
    },
}

/// Answer to a change.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Done {
    /// The change that is now on disk.
    pub saved: Saved,
    /// What was done, in words.
    pub label: String,
    /// Id of what was added, if something was.
    pub added: Option<u32>,
}

/// Every answer that is not 2xx carries this.
#[derive(Debug, Clone, Serialize, Deserialize, TS)]
#[ts(export)]
pub struct Trouble {
    /// Stable code.
    pub code: String,
    /// Whole sentences: place, value, next step.
    pub message: String,
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
    /// The change that is now on disk.
    pub saved: Saved,
}

/// `POST /api/match`: match fields to the stock that is left beside all other items.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct MatchAsk {
    /// Fields to match together.
    pub items: Vec<u32>,
    /// Instead of each field's own wish for `goal` and `fewer_changes`; nothing is stored until the variant is used.
    pub goal: Option<Goal>,
    /// 0 to 5.
    pub fewer_changes: Option<f64>,
    /// Lay the result at once; otherwise it is kept as a variant to look at.
    pub lay: bool,
}

/// A running or ended job: `GET /api/job/{id}`, also pushed over the socket.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Job {
    /// Its id.
    pub id: u32,
    /// What it does, in words: "Matching Town".
    pub what: String,
    /// Stage, in words.
    pub stage: String,
    /// 0 to 1.
    pub share: f64,
    /// True once it is over.
    pub over: bool,
    /// True when it was stopped; a variant may still hold the best so far.
    pub stopped: bool,
    /// Why it could not be done.
    pub trouble: Option<Trouble>,
    /// The result, once it is over.
    pub variant: Option<Variant>,
}

/// A match that can be looked at and laid.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Variant {
    /// Its id.
    pub id: u32,
    /// The goal.
    pub goal: Goal,
    /// Weight for fewer changes.
    pub fewer_changes: f64,
    /// Sum of CIEDE2000 x 1000 over all cells (times importance), for `exact`.
    pub objective: Option<f64>,
    /// The proven bound; equal to the objective when optimal.
    pub bound: Option<f64>,
    /// Mean CIEDE2000 cell by cell.
    pub difference: f64,
    /// Mean CIEDE2000 as seen.
    pub difference_seen: f64,
    /// Runs of one colour, mean over the lanes.
    pub runs_per_lane: f64,
    /// Person-hours, low and high.
    pub hours: [f64; 2],
    /// Pieces by colour id.
    pub used: Vec<[u32; 2]>,
    /// Seconds a stage.
    pub seconds: Vec<(String, f64)>,
    /// True once it is laid.
    pub laid: bool,
    /// Fields: item id.
    pub items: Vec<u32>,
}

/// `GET /api/sheets?…`: what would be printed.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct SheetsInfo {
    /// Title of each page, in order; the number of pages is its length.
    pub pages: Vec<String>,
    /// Pieces of the chosen items in the plan.
    pub in_plan: u32,
    /// Pieces on the sheets, counted from what is printed.
    pub on_sheets: u32,
    /// Width of a page, mm.
    pub width: f64,
    /// Height of a page, mm.
    pub height: f64,
}

/// `GET /api/read/{item}?side=…&from=…&unit=…`: how a field is read.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ReadPlan {
    /// The field.
    pub item: u32,
    /// Its name.
    pub name: String,
    /// Number of lanes (or ranks) to call.
    pub units: u32,
    /// `lane` or `rank`.
    pub unit: ReadUnit,
    /// Where the builder sits and starts, in words.
    pub side: String,
    /// Number of the lane (or rank) that is called first; the far ones come first, so it is often the last number.
    pub first: u32,
    /// The change that this was made from.
    pub change: u32,
}

/// What is called at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case")]
pub enum ReadUnit {
    /// Lane by lane.
    Lane,
    /// Rank by rank.
    Rank,
}

/// `GET /api/read/{item}/{n}?…`: one lane (or rank), n from 1.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct ReadLane {
    /// Number as printed, from 1.
    pub number: u32,
    /// Calls in order; a run longer than a comb load is cut.
    pub calls: Vec<Call>,
    /// Pieces and skips in all: places.
    pub places: u32,
    /// Pieces in all: the checksum.
    pub total: u32,
    /// Number of the lane (or rank) that is called after this one, if there is one.
    pub next: Option<u32>,
    /// Number of the one that is called before it.
    pub before: Option<u32>,
}

/// One call.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Call {
    /// Colour id, or 0 for places that stay empty.
    pub colour: u16,
    /// How many.
    pub count: u32,
    /// Pieces laid after this call.
    pub laid: u32,
    /// Place of its first piece, from 1.
    pub from: u32,
}

/// Pushed by the server over `/api/live`.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum News {
    /// First message on every connection.
    Hello {
        /// The last change on disk.
        saved: Saved,
    },
    /// The plan changed.
    Changed {
        /// The change that is now on disk.
        saved: Saved,
        /// What was done.
        label: String,
        /// Items concerned.
        items: Vec<u32>,
    },
    /// A job moved on.
    Job {
        /// The job.
        job: Job,
    },
}

/// `POST /api/join`.
#[derive(Debug, Clone, Deserialize, TS)]
#[ts(export)]
#[serde(deny_unknown_fields)]
pub struct Join {
    /// The code on the planner's screen.
    pub code: String,
}

/// Answer to a join; the session itself is a cookie that scripts cannot read.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Joined {
    /// As whom this browser is in.
    pub role: Role,
}

/// `GET /api/lan`: how tablets get in; planner only.
#[derive(Debug, Clone, Serialize, TS)]
#[ts(export)]
pub struct Lan {
    /// False when the server listens on the loopback address alone.
    pub open: bool,
    /// Addresses to type in a tablet.
    pub addresses: Vec<String>,
    /// Code for the crew.
    pub crew_code: String,
    /// Code for another planner.
    pub planner_code: String,
    /// QR code as SVG: the first address with the page `join` and the crew's code after the sign #.
    pub qr: String,
}
