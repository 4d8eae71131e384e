//! HTTP and WebSocket for the workbench and the tablets: the only crate that knows both.

pub mod wire;

mod answer;
mod app;
mod ask;
mod convert;
mod door;
mod handlers;
mod kept;
mod limits;
mod live;
mod network;
mod once;
mod paced;
mod pages;
mod routes;
mod serve;

pub use limits::Limits;
pub use routes::{Access, RouteRow, Verb, routes};
pub use serve::{Ready, ServeOptions, serve, until_interrupted};
