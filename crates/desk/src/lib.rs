//! The desk: what a planner does with a plan, whoever asks for it.
//!
//! Opening a project, applying and undoing changes, matching pictures to the stock, reports, sheets and
//! reading. Long work runs as jobs with progress and cancel. Everything derived is a pure function of the
//! plan at a change, so it is computed from a [`Snapshot`] and never holds up those who draw.

mod again;
mod arrange;
mod copied;
mod derived;
mod earlier;
mod error;
mod example;
mod feeding;
mod gaps;
mod jobs;
mod label;
mod matching;
mod measure;
mod mend;
mod odds;
mod office;
mod pace;
mod palette;
mod physics;
mod pictures;
mod report;
mod shift;
mod snapshot;
mod steps;
mod stock;
mod trial;
mod views;
mod ways_out;

pub use arrange::{Arrange, Arranged, Axis, Edge, arrange, step, take};
pub use copied::{Copied, CopiedId, copy_gone};
pub use derived::FoundAt;
pub use earlier::Earlier;
pub use error::{Back, DeskError};
pub use example::{Example, example_plan, example_step};
pub use feeding::{feed_steps, feed_ways};
pub use gaps::{Closed, Proposed};
pub use jobs::{JobId, JobKind, JobState, Jobs, StopFlag};
pub use label::Label;
pub use matching::{
    ExactAnswer, FreshPicture, Layout, MatchAsk, Outcome, Prepared, Proof, StageTime, prepare, run,
    stage_word,
};
pub use measure::{FieldMeasure, measure_field};
pub use odds::{Stop, Tried};
pub use office::{Author, Desk, Draft, News, Receipt, Request, VariantId, VariantState, today};
pub use pace::{Hours, hours_for, hours_to_place};
pub use physics::{FallAt, GapsAt, ReportAt, Scene, TouchAt, Woven};
pub use pictures::{AddedPicture, PictureBank, PictureSource, picture_limits};
pub use report::{Alike, Cost, alike, cost, findings};
pub use shift::{SectionStands, Shifted, items_of, laid_again, middle_of};
pub use snapshot::Snapshot;
pub use steps::{Older, StepList, StepRow, Steps};
pub use stock::{StockLine, StockSummary, stock_summary};
pub use store::{OnceKey, Verb, Weight};
pub use trial::{Trial, TryWhat};
pub use views::{View, draw_field, draw_source, draw_whole};
pub use ways_out::{Shortage, WayOut, stock_wanted, ways_out};
