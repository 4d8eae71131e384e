//! The pieces of one item as upright boxes, in buckets by which neighbours are found without looking at all of them.

use std::sync::{Arc, OnceLock};

use geometry::{Buckets, Point, Vector};
use placement::{Pieces, Pose};
use plan::Plan;

/// What one item takes of the hall, made once for each placing of the item.
#[derive(Debug, Clone)]
pub(crate) struct Shape {
    /// The pieces that it was made from.
    pub pieces: Arc<Pieces>,
    /// Unit vector along the fall of each piece.
    along: Vec<(f32, f32)>,
    /// Half thickness, half width and height by kind, for the kinds that occur; sorted by kind.
    sizes: Vec<(u16, Size)>,
    /// Corners of the least upright rectangle around all pieces: west, south, east, north; `None` without pieces.
    pub bounds: Option<Bounds>,
    spots: Buckets<f64>,
    bends: OnceLock<Vec<Bend>>,
}

/// How a lane turns from a piece to the next one.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bend {
    /// Radius of the circle through both, mm; negative where it turns to the right, infinite where it is straight.
    radius: f32,
    /// Pieces since the last step that turned, at most 255.
    pub since: u8,
}

/// A wider curve than this is straight, mm.
const STRAIGHT: f64 = 4_000.0;

impl Bend {
    /// The radius, and whether it turns to the left; `None` where it is straight.
    pub(crate) fn curve(&self) -> Option<(f64, bool)> {
        self.radius.is_finite().then(|| (f64::from(self.radius.abs()), self.radius > 0.0))
    }

    pub(crate) fn is_tighter(&self, other: &Self) -> bool {
        self.radius.abs() < other.radius.abs()
    }
}

/// A rectangle along the axes of the hall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bounds {
    pub west: f64,
    pub south: f64,
    pub east: f64,
    pub north: f64,
}

/// Half thickness, half width, and height of a piece as it stands, in mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Size {
    pub half_thick: f64,
    pub half_wide: f64,
    pub high: f64,
}

/// One piece as a box.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Solid {
    pub at: Point,
    /// Along the fall.
    pub along: Vector,
    pub size: Size,
    /// Height of its foot above the floor.
    pub foot: f64,
}

impl Bounds {
    pub(crate) fn around(points: impl Iterator<Item = Point>) -> Option<Self> {
        let mut all = None::<Self>;
        for p in points {
            let b = all.get_or_insert(Self { west: p.x, south: p.y, east: p.x, north: p.y });
            (b.west, b.east) = (b.west.min(p.x), b.east.max(p.x));
            (b.south, b.north) = (b.south.min(p.y), b.north.max(p.y));
        }
        all
    }

    /// The square about a point whose sides lie so far from it.
    pub(crate) fn about(at: Point, by: f64) -> Self {
        Self { west: at.x, south: at.y, east: at.x, north: at.y }.wider(by)
    }

    pub(crate) fn wider(self, by: f64) -> Self {
        Self { west: self.west - by, south: self.south - by, east: self.east + by, north: self.north + by }
    }

    /// The least rectangle around both.
    pub(crate) fn with(&self, other: &Self) -> Self {
        Self {
            west: self.west.min(other.west),
            south: self.south.min(other.south),
            east: self.east.max(other.east),
            north: self.north.max(other.north),
        }
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.west <= other.east
            && other.west <= self.east
            && self.south <= other.north
            && other.south <= self.north
    }
}

impl Solid {
    /// To the left of the fall.
    pub(crate) fn left(&self) -> Vector {
        Vector { x: -self.along.y, y: self.along.x }
    }

    /// Half the diagonal of its foot: nothing of it lies farther from its centre.
    pub(crate) fn radius(&self) -> f64 {
        units::maths::hypot(self.size.half_thick, self.size.half_wide)
    }

    /// Another point in the frame of this piece: along its fall, and to the left of it.
    pub(crate) fn local(&self, p: Point) -> (f64, f64) {
        let d = p.minus(self.at);
        (d.x * self.along.x + d.y * self.along.y, -d.x * self.along.y + d.y * self.along.x)
    }

    /// Half of its extent along a unit vector.
    pub(crate) fn reach(&self, axis: Vector) -> f64 {
        let (a, l) = (self.along, self.left());
        self.size.half_thick * (a.x * axis.x + a.y * axis.y).abs()
            + self.size.half_wide * (l.x * axis.x + l.y * axis.y).abs()
    }

    /// How deep two pieces stand in one another, in mm; 0 or less when they do not.
    ///
    /// Separating axes: two convex shapes are apart exactly when they are apart along the normal of one of their sides.
    pub(crate) fn depth(&self, other: &Self) -> f64 {
        let d = other.at.minus(self.at);
        let upright =
            (self.foot + self.size.high).min(other.foot + other.size.high) - self.foot.max(other.foot);
        if upright <= 0.0 {
            return 0.0;
        }
        let gap = |axis: Vector| self.reach(axis) + other.reach(axis) - (d.x * axis.x + d.y * axis.y).abs();
        [self.along, self.left(), other.along, other.left()]
            .into_iter()
            .map(gap)
            .fold(f64::INFINITY, f64::min)
    }

    /// The four corners of its foot.
    pub(crate) fn corners(&self) -> [Point; 4] {
        let (a, l) = (self.along.times(self.size.half_thick), self.left().times(self.size.half_wide));
        let corner = |u: f64, v: f64| self.at.plus(a.times(u)).plus(l.times(v));
        [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]
    }
}

impl Shape {
    pub(crate) fn new(plan: &Plan, pieces: &Arc<Pieces>) -> Self {
        let mut kinds: Vec<u16> = Vec::new();
        let mut last = None;
        for &k in pieces.kind.iter().filter(|&&k| last.replace(k) != Some(k)) {
            if let Err(i) = kinds.binary_search(&k) {
                kinds.insert(i, k);
            }
        }
        let sizes = kinds.into_iter().map(|k| (k, size_of(plan, k))).collect();
        let mut turned = (f32::NAN, (0.0, 0.0));
        let along = pieces.yaw.iter().map(|&yaw| {
            if yaw != turned.0 {
                let (s, c) = units::maths::sin_cos(f64::from(yaw));
                turned = (yaw, (c as f32, s as f32));
            }
            turned.1
        });
        let mut shape = Self {
            pieces: Arc::clone(pieces),
            along: along.collect(),
            sizes,
            bounds: None,
            spots: Buckets::new(&[], &[], 0.0),
            bends: OnceLock::new(),
        };
        let radius =
            shape.sizes.iter().map(|(_, s)| units::maths::hypot(s.half_thick.max(s.high / 2.0), s.half_wide));
        let radius = radius.fold(0.0, f64::max);
        let middles = pieces.x.iter().zip(&pieces.y).map(|(&x, &y)| Point::new(x, y));
        shape.bounds = Bounds::around(middles).map(|b| b.wider(radius));
        shape.spots = Buckets::new(&pieces.x, &pieces.y, (2.0 * radius).max(16.0));
        shape
    }

    pub(crate) fn len(&self) -> usize {
        self.pieces.len()
    }

    /// The size of the largest piece, or of none.
    pub(crate) fn largest(&self) -> Size {
        let each = self.sizes.iter().map(|(_, s)| *s);
        each.max_by(|a, b| a.high.total_cmp(&b.high)).unwrap_or_default()
    }

    pub(crate) fn size(&self, i: usize) -> Size {
        let kind = self.pieces.kind[i];
        let size = match self.sizes.as_slice() {
            [(_, only)] => *only,
            all => all.binary_search_by_key(&kind, |s| s.0).map(|i| all[i].1).unwrap_or_default(),
        };
        match self.pieces.pose[i] {
            Pose::OnEnd => size,
            Pose::OnEdge => Size { half_wide: size.high / 2.0, high: 2.0 * size.half_wide, ..size },
            Pose::Flat => Size { half_thick: size.high / 2.0, high: 2.0 * size.half_thick, ..size },
        }
    }

    pub(crate) fn solid(&self, i: usize) -> Solid {
        let size = self.size(i);
        let (x, y) = self.along[i];
        Solid {
            at: Point::new(self.pieces.x[i], self.pieces.y[i]),
            along: Vector { x: f64::from(x), y: f64::from(y) },
            size,
            foot: f64::from(self.pieces.z[i]) - size.high / 2.0,
        }
    }

    /// For each piece how its lane turns from it to the next one; straight at the end of a lane. Made when first asked.
    pub(crate) fn bends(&self) -> &[Bend] {
        self.bends.get_or_init(|| {
            let lane = &self.pieces.lane;
            let mut since = u8::MAX;
            let bend = |i: usize| {
                if i > 0 && lane[i] != lane[i - 1] {
                    since = u8::MAX;
                }
                let next = lane.get(i + 1) == Some(&lane[i]);
                let radius = if next { self.radius(i, i + 1) } else { f32::INFINITY };
                since = if radius.is_finite() { 0 } else { since.saturating_add(1) };
                Bend { radius, since }
            };
            (0..self.len()).map(bend).collect()
        })
    }

    /// The circle through two pieces of a lane: chord over the sine of half their turn, twice.
    fn radius(&self, a: usize, b: usize) -> f32 {
        let wide = |(x, y): (f32, f32)| (f64::from(x), f64::from(y));
        let ((ax, ay), (bx, by)) = (wide(self.along[a]), wide(self.along[b]));
        let cross = ax * by - ay * bx;
        if cross.abs() < 1e-3 {
            return f32::INFINITY;
        }
        let half = units::maths::atan2(cross.abs(), ax * bx + ay * by) / 2.0;
        let chord =
            units::maths::hypot(self.pieces.x[b] - self.pieces.x[a], self.pieces.y[b] - self.pieces.y[a]);
        let radius = chord / (2.0 * units::maths::sin(half).max(1e-6));
        if radius < STRAIGHT { (radius * cross.signum()) as f32 } else { f32::INFINITY }
    }

    /// The pieces whose centres lie in a rectangle, until `visit` says that it has enough.
    pub(crate) fn near(&self, within: Bounds, visit: &mut dyn FnMut(usize) -> bool) {
        let (low, high) = (Point::new(within.west, within.south), Point::new(within.east, within.north));
        self.spots.within_while(low, high, |i| visit(i as usize));
    }

    /// True when at least one piece may stand in a rectangle; never false when one does.
    pub(crate) fn touches(&self, within: &Bounds) -> bool {
        self.bounds.is_some_and(|b| b.meets(within))
    }
}

fn size_of(plan: &Plan, kind: u16) -> Size {
    plan.stock.kind(plan::KindId(kind)).map_or_else(Size::default, |k| Size {
        half_thick: k.thickness.to_mm() / 2.0,
        half_wide: k.width.to_mm() / 2.0,
        high: k.height.to_mm(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solid(x: f64, y: f64, degrees: f64) -> Solid {
        let (s, c) = units::Angle::deg(degrees).sin_cos();
        let size = Size { half_thick: 3.75, half_wide: 12.0, high: 48.0 };
        Solid { at: Point::new(x, y), along: Vector { x: c, y: s }, size, foot: 0.0 }
    }

    #[test]
    fn pieces_stand_in_one_another_by_the_least_way_out() {
        assert!((solid(0.0, 0.0, 0.0).depth(&solid(7.0, 0.0, 0.0)) - 0.5).abs() < 1e-9);
        assert!((solid(0.0, 0.0, 0.0).depth(&solid(0.0, 23.0, 0.0)) - 1.0).abs() < 1e-9);
        // A quarter turn: half thickness and half width meet.
        assert!((solid(0.0, 0.0, 0.0).depth(&solid(15.0, 0.0, 90.0)) - 0.75).abs() < 1e-9);
        assert!(solid(0.0, 0.0, 0.0).depth(&solid(7.5, 0.0, 0.0)) <= 1e-9);
        let raised = Solid { foot: 48.0, ..solid(0.0, 0.0, 0.0) };
        assert!(solid(0.0, 0.0, 0.0).depth(&raised) <= 0.0);
    }
}
