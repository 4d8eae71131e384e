//! The text plan.
