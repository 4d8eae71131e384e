//! The course of a line or a fill: its path on the floor, and where along it the pieces stand.

use geometry::{Curve, CurveBuilder, FillError, Frame, Point, Vector, curls, double_spiral, waves};
use plan::{Bridge, Fill, Filling, Hand, Item, Leg, Line, MAX_CELLS, Stock};
use units::{Angle, Length};

/// A pitch below this is none: no piece stands there.
const LEAST_PITCH_MM: f64 = 0.1;

/// The path of a line or a fill, and where along it the pieces stand: the first at the start, then every pitch by
/// the length of the path. Lengths are millimetres.
///
/// A path of length L holds round(L / pitch) pieces, at least one, so that a line that carries on where it ends
/// follows at about one pitch. A line that leads to a port has its pitch adjusted so that it divides the path evenly
/// and the last piece stands one pitch before the port's place.
///
/// On a slope the path is drawn on the floor plan, and L and the pitch are lengths along the slope: pieces that stand
/// square to a plank have the same gaps as on the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    curve: Curve,
    /// Where the curve lies on the floor.
    frame: Frame,
    start: Footing,
    count: usize,
    pitch: f64,
    wanted: f64,
    cut: bool,
    half: f64,
    lanes: usize,
    pitch_across: f64,
    bridges: Vec<Bridge>,
    /// On a slope, how far along the path on the floor plan each piece stands, and where the next one would; else empty.
    stations: Vec<f64>,
}

/// The path of a line on the floor, from where it starts to the place that it leads to, if any.
pub fn curve_of(item: &Item, line: &Line, start: Footing, target: Option<Footing>) -> Curve {
    let own = item.stands();
    let begun = CurveBuilder::start(start.0, start.1);
    let curve = match (target, line.path.split_last()) {
        // A curve through points goes on to where the line leads.
        (Some((at, heading)), Some((Leg::Through { points }, before))) => {
            let path = before.iter().fold(begun, |path, leg| lay(path, leg, &own));
            path.through_to(&on_floor(points, &own), at, heading)
        }
        _ => {
            let path = line.path.iter().fold(begun, |path, leg| lay(path, leg, &own));
            target.into_iter().fold(path, |path, (at, heading)| path.lead_to(at, heading))
        }
    };
    curve.build()
}

/// A place and the direction of the fall there.
pub type Footing = (Point, Angle);

impl Course {
    /// The course of a line from where it starts to the place that it leads to, if any.
    pub(crate) fn of_line(
        item: &Item,
        line: &Line,
        stock: &Stock,
        start: Footing,
        target: Option<Footing>,
    ) -> Self {
        let curve = curve_of(item, line, start, target);
        let (thickness, width) = size(stock, line.kind);
        let wanted = line.spacing.pitch(thickness).to_mm();
        let lanes = (line.lanes as usize).min(MAX_CELLS);
        let across = line.pitch_across.to_mm();
        let mut course = Self::new(curve, whole_floor(), wanted, MAX_CELLS / lanes.max(1));
        course.start = start;
        if target.is_some() {
            course.divide();
        }
        course.half = width / 2.0;
        course.lanes = lanes;
        course.pitch_across = if across.is_finite() { across } else { 0.0 };
        course.bridges = line.bridges.clone();
        course
    }

    /// The course of a fill.
    ///
    /// # Errors
    /// Says why the area cannot be filled so.
    pub(crate) fn of_fill(item: &Item, fill: &Fill, stock: &Stock) -> Result<Self, FillError> {
        let ring = fill.ring.to_mm();
        let curve = match fill.with {
            Filling::Waves { course } => waves(&fill.outline, course, ring),
            Filling::Spiral => double_spiral(&fill.outline, ring),
            Filling::Curls { course, swing } => curls(&fill.outline, course, ring, swing.to_mm()),
        }?;
        let (thickness, width) = size(stock, fill.kind);
        let wanted = fill.spacing.pitch(thickness).to_mm();
        let mut course = Self::new(curve, item.stands(), wanted, MAX_CELLS);
        course.half = width / 2.0;
        course.start = footing(course.on_floor(course.curve.start()));
        Ok(course)
    }

    fn new(curve: Curve, frame: Frame, wanted: f64, most: usize) -> Self {
        let is_pitch = wanted.is_finite() && wanted >= LEAST_PITCH_MM;
        // Half a pitch of slack either way: round, but never less than the one piece at the start.
        let whole = if is_pitch { (curve.length() / wanted + 0.5).floor().max(1.0) } else { 0.0 };
        let count = (whole as usize).min(most);
        let (lanes, cut) = (1, (count as f64) < whole);
        let pitch = if is_pitch { wanted } else { 0.0 };
        let bridges = Vec::new();
        let start = (Point::default(), Angle::ZERO);
        let stations = Vec::new();
        Self {
            curve,
            frame,
            start,
            count,
            pitch,
            wanted,
            cut,
            half: 0.0,
            lanes,
            pitch_across: 0.0,
            bridges,
            stations,
        }
    }

    /// The same on a surface that rises so for each millimetre to the east and to the north; `leads` tells that it leads to
    /// a port.
    pub(crate) fn on_slope(mut self, grade: Vector, leads: bool) -> Self {
        if grade == (Vector { x: 0.0, y: 0.0 }) || self.wanted.is_nan() || self.wanted < LEAST_PITCH_MM {
            return self;
        }
        let end = self.curve.length();
        // How much longer the way is on the slope than on the floor plan, at a place along it.
        let (curve, frame) = (self.curve.clone(), self.frame);
        let longer = |s: f64| {
            let along = curve.at(s.min(end)).1;
            let rise = frame.along.times(along.x).plus(frame.left.times(along.y)).dot(grade);
            (1.0 + rise * rise).sqrt()
        };
        let step = |s: f64, pitch: f64| pitch / longer(s + pitch / 2.0);
        let most = MAX_CELLS / self.lanes.max(1);
        let (mut s, mut whole) = (0.0, 0usize);
        while whole < most && s + step(s, self.wanted) <= end {
            s += step(s, self.wanted);
            whole += 1;
        }
        let rest = (end - s) * longer((s + end) / 2.0);
        let count = if rest >= 0.5 * self.wanted { whole + 1 } else { whole };
        let mut pitch = self.wanted;
        (self.count, self.cut) = (count.max(1).min(most), count > most);
        if leads && !self.cut {
            let length = whole as f64 * self.wanted + rest;
            self.count = if length < 0.5 * self.wanted { 0 } else { self.count };
            pitch = if self.count > 0 { length / self.count as f64 } else { pitch };
        }
        let mut stations = Vec::with_capacity(self.count + 1);
        let mut s = 0.0;
        for _ in 0..=self.count {
            stations.push(s);
            s += step(s, pitch);
        }
        (self.pitch, self.stations) = (pitch, stations);
        self
    }

    /// How far along the path on the floor plan a rank stands, mm.
    fn station(&self, rank: usize) -> f64 {
        self.stations.get(rank).copied().unwrap_or(rank as f64 * self.pitch)
    }

    /// Adjusts the pitch so that it divides the path. A path shorter than half a pitch holds no piece: the first one of
    /// what it leads to stands there.
    fn divide(&mut self) {
        let length = self.curve.length();
        if self.count == 1 && length < 0.5 * self.wanted {
            self.count = 0;
        } else if self.count > 0 && !self.cut {
            self.pitch = length / self.count as f64;
        }
    }

    /// Length of the path on the floor plan.
    pub fn length(&self) -> f64 {
        self.curve.length()
    }

    /// Pieces in one lane, one after another.
    pub fn ranks(&self) -> usize {
        self.count
    }

    /// Lanes side by side.
    pub fn lanes(&self) -> usize {
        self.lanes
    }

    /// Number of pieces.
    pub fn pieces(&self) -> usize {
        self.count * self.lanes
    }

    /// Centre to centre along the path, as they stand; along the slope on one.
    pub fn pitch(&self) -> f64 {
        self.pitch
    }

    /// How much wider than asked for the pitch is, in mm, because the line leads to a given place; negative when it is
    /// closer.
    pub fn stretched(&self) -> f64 {
        self.pitch - self.wanted
    }

    /// True when the path would take more pieces than one item may have, so that it ends early.
    pub fn cut(&self) -> bool {
        self.cut
    }

    /// The place `s` mm from the start of the path, on the floor, and the direction there as a vector of length 1.
    pub fn at(&self, s: f64) -> (Point, Vector) {
        self.on_floor(self.curve.at(s))
    }

    /// The curvature `s` mm from the start, in 1/mm; positive where the path turns to the left.
    pub fn curvature(&self, s: f64) -> f64 {
        self.curve.curvature(s)
    }

    /// Height of what the piece of a rank stands on, above the item's surface.
    ///
    /// A flight of steps begins with the first piece at or behind the place where the bridge begins: `per_step` pieces
    /// on each step, the risers in the middle of the gaps between them; down as up.
    pub fn height(&self, rank: usize) -> f64 {
        self.bridges.iter().map(|b| self.bridge_height(b, rank)).fold(0.0, f64::max)
    }

    fn bridge_height(&self, bridge: &Bridge, rank: usize) -> f64 {
        let (height, step) = (bridge.height.to_mm(), bridge.step.to_mm());
        let from = bridge.from.to_mm() / self.pitch - 1e-9;
        let deck = bridge.deck.to_mm() / self.pitch + 0.5;
        let steps = bridge.steps() as usize;
        if !(from.is_finite() && deck.is_finite() && height.is_finite()) || steps == 0 {
            return 0.0;
        }
        // A float above the range goes to its end, so that nothing here can overflow.
        let first = (from.ceil().max(0.0) as usize).min(MAX_CELLS);
        let deck = (deck.floor().max(0.0) as usize).min(MAX_CELLS);
        let per_step = bridge.per_step.max(1) as usize;
        let flight = steps * per_step;
        let Some(i) = rank.checked_sub(first).filter(|&i| i < 2 * flight + deck) else { return 0.0 };
        let up = i.min(2 * flight + deck - 1 - i) / per_step + 1;
        (up as f64 * step).min(height)
    }

    /// Where the pieces of the middle of the path stand, rank by rank.
    pub(crate) fn places(&self) -> impl Iterator<Item = (Point, Vector)> + '_ {
        let level = if self.stations.is_empty() { self.count } else { 0 };
        let places = self.curve.positions(level, 0.0, self.pitch);
        let sloping = self.stations.iter().take(self.count).map(|s| self.curve.at(*s));
        places.chain(sloping).map(|place| self.on_floor(place))
    }

    /// How far to the left of the path a lane lies.
    pub(crate) fn left(&self, lane: usize) -> f64 {
        (lane as f64 - (self.lanes.max(1) - 1) as f64 / 2.0) * self.pitch_across
    }

    /// How wide it is across the fall, from the outer side of one piece to that of the other.
    pub(crate) fn width(&self) -> f64 {
        2.0 * self.half + (self.lanes.max(1) - 1) as f64 * self.pitch_across
    }

    /// Where the first piece stands.
    pub(crate) fn start(&self) -> Footing {
        self.start
    }

    /// Where the piece after the last one would stand.
    pub(crate) fn end(&self) -> Footing {
        footing(self.at(self.station(self.count)))
    }

    fn on_floor(&self, (at, along): (Point, Vector)) -> (Point, Vector) {
        let f = &self.frame;
        let turned = f.along.times(along.x).plus(f.left.times(along.y));
        (f.at(at.x, at.y), turned)
    }
}

fn footing((at, along): (Point, Vector)) -> Footing {
    (at, along.heading())
}

/// The frame in which local places are places on the floor.
fn whole_floor() -> Frame {
    Frame::new(Point::new(0.0, 0.0), Angle::ZERO)
}

/// Thickness of a kind, and its width in mm; nothing for a kind that the stock does not hold.
fn size(stock: &Stock, kind: plan::KindId) -> (Length, f64) {
    stock.kind(kind).map_or((Length::ZERO, 0.0), |k| (k.thickness, k.width.to_mm()))
}

fn lay(path: CurveBuilder, leg: &Leg, own: &Frame) -> CurveBuilder {
    match leg {
        Leg::Straight { length } => path.straight(length.to_mm()),
        Leg::Arc { radius, turn } => path.arc(radius.to_mm(), *turn),
        Leg::Spiral { radius, ring, turns, hand } => {
            path.spiral(radius.to_mm(), ring.to_mm(), *turns, *hand == Hand::Left)
        }
        Leg::Through { points } => path.through(&on_floor(points, own)),
    }
}

/// Points of an item's own frame, on the floor.
fn on_floor(points: &[Point], own: &Frame) -> Vec<Point> {
    points.iter().map(|p| own.at(p.x, p.y)).collect()
}
