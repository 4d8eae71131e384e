//! Counts connections, in all and per address, and keeps some for the planner's own machine.

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};

use crate::limits::Limits;

/// The connections that are open.
#[derive(Debug)]
pub(crate) struct Crowd {
    most: usize,
    kept: usize,
    per_address: usize,
    counts: Mutex<HashMap<IpAddr, usize>>,
}

/// A place in the crowd, given back when dropped.
#[derive(Debug)]
pub(crate) struct Ticket {
    crowd: Arc<Crowd>,
    from: IpAddr,
}

impl Crowd {
    /// Nobody yet.
    pub(crate) fn new(limits: &Limits) -> Arc<Self> {
        Arc::new(Crowd {
            most: limits.connections,
            kept: limits.kept_for_loopback,
            per_address: limits.per_address,
            counts: Mutex::default(),
        })
    }

    /// A place for one more connection, or none when there is none left.
    pub(crate) fn enter(self: &Arc<Self>, from: IpAddr) -> Option<Ticket> {
        let mut counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        let all: usize = counts.values().sum();
        let most = if from.is_loopback() { self.most } else { self.most.saturating_sub(self.kept) };
        let own = counts.get(&from).copied().unwrap_or(0);
        if all >= most || own >= self.per_address {
            return None;
        }
        counts.insert(from, own + 1);
        Some(Ticket { crowd: self.clone(), from })
    }
}

impl Drop for Ticket {
    fn drop(&mut self) {
        let mut counts = self.crowd.counts.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = counts.get_mut(&self.from) {
            *count -= 1;
            if *count == 0 {
                counts.remove(&self.from);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crowd_never_takes_the_places_of_the_planner() {
        let limits = Limits { connections: 8, kept_for_loopback: 2, per_address: 4, ..Limits::default() };
        let crowd = Crowd::new(&limits);
        let tablet = |n: u8| IpAddr::from([192, 168, 0, n]);
        let mut tickets: Vec<_> = (0..4).map(|_| crowd.enter(tablet(1)).expect("room")).collect();
        assert!(crowd.enter(tablet(1)).is_none(), "one address took more than its share");
        tickets.extend((0..2).map(|_| crowd.enter(tablet(2)).expect("room")));
        assert!(crowd.enter(tablet(3)).is_none(), "the places kept for the planner were taken");
        tickets.push(crowd.enter(IpAddr::from([127, 0, 0, 1])).expect("kept"));
        drop(tickets);
        assert!(crowd.counts.lock().unwrap().is_empty());
        assert!(crowd.enter(tablet(3)).is_some());
    }
}
