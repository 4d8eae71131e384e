//! The rules for turned pieces: which corner fells its target, and what becomes of a turned target beside others.
//!
//! Which figures they look at was chosen with all measured runs in sight; from where on these count are [`Limits`].

use crate::faces::MOST_TURNED;

use super::body::Shape;
use super::limits::{Limit, Limits};
use super::rules::{Miss, Rules, USUAL, degrees};
use super::sweep::{Driven, Found};

/// From this turn on a target is steep: its near side slants by more than it faces the hitter.
const STEEP: u32 = degrees(54.5);
/// On a slick floor what is turned by this much or more is unsure beside an echelon: of its lanes 76 of 80 fell at 45°, 79 at
/// 40° (`edge_repeat.csv`, lanes 25 mm apart).
const ECHELON_TURNED: u32 = degrees(42.0);
/// Pieces of an echelon cover less than this of one another, mm.
const ECHELON_COVERED: f64 = 8.0;

impl Rules {
    /// A turned target needs its corner farther in the sweep. `Ok(true)` when it may stay up.
    pub(super) fn turned(&self, turned: u32, near: f64, gap: f64, covered: f64) -> Result<bool, Miss> {
        let l = &self.limits;
        let (least, sure) = poke(l, turned, self.is_slick());
        if covered < least {
            return Err(Miss::Beside);
        }
        // Square ones were blocks in 64 of 66 runs.
        if turned > degrees(82.0) {
            return Err(Miss::Turned);
        }
        // Beyond 60° a piece mostly stands; with a good hold on it, it fell in some runs.
        if turned > degrees(MOST_TURNED) {
            return if covered >= 1.9 { Ok(true) } else { Err(Miss::Turned) };
        }
        let steep = turned > degrees(45.5);
        // Steps of 45° pass at every gap below 30 mm, there some half turns failed; steps of 60° only at middle gaps and
        // on a floor that holds the feet.
        let wide = turned > degrees(36.5) && gap > l.at(Limit::Wide);
        // From 55° on only a corner that pokes into a sweep already well on its way down fell every time.
        let middle = (l.at(Limit::WholeFrom)..=l.at(Limit::WholeTo)).contains(&gap);
        let whole = covered > 16.0 && near < l.at(Limit::WholeNear) && middle;
        let end_on = turned > degrees(l.at(Limit::EndOn))
            && (covered > l.at(Limit::EndOnPoke) || near < l.at(Limit::EndOnNear))
            && !whole;
        let odd = steep && (self.is_slick() || end_on || near > l.at(Limit::SteepFar));
        Ok(covered < sure || wide || odd)
    }

    /// What becomes of a turned target beside others; `driven` tells how the hitter was hit itself, `carried` whether the
    /// target continues the line in which the hitter is turned, `line` is another one that does. `Ok(true)` when it may
    /// stay up.
    pub(super) fn settled(
        &self,
        hitter: Shape,
        f: &Found,
        (carried, line): (bool, Option<&Found>),
        driven: &[Driven],
        others: &[Found],
    ) -> Result<bool, Miss> {
        let l = &self.limits;
        let scale = USUAL / hitter.h;
        let (near, covered) = (f.met.near * scale, (f.met.to - f.met.from) * scale);
        // How much later the hitter meets another one that is not steep itself.
        let after = |o: &Found| {
            let other = o.id != f.id && o.turned < STEEP;
            (other && o.met.to - o.met.from > hitter.w / 10.0).then_some((o.met.near - f.met.near) * scale)
        };
        let stopped = |o: &Found| after(o).is_some_and(|a| a < l.at(Limit::Stopped));
        if f.turned > STEEP {
            // A hitter that comes to lie on its neighbour at the same time does not push a steep one over.
            let leans = |o: &Found| match after(o) {
                Some(a) if a < 0.0 => f.turned > degrees(l.at(Limit::Leans)),
                Some(a) => a < l.at(Limit::Stopped) && o.turned >= degrees(l.at(Limit::LeansOther)),
                None => false,
            };
            if near >= l.at(Limit::StoppedFrom) && others.iter().any(stopped) || others.iter().any(leans) {
                return Err(Miss::Turned);
            }
        }
        let twisted = |d: &Driven| d.turned > STEEP && d.covered * scale < l.at(Limit::CornerPoke);
        if driven.first().is_some_and(twisted) && f.turned >= degrees(l.at(Limit::CornerTurned)) {
            // A corner that hardly poked into the sweep twisted the hitter, which then passes by one that is turned on.
            return Err(Miss::Turned);
        }
        if carried {
            return Ok(self.may_leave_its_line(f, (near, scale), others));
        }
        if let Some(line) = line
            && f.turned >= degrees(8.0)
        {
            let tight = driven.first().is_some_and(|d| d.tight);
            return self.branches(f.turned, near, (line.met.near * scale, tight));
        }
        // Hit askew itself and hitting another with less than half its width, as backwards out of a branch.
        let askew = driven.iter().any(|d| (degrees(15.0)..degrees(36.0)).contains(&d.turned))
            && f.turned >= degrees(l.at(Limit::AskewTurned))
            && (covered < l.at(Limit::AskewCovered) || f.turned > STEEP);
        let far = f.turned >= degrees(l.at(Limit::FarTurned))
            && near >= l.at(Limit::FarNear)
            && others.iter().any(stopped);
        // One corner after another turns the pieces out of the fall, and so does a branch that comes back on them.
        let least = l.at(if self.is_slick() { Limit::CornersPokeSlick } else { Limit::CornersPoke });
        let corners = driven.iter().any(|d| match d.turned {
            t if t < degrees(8.0) => d.covered * scale < least,
            t => {
                let turned = (degrees(30.0)..degrees(48.0)).contains(&t);
                turned && d.covered * scale < l.at(Limit::CornersCovered)
            }
        });
        let corners = corners && f.turned < degrees(8.0) && covered < least;
        let echelon = |d: &Driven| d.turned < degrees(8.0) && d.covered * scale < ECHELON_COVERED;
        let echelon = self.is_slick() && f.turned >= ECHELON_TURNED && driven.iter().any(echelon);
        Ok(f.late || askew || far || corners || echelon)
    }

    /// Whether the piece that continues a line may stay up behind one that is turned in it.
    fn may_leave_its_line(&self, f: &Found, (near, scale): (f64, f64), others: &[Found]) -> bool {
        let l = &self.limits;
        // It wedges between one close before it and a steep one beside.
        let steep = |o: &Found| {
            let poke = (o.met.to - o.met.from) * scale;
            o.turned > STEEP && o.met.near * scale < 2.0 && (5.5..7.5).contains(&poke)
        };
        let wedged = near < l.at(Limit::Wedge) && others.iter().any(steep);
        let far = f.turned > degrees(l.at(Limit::CarriedTurned)) || near > l.at(Limit::CarriedFar);
        wedged || f.late && far
    }

    /// What becomes of a branch at distance `near` beside a line that goes on at distance `line`, out of a `tight` line or
    /// not; all mm. A tight line hits softly: the pieces turned in it came to lie on their line first.
    fn branches(&self, turned: u32, near: f64, (line, tight): (f64, bool)) -> Result<bool, Miss> {
        let l = &self.limits;
        let steep = turned >= degrees(l.at(Limit::TightSteep))
            && near >= l.at(Limit::TightSteepNear)
            && line < l.at(Limit::TightSteepLine);
        let far = turned >= degrees(l.at(Limit::TightFar))
            && near >= l.at(Limit::TightFarNear)
            && near > line - l.at(Limit::TightFarLead);
        if tight && (steep || far) {
            return Err(Miss::Turned);
        }
        // A branch falls surely when it is hit before the line and is not steep.
        let most = l.at(if self.is_slick() { Limit::BranchTurnedSlick } else { Limit::BranchTurned });
        Ok(near >= line || near > l.at(Limit::BranchNear) || turned > degrees(most))
    }

    /// Whether a piece surely stays up, or may, behind a square one that stands in its line and pokes into it so far, mm.
    /// Such lines stopped in 43 of 66 runs; across narrow gaps nearly always, and where the square one pokes in by little.
    pub(super) fn blocked(&self, hitter: Shape, near: f64, poke: f64) -> Result<bool, Miss> {
        let l = &self.limits;
        let (near, poke) = (near * USUAL / hitter.h, poke * USUAL / hitter.h);
        let least = match (self.is_slick(), near < l.at(Limit::BlockedNear)) {
            (false, true) => f64::INFINITY,
            (true, _) => l.at(Limit::BlockedPokeSlick),
            (false, false) => l.at(Limit::BlockedPoke),
        };
        if near > 18.0 && poke < least { Err(Miss::Blocked) } else { Ok(true) }
    }

    /// Whether a target that is hit beside something nearer may stay up: the hitter already leans when it gets there.
    /// Steps of a turn that follow at once were felled, those farther or turned by more not always.
    pub(super) fn is_late(&self, hitter: Shape, turned: u32, near: f64) -> bool {
        let near = near * USUAL / hitter.h;
        let late = near >= self.limits.at(Limit::LateNear)
            || turned >= degrees(self.limits.at(Limit::LateTurned))
            || self.is_slick();
        turned >= degrees(8.0) && late
    }
}

/// How far the corner of a target turned so far must poke into the sweep, mm: from where it may fall, from where it
/// surely does. Square targets were felled down to 0.25 mm by exact lines, and by others about half the time.
fn poke(l: &Limits, turned: u32, slick: bool) -> (f64, f64) {
    const KNOTS: [u32; 4] = [0, degrees(15.0), degrees(31.0), degrees(46.0)];
    if turned > KNOTS[3] {
        return (l.at(Limit::PokeSteep), l.at(Limit::SureSteep));
    }
    let least = [0.1, l.at(Limit::Poke15), l.at(Limit::Poke31), l.at(Limit::Poke31)];
    let sure = if slick {
        [0.75, l.at(Limit::SureSlick15), l.at(Limit::SureSlick31), l.at(Limit::SureSlick46)]
    } else {
        [0.75, l.at(Limit::Sure15), l.at(Limit::Sure31), l.at(Limit::Sure31)]
    };
    let i = KNOTS.partition_point(|t| *t <= turned).clamp(1, KNOTS.len() - 1);
    let x = f64::from(turned - KNOTS[i - 1]) / f64::from(KNOTS[i] - KNOTS[i - 1]);
    let between = |v: [f64; 4]| v[i - 1] + (v[i] - v[i - 1]) * x;
    (between(least), between(sure))
}
