//! Items moved, turned and mirrored as a whole. Their links stay; whoever shifts several items of a plan at once decides
//! which links follow.

use geometry::{FallInPicture, Frame, Point, Vector};
use sayings::{gate, say};
use units::{Angle, Length};

use crate::feed::{Enter, Feed, FeedWay};
use crate::field::{Field, LaneCourse};
use crate::fill::{Fill, Filling};
use crate::item::{AsBuilt, Body, Item, Placeholder};
use crate::line::{Hand, Leg, Line};
use crate::place::Place;
use crate::refusal::Refusal;

/// A line on the floor in which things are mirrored.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mirror {
    through: Point,
    along: Angle,
    /// Sine and cosine of twice its direction.
    twice: (f64, f64),
}

impl Mirror {
    /// The line through a point in a direction.
    pub fn new(through: Point, along: Angle) -> Self {
        Self { through, along, twice: (along * 2.0).sin_cos() }
    }

    /// The mirror image of a place.
    pub fn point(&self, p: Point) -> Point {
        self.through.plus(self.vector(p.minus(self.through)))
    }

    /// The mirror image of a displacement.
    pub fn vector(&self, v: Vector) -> Vector {
        let (s, c) = self.twice;
        Vector { x: c * v.x + s * v.y, y: s * v.x - c * v.y }
    }

    /// The mirror image of a direction, from 0° to 360°.
    pub fn heading(&self, heading: Angle) -> Angle {
        whole_turn(self.along * 2.0 - heading)
    }
}

/// The same direction from 0° up to but not including 360°.
fn whole_turn(heading: Angle) -> Angle {
    let deg = heading.to_deg().rem_euclid(360.0);
    // What lies below 0 by less than can be told from 360 comes out as 360.
    Angle::deg(if deg < 360.0 { deg } else { 0.0 })
}

/// The figure with the other sign, and 0 without one: `-0` would be written otherwise than `0`.
fn other_sign(value: f64) -> f64 {
    0.0 - value
}

/// To the other side of the heading.
fn across(p: Point) -> Point {
    Point::new(p.x, other_sign(p.y))
}

fn other_hand(hand: Hand) -> Hand {
    match hand {
        Hand::Left => Hand::Right,
        Hand::Right => Hand::Left,
    }
}

impl Item {
    /// The item displaced.
    #[must_use]
    pub fn moved(&self, by: Vector) -> Self {
        Self { at: self.at.plus(by), ..self.clone() }
    }

    /// The item turned about a place, to the left when `by` is positive. Its heading comes to lie from 0° to 360°.
    #[must_use]
    pub fn turned(&self, about: Point, by: Angle) -> Self {
        let frame = Frame::new(about, by);
        let v = self.at.minus(about);
        let built = self.built.map(|b| {
            let turned = Frame::new(Point::default(), by).at(b.east.to_mm(), b.north.to_mm());
            AsBuilt { east: Length::mm(turned.x), north: Length::mm(turned.y), turn: b.turn }
        });
        Self { at: frame.at(v.x, v.y), heading: whole_turn(self.heading + by), built, ..self.clone() }
    }

    /// The mirror image of the item: left and right change in paths, outlines, feeds and ports; pieces keep their rank,
    /// the lanes of a field count from the other side, and its cells go with them. Its picture is then shown left for
    /// right; `fall` is kept such that its upper edge is where the mirror image has it.
    ///
    /// Two things have no exact mirror image in what the plan can say. Where every second lane of an even number is
    /// shifted along the fall, the shift stays with the second lanes, so that each piece stands beside its mirror
    /// image by the shift. A fill fills the mirrored outline anew and may run through it another way.
    ///
    /// # Errors
    /// An even number of lanes that fall to and fro cannot be laid the other way round: refused.
    pub fn mirrored(&self, mirror: &Mirror) -> Result<Self, Refusal> {
        // Where the local origin of the mirror image was before.
        let (origin, body) = match &self.body {
            Body::Field(f) => {
                if f.frame.course != LaneCourse::Together && f.frame.lanes.is_multiple_of(2) {
                    return Err(no_image(self, f));
                }
                let last = f64::from(f.frame.lanes.saturating_sub(1)) * f.frame.pitch_across.to_mm();
                (Point::new(0.0, last), Body::Field(mirrored_field(f)))
            }
            Body::Placeholder(p) => {
                (Point::new(0.0, p.width.to_mm()), Body::Placeholder(mirrored_placeholder(p)))
            }
            Body::Line(l) => (Point::default(), Body::Line(mirrored_line(l))),
            Body::Fill(f) => (Point::default(), Body::Fill(mirrored_fill(f))),
            Body::Feed(f) => (Point::default(), Body::Feed(mirrored_feed(f))),
            Body::Dimension(d) => (Point::default(), Body::Dimension(crate::Dimension { to: across(d.to) })),
            Body::Camera(c) => (Point::default(), Body::Camera(crate::Camera { look: across(c.look), ..*c })),
            Body::Start(_) | Body::Stopper(_) | Body::Note(_) => (Point::default(), self.body.clone()),
        };
        let drawn = mirror.point(self.frame().at(origin.x, origin.y));
        let built = self.built.map(|b| {
            let stands = mirror.point(self.stands().at(origin.x, origin.y));
            let off = stands.minus(drawn);
            AsBuilt { east: Length::mm(off.x), north: Length::mm(off.y), turn: Angle::ZERO - b.turn }
        });
        Ok(Self { at: drawn, heading: mirror.heading(self.heading), built, body, ..self.clone() })
    }

    /// What a port of this item is called once the item is mirrored.
    pub fn mirrored_port(&self, port: &str) -> String {
        match &self.body {
            Body::Line(_) | Body::Fill(_) => match port.rsplit_once(' ') {
                Some((end, "left")) => format!("{end} right"),
                Some((end, "right")) => format!("{end} left"),
                _ => port.to_owned(),
            },
            Body::Field(f) => {
                let number = port.strip_prefix("lane ").unwrap_or("");
                let (number, end) = number.strip_suffix(" end").map_or((number, ""), |n| (n, " end"));
                match number.parse::<u32>() {
                    Ok(lane) if (1..=f.frame.lanes).contains(&lane) => {
                        format!("lane {}{end}", f.frame.lanes - lane + 1)
                    }
                    _ => port.to_owned(),
                }
            }
            _ => port.to_owned(),
        }
    }
}

fn no_image(item: &Item, field: &Field) -> Refusal {
    Refusal::new(
        Place::item(item),
        say!(gate::MIRROR, n = field.frame.lanes),
        say!(gate::MIRROR_PROBLEM),
        say!(gate::MIRROR_NEXT),
    )
}

fn mirrored_field(f: &Field) -> Field {
    let ranks = f.frame.ranks as usize;
    let mut field = f.clone();
    field.frame.fall = match f.frame.fall {
        FallInPicture::Right => FallInPicture::Left,
        FallInPicture::Left => FallInPicture::Right,
        upright => upright,
    };
    field.cells = from_the_other_side(f.cells.as_slice(), ranks).into();
    field.by_hand = from_the_other_side(f.by_hand.as_slice(), ranks).into();
    field
}

/// Values kept lane by lane, with the last lane first.
fn from_the_other_side<T: Copy>(values: &[T], ranks: usize) -> Vec<T> {
    values.chunks(ranks.max(1)).rev().flatten().copied().collect()
}

fn mirrored_placeholder(p: &Placeholder) -> Placeholder {
    let mut p = p.clone();
    for port in &mut p.ports {
        port.at.y = p.width.to_mm() - port.at.y;
        port.direction = Angle::ZERO - port.direction;
    }
    p
}

fn mirrored_line(l: &Line) -> Line {
    let leg = |leg: &Leg| match leg {
        Leg::Straight { length } => Leg::Straight { length: *length },
        Leg::Arc { radius, turn } => Leg::Arc { radius: *radius, turn: Angle::ZERO - *turn },
        Leg::Spiral { radius, ring, turns, hand } => {
            Leg::Spiral { radius: *radius, ring: *ring, turns: *turns, hand: other_hand(*hand) }
        }
        Leg::Through { points } => Leg::Through { points: points.iter().copied().map(across).collect() },
    };
    Line { path: l.path.iter().map(leg).collect(), ..l.clone() }
}

fn mirrored_fill(f: &Fill) -> Fill {
    let with = match f.with {
        Filling::Waves { course } => Filling::Waves { course: Angle::ZERO - course },
        Filling::Spiral => Filling::Spiral,
        Filling::Curls { course, swing } => Filling::Curls { course: Angle::ZERO - course, swing },
    };
    // From the last corner, so that it runs counter-clockwise again.
    Fill { outline: f.outline.iter().rev().copied().map(across).collect(), with, ..f.clone() }
}

fn mirrored_feed(f: &Feed) -> Feed {
    let mut feed = *f;
    match &mut feed.way {
        FeedWay::Brick { enter } => {
            *enter = match enter {
                Enter::Middle => Enter::Middle,
                Enter::Right => Enter::Left,
                Enter::Left => Enter::Right,
            }
        }
        FeedWay::Beside { side, .. }
        | FeedWay::Angled { side, .. }
        | FeedWay::InLine { side, .. }
        | FeedWay::Echelon { side, .. }
        | FeedWay::HalfShift { side } => *side = other_hand(*side),
    }
    feed
}
