//! The middle of fields that nobody can reach into once they stand.

use geometry::{Point, contains};
use plan::{Command, Field, HallPartKind, Item, Plan};
use sayings::{found, say};

use crate::finding::{Finding, Place, Severity, about, mm, nth};
use crate::overlap::Block;
use crate::shape::{Bounds, Shape};

/// How far a kneeling builder reaches into pieces at the most, mm: 500 to 600 is comfortable, 700 the limit (common
/// practice; the pinch reach of 606 to 758 mm is reported).
const REACH: f64 = 700.0;
/// What a kneeling builder takes, mm (common practice: aisles of 400 to 600 mm).
const KNEEL: f64 = 400.0;
/// A field is looked at in squares of this side, or in so many along its longer side if that gives larger ones.
const SQUARE: f64 = 100.0;
const MOST_SQUARES: f64 = 96.0;

/// A note when some pieces of a field are farther than a builder reaches from every place where one can kneel: around
/// the field where no other thing stands, and on empty squares within it.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, others: &[Block], found: &mut Vec<Finding>) {
    let Some(field) = item.field().filter(|_| shape.len() > 0) else { return };
    let squares = Squares::of(field);
    let taken = squares.taken(field, shape);
    let mut places = squares.around(plan, item, others);
    places.extend(squares.within(&taken));
    let mut far: Option<Far> = None;
    let reach = REACH + squares.side / 2.0;
    for i in (0..taken.len()).filter(|&i| taken[i]) {
        let p = squares.middle(i);
        let apart = |q: &Point| (q.x - p.x) * (q.x - p.x) + (q.y - p.y) * (q.y - p.y);
        if !places.iter().any(|q| apart(q) <= reach * reach) {
            let away = places.iter().map(apart).fold(f64::INFINITY, f64::min).sqrt();
            // Half a square off at most.
            Far::add(&mut far, p, away - squares.side / 2.0);
        }
    }
    found.extend(far.map(|far| finding(item, field, &far)));
}

/// What is too far.
struct Far {
    /// Infinite where nobody can kneel anywhere.
    away: f64,
    at: Point,
    least: Point,
    most: Point,
}

impl Far {
    fn add(into: &mut Option<Self>, p: Point, away: f64) {
        let far = into.get_or_insert(Self { away, at: p, least: p, most: p });
        far.least = Point::new(far.least.x.min(p.x), far.least.y.min(p.y));
        far.most = Point::new(far.most.x.max(p.x), far.most.y.max(p.y));
        if away > far.away {
            (far.away, far.at) = (away, p);
        }
    }
}

/// A field cut into squares, in its own frame.
struct Squares {
    side: f64,
    along: usize,
    across: usize,
    origin: Point,
    size: (f64, f64),
}

impl Squares {
    fn of(field: &Field) -> Self {
        let (u0, v0, u1, v1) = field.extent();
        let side = SQUARE.max((u1 - u0).max(v1 - v0) / MOST_SQUARES);
        let count = |length: f64| ((length / side).ceil() as usize).max(1);
        Self {
            side,
            along: count(u1 - u0),
            across: count(v1 - v0),
            origin: Point::new(u0, v0),
            size: (u1 - u0, v1 - v0),
        }
    }

    fn middle(&self, i: usize) -> Point {
        let (column, row) = ((i % self.along) as f64, (i / self.along) as f64);
        Point::new(self.origin.x + (column + 0.5) * self.side, self.origin.y + (row + 0.5) * self.side)
    }

    /// Which squares hold a piece.
    fn taken(&self, field: &Field, shape: &Shape) -> Vec<bool> {
        let mut taken = vec![false; self.along * self.across];
        let (pa, pc) = (field.frame.pitch_along.to_mm(), field.frame.pitch_across.to_mm());
        for (&lane, &rank) in shape.pieces.lane.iter().zip(&shape.pieces.rank) {
            let column = ((f64::from(rank) * pa - self.origin.x) / self.side) as usize;
            let row = ((f64::from(lane) * pc - self.origin.y) / self.side) as usize;
            if let Some(square) =
                taken.get_mut(row.min(self.across - 1) * self.along + column.min(self.along - 1))
            {
                *square = true;
            }
        }
        taken
    }

    /// Places on the edge of the field beside which somebody can kneel.
    fn around(&self, plan: &Plan, item: &Item, others: &[Block]) -> Vec<Point> {
        let (w, h) = self.size;
        let mut edge = Vec::new();
        let steps = |length: f64| (length / self.side).ceil().max(1.0) as usize;
        for i in 0..=steps(w) {
            let u = (i as f64 * self.side).min(w);
            edge.push((Point::new(u, 0.0), Point::new(u, -KNEEL / 2.0)));
            edge.push((Point::new(u, h), Point::new(u, h + KNEEL / 2.0)));
        }
        for i in 0..=steps(h) {
            let v = (i as f64 * self.side).min(h);
            edge.push((Point::new(0.0, v), Point::new(-KNEEL / 2.0, v)));
            edge.push((Point::new(w, v), Point::new(w + KNEEL / 2.0, v)));
        }
        let frame = item.stands();
        let free = |knee: Point| {
            let p = frame.at(self.origin.x + knee.x, self.origin.y + knee.y);
            let walls = plan.hall.outline.len() < 3 || contains(&plan.hall.outline, p);
            let solid =
                |part: &&plan::HallPart| matches!(part.is, HallPartKind::Pillar | HallPartKind::Table);
            let parts = plan.hall.parts.iter().filter(solid);
            walls
                && !others.iter().any(|b| b.holds(p))
                && !parts.into_iter().any(|part| contains(&part.outline, p))
        };
        let own = |p: Point| Point::new(self.origin.x + p.x, self.origin.y + p.y);
        edge.into_iter().filter(|(_, knee)| free(*knee)).map(|(edge, _)| own(edge)).collect()
    }

    /// Middles of empty squares that have room for somebody to kneel.
    fn within(&self, taken: &[bool]) -> Vec<Point> {
        let wide = (KNEEL / self.side).ceil() as usize;
        let mut places = Vec::new();
        // A whole strip of empty squares in either direction is an aisle; single holes are none.
        let free = |c: usize, r: usize| !taken[r * self.along + c];
        for r in 0..(self.across + 1).saturating_sub(wide) {
            for c in 0..(self.along + 1).saturating_sub(wide) {
                if (0..wide).all(|i| (0..wide).all(|j| free(c + i, r + j))) {
                    for (i, j) in [(0, 0), (0, wide - 1), (wide - 1, 0), (wide - 1, wide - 1)] {
                        places.push(self.middle((r + j) * self.along + c + i));
                    }
                }
            }
        }
        places
    }
}

/// Blocks of other items near a field, where nobody can kneel.
pub(crate) fn near<'a>(own: &Bounds, all: impl Iterator<Item = &'a Block>) -> Vec<Block> {
    let wide = knees(own);
    all.filter(|b| b.bounds().is_some_and(|b| b.meets(&wide))).copied().collect()
}

/// A field, and around it all the room in which somebody could kneel who reaches into it.
pub(crate) fn knees(own: &Bounds) -> Bounds {
    own.wider(KNEEL)
}

fn finding(item: &Item, field: &Field, far: &Far) -> Finding {
    let f = &field.frame;
    let rank = |u: f64| ((u / f.pitch_along.to_mm()).round().max(0.0) as u32).min(f.ranks.saturating_sub(1));
    let lane = |v: f64| ((v / f.pitch_across.to_mm()).round().max(0.0) as u32).min(f.lanes.saturating_sub(1));
    let (lanes, ranks) = ((lane(far.least.y), lane(far.most.y)), (rank(far.least.x), rank(far.most.x)));
    Finding {
        code: "repair-far",
        severity: Severity::Note,
        place: Place::item(item)
            .at(item.stands().at(far.at.x, far.at.y))
            .lanes(lanes.0, lanes.1)
            .ranks(ranks.0, ranks.1),
        message: match far.away {
            f64::INFINITY => say!(found::REPAIR_NOWHERE, item = &item.name),
            away => say!(
                found::REPAIR,
                item = &item.name,
                lane = nth(lanes.0),
                lanes = nth(lanes.1),
                rank = nth(ranks.0),
                ranks = nth(ranks.1),
                away = about(away.round())
            ),
        },
        hint: match far.away {
            f64::INFINITY => say!(found::REPAIR_NOWHERE_HINT, gap = mm(KNEEL)),
            _ => say!(found::REPAIR_HINT, gap = mm(KNEEL), rank = nth(rank(far.at.x))),
        },
        mend: None::<Command>,
    }
}
