//! A line that splits in two, one of which goes straight on while the other bends away: whether what flies out of the bend
//! stops the straight one.

use crate::dice::scattered;
use crate::engine::{Fineness, Spot, fell};

/// Pieces of the line before it splits, and of each branch.
const TRUNK: usize = 12;
const BRANCH: usize = 36;

/// What was run: clear gap, radius and middle to middle of the first pieces of both branches in mm, turn in degrees, friction
/// of pieces and floor alike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case {
    pub(crate) gap: f64,
    pub(crate) radius: f64,
    pub(crate) turn: f64,
    pub(crate) apart: f64,
    pub(crate) mu: f64,
}

/// Of so many runs, those in which the straight branch fell whole and those in which the bent one did.
pub(crate) fn fell_whole(case: &Case, runs: u64) -> (u32, u32) {
    let exact = spots(case);
    let whole = |fallen: &[bool]| u32::from(fallen.iter().all(|f| *f));
    (1..=runs).fold((0, 0), |(straight, bent), run| {
        let fallen = fell(&scattered(&exact, run), case.mu, 9.0, &Fineness::USUAL);
        let (a, b) = fallen[TRUNK..].split_at(BRANCH);
        (straight + whole(a), bent + whole(b))
    })
}

/// The line eastwards, the branch that goes on to the east north of its axis, the one that bends to the south.
fn spots(case: &Case) -> Vec<Spot> {
    let pitch = case.gap + 7.5;
    let at = |i: usize| (i + 1) as f64 * pitch;
    let mut out: Vec<Spot> = (0..TRUNK).rev().map(|i| Spot { x: -(i as f64) * pitch, y: 0.0, yaw: 0.0 }).collect();
    out.extend((0..BRANCH).map(|i| Spot { x: at(i), y: case.apart / 2.0, yaw: 0.0 }));
    let end = case.turn.to_radians();
    let arc = case.radius * end;
    out.extend((0..BRANCH).map(|i| {
        // The bend begins where the first piece stands.
        let s = at(i) - pitch;
        let by = (s / case.radius).min(end);
        let on = (s - arc).max(0.0);
        Spot {
            x: pitch + case.radius * by.sin() + on * by.cos(),
            y: -case.apart / 2.0 - case.radius * (1.0 - by.cos()) - on * by.sin(),
            yaw: -by,
        }
    }));
    out
}
