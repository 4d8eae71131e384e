//! The train of leaning pieces: equal pieces that stay in touch after each hit, feet that do not slip, and Coulomb
//! friction where the upper edge of one slides down the back of the next.
//!
//! Model of the kind of Shaw (Am. J. Phys. 46, 640, 1978) and van Leeuwen (Am. J. Phys. 78, 721, 2010), equations
//! derived anew. All quantities are in units of the height and of the square root of height over g.

use units::maths;

use super::GRAVITY;

/// Pieces behind the head that are reckoned with: 99 % of the speed needs 20 of them at a gap of h/6, fewer beyond.
const TAIL: usize = 26;
/// Steps of the integration over each hop; four steps already agree with forty to four digits.
const STEPS: u32 = 6;
/// Hops until a line counts as steady.
const HOPS: usize = 48;
/// Hops whose delays against the steady one are kept.
pub(super) const AGES: usize = 24;

/// A line in its steady state, and how it got there.
#[derive(Debug, Clone, PartialEq)]
pub struct Steady {
    /// Time of a hop, in units of the square root of h / g.
    pub delay: f64,
    /// Inertia of the train, in units of that of one piece, felt by a hit.
    pub inertia: f64,
    /// Speed of the head at the hit, in units of the square root of g / h.
    pub hit: f64,
    /// Delay of the first hops against the steady one, as far as they were followed.
    pub first: Vec<f64>,
}

struct Train {
    d: f64,
    c: f64,
    mu: f64,
    /// Moment of inertia about the foot over the mass.
    inertia: f64,
    /// Sine and cosine of the slope, positive downhill.
    slope: (f64, f64),
}

/// What the pieces behind the head do to it.
struct Sums {
    acceleration: f64,
    inertia: f64,
}

impl Train {
    /// Moment of a piece's weight about its foot at a tilt against the plank of this sine and cosine, over weight and
    /// height. On a slope gravity is tilted and the pieces stand square to the plank.
    fn moment(&self, (sin, cos): (f64, f64)) -> f64 {
        let (down, level) = self.slope;
        ((sin * level + cos * down) - self.d * (cos * level - sin * down)) / 2.0
    }

    /// Sums over the head at tilt `theta` and the `behind` pieces behind it; the head turns at `omega`.
    fn sums(&self, theta: f64, omega: f64, behind: usize) -> Sums {
        let (d, c, mu) = (self.d, self.c, self.mu);
        let (mut a_sum, mut b_sum) = (1.0, 0.0);
        let (mut tilt, mut speed, mut weight) = (theta, omega, 1.0);
        let (mut sin1, mut cos1) = maths::sin_cos(theta);
        let mut pushes = self.moment((sin1, cos1));
        let mut inertia = 1.0;
        for _ in 0..behind {
            let sin_lean = (c * cos1 - d).clamp(-1.0, 1.0);
            let cos_lean = (1.0 - sin_lean * sin_lean).max(0.0).sqrt();
            let q = 1.0 - c * sin1 / cos_lean;
            let height = cos_lean - c * sin1;
            let gained = weight * (height - mu * d) / (cos_lean + mu * sin_lean);
            // The rest of the train neither rests on this piece nor pushes it.
            if height <= mu * d || q <= 0.0 || gained < 1e-7 || !gained.is_finite() {
                break;
            }
            let own = q * speed;
            let turn =
                -c * (cos1 * speed / cos_lean + sin1 * sin_lean * (own - speed) / (cos_lean * cos_lean));
            b_sum = q * b_sum + turn * speed;
            a_sum *= q;
            tilt += maths::asin(sin_lean);
            (sin1, cos1) = maths::sin_cos(tilt);
            (speed, weight) = (own, gained);
            pushes += weight * (self.moment((sin1, cos1)) - self.inertia * b_sum);
            inertia += weight * a_sum;
        }
        Sums { acceleration: pushes / (self.inertia * inertia), inertia }
    }

    /// Time of one hop and the head's speed at the hit, from speed `omega` upright; `None` when it comes to rest.
    fn hop(&self, omega: f64, behind: usize, end: f64) -> Option<(f64, f64)> {
        let step = end / f64::from(STEPS);
        // omega² changes with the tilt by twice the acceleration.
        let slope = |theta: f64, y: f64| {
            if y > 0.0 { 2.0 * self.sums(theta, y.sqrt(), behind).acceleration } else { 0.0 }
        };
        let (mut y, mut time) = (omega * omega, 0.0);
        for i in 0..STEPS {
            let theta = f64::from(i) * step;
            let k1 = slope(theta, y);
            let k2 = slope(theta + step / 2.0, y + step / 2.0 * k1);
            let k3 = slope(theta + step / 2.0, y + step / 2.0 * k2);
            let k4 = slope(theta + step, y + step * k3);
            let next = y + step / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
            let middle = y + step / 24.0 * (5.0 * k1 + 4.0 * (k2 + k3) - k4);
            if next <= 0.0 || middle <= 0.0 {
                return None;
            }
            time += step / 6.0 * (1.0 / y.sqrt() + 4.0 / middle.sqrt() + 1.0 / next.sqrt());
            y = next;
        }
        Some((time, y.sqrt()))
    }
}

/// Whether a line goes on whose first piece alone is pushed, at `push` rad/s and by nothing else: on a slope up many a push
/// dies out that would do on the level. A piece of height `h` and thickness `d`, at a clear gap of `s` mm, with the friction of
/// piece on piece and the slope of [`steady`].
pub fn goes_on((h, d, s): (f64, f64, f64), grip: (f64, f64), push: f64) -> bool {
    steady(d / h, s / h, grip, push * (h * 1e-3 / GRAVITY).sqrt()).is_some()
}

/// Follows a line of equal pieces from a first push of `push` (in units of the square root of g / h) until it is
/// steady. `d` and `s` are thickness and clear gap over height, `mu` is the friction of piece on piece, `slope` that of the
/// plank in radians, positive where the line runs down. `None` when the line stops.
pub fn steady(d: f64, s: f64, (mu, slope): (f64, f64), push: f64) -> Option<Steady> {
    if !(s > 0.0 && s < 1.0) {
        return None;
    }
    let train = Train { d, c: s + d, mu, inertia: (1.0 + d * d) / 3.0, slope: maths::sin_cos(slope) };
    let end = maths::asin(s);
    let cos = (1.0 - s * s).sqrt();
    let passed = (cos - mu * d) / (cos + mu * s);
    let (mut omega, mut first) = (push, Vec::with_capacity(HOPS));
    let (mut hit, mut inertia) = (0.0, 1.0);
    for n in 0..HOPS {
        let (time, at_hit) = train.hop(omega, n.min(TAIL), end)?;
        inertia = train.sums(end, at_hit, n.min(TAIL)).inertia;
        omega = at_hit * passed * inertia / (1.0 + passed * inertia);
        hit = at_hit;
        let last = first.last().copied().unwrap_or(0.0);
        first.push(time);
        if n > 12 && (time - last).abs() < 2e-5 * time {
            break;
        }
    }
    let delay = first.last().copied().unwrap_or(0.0);
    first.truncate(AGES);
    first.iter_mut().for_each(|t| *t /= delay);
    Some(Steady { delay, inertia, hit, first })
}
