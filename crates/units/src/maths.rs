//! Elementary functions from libm, so that every platform computes the same bits.
//!
//! The standard library's `sin`, `powf` and the like go to the platform's C library,
//! whose last digits differ; `sqrt`, `floor` and plain arithmetic are exact everywhere and need no stand-in.

/// Sine of an angle in radians.
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle in radians.
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Sine and cosine of an angle in radians.
pub fn sin_cos(x: f64) -> (f64, f64) {
    libm::sincos(x)
}

/// Tangent of an angle in radians.
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// Angle of the vector (x, y) in radians, in -pi..=pi.
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// Angle whose sine is `x`, in radians; NaN outside -1..=1.
pub fn asin(x: f64) -> f64 {
    libm::asin(x)
}

/// `x` to the power `y`.
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// e to the power `x`.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Cube root.
pub fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}

/// Length of the vector (x, y) without overflow.
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}
