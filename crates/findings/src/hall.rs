//! What stands outside the hall, in a pillar or table, in an aisle, or before a way out.

use geometry::{Point, contains};
use plan::{HallPart, HallPartKind, Item, Plan};

use crate::finding::{Finding, Place, Severity, about, so_many};
use crate::shape::{Bounds, Shape};

/// Under something that hangs overhead, this much above it is still worth a word, mm (common practice, no source).
const TALL_MM: f64 = 500.0;

/// Findings for an item against the walls and the parts of the hall: one for the walls, and one for each part.
pub(crate) fn check(plan: &Plan, item: &Item, shape: &Shape, found: &mut Vec<Finding>) {
    let hall = &plan.hall;
    if hall.outline.is_empty() && hall.parts.is_empty() {
        return;
    }
    let spots = Spots::of(plan, item, shape);
    if hall.outline.len() >= 3 {
        found.extend(spots.outside(&hall.outline).map(|out| beyond_walls(item, &out)));
    }
    let parts = hall.parts.iter().filter(|p| p.outline.len() >= 3);
    for part in parts {
        if let Some(met) = spots.inside(&part.outline) {
            found.extend(in_part(item, part, &met, spots.top));
        }
    }
}

/// A finding when an item reaches beyond these walls.
pub(crate) fn beyond(plan: &Plan, walls: &[Point], item: &Item, shape: &Shape) -> Option<Finding> {
    Spots::of(plan, item, shape).outside(walls).map(|out| beyond_walls(item, &out))
}

/// Where an item stands: its pieces, or the corners and the middle of its own outline.
struct Spots<'a> {
    shape: &'a Shape,
    outline: Vec<Point>,
    /// How high it reaches above the floor.
    top: f64,
}

/// How much of an item is somewhere.
struct Standing {
    /// Pieces, or 0 for a thing without pieces.
    pieces: u64,
    at: Point,
    lanes: Option<(u32, u32)>,
    ranks: Option<(u32, u32)>,
}

impl<'a> Spots<'a> {
    fn of(plan: &Plan, item: &Item, shape: &'a Shape) -> Self {
        let high = match &item.body {
            plan::Body::Placeholder(p) => p.height.to_mm(),
            plan::Body::Stopper(s) => s.height.to_mm(),
            _ => shape.largest().high,
        };
        let outline = if shape.len() > 0 {
            Vec::new()
        } else {
            let mut points: Vec<Point> = item.outline().map_or_else(|| vec![item.stands().origin], Vec::from);
            let n = points.len() as f64;
            let sum = points.iter().fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
            points.push(Point::new(sum.0 / n, sum.1 / n));
            points
        };
        // On a slope it reaches as high as its highest piece.
        let foot = match plan.surface(item.surface) {
            Some(s) if s.slope.is_level() => s.height.to_mm(),
            Some(s) => {
                let pieces = (0..shape.len()).map(|i| Point::new(shape.pieces.x[i], shape.pieces.y[i]));
                pieces.chain(outline.iter().copied()).map(|p| s.height_at(p)).fold(0.0, f64::max)
            }
            None => 0.0,
        };
        Self { shape, outline, top: foot + high }
    }

    fn outside(&self, walls: &[Point]) -> Option<Standing> {
        // Most items lie well inside: then no wall comes near any piece and one question answers for all.
        if let Some(bounds) = self.shape.bounds
            && clear_of(walls, &bounds)
            && contains(walls, Point::new(bounds.west, bounds.south))
        {
            return None;
        }
        let outside = |p: &Point| !contains(walls, *p);
        if let Some(at) = self.outline.iter().find(|p| outside(p)) {
            return Some(Standing { pieces: 0, at: *at, lanes: None, ranks: None });
        }
        self.count((0..self.shape.len()).filter(|&i| self.shape.solid(i).corners().iter().any(outside)))
    }

    fn inside(&self, part: &[Point]) -> Option<Standing> {
        let bounds = Bounds::around(part.iter().copied())?;
        if self.shape.len() == 0 {
            let own = Bounds::around(self.outline.iter().copied())?;
            if !own.meets(&bounds) {
                return None;
            }
            let mine = &self.outline[..self.outline.len() - 1];
            let own_in_part = self.outline.iter().find(|p| contains(part, **p)).copied();
            let part_in_own = part.iter().find(|p| mine.len() >= 3 && contains(mine, **p)).copied();
            return own_in_part.or(part_in_own).map(|at| Standing {
                pieces: 0,
                at,
                lanes: None,
                ranks: None,
            });
        }
        let mut met = Vec::new();
        let reach = self.shape.largest();
        self.shape.near(bounds.wider(reach.half_wide + reach.half_thick), &mut |i| {
            let piece = self.shape.solid(i);
            if contains(part, piece.at) || piece.corners().iter().any(|p| contains(part, *p)) {
                met.push(i);
            }
            true
        });
        self.count(met.into_iter())
    }

    fn count(&self, pieces: impl Iterator<Item = usize>) -> Option<Standing> {
        let p = &self.shape.pieces;
        let mut all = None::<Standing>;
        for i in pieces {
            let (lane, rank) = (p.lane[i], p.rank[i]);
            let s = all.get_or_insert(Standing {
                pieces: 0,
                at: Point::new(p.x[i], p.y[i]),
                lanes: Some((lane, lane)),
                ranks: Some((rank, rank)),
            });
            s.pieces += 1;
            s.lanes = s.lanes.map(|(a, b)| (a.min(lane), b.max(lane)));
            s.ranks = s.ranks.map(|(a, b)| (a.min(rank), b.max(rank)));
        }
        all
    }
}

/// True when no wall crosses a rectangle.
fn clear_of(walls: &[Point], bounds: &Bounds) -> bool {
    let ends = walls.iter().zip(walls.iter().cycle().skip(1));
    ends.into_iter().all(|(a, b)| Bounds::around([*a, *b].into_iter()).is_none_or(|wall| !wall.meets(bounds)))
}

impl Standing {
    fn place(&self, item: &Item) -> Place {
        Place { lanes: self.lanes, ranks: self.ranks, ..Place::item(item).at(self.at) }
    }

    /// "12 pieces of Mill stand", or "Dome stands".
    fn stand(&self, item: &Item) -> String {
        match self.pieces {
            0 => format!("{} stands", item.name),
            1 => format!("1 piece of {} stands", item.name),
            n => format!("{} of {} stand", so_many(n, "piece", "pieces"), item.name),
        }
    }
}

fn beyond_walls(item: &Item, out: &Standing) -> Finding {
    Finding {
        code: "outside-hall",
        severity: Severity::Must,
        place: out.place(item),
        message: format!("{} outside the hall.", out.stand(item)),
        hint: "Move it within the walls, or draw the hall as it is.".into(),
        mend: None,
    }
}

fn in_part(item: &Item, part: &HallPart, met: &Standing, top: f64) -> Option<Finding> {
    let stand = met.stand(item);
    let height = part.height.to_mm();
    let name = &part.name;
    let (code, severity, message, hint) = match part.is {
        HallPartKind::Pillar => (
            "in-pillar",
            Severity::Must,
            format!("{stand} in the pillar {name}."),
            "Move it, or leave these cells empty.",
        ),
        HallPartKind::Table => (
            "in-table",
            Severity::Must,
            format!("{stand} where the table {name} is."),
            "Move one of them; to build on the table, make it a surface.",
        ),
        HallPartKind::Exit => (
            "before-exit",
            Severity::Must,
            format!("{stand} before the exit {name}, which must stay free."),
            "Move it; the hall's own rules decide how wide the way out has to be.",
        ),
        HallPartKind::Door => (
            "before-door",
            Severity::Should,
            format!("{stand} before the door {name}."),
            "Move it, or use another door while it stands.",
        ),
        HallPartKind::Aisle => (
            "in-aisle",
            Severity::Should,
            format!("{stand} in the aisle {name}, where people walk while the crew builds."),
            "Move it, or build it last and walking backwards.",
        ),
        HallPartKind::Overhead if height > 0.0 && top > height - TALL_MM => (
            "under-overhead",
            Severity::Should,
            format!("{} reaches {}, and {name} hangs above it at {}.", item.name, about(top), about(height)),
            "Ask the hall what may stand there; its own rules count.",
        ),
        HallPartKind::Overhead if height <= 0.0 && top > TALL_MM => (
            "under-overhead",
            Severity::Note,
            format!(
                "{} reaches {}, and nobody measured how high {name} hangs above it.",
                item.name,
                about(top)
            ),
            "Measure its height, and ask the hall what may stand there; its own rules count.",
        ),
        HallPartKind::Overhead => return None,
    };
    Some(Finding { code, severity, place: met.place(item), message, hint: hint.into(), mend: None })
}
