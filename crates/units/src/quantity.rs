//! Length, angle, duration, mass and speed as types of their own, so that a number never loses its unit.

use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

/// A number that is not finite was offered where a quantity is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotFinite(pub f64);

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is not a number that can be measured", self.0)
    }
}

impl std::error::Error for NotFinite {}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $new:ident, $read:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a value in ", $unit, ".")]
            pub const fn $new(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $read(self) -> f64 {
                self.0
            }

            /// The same quantity, or an error when it is NaN or infinite.
            pub fn finite(self) -> Result<Self, NotFinite> {
                if self.0.is_finite() { Ok(self) } else { Err(NotFinite(self.0)) }
            }

            /// The smaller of two.
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of two.
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// Without its sign.
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, by: Self) -> f64 {
                self.0 / by.0
            }
        }
    };
}

quantity!(
    /// A length. Stored and serialised in millimetres.
    Length, mm, to_mm, "millimetres"
);
quantity!(
    /// A duration. Stored and serialised in seconds.
    Duration, s, to_s, "seconds"
);
quantity!(
    /// A mass. Stored and serialised in grams.
    Mass, g, to_g, "grams"
);
quantity!(
    /// A speed. Stored and serialised in metres per second, which is also millimetres per millisecond.
    Speed, m_per_s, to_m_per_s, "metres per second"
);
quantity!(
    /// An angle, counter-clockwise from east. Stored and serialised in degrees,
    /// so that quarter turns are exact.
    Angle, deg, to_deg, "degrees"
);

impl Length {
    /// From a value in metres.
    pub const fn m(value: f64) -> Self {
        Self(value * 1000.0)
    }

    /// The value in metres.
    pub const fn to_m(self) -> f64 {
        self.0 / 1000.0
    }

    /// From a value in inches (25.4 mm each, by definition since 1959).
    pub const fn inch(value: f64) -> Self {
        Self(value * 25.4)
    }

    /// The value in inches.
    pub const fn to_inch(self) -> f64 {
        self.0 / 25.4
    }
}

impl Duration {
    /// From a value in hours.
    pub const fn h(value: f64) -> Self {
        Self(value * 3600.0)
    }

    /// The value in hours.
    pub const fn to_h(self) -> f64 {
        self.0 / 3600.0
    }
}

impl Angle {
    /// From a value in radians.
    pub fn rad(value: f64) -> Self {
        Self(value * (180.0 / std::f64::consts::PI))
    }

    /// The value in radians.
    pub fn to_rad(self) -> f64 {
        self.0 * (std::f64::consts::PI / 180.0)
    }

    /// Sine and cosine; exact at multiples of 90 degrees, so that fields that face a wall stay on the grid.
    pub fn sin_cos(self) -> (f64, f64) {
        let turns = self.0.rem_euclid(360.0);
        match turns {
            0.0 => (0.0, 1.0),
            90.0 => (1.0, 0.0),
            180.0 => (0.0, -1.0),
            270.0 => (-1.0, 0.0),
            _ => crate::maths::sin_cos(turns * (std::f64::consts::PI / 180.0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarter_turns_are_exact() {
        assert_eq!(Angle::deg(90.0).sin_cos(), (1.0, 0.0));
        assert_eq!(Angle::deg(-90.0).sin_cos(), (-1.0, 0.0));
        assert_eq!(Angle::deg(540.0).sin_cos(), (0.0, -1.0));
    }

    #[test]
    fn nan_and_infinity_are_turned_away() {
        assert!(Length::mm(f64::NAN).finite().is_err());
        assert!(Length::mm(f64::INFINITY).finite().is_err());
        assert_eq!(Length::inch(1.0).finite(), Ok(Length::mm(25.4)));
    }
}
