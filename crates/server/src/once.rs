//! Changes that came twice: a browser that heard no answer sends its change again under the same key, and it counts once.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use axum::http::{HeaderMap, StatusCode};

use crate::answer::Refusal;
use crate::wire::Done;
use sayings::{refusing, say};

/// The header that carries the key.
const HEADER: &str = "x-standfast-once";
/// Keys that are remembered: more than browsers send again after a connection was lost.
const KEYS: usize = 4_096;
/// Bytes of a key at the most.
const LONGEST: usize = 64;

/// The answer under one key, once there is one. It is locked while the change is made, so that its twin waits.
pub(crate) type Slot = Arc<Mutex<Option<Done>>>;

/// The last changes and their answers, for as long as the server runs.
#[derive(Debug, Default)]
pub(crate) struct Once {
    slots: Mutex<VecDeque<(String, Slot)>>,
}

impl Once {
    /// The slot of the key that a request carries; `None` without one.
    pub(crate) fn slot(&self, headers: &HeaderMap) -> Result<Option<Slot>, Refusal> {
        let Some(value) = headers.get(HEADER) else { return Ok(None) };
        let sign = |b: u8| b.is_ascii_alphanumeric() || b == b'-';
        let good = |key: &&str| !key.is_empty() && key.len() <= LONGEST && key.bytes().all(sign);
        let key = value.to_str().ok().filter(good).ok_or_else(|| {
            Refusal::new(
                StatusCode::BAD_REQUEST,
                "once",
                say!(refusing::ONCE, header = HEADER, most = LONGEST),
            )
        })?;
        let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, slot)) = slots.iter().find(|(known, _)| known == key) {
            return Ok(Some(slot.clone()));
        }
        if slots.len() >= KEYS {
            slots.pop_front();
        }
        let slot = Slot::default();
        slots.push_back((key.to_owned(), slot.clone()));
        Ok(Some(slot))
    }
}
