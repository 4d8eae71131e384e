//! Clear gaps outside the band in which lines were measured to run.

use plan::{Body, Command, Item, Placing, Plan, Spacing};
use sayings::{found, say};
use units::Length;

use crate::finding::{Finding, Place, Severity, about, mm, nth};
use crate::lanes::{Step, laid, scale, steps};
use crate::shape::Shape;

/// The narrowest clear gap that ran without a stop, for usual pieces, mm. Comb: 0 stops in 6 000 pieces each at 5 to
/// 9 mm with a scatter of 0.5 mm and 1°. By hand: 0 stops in 48 000 pieces at 7.5 mm with 1.5 mm and 3°, while at 6 mm
/// one in 190 stopped with twice that scatter (own runs of a rigid-body model, 2026).
const LEAST: [f64; 2] = [5.0, 7.5];
/// The widest clear gap; above 40 mm feet slide back on a floor of friction 0.3 and less (same runs).
const MOST: f64 = 36.0;
/// Rounding of positions, not a design.
const SLACK_MM: f64 = 0.05;

/// What is outside the band, in one run of a line.
#[derive(Debug, Clone, Copy)]
struct Run {
    below: bool,
    count: u64,
    worst: Step,
    first: usize,
    last: usize,
}

/// One finding for each run of a line whose gaps are too narrow, and one where they are too wide, with the worst gap.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let Some(laid) = laid(item) else { return };
    let scale = scale(plan, laid.kind);
    let least = LEAST[usize::from(laid.placed == Placing::Hand)] * scale;
    let most = MOST * scale;
    let mut runs: Vec<Run> = Vec::new();
    let mut open = None::<usize>;
    for step in steps(shape) {
        let below = step.gap < least - SLACK_MM;
        if !below && step.gap <= most + SLACK_MM {
            open = None;
            continue;
        }
        match open.map(|i| &mut runs[i]) {
            Some(run) if run.below == below && run.last == step.from => run.add(step),
            _ => {
                open = Some(runs.len());
                runs.push(Run { below, count: 1, worst: step, first: step.from, last: step.to });
            }
        }
    }
    // Lanes side by side have the same path: the worst lane speaks for all of them.
    runs.dedup_by(|b, a| same_stretch(shape, a, b));
    found.extend(runs.iter().map(|run| finding(item, shape, run, (least, most, scale))));
}

impl Run {
    fn add(&mut self, step: Step) {
        self.count += 1;
        self.last = step.to;
        let worse = if self.below { step.gap < self.worst.gap } else { step.gap > self.worst.gap };
        if worse {
            self.worst = step;
        }
    }
}

fn same_stretch(shape: &Shape, a: &mut Run, b: &Run) -> bool {
    let rank = |i: usize| shape.pieces.rank[i];
    let meet = a.below == b.below && rank(a.first) <= rank(b.last) && rank(b.first) <= rank(a.last);
    if meet && shape.pieces.lane[a.first] != shape.pieces.lane[b.first] {
        let (count, worse) =
            (a.count + b.count, if a.below { b.worst.gap < a.worst.gap } else { b.worst.gap > a.worst.gap });
        if worse {
            a.worst = b.worst;
        }
        a.count = count;
        return true;
    }
    false
}

fn finding(item: &Item, shape: &Shape, run: &Run, (least, most, scale): (f64, f64, f64)) -> Finding {
    let rank = |i: usize| shape.pieces.rank[i];
    let gap = run.worst.gap;
    let out_of_reach = gap >= shape.size(run.worst.from).high;
    let (what, severity) = match (run.below, out_of_reach) {
        (true, _) if gap <= 0.0 => (say!(found::GAP_NARROW_NONE), Severity::Must),
        (true, _) => (say!(found::GAP_NARROW_JAM, least = about(least)), Severity::Should),
        (false, true) => {
            (say!(found::GAP_WIDE_STOPS, reach = about(shape.size(run.worst.from).high)), Severity::Must)
        }
        (false, false) => (say!(found::GAP_WIDE_LOW, most = about(most)), Severity::Should),
    };
    let (n, at, worst) = (run.count, nth(rank(run.worst.to)), about(gap.max(0.0)));
    let (mend, to) = mend(item, run.below, (least, most, scale));
    let place = Place::item(item)
        .at(shape.solid(run.worst.to).at)
        .lanes(shape.pieces.lane[run.first], shape.pieces.lane[run.last])
        .ranks(rank(run.first).min(rank(run.last)), rank(run.last).max(rank(run.first)));
    Finding {
        code: if run.below { "gap-narrow" } else { "gap-wide" },
        severity,
        place,
        message: if run.below {
            say!(found::GAP_NARROW, n = n, item = &item.name, rank = at, gap = worst, what = what)
        } else {
            say!(found::GAP_WIDE, n = n, item = &item.name, rank = at, gap = worst, what = what)
        },
        hint: match to {
            Some(gap) => say!(found::SPACING_HINT, gap = mm(gap)),
            None => say!(found::SPACING_HINT_MOVE),
        },
        mend,
    }
}

/// Sets the spacing to the nearest good one, when it is the spacing that is out of the band.
fn mend(item: &Item, below: bool, (least, most, scale): (f64, f64, f64)) -> (Option<Command>, Option<f64>) {
    // A little inside the band, since inner corners of curves and evened-out lengths take something away.
    let gap = if below { (least + 2.5 * scale).min(most) } else { most - 12.0 * scale };
    let gap = if (scale - 1.0).abs() < 1e-9 && below { 7.5_f64.max(least) } else { gap };
    let mut item = item.clone();
    let spacing = match &mut item.body {
        Body::Line(l) => &mut l.spacing,
        Body::Fill(f) => &mut f.spacing,
        _ => return (None, None),
    };
    let wanted = Spacing::Gap { gap: Length::mm(gap) };
    if *spacing == wanted {
        return (None, None);
    }
    *spacing = wanted;
    (Some(Command::PutItem { item: Box::new(item) }), Some(gap))
}
