//! Closed forms for one piece and for a steady line; own derivations, checked against tabled values.
//!
//! Lengths in mm, angles in radians, times in seconds, speeds in m/s. `h` is the height, `d` the thickness along the
//! fall, `s` the clear gap.

use units::maths;

use super::GRAVITY;

/// How friction slows a line: K of `v = v0 / (1 + K mu)` for a piece with d/h = 0.156, at these shares s/h. A fit to
/// the train of leaning pieces, within 3 % for mu from 0 to 0.6.
pub const FRICTION_K: [(f64, f64); 10] = [
    (6.0 / 48.0, 2.0),
    (8.0 / 48.0, 1.82),
    (12.0 / 48.0, 1.62),
    (16.0 / 48.0, 1.54),
    (20.0 / 48.0, 1.50),
    (24.0 / 48.0, 1.51),
    (28.0 / 48.0, 1.55),
    (32.0 / 48.0, 1.63),
    (36.0 / 48.0, 1.80),
    (40.0 / 48.0, 2.1),
];

/// Tilt at which a piece tips over by itself: atan(d / h).
pub fn tipping_angle(h: f64, d: f64) -> f64 {
    maths::atan2(d, h)
}

/// Energy that lifts a piece of `mass_g` grams over its edge, in joules: m g (L - h) / 2.
pub fn barrier_j(h: f64, d: f64, mass_g: f64) -> f64 {
    mass_g * 1e-3 * GRAVITY * (maths::hypot(h, d) - h) * 1e-3 / 2.0
}

/// Least start speed that tips a piece, rad/s: the square root of (3 g / L)(1 - cos alpha).
pub fn least_start_speed(h: f64, d: f64) -> f64 {
    let l = maths::hypot(h, d) * 1e-3;
    (3.0 * GRAVITY / l * (1.0 - maths::cos(tipping_angle(h, d)))).sqrt()
}

/// The same on a slope, in radians, positive where the piece falls down: less of its diagonal is left to lift over its foot.
/// 0 where it does not stand.
pub fn least_start_speed_on(h: f64, d: f64, slope: f64) -> f64 {
    let l = maths::hypot(h, d) * 1e-3;
    let left = (tipping_angle(h, d) - slope).max(0.0);
    (3.0 * GRAVITY / l * (1.0 - maths::cos(left))).sqrt()
}

/// Gap below which a piece touches the next one before it tips by itself, mm: h sin alpha.
pub fn tipping_gap(h: f64, d: f64) -> f64 {
    h * maths::sin(tipping_angle(h, d))
}

/// Tilt at which a piece touches the next one; NaN beyond its reach.
pub fn contact_tilt(h: f64, s: f64) -> f64 {
    maths::asin(s / h)
}

/// Height above the floor at which it touches, mm; NaN beyond its reach.
pub fn contact_height(h: f64, s: f64) -> f64 {
    (h * h - s * s).sqrt()
}

/// Tilt of each piece of a long line once all have fallen: cos theta = d / (s + d).
pub fn rest_lean(d: f64, s: f64) -> f64 {
    let c = d / (s + d);
    maths::atan2((1.0 - c * c).max(0.0).sqrt(), c)
}

/// Time from upright to the touch for one free piece that starts at `omega` rad/s, in seconds; `None` when it does not
/// get there.
///
/// Integrates dt = d theta / omega with the closed form omega² = omega0² + (3 g / L)(cos alpha - cos(theta - alpha)) by
/// Simpson's rule on 2 000 parts.
pub fn free_fall_s(h: f64, d: f64, s: f64, omega: f64) -> Option<f64> {
    let (alpha, end) = (tipping_angle(h, d), contact_tilt(h, s));
    let b = 3.0 * GRAVITY / (maths::hypot(h, d) * 1e-3);
    let speed2 = |theta: f64| omega * omega + b * (maths::cos(alpha) - maths::cos(theta - alpha));
    if end.is_nan() || speed2(alpha.min(end)) <= 0.0 {
        return None;
    }
    const PARTS: u32 = 2_000;
    let step = end / f64::from(PARTS);
    let weight = |i: u32| match i {
        0 | PARTS => 1.0,
        i if i % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=PARTS).map(|i| weight(i) / speed2(f64::from(i) * step).sqrt()).sum();
    Some(sum * step / 3.0)
}

/// Steady speed of a line without friction, m/s. Energy released for each piece equals what its one inelastic hit
/// loses: omega² = 3 g (h - h cos theta_f - d sin theta_f) / (h² + d²), v = (s + d) omega / asin(s / h).
pub fn speed_without_friction(h: f64, d: f64, s: f64) -> f64 {
    let lean = rest_lean(d, s);
    let (sin, cos) = maths::sin_cos(lean);
    let (hm, dm) = (h * 1e-3, d * 1e-3);
    let omega = (3.0 * GRAVITY * (hm - hm * cos - dm * sin) / (hm * hm + dm * dm)).max(0.0).sqrt();
    (s + d) * 1e-3 * omega / contact_tilt(h, s)
}

/// K of [`FRICTION_K`] at a share s/h, linear between the points and level beyond them.
fn friction_k(share: f64) -> f64 {
    let at = FRICTION_K.partition_point(|p| p.0 <= share);
    if at == 0 {
        return FRICTION_K[0].1;
    }
    let Some(&(x1, k1)) = FRICTION_K.get(at) else { return FRICTION_K[FRICTION_K.len() - 1].1 };
    let (x0, k0) = FRICTION_K[at - 1];
    k0 + (k1 - k0) * (share - x0) / (x1 - x0)
}

/// Steady speed of a line with friction `mu` of piece on piece, m/s: the fitted form v0 / (1 + K mu).
pub fn speed_fitted(h: f64, d: f64, s: f64, mu: f64) -> f64 {
    speed_without_friction(h, d, s) / (1.0 + friction_k(s / h) * mu)
}

/// The friction of piece on piece that makes a line as fast as it was timed; within 0 to 1.
pub fn friction_from_speed(h: f64, d: f64, s: f64, speed: f64) -> f64 {
    let mu = (speed_without_friction(h, d, s) / speed - 1.0) / friction_k(s / h);
    if mu.is_finite() { mu.clamp(0.0, 1.0) } else { 0.0 }
}
