//! Changes that came twice: a browser that heard no answer sends its change again under the same key, and it counts once.
//!
//! The key stands beside the change in the project file, so that this holds after a restart too. What is kept here is
//! the answer with everything in it, and that two at the same moment wait for each other.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use axum::http::{HeaderMap, StatusCode};
use desk::OnceKey;

use crate::answer::Refusal;
use crate::wire::Done;
use sayings::{refusing, say};

/// The header that carries the key.
const HEADER: &str = "x-standfast-once";
/// Answers that are remembered.
const KEYS: usize = 4_096;

/// The answer under one key, once there is one. It is locked while the change is made, so that its twin waits.
pub(crate) type Slot = Arc<Mutex<Option<Done>>>;

/// The last changes and their answers, for as long as the server runs.
#[derive(Debug, Default)]
pub(crate) struct Once {
    slots: Mutex<VecDeque<(OnceKey, Slot)>>,
}

impl Once {
    /// The key that a request carries, and its slot; `None` without one.
    pub(crate) fn slot(&self, headers: &HeaderMap) -> Result<Option<(OnceKey, Slot)>, Refusal> {
        let Some(value) = headers.get(HEADER) else { return Ok(None) };
        let key = value.to_str().ok().and_then(OnceKey::new).ok_or_else(|| {
            Refusal::new(
                StatusCode::BAD_REQUEST,
                "once",
                say!(refusing::ONCE, header = HEADER, most = OnceKey::LONGEST),
            )
        })?;
        let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, slot)) = slots.iter().find(|(known, _)| *known == key) {
            let slot = slot.clone();
            return Ok(Some((key, slot)));
        }
        if slots.len() >= KEYS {
            slots.pop_front();
        }
        let slot = Slot::default();
        slots.push_back((key.clone(), slot.clone()));
        Ok(Some((key, slot)))
    }
}
