//! A refusal of the gate: what was offered, where, why it cannot be taken, and what to do next.

use std::fmt;

use sayings::{Arg, Said, gate, say};

/// Why a command was refused. The plan is as it was before.
///
/// It displays as English: "field Mill, pitch along: 3 mm has no room for a piece, …. Use at least 7.5 mm."
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal(Box<Parts>);

#[derive(Debug, Clone, PartialEq, Eq)]
struct Parts {
    place: Arg,
    value: Arg,
    problem: Said,
    next: Said,
}

impl Refusal {
    /// A refusal from its four parts.
    pub fn new(place: impl Into<Arg>, value: impl Into<Arg>, problem: Said, next: Said) -> Self {
        Self(Box::new(Parts { place: place.into(), value: value.into(), problem, next }))
    }

    /// Where in the plan: "field Mill, pitch along".
    pub fn place(&self) -> &Arg {
        &self.0.place
    }

    /// The value that was offered, quoted or with its unit.
    pub fn value(&self) -> &Arg {
        &self.0.value
    }

    /// What is wrong with it, as the rest of a sentence: "is thinner than a piece".
    pub fn problem(&self) -> &Said {
        &self.0.problem
    }

    /// What to do next, a whole sentence.
    pub fn next(&self) -> &Said {
        &self.0.next
    }

    /// All of it.
    pub fn said(&self) -> Said {
        let Parts { place, value, problem, next } = &*self.0;
        say!(
            gate::REFUSED,
            place = place.clone(),
            value = value.clone(),
            problem = problem.clone(),
            next = next.clone()
        )
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.said().fmt(f)
    }
}

impl std::error::Error for Refusal {}
