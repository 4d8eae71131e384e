//! A smooth leg: a cubic between two places with given directions, measured by numerical integration.

use crate::{Point, Vector};

/// Nodes and weights of Gauss and Legendre's rule with eight points on -1..=1 (tables in any handbook; from memory,
/// and checked by the tests on polynomials up to degree 15).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];
/// A whole leg's length is good to this, in mm.
const ACCURACY_MM: f64 = 1e-6;
/// Halving a part of the parameter more often than this gains nothing.
const DEEPEST: u32 = 16;

/// p(u) = from + u a + u^2 b + u^3 c for u in 0..=1, with the lengths of its parts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cubic {
    from: Point,
    a: Vector,
    b: Vector,
    c: Vector,
    /// (parameter, length up to there), from (0, 0) to (1, length).
    table: Vec<(f64, f64)>,
}

impl Cubic {
    /// From Hermite data: both ends and the derivatives there.
    pub(super) fn hermite(from: Point, to: Point, m0: Vector, m1: Vector) -> Self {
        let chord = to.minus(from);
        let b = chord.times(3.0).plus(m0.times(-2.0)).plus(m1.times(-1.0));
        let c = chord.times(-2.0).plus(m0).plus(m1);
        let mut cubic = Self { from, a: m0, b, c, table: vec![(0.0, 0.0)] };
        let whole = cubic.integral(0.0, 1.0);
        // Not finer than rounding allows for a leg of that length.
        let slack = ACCURACY_MM.max(whole * 1e-12);
        cubic.measure((0.0, 1.0), whole, slack, 0);
        cubic
    }

    pub(super) fn length(&self) -> f64 {
        self.table[self.table.len() - 1].1
    }

    pub(super) fn at(&self, s: f64) -> (Point, Vector) {
        let u = self.parameter(s);
        let shift = self.a.times(u).plus(self.b.times(u * u)).plus(self.c.times(u * u * u));
        (self.from.plus(shift), self.direction(u))
    }

    pub(super) fn curvature(&self, s: f64) -> f64 {
        let u = self.parameter(s);
        let velocity = self.velocity(u);
        let speed = velocity.length();
        let bend = self.b.times(2.0).plus(self.c.times(6.0 * u));
        let k = velocity.cross(bend) / (speed * speed * speed);
        if k.is_finite() { k } else { 0.0 }
    }

    fn velocity(&self, u: f64) -> Vector {
        self.a.plus(self.b.times(2.0 * u)).plus(self.c.times(3.0 * u * u))
    }

    /// The direction; where the curve stands still, that a little further on.
    fn direction(&self, u: f64) -> Vector {
        let nearby = if u < 0.5 { u + 1e-6 } else { u - 1e-6 };
        self.velocity(u).unit().or_else(|| self.velocity(nearby).unit()).unwrap_or(Vector { x: 1.0, y: 0.0 })
    }

    /// The length between two parameters by one application of the rule.
    fn integral(&self, low: f64, high: f64) -> f64 {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let pair = |(x, w): (f64, f64)| {
            w * (self.velocity(middle - half * x).length() + self.velocity(middle + half * x).length())
        };
        half * GAUSS.into_iter().map(pair).sum::<f64>()
    }

    /// Halves a part until both halves agree with the whole, then writes it into the table.
    fn measure(&mut self, (low, high): (f64, f64), whole: f64, slack: f64, depth: u32) {
        let middle = 0.5 * (low + high);
        let (first, second) = (self.integral(low, middle), self.integral(middle, high));
        // At least four parts, so that the inversion starts close.
        if depth >= DEEPEST || (depth >= 2 && (first + second - whole).abs() <= slack) {
            let before = self.length();
            self.table.push((middle, before + first));
            self.table.push((high, before + first + second));
        } else {
            self.measure((low, middle), first, 0.5 * slack, depth + 1);
            self.measure((middle, high), second, 0.5 * slack, depth + 1);
        }
    }

    /// The parameter at which the length is `s`: the part from the table, then Newton's method within it.
    fn parameter(&self, s: f64) -> f64 {
        let last = self.table.len() - 1;
        let part = self.table.partition_point(|&(_, end)| end < s).clamp(1, last);
        let ((start, before), (end, after)) = (self.table[part - 1], self.table[part]);
        if s <= before || after <= before {
            return start;
        }
        if s >= after {
            return end;
        }
        let (mut low, mut high) = (start, end);
        let mut u = start + (end - start) * ((s - before) / (after - before));
        for _ in 0..32 {
            let miss = before + self.integral(start, u) - s;
            if miss.abs() <= 1e-9 + 1e-14 * s {
                return u;
            }
            if miss > 0.0 {
                high = u
            } else {
                low = u
            }
            let newton = u - miss / self.velocity(u).length();
            u = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        }
        u
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_is_exact_for_polynomials_of_degree_fifteen() {
        for degree in 0..=15 {
            let value: f64 = GAUSS
                .iter()
                .map(|&(x, w)| {
                    let power = |x: f64| (0..degree).fold(1.0, |p, _| p * x);
                    w * (power(x) + power(-x))
                })
                .sum();
            let exact = if degree % 2 == 0 { 2.0 / f64::from(degree + 1) } else { 0.0 };
            assert!((value - exact).abs() < 1e-14, "degree {degree}: {value} against {exact}");
        }
    }

    /// Against the closed form of a parabola's length (from memory): y = x^2 from 0 to x is
    /// x sqrt(1 + 4 x^2) / 2 + ln(2 x + sqrt(1 + 4 x^2)) / 4.
    #[test]
    fn length_of_a_parabola_is_that_of_the_closed_form() {
        let x = 300.0_f64;
        let cubic = Cubic::hermite(
            Point::new(0.0, 0.0),
            Point::new(x, x * x),
            Vector { x, y: 0.0 },
            Vector { x, y: 2.0 * x * x },
        );
        let root = (1.0 + 4.0 * x * x).sqrt();
        let exact = x * root / 2.0 + units::maths::ln(2.0 * x + root) / 4.0;
        assert!((cubic.length() - exact).abs() < 1e-6, "{} against {exact}", cubic.length());
        // And half way up: the place at that length is on the parabola at x / 2.
        let h = x / 2.0;
        let root = (1.0 + 4.0 * h * h).sqrt();
        let (p, _) = cubic.at(h * root / 2.0 + units::maths::ln(2.0 * h + root) / 4.0);
        assert!((p.x - h).abs() < 1e-6 && (p.y - h * h).abs() < 1e-5, "{p:?}");
    }
}
