//! Outlines in pixels, x to the right and y down, and the strokes and curves they are made from.

use units::maths;

/// A point in pixels.
pub(crate) type Point = (f64, f64);

/// Closed outlines; whatever any of them winds around is inside.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shape {
    pub(crate) outlines: Vec<Vec<Point>>,
}

/// A polygon.
pub(crate) fn polygon(points: &[Point]) -> Shape {
    Shape { outlines: vec![points.to_vec()] }
}

/// A rectangle by its left top corner and size.
pub(crate) fn rect(x: f64, y: f64, width: f64, height: f64) -> Shape {
    polygon(&[(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
}

/// An ellipse by its middle and half sizes, turned by `turn` radians.
pub(crate) fn ellipse(middle: Point, half: Point, turn: f64) -> Shape {
    let (s, c) = maths::sin_cos(turn);
    let count = 12 + (half.0.max(half.1) * 0.8) as usize;
    let points: Vec<Point> = (0..count.min(160))
        .map(|at| {
            let (sin, cos) = maths::sin_cos(std::f64::consts::TAU * at as f64 / count.min(160) as f64);
            let (x, y) = (half.0 * cos, half.1 * sin);
            (middle.0 + x * c - y * s, middle.1 + x * s + y * c)
        })
        .collect();
    polygon(&points)
}

/// A circle.
pub(crate) fn circle(middle: Point, radius: f64) -> Shape {
    ellipse(middle, (radius, radius), 0.0)
}

/// Points of an arc around `middle`, angles in radians clockwise from the right as seen on the screen.
pub(crate) fn arc(middle: Point, half: Point, from: f64, to: f64) -> Vec<Point> {
    let count = 6 + ((to - from).abs() * half.0.max(half.1) / 5.0) as usize;
    (0..=count)
        .map(|at| {
            let (s, c) = maths::sin_cos(from + (to - from) * at as f64 / count as f64);
            (middle.0 + half.0 * c, middle.1 + half.1 * s)
        })
        .collect()
}

/// Points of a curve that leaves `a` towards `bend` and arrives at `b` from it.
pub(crate) fn bow(a: Point, bend: Point, b: Point) -> Vec<Point> {
    (0..=20)
        .map(|at| {
            let t = f64::from(at) / 20.0;
            let (p, q, r) = ((1.0 - t) * (1.0 - t), 2.0 * t * (1.0 - t), t * t);
            (p * a.0 + q * bend.0 + r * b.0, p * a.1 + q * bend.1 + r * b.1)
        })
        .collect()
}

/// A line through points with round ends, its width running from `first` to `last`.
pub(crate) fn taper(points: &[Point], first: f64, last: f64) -> Shape {
    let mut shape = Shape::default();
    let width = |at: usize| first + (last - first) * at as f64 / (points.len().max(2) - 1) as f64;
    for (at, pair) in points.windows(2).enumerate() {
        let ((ax, ay), (bx, by)) = (pair[0], pair[1]);
        let length = maths::hypot(bx - ax, by - ay).max(1e-9);
        let (nx, ny) = (-(by - ay) / length * 0.5, (bx - ax) / length * 0.5);
        let (wa, wb) = (width(at), width(at + 1));
        shape.outlines.push(vec![
            (ax - nx * wa, ay - ny * wa),
            (bx - nx * wb, by - ny * wb),
            (bx + nx * wb, by + ny * wb),
            (ax + nx * wa, ay + ny * wa),
        ]);
    }
    for (at, point) in points.iter().enumerate().filter(|_| first.max(last) > 1.6) {
        shape.outlines.extend(circle(*point, width(at) / 2.0).outlines);
    }
    shape
}

/// A line through points with round ends.
pub(crate) fn line(points: &[Point], width: f64) -> Shape {
    taper(points, width, width)
}
