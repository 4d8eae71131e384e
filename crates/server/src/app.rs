//! What every request can reach.

use std::sync::Arc;

use axum::http::{HeaderMap, StatusCode};
use desk::{Desk, News};
use sayings::{refusing, say};
use sheets::{Document, ReadUnit};
use tokio::sync::Semaphore;

use crate::answer::Refusal;
use crate::convert::{matching, saved, saved_now};
use crate::door::Door;
use crate::kept::Kept;
use crate::limits::Limits;
use crate::live::Hub;
use crate::network::Network;
use crate::once::Once;
use crate::wire;

/// The header that names the plan for which a request is meant.
const PLAN: &str = "x-standfast-plan";
/// Sets of sheets that are kept while somebody leafs through them.
const SHEETS: usize = 3;
/// Readings that are kept while crews read: each field from a few sides.
const READINGS: usize = 24;

/// The running server's state.
pub(crate) struct App {
    /// The open project.
    pub(crate) desk: Arc<Desk>,
    /// Who may come in.
    pub(crate) door: Door,
    /// Who listens.
    pub(crate) hub: Arc<Hub>,
    /// How tablets get in.
    pub(crate) network: Network,
    /// What is taken at most.
    pub(crate) limits: Limits,
    /// Requests that the desk works on.
    pub(crate) at_work: Semaphore,
    /// Large files on their way in.
    pub(crate) uploads: Semaphore,
    /// Changes that may come twice.
    pub(crate) once: Once,
    /// Sets of sheets.
    pub(crate) sheets: Kept<Document>,
    /// Fields in the order of calling.
    pub(crate) readings: Kept<Vec<ReadUnit>>,
}

impl App {
    /// A server's state around a desk and a door; what the desk has to tell goes to the listeners from now on.
    pub(crate) fn new(desk: Arc<Desk>, door: Door, network: Network, limits: Limits) -> Arc<Self> {
        let hub = Hub::new(&limits);
        let (told, speaker) = (hub.clone(), Arc::downgrade(&desk));
        desk.listen(move |news| {
            let Some(desk) = speaker.upgrade() else { return };
            let (news, planners_only) = match news {
                News::Changed(receipt) => (changed(receipt), false),
                News::Job(state) => (wire::News::Job { job: Box::new(matching::job(&desk, state)) }, true),
            };
            if let Ok(text) = serde_json::to_string(&news) {
                told.push(text, planners_only);
            }
        });
        Arc::new(App {
            desk,
            door,
            hub,
            network,
            at_work: Semaphore::new(limits.at_work),
            uploads: Semaphore::new(limits.uploads),
            limits,
            once: Once::default(),
            sheets: Kept::new(SHEETS),
            readings: Kept::new(READINGS),
        })
    }

    /// Refuses what is meant for another plan than the one that is open: a page that stayed open while the program started
    /// anew with another file names the plan that it shows.
    pub(crate) fn is_meant(&self, headers: &HeaderMap) -> Result<(), Refusal> {
        match headers.get(PLAN) {
            Some(named) if named.as_bytes() != self.desk.snapshot().project.as_bytes() => {
                Err(Refusal::new(StatusCode::CONFLICT, "other-plan", say!(refusing::OTHER_PLAN)))
            }
            _ => Ok(()),
        }
    }

    /// The first message to a listener.
    pub(crate) fn hello(&self) -> String {
        let hello = wire::News::Hello { saved: saved(&self.desk.snapshot()) };
        serde_json::to_string(&hello).unwrap_or_default()
    }
}

fn changed(receipt: &desk::Receipt) -> wire::News {
    wire::News::Changed {
        saved: saved_now(receipt),
        label: receipt.label.words().to_owned(),
        items: receipt.touched.items.iter().map(|item| item.0).collect(),
    }
}
