//! A refusal of the gate: what was offered, where, why it cannot be taken, and what to do next.

/// Why a command was refused. The plan is as it was before.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {value} {problem}. {next}")]
pub struct Refusal {
    /// Where in the plan: "field Mill, pitch along".
    pub place: String,
    /// The value that was offered, quoted or with its unit.
    pub value: String,
    /// What is wrong with it, as the rest of a sentence: "is thinner than a piece".
    pub problem: String,
    /// What to do next, a whole sentence.
    pub next: String,
}

impl Refusal {
    /// A refusal from its four parts.
    pub fn new(
        place: impl Into<String>,
        value: impl ToString,
        problem: impl Into<String>,
        next: impl Into<String>,
    ) -> Self {
        Self { place: place.into(), value: value.to_string(), problem: problem.into(), next: next.into() }
    }
}
