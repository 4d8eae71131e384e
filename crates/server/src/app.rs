//! What every request can reach.

use std::sync::Arc;

use tokio::sync::Semaphore;

use crate::door::Door;
use crate::limits::Limits;
use crate::live::Hub;
use crate::network::Network;

/// The running server's state.
#[derive(Debug)]
pub(crate) struct App {
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
}

impl App {
    /// A server's state around a door.
    pub(crate) fn new(door: Door, network: Network, limits: Limits) -> Arc<Self> {
        Arc::new(App {
            door,
            hub: Hub::new(&limits),
            network,
            at_work: Semaphore::new(limits.at_work),
            uploads: Semaphore::new(limits.uploads),
            limits,
        })
    }

    /// The first message to a listener.
    pub(crate) fn hello(&self) -> String {
        String::new()
    }
}
