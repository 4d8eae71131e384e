//! The plan at one change, for all who look and none who wait.

use std::sync::Arc;

use plan::Plan;

use crate::label::Label;

/// The plan at one change. Cheap to hold: nobody who draws holds up somebody who changes.
#[derive(Debug, Clone, Default)]
pub struct Snapshot {
    /// The plan.
    pub plan: Arc<Plan>,
    /// Number of the last change on disk; 0 before the first.
    pub change: u64,
    /// When it came on disk, UTC in the form `2026-05-01T14:03:22Z`; empty before the first.
    pub at: String,
    /// What undo would take back.
    pub undo: Option<Label>,
    /// What redo would bring back.
    pub redo: Option<Label>,
    /// What the user must know about the file; empty when all is well.
    pub notes: Vec<String>,
    /// False when the file cannot be written.
    pub writable: bool,
    /// Name of the project file, without folders.
    pub file: String,
    /// The project's own number, 64 hex digits: the same for all copies of it, and for projects that began with the same plan in
    /// the same second.
    pub project: String,
}
