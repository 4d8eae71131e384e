//! Surfaces that slope: how steeply a fall runs up or down on them, and for which slopes there are tables of delays.
//!
//! Pieces stand square to the plank, so that on the plank everything is as on a floor under tilted gravity. Their places
//! are those of the floor plan, so lengths along the slope are longer by one over its cosine.
//!
//! Source of what is sure: 198 lines of 46 rigid pieces on planks of -10 to 10 degrees (rapier3d 0.36.1),
//! `tests/data/transfers/ramp.csv`. They ran straight up and down; bends from floor to plank, slopes across the fall, and
//! openings on slopes were not run.

use std::collections::BTreeSet;

use placement::Placement;
use plan::{Plan, SurfaceId};
use rayon::prelude::*;
use units::maths;

use super::body::{Bodies, Class, Shapes, cos_sin};

/// Slopes are told apart by so many hundredths of a degree, or twice, four times … as many when there are more than tables.
const STEP: i32 = 25;
/// Tables of delays there may be.
const CLASSES: usize = 256;
/// The steepest slope on which all lines stood until they were pushed, degrees.
const STOOD: f64 = 8.0;
/// A slope across the fall that is more than this was not run, degrees.
const ACROSS: f64 = 2.0;
/// Pieces of more friction, on their way up tight gaps from some slope on, are slower than the law by more than 5 %.
const ROUGH: f64 = 0.4;
const ROUGH_UP: f64 = 4.0;
const ROUGH_GAP: f64 = 9.75;

/// One surface that slopes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Plank {
    id: SurfaceId,
    /// Rise for each millimetre to the east and to the north.
    east: f64,
    north: f64,
}

impl Plank {
    /// How far the plank rises over a way on the floor plan, mm.
    pub(crate) fn rise(&self, east: f64, north: f64) -> f64 {
        self.east * east + self.north * north
    }

    /// How steeply a fall runs down, degrees; negative where it runs up.
    pub(crate) fn down(&self, turn: u16, way: u8) -> f64 {
        let (c, s) = cos_sin(turn);
        let rise = self.rise(c, s);
        let forward = if way == 1 { rise } else { -rise };
        maths::atan2(forward, 1.0).to_degrees()
    }

    /// How much longer a way in the direction of a fall is on the plank than on the floor plan.
    pub(crate) fn longer(&self, turn: u16) -> f64 {
        let (c, s) = cos_sin(turn);
        let rise = self.rise(c, s);
        (1.0 + rise * rise).sqrt()
    }

    /// Whether a hit on it may fail, or its time be off by more than 5 %: at a clear `gap` (mm, for a piece of 48 mm) and
    /// this most friction of piece on piece.
    pub(crate) fn unsure(&self, turn: u16, way: u8, gap: f64, friction: f64) -> bool {
        let rough = friction > ROUGH && self.down(turn, way) < -ROUGH_UP && gap < ROUGH_GAP;
        !self.is_straight(turn) || rough
    }

    /// Whether a fall runs straight up or down, on a slope on which all lines stood.
    pub(crate) fn is_straight(&self, turn: u16) -> bool {
        let (c, s) = cos_sin(turn);
        let across = maths::atan2(self.rise(-s, c).abs(), 1.0).to_degrees();
        across <= ACROSS && self.down(turn, 0).abs() <= STOOD + 0.01
    }
}

/// All surfaces that slope, and the tables for slopes.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Planks {
    all: Vec<Plank>,
    /// Their numbers by surface, sorted.
    numbers: Vec<(SurfaceId, u16)>,
    /// Class on the level and slope in steps, and the class there; sorted.
    classes: Vec<((u8, i32), u8)>,
    /// Hundredths of a degree.
    step: i32,
}

impl Planks {
    pub(crate) fn of(plan: &Plan) -> Self {
        let sloping = plan.surfaces.iter().filter(|s| !s.slope.is_level());
        let plank = |s: &plan::Surface| {
            let grade = s.grade();
            Plank { id: s.id, east: grade.x, north: grade.y }
        };
        // The gate takes fewer surfaces than this; what is beyond counts as level.
        let all: Vec<Plank> = sloping.map(plank).take(usize::from(u16::MAX)).collect();
        let mut numbers: Vec<(SurfaceId, u16)> = all.iter().map(|p| p.id).zip(1..=u16::MAX).collect();
        numbers.sort_unstable();
        Self { all, numbers, classes: Vec::new(), step: STEP }
    }

    /// Adds a class for each slope on which a piece of a class may fall.
    pub(crate) fn fill(&mut self, plan: &Plan, placement: &Placement, shapes: &mut Shapes) {
        if self.all.is_empty() {
            return;
        }
        let mut used: BTreeSet<(u8, i32)> = BTreeSet::new();
        for placed in placement.items() {
            let number = plan.item(placed.item).map_or(0, |i| self.number(i.surface));
            let Some(plank) = self.get(number) else { continue };
            let bodies = Bodies { pieces: &placed.pieces, shapes, plank: number };
            let of = |i: usize| {
                let b = bodies.body(i, 0);
                let shape = shapes.get(b.shape);
                let down = (plank.down(b.turn, 0) * 100.0).round() as i32;
                shape.falls.then_some([(shape.class, down), (shape.class, -down)])
            };
            let all = (0..bodies.len()).into_par_iter().filter_map(of);
            used.par_extend(all.flatten_iter());
        }
        // Slopes that would need more tables than there are become coarser until they fit; one of 90 degrees is level.
        let room = CLASSES - shapes.classes.len().min(CLASSES);
        let mut steps;
        loop {
            steps = used
                .iter()
                .map(|u| (u.0, round(u.1, self.step)))
                .filter(|u| u.1 != 0)
                .collect::<BTreeSet<_>>();
            if steps.len() <= room {
                break;
            }
            self.step *= 2;
        }
        for (class, step) in steps {
            let level = shapes.classes[usize::from(class)];
            self.classes.push(((class, step), shapes.classes.len() as u8));
            shapes.classes.push(Class { down: f64::from(step * self.step) / 100.0, ..level });
        }
    }

    /// The number of a surface, from 1; 0 when it is level.
    pub(crate) fn number(&self, surface: SurfaceId) -> u16 {
        let at = self.numbers.partition_point(|n| n.0 < surface);
        self.numbers.get(at).filter(|n| n.0 == surface).map_or(0, |n| n.1)
    }

    pub(crate) fn get(&self, number: u16) -> Option<&Plank> {
        self.all.get(usize::from(number).checked_sub(1)?)
    }

    /// The class for a slope, of a class on the level.
    pub(crate) fn class(&self, class: u8, down: f64) -> u8 {
        let step = round((down * 100.0).round() as i32, self.step);
        self.classes.binary_search_by_key(&(class, step), |c| c.0).map_or(class, |i| self.classes[i].1)
    }
}

/// To the nearest step, halves away from level, so that up and down are treated alike.
fn round(hundredths: i32, step: i32) -> i32 {
    (f64::from(hundredths) / f64::from(step)).round() as i32
}
