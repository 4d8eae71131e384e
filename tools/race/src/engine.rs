//! A straight line of pieces in the rigid-body engine: every piece a box, the floor a half-space, nothing tuned to us.
//!
//! Lengths are metres, as the engine wants them, with its unit of length set to 20 mm: its tolerances are made for
//! things a metre large, and its usual slop of 5 mm and foresight of 20 mm are as large as a piece.

use std::time::Instant;

use rapier3d::prelude::*;

/// Height, width and thickness of the usual piece in metres, and its mass in kilograms.
const PIECE: [Real; 4] = [0.048, 0.024, 0.0075, 0.0085];
/// Free fall near the ground, m/s².
const GRAVITY: Real = 9.81;
/// A piece counts as hit at this half tilt (its sine): a tilt of half a degree.
const HIT: f64 = 0.004_363_3;
/// A line counts as stopped when so long nothing new was hit, in seconds.
const PATIENCE: f64 = 0.6;

/// The line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Line {
    pub(crate) pieces: usize,
    /// Clear gap, mm.
    pub(crate) gap: f64,
    /// Friction of piece on piece.
    pub(crate) mu: f64,
    /// Friction of piece on floor.
    pub(crate) floor: f64,
    /// Speed at which the first piece begins to turn about its front edge, rad/s.
    pub(crate) push: f64,
}

impl Line {
    /// Centre to centre, mm.
    pub(crate) fn pitch(&self) -> f64 {
        self.gap + f64::from(PIECE[2]) * 1e3
    }
}

/// How finely the engine reckons.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fineness {
    /// Step, ms.
    pub(crate) step: f64,
    /// Iterations of its solver in each step.
    pub(crate) iterations: usize,
    /// Its unit of length, m.
    pub(crate) unit: f64,
    /// Whether it may keep the contacts of a pair that hardly moved.
    pub(crate) recycle: bool,
}

impl Fineness {
    /// Within about 2 % of the limit of small steps.
    pub(crate) const USUAL: Self = Self { step: 0.5, iterations: 8, unit: 0.02, recycle: true };
    /// Where the step no longer matters: half of it changes the speed by 1 % at most.
    pub(crate) const FINE: Self = Self { step: 0.125, iterations: 8, unit: 0.005, recycle: false };
    /// Half of that, to show it.
    pub(crate) const FINER: Self = Self { step: 0.0625, iterations: 8, unit: 0.005, recycle: false };
}

/// What came of it.
#[derive(Debug, Clone)]
pub(crate) struct Outcome {
    /// When each piece was hit, in seconds after the push; as many as were hit, in order.
    pub(crate) hits: Vec<f64>,
    /// Seconds that the steps of the engine took by the clock; setting up is not in it.
    pub(crate) wall: f64,
    /// Seconds of them that the processor was ours: on a shared machine the fairer figure for the engine.
    pub(crate) busy: f64,
    /// How far the foot of the piece in the middle had slid when the run ended, mm; negative is backward.
    pub(crate) slid: f64,
}

impl Outcome {
    /// Steady speed between two pieces, m/s.
    pub(crate) fn speed(&self, line: &Line, from: usize, to: usize) -> Option<f64> {
        let hops = (to - from) as f64;
        Some(line.pitch() * 1e-3 * hops / (self.hits.get(to)? - self.hits.get(from)?))
    }
}

/// Runs a line until its last piece is hit or the fall has stopped.
pub(crate) fn run(line: &Line, fineness: &Fineness) -> Outcome {
    let (mut world, handles) = build(line, fineness);
    let step = fineness.step * 1e-3;
    let middle = handles[line.pieces / 2];
    let foot_before = foot(&world.bodies[middle]);
    let mut hits = vec![0.0];
    let (mut now, mut last_sine) = (0.0, 0.0);
    let (begun, busy) = (Instant::now(), busy());
    while hits.len() < line.pieces {
        world.step();
        now += step;
        // More than one piece in a step would need a wave of 30 m/s.
        let sine = -f64::from(world.bodies[handles[hits.len()]].rotation().z);
        if sine >= HIT {
            hits.push(now - step * (sine - HIT) / (sine - last_sine));
            last_sine = 0.0;
        } else {
            last_sine = sine;
        }
        if now - hits[hits.len() - 1] > PATIENCE {
            break;
        }
    }
    let (wall, busy) = (begun.elapsed().as_secs_f64(), self::busy() - busy);
    Outcome { hits, wall, busy, slid: f64::from(foot(&world.bodies[middle]) - foot_before) * 1e3 }
}

/// Seconds that this thread has had the processor, as Linux counts it; NaN where it is not told.
fn busy() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split_whitespace().next().and_then(|ns| ns.parse::<f64>().ok()).map_or(f64::NAN, |ns| ns * 1e-9)
}

/// A piece that stands somewhere: place in mm seen from above, and its heading in radians, counter-clockwise.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) yaw: f64,
}

/// Which of the pieces have fallen when the fall has stopped; the first one is pushed. `mu` is the friction of
/// pieces and floor alike. A piece has fallen when it leans by 30° or more.
pub(crate) fn fell(spots: &[Spot], mu: f64, push: f64, fineness: &Fineness) -> Vec<bool> {
    let mut world = world(mu, mu, fineness);
    let handles: Vec<_> = spots
        .iter()
        .enumerate()
        .map(|(i, spot)| {
            let at = Vector::new((spot.x * 1e-3) as Real, PIECE[0] / 2.0, (-spot.y * 1e-3) as Real);
            let turn = Vector::new(0.0, spot.yaw as Real, 0.0);
            let body = RigidBodyBuilder::dynamic().translation(at).rotation(turn);
            let body = if i == 0 { pushed(body, push as Real) } else { body.sleeping(true) };
            piece(&mut world, body, mu)
        })
        .collect();
    let leans = |world: &PhysicsWorld, handle: RigidBodyHandle| {
        let up: Vector = *world.bodies[handle].rotation() * Vector::Y;
        up.y < 0.866
    };
    let mut fallen = vec![false; spots.len()];
    let (mut now, mut last) = (0.0, 0.0);
    while now - last < PATIENCE && fallen.contains(&false) {
        world.step();
        now += fineness.step * 1e-3;
        for (fallen, handle) in fallen.iter_mut().zip(&handles) {
            if !*fallen && leans(&world, *handle) {
                *fallen = true;
                last = now;
            }
        }
    }
    fallen
}

/// The line stands along x, with its middle at the origin, where numbers of 32 bits are finest.
fn build(line: &Line, fineness: &Fineness) -> (PhysicsWorld, Vec<RigidBodyHandle>) {
    let mut world = world(line.mu, line.floor, fineness);
    let start = -0.5 * (line.pieces - 1) as f64 * line.pitch();
    let handles = (0..line.pieces).map(|i| {
        let x = ((start + i as f64 * line.pitch()) * 1e-3) as Real;
        let body = RigidBodyBuilder::dynamic().translation(Vector::new(x, PIECE[0] / 2.0, 0.0));
        let body = if i == 0 { pushed(body, line.push as Real) } else { body.sleeping(true) };
        piece(&mut world, body, line.mu)
    });
    let handles = handles.collect();
    (world, handles)
}

fn piece(world: &mut PhysicsWorld, body: RigidBodyBuilder, mu: f64) -> RigidBodyHandle {
    let [height, width, thickness, mass] = PIECE;
    let shape = ColliderBuilder::cuboid(thickness / 2.0, height / 2.0, width / 2.0);
    world.insert(body, shape.mass(mass).friction(mu as Real).restitution(0.0)).0
}

/// The floor, and nothing on it yet.
fn world(mu: f64, floor: f64, fineness: &Fineness) -> PhysicsWorld {
    let mut world = PhysicsWorld::new();
    world.gravity = Vector::new(0.0, -GRAVITY, 0.0);
    let p = &mut world.integration_parameters;
    p.dt = (fineness.step * 1e-3) as Real;
    p.num_solver_iterations = fineness.iterations;
    p.length_unit = fineness.unit as Real;
    p.friction_model = FrictionModel::Coulomb;
    p.contact_recycling = fineness.recycle;
    // The floor decides how it grips; between pieces it is their own friction.
    let rule = if floor < mu { CoefficientCombineRule::Min } else { CoefficientCombineRule::Max };
    let floor = ColliderBuilder::new(SharedShape::halfspace(Vector::Y))
        .friction(floor as Real)
        .friction_combine_rule(rule);
    world.insert(RigidBodyBuilder::fixed(), floor);
    world
}

/// Turns about the front edge of the foot.
fn pushed(body: RigidBodyBuilder, push: Real) -> RigidBodyBuilder {
    let [height, _, thickness, _] = PIECE;
    body.angvel(Vector::new(0.0, 0.0, -push)).linvel(Vector::new(
        push * height / 2.0,
        push * thickness / 2.0,
        0.0,
    ))
}

/// Where along the line the front edge of the foot is, m.
fn foot(body: &RigidBody) -> Real {
    let [height, _, thickness, _] = PIECE;
    let edge = *body.rotation() * Vector::new(thickness / 2.0, -height / 2.0, 0.0);
    body.translation().x + edge.x
}
