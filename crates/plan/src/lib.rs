//! The plan: the one document that everything else is computed from.
//!
//! A plan holds the hall, the stock, the pictures and the items. Every change is a [`Command`], plain data
//! with ids, and applying it yields its inverse. One gate ([`Plan::apply`]) refuses invalid input
//! with the place, the value and the next step; it either applies a command whole or leaves the plan as it was.
//! The plan never depends on how it is drawn, stored or sent. A bad *design* is not refused: it is a finding.

mod cells;
mod command;
mod document;
mod feed;
mod field;
mod fill;
mod gate;
mod hall;
mod ids;
mod item;
mod line;
mod moved;
mod place;
mod refusal;
mod scene;
mod sign;
mod stock;
mod trigger;

pub use cells::{CellMask, Cells, EMPTY};
pub use command::{Applied, CellChange, Command, Touched, Which};
pub use document::Plan;
pub use feed::{Enter, Feed, FeedWay};
pub use field::{
    Crop, Eye, Field, FieldFrame, LaneCourse, MatchGoal, MatchWish, PictureFit, PictureUse, SeenAs,
};
pub use fill::{Fill, Filling};
pub use gate::{MAX_CELLS, MAX_COLOURS, MAX_ID, MAX_ITEMS, MAX_NAME, MAX_NOTE, REACH_MM, look_alike};
pub use hall::{Grip, Hall, HallPart, HallPartKind, Mark, Tape, TimedLine};
pub use ids::{ColourId, GearId, GroupId, ItemId, KindId, LotId, PictureId, SectionId, SurfaceId};
pub use item::{AsBuilt, Body, Delay, Item, Need, Placeholder, Port, PortFlow};
pub use line::{Bridge, Hand, Leg, Line, Link, Pattern, Placing, Spacing, Stretch};
pub use moved::Mirror;
pub use refusal::Refusal;
pub use scene::{Picture, Section, Slope, Surface, SurfaceKind};
pub use sign::{Camera, Dimension, Note};
pub use stock::{Colour, Finish, Gear, GearKind, Kind, Lot, Rgb, Stock};
pub use trigger::{SafetyGap, Start, Stopper};
