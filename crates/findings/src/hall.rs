//! What stands outside the hall, in a pillar or table, in an aisle, or before a way out.

use geometry::{Point, contains, meet};
use plan::{Body, HallPart, HallPartKind, Item, Plan};
use sayings::{Said, found, say};

use crate::finding::{Finding, Place, Severity, about};
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
    // What is only written on the floor plan takes no floor.
    if matches!(item.body, Body::Note(_) | Body::Dimension(_)) {
        return;
    }
    let parts = hall.parts.iter().filter(|p| p.outline.len() >= 3);
    for part in parts {
        let Some(own) = spots.bounds else { return };
        let free = crate::ways::free(&hall.outline, part, &own);
        if let Some(met) = free.and_then(|free| spots.inside(&free)) {
            found.extend(in_part(item, part, &met, spots.top));
        }
    }
}

/// Where and how an item stands that reaches beyond these walls.
pub(crate) fn beyond(plan: &Plan, walls: &[Point], item: &Item, shape: &Shape) -> Option<(Place, Said)> {
    Spots::of(plan, item, shape).outside(walls).map(|out| (out.place(item), out.stand(item)))
}

/// Where an item stands: its pieces, or the corners and the middle of its own outline.
struct Spots<'a> {
    shape: &'a Shape,
    outline: Vec<Point>,
    /// The rectangle around all of it.
    bounds: Option<Bounds>,
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
        let bounds = shape.bounds.or_else(|| Bounds::around(outline.iter().copied()));
        Self { shape, outline, bounds, top: foot + high }
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
        if !self.bounds?.meets(&bounds) {
            return None;
        }
        if self.shape.len() == 0 {
            let mine = &self.outline[..self.outline.len() - 1];
            let own_in_part = self.outline.iter().find(|p| contains(part, **p)).copied();
            let part_in_own = part.iter().find(|p| mine.len() >= 3 && contains(mine, **p)).copied();
            let crossed = || meet(mine, part).then(|| self.outline[mine.len()]);
            return own_in_part.or(part_in_own).or_else(crossed).map(|at| Standing {
                pieces: 0,
                at,
                lanes: None,
                ranks: None,
            });
        }
        let mut met = Vec::new();
        let reach = self.shape.largest();
        self.shape.near(bounds.wider(reach.half_wide + reach.half_thick.max(reach.high / 2.0)), &mut |i| {
            let piece = self.shape.solid(i);
            // A part may be thinner than a piece and lie between its corners.
            if contains(part, piece.at) || meet(&piece.corners(), part) {
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
    fn stand(&self, item: &Item) -> Said {
        match self.pieces {
            0 => say!(found::STANDS, item = &item.name),
            n => say!(found::STANDS_PIECES, n = n, item = &item.name),
        }
    }
}

fn beyond_walls(item: &Item, out: &Standing) -> Finding {
    Finding {
        code: "outside-hall",
        severity: Severity::Must,
        place: out.place(item),
        message: say!(found::OUTSIDE, stands = out.stand(item)),
        hint: say!(found::OUTSIDE_HINT),
        mend: None,
    }
}

fn in_part(item: &Item, part: &HallPart, met: &Standing, top: f64) -> Option<Finding> {
    let stands = met.stand(item);
    let height = part.height.to_mm();
    let name = &part.name;
    let (code, severity, message, hint) = match part.is {
        HallPartKind::Pillar => (
            "in-pillar",
            Severity::Must,
            say!(found::IN_PILLAR, stands = stands, name = name),
            say!(found::IN_PILLAR_HINT),
        ),
        HallPartKind::Table => (
            "in-table",
            Severity::Must,
            say!(found::IN_TABLE, stands = stands, name = name),
            say!(found::IN_TABLE_HINT),
        ),
        HallPartKind::Exit => (
            "before-exit",
            Severity::Must,
            say!(found::IN_EXIT, stands = stands, name = name),
            say!(found::IN_EXIT_HINT),
        ),
        HallPartKind::Door => (
            "before-door",
            Severity::Should,
            say!(found::IN_DOOR, stands = stands, name = name),
            say!(found::IN_DOOR_HINT),
        ),
        HallPartKind::Aisle => (
            "in-aisle",
            Severity::Should,
            say!(found::IN_AISLE, stands = stands, name = name),
            say!(found::IN_AISLE_HINT),
        ),
        HallPartKind::Overhead if height > 0.0 && top > height - TALL_MM => (
            "under-overhead",
            Severity::Should,
            say!(found::UNDER, item = &item.name, top = about(top), name = name, height = about(height)),
            say!(found::UNDER_HINT),
        ),
        HallPartKind::Overhead if height <= 0.0 && top > TALL_MM => (
            "under-overhead",
            Severity::Note,
            say!(found::UNDER_UNKNOWN, item = &item.name, top = about(top), name = name),
            say!(found::UNDER_UNKNOWN_HINT),
        ),
        HallPartKind::Overhead => return None,
    };
    Some(Finding { code, severity, place: met.place(item), message, hint, mend: None })
}
