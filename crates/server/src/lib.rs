//! HTTP and WebSocket for the workbench and the tablets: the only crate that knows both.

pub mod wire;
