//! What safety gaps that are still open do to the fall: pieces that are not there, and what may cross the opening.

use std::collections::BTreeMap;

use plan::Plan;

use crate::contacts::{Code, felled_across};
use crate::network::{Network, State};

/// Safety gaps that are open.
#[derive(Debug, Clone, Default)]
pub(crate) struct Openings {
    /// One bit for each piece that is left out.
    absent: Vec<u64>,
    /// Hits across an opening.
    across: BTreeMap<State, (State, Code)>,
}

impl Openings {
    pub(crate) fn of(plan: &Plan, network: &Network) -> Self {
        let mut open = Self { absent: vec![0; (network.pieces() as usize).div_ceil(64)], ..Self::default() };
        for knot in &network.knots {
            let gaps = plan.item(knot.item).map_or(&[][..], |i| &i.gaps[..]);
            if gaps.is_empty() {
                continue;
            }
            let first = network.index().first(knot.item).unwrap_or(0);
            let p = &knot.pieces;
            let out = |i: usize| gaps.iter().find(|g| g.leaves_out(p.rank[i]));
            // The last piece before an opening, and whether a stopper stands in it.
            let mut before: Option<(usize, bool)> = None;
            for i in 0..p.len() {
                if let Some(gap) = out(i) {
                    let bit = first as usize + i;
                    open.absent[bit / 64] |= 1 << (bit % 64);
                    before = before.map(|(b, stop)| (b, stop || gap.stopper));
                    continue;
                }
                if let Some((b, stopper)) = before
                    && p.lane[b] == p.lane[i]
                    && i - b > 1
                    && !stopper
                {
                    open.cross(network, p, first, (b, i));
                }
                before = Some((i, false));
            }
        }
        open
    }

    fn cross(&mut self, network: &Network, p: &placement::Pieces, first: u32, (a, b): (usize, usize)) {
        let shape = network.shapes.get(network.shapes.index(p.kind[a], p.pose[a]));
        let (dx, dy) = (p.x[b] - p.x[a], p.y[b] - p.y[a]);
        let opening = (dx * dx + dy * dy).sqrt() - shape.d;
        let Some(code) = felled_across(shape, opening, network.rules) else { return };
        let (s, t) = (2 * (first + a as u32), 2 * (first + b as u32));
        // Of a lane that falls the other way, its later rank comes first.
        let heading = f64::from(p.yaw[a]);
        let ahead = dx * units::maths::cos(heading) + dy * units::maths::sin(heading) >= 0.0;
        let (s, t) = if ahead { (s, t) } else { (t, s) };
        self.across.insert(s, (t, code));
        self.across.insert(t + 1, (s + 1, code));
    }

    pub(crate) fn is_absent(&self, piece: usize) -> bool {
        self.absent.get(piece / 64).is_some_and(|w| w >> (piece % 64) & 1 == 1)
    }

    pub(crate) fn across(&self, state: State) -> Option<(State, Code)> {
        self.across.get(&state).copied()
    }
}
