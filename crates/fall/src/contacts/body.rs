//! One piece as the search sees it: place and direction snapped to a fine grid, so that plans that are mirrored, turned
//! by quarter turns or shifted by whole millimetres lead to the very same figures.

use std::sync::OnceLock;

use placement::{Pieces, Placement, Pose};
use plan::{Item, Plan, Stock};
use rayon::prelude::*;
use units::maths;

use super::slope::{Plank, Planks};

/// Directions: 65 536 to a turn, 0.0055° each.
pub(crate) const TURN: u32 = 1 << 16;
/// A quarter turn.
pub(crate) const QUARTER: u32 = TURN / 4;
/// Places are snapped to 1/1024 mm.
const SNAP: f64 = 1024.0;

/// Size of a piece as it stands, in mm, and the class whose table of delays it uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shape {
    pub(crate) h: f64,
    pub(crate) w: f64,
    pub(crate) d: f64,
    /// Index into [`Shapes::classes`].
    pub(crate) class: u8,
    /// A piece that lies flat does not fall.
    pub(crate) falls: bool,
}

/// All shapes of a stock: three poses for each kind.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Shapes {
    kinds: Vec<(u16, [u16; 3])>,
    shapes: Vec<Shape>,
    /// Height and thickness of each class, at most 256; what comes later shares the class most like it.
    pub(crate) classes: Vec<Class>,
    /// Surfaces that slope.
    pub(crate) planks: Planks,
}

/// What a table of delays is made for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Class {
    /// Height and thickness, mm.
    pub(crate) h: f64,
    pub(crate) d: f64,
    /// How steeply the fall runs down, degrees; negative where it runs up.
    pub(crate) down: f64,
}

/// One piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Body {
    pub(crate) x: f64,
    pub(crate) y: f64,
    /// Height of its foot above the floor, mm.
    pub(crate) z: f32,
    pub(crate) id: u32,
    pub(crate) turn: u16,
    pub(crate) shape: u16,
    /// The slope on which it stands, from 1; 0 is anything level.
    pub(crate) plank: u16,
}

/// The pieces of one item, read as bodies.
pub(crate) struct Bodies<'a> {
    pub(crate) pieces: &'a Pieces,
    pub(crate) shapes: &'a Shapes,
    /// The slope on which they stand, from 1; 0 is anything level.
    pub(crate) plank: u16,
}

impl Shapes {
    /// The shapes of all kinds of a plan, and the slopes on which its pieces fall.
    pub(crate) fn of(plan: &Plan, placement: &Placement) -> Self {
        let mut all = Self::of_stock(&plan.stock);
        let mut planks = Planks::of(plan);
        planks.fill(plan, placement, &mut all);
        all.planks = planks;
        all
    }

    /// The shapes of all kinds of a stock; one that the stock does not know has the size of the usual piece.
    fn of_stock(stock: &Stock) -> Self {
        let (kinds, shapes, classes) = (Vec::new(), Vec::new(), Vec::new());
        let mut all = Self { kinds, shapes, classes, planks: Planks::default() };
        all.add(48.0, 24.0, 7.5);
        for kind in &stock.kinds {
            let (h, w, d) = (kind.height.to_mm(), kind.width.to_mm(), kind.thickness.to_mm());
            let poses = [(h, w, d), (w, h, d), (d, w, h)].map(|(h, w, d)| all.add(h, w, d));
            all.kinds.push((kind.id.0, poses));
        }
        all.kinds.sort_unstable();
        all
    }

    fn add(&mut self, h: f64, w: f64, d: f64) -> u16 {
        let like = |c: &Class| (c.h - h).abs() / h + (c.d - d).abs() / h;
        let known = self.classes.iter().position(|c| (c.h, c.d) == (h, d));
        let class = match known {
            Some(at) => at,
            None if self.classes.len() < 256 => {
                self.classes.push(Class { h, d, down: 0.0 });
                self.classes.len() - 1
            }
            None => {
                let best = self.classes.iter().enumerate().min_by(|a, b| like(a.1).total_cmp(&like(b.1)));
                best.map_or(0, |b| b.0)
            }
        };
        let shape = Shape { h, w, d, class: class as u8, falls: h > d };
        let at = self.shapes.iter().position(|s| *s == shape).unwrap_or_else(|| {
            self.shapes.push(shape);
            self.shapes.len() - 1
        });
        // Three poses for each of 65 536 kinds do not fit; what is beyond looks like the usual piece.
        u16::try_from(at).unwrap_or(0)
    }

    /// The index of a kind in a pose.
    pub(crate) fn index(&self, kind: u16, pose: Pose) -> u16 {
        self.kinds.binary_search_by_key(&kind, |k| k.0).map_or(0, |i| self.kinds[i].1[pose as usize])
    }

    /// The slope on which an item stands, from 1; 0 when it stands level.
    pub(crate) fn plank_of(&self, item: &Item) -> u16 {
        self.planks.number(item.surface)
    }

    /// The class of a piece that falls forward (`way` 0) or back (1).
    pub(crate) fn class(&self, body: &Body, way: u8) -> u8 {
        let class = self.get(body.shape).class;
        match self.planks.get(body.plank) {
            None => class,
            Some(plank) => self.planks.class(class, plank.down(body.turn, way)),
        }
    }

    /// The foot of a piece above that of another, mm; along a slope on which both stand.
    pub(crate) fn up(&self, from: &Body, to: &Body) -> f64 {
        let up = f64::from(to.z - from.z);
        match self.plank_of_both(from, to) {
            None => up,
            Some(plank) => up - plank.rise(to.x - from.x, to.y - from.y),
        }
    }

    /// The slope on which both of two pieces stand.
    pub(crate) fn plank_of_both(&self, from: &Body, to: &Body) -> Option<&Plank> {
        self.planks.get(from.plank).filter(|_| from.plank == to.plank)
    }

    pub(crate) fn all(&self) -> &[Shape] {
        &self.shapes
    }

    pub(crate) fn get(&self, index: u16) -> Shape {
        self.shapes[usize::from(index)]
    }

    /// The farthest that any piece of these reaches from its centre to the corner of another, mm; flights down to lower levels
    /// when there are `levels`.
    pub(crate) fn farthest(&self, levels: bool) -> f64 {
        let heights = if levels { 2.4 } else { 1.0 };
        self.shapes.iter().map(|s| s.d / 2.0 + heights * s.h + s.w).fold(1.0, f64::max)
    }
}

impl Bodies<'_> {
    pub(crate) fn len(&self) -> usize {
        self.pieces.len()
    }

    /// All of them, each under its index.
    pub(crate) fn all(&self) -> Vec<Body> {
        (0..self.len()).into_par_iter().map(|i| self.body(i, i as u32)).collect()
    }

    /// The piece at an index, under a name of the caller's choice.
    pub(crate) fn body(&self, i: usize, id: u32) -> Body {
        let p = self.pieces;
        let shape = self.shapes.index(p.kind[i], p.pose[i]);
        let z = p.z[i] - (self.shapes.get(shape).h / 2.0) as f32;
        let turn = turn_of(f64::from(p.yaw[i]));
        Body { x: snap(p.x[i]), y: snap(p.y[i]), z, id, turn, shape, plank: self.plank }
    }
}

/// A place on the grid of 1/1024 mm; halves go away from zero, so that mirrored plans stay mirrored.
pub(crate) fn snap(v: f64) -> f64 {
    // The gate keeps places within 10 km; anything else must not become NaN here.
    if v.is_finite() { (v.clamp(-1e9, 1e9) * SNAP).round() / SNAP } else { 0.0 }
}

/// A direction in radians as a share of the turn.
pub(crate) fn turn_of(radians: f64) -> u16 {
    if !radians.is_finite() {
        return 0;
    }
    let units = (radians * (f64::from(TURN) / std::f64::consts::TAU)).round();
    units.rem_euclid(f64::from(TURN)) as u32 as u16
}

/// Cosine and sine of a direction, from the sines of one quarter, so that turning by a quarter swaps them exactly.
pub(crate) fn cos_sin(turn: u16) -> (f64, f64) {
    static SINES: OnceLock<Vec<f64>> = OnceLock::new();
    let sines = SINES.get_or_init(|| {
        let at = |i: u32| maths::sin(f64::from(i) * (std::f64::consts::TAU / f64::from(TURN)));
        // The upper half is the cosine of the lower one, so that a mirror at 45° swaps them exactly too.
        let upper = |i: u32| maths::cos(f64::from(QUARTER - i) * (std::f64::consts::TAU / f64::from(TURN)));
        (0..=QUARTER).map(|i| if i <= QUARTER / 2 { at(i) } else { upper(i) }).collect()
    });
    let turn = u32::from(turn);
    let (quarter, rest) = (turn / QUARTER, (turn % QUARTER) as usize);
    let (s, c) = (sines[rest], sines[QUARTER as usize - rest]);
    match quarter {
        0 => (c, s),
        1 => (-s, c),
        2 => (-c, -s),
        _ => (s, -c),
    }
}
