//! The last few results of something that is asked for in parts.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// Results by the words that they were asked with, oldest first to go.
#[derive(Debug)]
pub(crate) struct Kept<T> {
    most: usize,
    all: Mutex<VecDeque<(String, Arc<T>)>>,
}

impl<T> Kept<T> {
    /// Keeps so many results.
    pub(crate) fn new(most: usize) -> Self {
        Kept { most, all: Mutex::default() }
    }

    /// The kept result for a key, or a new one. Others are not held up while it is made.
    pub(crate) fn get_or_make<E>(
        &self,
        key: String,
        make: impl FnOnce() -> Result<T, E>,
    ) -> Result<Arc<T>, E> {
        let lock = || self.all.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, known)) = lock().iter().find(|(own, _)| *own == key) {
            return Ok(known.clone());
        }
        let made = Arc::new(make()?);
        let mut all = lock();
        all.push_back((key, made.clone()));
        while all.len() > self.most {
            all.pop_front();
        }
        Ok(made)
    }
}
