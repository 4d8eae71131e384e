//! What safety gaps that are still open do to the fall: pieces that are not there, and what may cross the opening.

use plan::Plan;

use crate::contacts::{Code, Shape, felled_across};
use crate::network::{Network, State};
use crate::touch_hold::Holds;
use crate::touch_standing::{Across, Built, openings, standing_pieces};

/// Safety gaps that are open.
#[derive(Debug, Clone, Default)]
pub(crate) struct Openings {
    /// For each piece whether it stands.
    stands: Vec<bool>,
    /// Hits across an opening: which state fells which; sorted.
    across: Vec<(State, State, Code)>,
}

impl Openings {
    pub(crate) fn of(plan: &Plan, network: &Network) -> Self {
        let built = Built { items: None, gaps_open: true };
        let passing = |a: Across| {
            let unsure = match a.holds {
                Holds::Surely => return None,
                Holds::Unsure => true,
                Holds::Not => false,
            };
            let shape = network.shape_of(a.from / 2)?;
            let shape = Shape { class: network.class_of(a.from)?, ..shape };
            Some((a.from, a.to, felled_across(shape, a.opening.clear, unsure)))
        };
        Self {
            stands: standing_pieces(plan, network, &built),
            across: openings(plan, network, &built).into_iter().filter_map(passing).collect(),
        }
    }

    pub(crate) fn is_absent(&self, piece: usize) -> bool {
        self.stands.get(piece) == Some(&false)
    }

    /// What a state fells across openings.
    pub(crate) fn across(&self, state: State) -> impl Iterator<Item = (State, Code)> + '_ {
        let from = self.across.partition_point(|a| a.0 < state);
        self.across[from..].iter().take_while(move |a| a.0 == state).map(|a| (a.1, a.2))
    }
}
