//! What travels between the browser and the server. Converted by hand from and to the plan's own types,
//! so that neither side's inner shape leaks into the other.
//!
//! Lengths are millimetres, angles degrees, times seconds, hours as such. Numbers are below 2^53.
//!
//! Every POST and DELETE carries the header `X-Standfast: 1`, and JSON bodies say `application/json`.
//! They may carry `X-Standfast-Plan` with the plan's own number, [`State::project`]: what is meant for another plan is
//! refused with 409.
//! `POST /api/pictures` takes the file as it is, with its name in `X-File-Name`, percent-encoded as UTF-8;
//! `POST /api/pictures/kept` does so too and leaves the plan as it is, for the change that then shows the picture.
//! The socket sends [`News`] as text and needs no message from the browser; one that falls behind is closed,
//! and the [`News::Hello`] of its next connection tells whether the state must be fetched anew.

mod arrange;
mod cells;
mod change;
mod door;
mod draft;
mod feed;
mod hall;
mod job;
mod paper;
mod said;
mod section;
mod state;
mod stock;
mod taped;
mod timed;
mod trial;

pub use arrange::{ArrangeHow, AxisOf, EdgeOf, PartDraft, PartIs, SurfaceIs};
pub use cells::{DrawnWith, StrokeDraft};
pub use change::{
    Change, CopyAsk, CopyKept, Did, Done, ForgetAsk, FreshPicture, MendAsk, PictureAdded, PictureKept,
    StepRow, Steps, StepsWeight, Trouble,
};
pub use door::{Join, Joined, Lan, News};
pub use draft::{
    BodyDraft, BridgeDraft, BuiltDraft, CameraDraft, Course, DimensionDraft, Enter, FeedDraft, FieldDraft,
    FillDraft, FillingDraft, Fit, Flow, GapDraft, ItemDraft, LegDraft, LineDraft, LinkDraft, NeedDraft,
    NoteDraft, PatternDraft, Placed, PlaceholderDraft, PortDraft, Side, SpacedBy, SpacingDraft, StartDraft,
    StopperDraft, StretchDraft, WayDraft,
};
pub use feed::{FeedMeans, FeedWayRow, FeedWays, FeedWorks};
pub use hall::{
    ArrivalRow, Block, Doubt, FallReport, GapRow, GapState, GapStates, GripRow, HallPartRow, HallRow, Holds,
    KindRow, PassRow, PieceInfo, PieceName, PortRow, StandsRow, UnsureRow, Why,
};
pub use job::{
    ClosingRow, FallOdds, GapsAsk, Job, JobKind, MatchAsk, OddsAsk, ProposedGap, ProposedGaps, StopRow,
    Variant,
};
pub use paper::{Call, ReadLane, ReadPlan, ReadUnit, SheetsInfo};
pub use said::{GivenArg, GivenUnit, SaidArg, SaidRow};
pub use section::{MarkOff, MovedRow, SectionMove, SectionStands, SectionTried};
pub use state::{
    BodyRow, ColourRow, Cost, Fall, FieldRow, FindingRow, FindingSaid, Findings, Goal, ItemRow, PictureRow,
    Role, Saved, SectionRow, SeenAs, Severity, State, SurfaceRow, Wish,
};
pub use stock::{AlikeRow, GearDraft, GearRow, GearWhat, LotRow, StockReport, StockRow, WayOut};
pub use taped::{MarkFit, MarkRow, TapeFit, TapeIs, TapeRow, TapedHall};
pub use timed::{TimedFit, TimedHall, TimedIs, TimedRow};
pub use trial::{RefusedRow, RefusedSaid, Tried, TriedRow, Try};
