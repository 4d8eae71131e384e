//! The limits of the rules for turned pieces: from which overlap, turn or distance on a hit is sure, unsure or none.
//!
//! All come from the runs in `tests/data/transfers` and none from a law: what a corner does to a turned piece was measured
//! only. `tests/transfers/fit.rs` fits them to one half of the runs and asks the other half.

/// One limit. Lengths are for the usual piece and scale with the height of the one that hits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// A target turned by 15° may fall from this overlap on, mm; shipped as 0.5.
    Poke15,
    /// The same at 31° and up to 46°, mm; shipped as 0.9.
    Poke31,
    /// The same beyond 46°, mm; shipped as 1.4.
    PokeSteep,
    /// A target turned by 15° surely falls from this overlap on where the floor grips, mm; shipped as 0.9.
    Sure15,
    /// The same at 31° and up to 46°, mm; shipped as 4.1.
    Sure31,
    /// The same at 15° on a slick floor, mm; shipped as 1.9.
    SureSlick15,
    /// The same at 31° on a slick floor, mm; shipped as 4.3.
    SureSlick31,
    /// The same at 46° on a slick floor, mm; shipped as 5.9.
    SureSlick46,
    /// The same beyond 46° on any floor, mm; shipped as 5.9.
    SureSteep,
    /// Wider gaps are unsure for what is turned by more than 36.5°, mm; shipped as 28.
    Wide,
    /// From 55° on a whole face is felled surely from this gap on, mm; shipped as 11.
    WholeFrom,
    /// The same, up to this gap, mm; shipped as 24.
    WholeTo,
    /// The same, when the nearest corner is nearer than this, mm; shipped as 7.
    WholeNear,
    /// From this turn on only some hits are sure, degrees; shipped as 55.5.
    EndOn,
    /// Beyond that turn a corner that pokes in farther is unsure, mm; shipped as 6.9.
    EndOnPoke,
    /// Beyond that turn a corner that is nearer is unsure, mm; shipped as 7.
    EndOnNear,
    /// A steep target farther than this is unsure, mm; shipped as 26.
    SteepFar,
    /// A hitter that meets another target within this way after one is stopped by it, mm; shipped as 7.
    Stopped,
    /// A steep target at this distance or more stands when its hitter is stopped, mm; shipped as 12.
    StoppedFrom,
    /// Beside a nearer target one that is turned more stands, degrees; shipped as 65.
    Leans,
    /// The same beside one hit at the same time that is itself turned by this much, degrees; shipped as 19.5.
    LeansOther,
    /// A hitter that was hit by less than this corner is twisted, mm; shipped as 3.
    CornerPoke,
    /// What is turned by this much or more stands before such a twisted hitter, degrees; shipped as 15.
    CornerTurned,
    /// A target nearer than this is unsure beside a steep one, mm; shipped as 0.75.
    Wedge,
    /// A late target in the line that goes on is unsure beyond this turn, degrees; shipped as 52.
    CarriedTurned,
    /// A late target in the line that goes on is unsure beyond this distance, mm; shipped as 10.
    CarriedFar,
    /// Beside a line that goes on, out of a tight line, a target turned by this much stands, degrees; shipped as 39.
    TightSteep,
    /// The same from this distance on, mm; shipped as 1.7.
    TightSteepNear,
    /// The same where the line's next piece is nearer than this, mm; shipped as 9.
    TightSteepLine,
    /// The same for a farther target, turned by this much, degrees; shipped as 28.
    TightFar,
    /// The same from this distance on, mm; shipped as 5.2.
    TightFarNear,
    /// The same where it is nearer than the line's next piece by less than this, mm; shipped as 0.2.
    TightFarLead,
    /// A branch turned by more than this is unsure where the floor grips, degrees; shipped as 29.
    BranchTurned,
    /// The same on a slick floor, degrees; shipped as 25.
    BranchTurnedSlick,
    /// A branch farther than this is unsure, mm; shipped as 5.2.
    BranchNear,
    /// What is turned by this much or more is unsure before a hitter hit askew itself, degrees; shipped as 28.
    AskewTurned,
    /// The same where less than this is covered, mm; shipped as 17.
    AskewCovered,
    /// What is turned by this much or more is unsure behind one that stops the hitter, degrees; shipped as 44.
    FarTurned,
    /// The same from this distance on, mm; shipped as 8.
    FarNear,
    /// One corner after another is unsure below this overlap where the floor grips, mm; shipped as 1.1.
    CornersPoke,
    /// The same on a slick floor, mm; shipped as 3.
    CornersPokeSlick,
    /// A hitter turned by 30 to 48° counts as hit at a corner below this overlap, mm; shipped as 20.
    CornersCovered,
    /// A target beside the one that carries the line on is late from this distance on, mm; shipped as 5.
    LateNear,
    /// Or when it is turned by this much, degrees; shipped as 37.
    LateTurned,
    /// Faces that overlap by two thirds at most are unsure below this gap, mm; shipped as 0.4.
    JamsBelow,
    /// Behind a square piece in a wide gap a piece may fall from this overlap of the square one on where the floor grips, mm; shipped as 3.
    BlockedPoke,
    /// The same on a slick floor, mm; shipped as 7.
    BlockedPokeSlick,
    /// The same, where it is farther than this; nearer, it stands where the floor grips, mm; shipped as 27.5.
    BlockedNear,
}

impl Limit {
    /// All of them with what this program takes, in order.
    pub const ALL: [(Self, f64); 48] = [
        (Self::Poke15, 0.5),
        (Self::Poke31, 0.9),
        (Self::PokeSteep, 1.4),
        (Self::Sure15, 0.9),
        (Self::Sure31, 4.1),
        (Self::SureSlick15, 1.9),
        (Self::SureSlick31, 4.3),
        (Self::SureSlick46, 5.9),
        (Self::SureSteep, 5.9),
        (Self::Wide, 28.0),
        (Self::WholeFrom, 11.0),
        (Self::WholeTo, 24.0),
        (Self::WholeNear, 7.0),
        (Self::EndOn, 55.5),
        (Self::EndOnPoke, 6.9),
        (Self::EndOnNear, 7.0),
        (Self::SteepFar, 26.0),
        (Self::Stopped, 7.0),
        (Self::StoppedFrom, 12.0),
        (Self::Leans, 65.0),
        (Self::LeansOther, 19.5),
        (Self::CornerPoke, 3.0),
        (Self::CornerTurned, 15.0),
        (Self::Wedge, 0.75),
        (Self::CarriedTurned, 52.0),
        (Self::CarriedFar, 10.0),
        (Self::TightSteep, 39.0),
        (Self::TightSteepNear, 1.7),
        (Self::TightSteepLine, 9.0),
        (Self::TightFar, 28.0),
        (Self::TightFarNear, 5.2),
        (Self::TightFarLead, 0.2),
        (Self::BranchTurned, 29.0),
        (Self::BranchTurnedSlick, 25.0),
        (Self::BranchNear, 5.2),
        (Self::AskewTurned, 28.0),
        (Self::AskewCovered, 17.0),
        (Self::FarTurned, 44.0),
        (Self::FarNear, 8.0),
        (Self::CornersPoke, 1.1),
        (Self::CornersPokeSlick, 3.0),
        (Self::CornersCovered, 20.0),
        (Self::LateNear, 5.0),
        (Self::LateTurned, 37.0),
        (Self::JamsBelow, 0.4),
        (Self::BlockedPoke, 3.0),
        (Self::BlockedPokeSlick, 7.0),
        (Self::BlockedNear, 27.5),
    ];
}

/// A value for each limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits([f64; Limit::ALL.len()]);

impl Default for Limits {
    fn default() -> Self {
        Self(Limit::ALL.map(|l| l.1))
    }
}

impl Limits {
    /// The value of one.
    pub fn at(&self, limit: Limit) -> f64 {
        self.0[limit as usize]
    }

    /// The same with another value for one.
    #[must_use]
    pub fn with(mut self, limit: Limit, value: f64) -> Self {
        self.0[limit as usize] = value;
        self
    }
}
