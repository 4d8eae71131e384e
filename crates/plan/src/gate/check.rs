//! What the gate asks of each value. Every refusal names the place, the value and the next step.

use geometry::Point;
use sayings::{Arg, Given, Said, Saying, Unit, gate, say};
use units::{Angle, Length};

use super::{MAX_CORNERS, MAX_NAME, REACH_MM};
use crate::place::{Place, quoted};
use crate::refusal::Refusal;

mod feed;
mod field;
mod hall;
mod item;
mod line;
mod links;
mod path;
mod pattern;
mod placeholder;
mod scene;
mod sign;
mod stock;
mod trigger;

pub(super) use field::{cell_colour, cells, frame, mask, picture_use, wish};
pub(super) use hall::hall;
pub(super) use item::{item, locked};
pub(super) use links::{still_led_to, user_of_item};
pub(super) use scene::{picture, section_name, surface};
pub use stock::look_alike;
pub(super) use stock::{
    colour, colour_count, fits_kind, gear, kind, lot, stock, stock_still_serves, used_by,
};

type Checked = Result<(), Refusal>;

/// A sort of thing that a plan has by number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thing {
    /// What it is called by itself.
    pub(super) word: Saying<0>,
    of: Saying<1>,
}

impl Thing {
    const fn new(word: Saying<0>, of: Saying<1>) -> Self {
        Self { word, of }
    }

    /// The thing with this id.
    pub(super) fn of(self, id: impl ToString) -> Said {
        self.of.with([("name", id.to_string().into())])
    }
}

pub(super) const ITEM: Thing = Thing::new(gate::AT_ITEM, gate::AT_ITEM_OF);
pub(super) const KIND: Thing = Thing::new(gate::AT_KIND, gate::AT_KIND_OF);
pub(super) const COLOUR: Thing = Thing::new(gate::AT_COLOUR, gate::AT_COLOUR_OF);
pub(super) const LOT: Thing = Thing::new(gate::AT_LOT, gate::AT_LOT_OF);
pub(super) const GEAR: Thing = Thing::new(gate::AT_GEAR, gate::AT_GEAR_OF);
pub(super) const SURFACE: Thing = Thing::new(gate::AT_SURFACE, gate::AT_SURFACE_OF);
pub(super) const SECTION: Thing = Thing::new(gate::AT_SECTION, gate::AT_SECTION_OF);
pub(super) const PICTURE: Thing = Thing::new(gate::AT_PICTURE, gate::AT_PICTURE_OF);

/// What a figure is measured in, or what it counts.
#[derive(Debug, Clone, Copy)]
pub(super) enum Of {
    Unit(Unit),
    /// Things, in words with a hole `n`.
    Many(Saying<1>),
}

const MM: Of = Of::Unit(Unit::Mm);
pub(super) const DEGREES: Of = Of::Unit(Unit::Degrees);
const SECONDS: Of = Of::Unit(Unit::Seconds);
const HOURS: Of = Of::Unit(Unit::Hours);
const GRAMS: Of = Of::Unit(Unit::Grams);
const PLAIN: Of = Of::Unit(Unit::None);
const PIECES: Of = Of::Many(gate::N_PIECES);
const PIXELS: Of = Of::Many(gate::N_PIXELS);
const LANES: Of = Of::Many(gate::N_LANES);
const TURNS: Of = Of::Many(gate::N_TURNS);

impl Of {
    fn figure(self, value: f64) -> Arg {
        match self {
            Self::Unit(unit) => Given::new(value, unit).into(),
            Self::Many(words) => words.with([("n", Given::new(value, Unit::None).into())]).into(),
        }
    }
}

pub(super) fn name(place: &Place<'_>, name: &str) -> Checked {
    let signs = name.chars().count();
    if signs > MAX_NAME {
        return Err(Refusal::new(
            place,
            quoted(name),
            say!(gate::SIGNS, n = signs),
            say!(gate::SIGNS_NEXT, n = MAX_NAME),
        ));
    }
    if let Some(c) = name.chars().find(|c| c.is_control()) {
        return Err(Refusal::new(
            place,
            unprintable(c),
            say!(gate::UNPRINTABLE),
            say!(gate::UNPRINTABLE_NAME),
        ));
    }
    Ok(())
}

/// A sign that is not to be seen, by its number.
fn unprintable(sign: char) -> Said {
    say!(gate::SIGN, code = format!("{:04X}", sign as u32))
}

fn named(place: &Place<'_>, text: &str) -> Checked {
    if text.trim().is_empty() {
        return Err(Refusal::new(place, quoted(""), say!(gate::EMPTY), say!(gate::EMPTY_NAME)));
    }
    name(place, text)
}

pub(super) fn within(place: &Place<'_>, value: f64, of: Of, least: f64, most: f64) -> Checked {
    if value >= least && value <= most {
        return Ok(());
    }
    let problem = match of {
        Of::Unit(unit) => say!(gate::RANGE, least = Given::bare(least, unit), most = of.figure(most)),
        Of::Many(_) => {
            say!(gate::RANGE_THINGS, least = Given::new(least, Unit::None), most = of.figure(most))
        }
    };
    Err(Refusal::new(place, of.figure(value), problem, say!(gate::RANGE_NEXT)))
}

pub(super) fn length(place: &Place<'_>, value: Length, least: f64, most: f64) -> Checked {
    within(place, value.to_mm(), MM, least, most)
}

pub(super) fn point(place: &Place<'_>, at: Point) -> Checked {
    length(&place.at(gate::AT_EAST), Length::mm(at.x), -REACH_MM, REACH_MM)?;
    length(&place.at(gate::AT_NORTH), Length::mm(at.y), -REACH_MM, REACH_MM)
}

pub(super) fn heading(place: &Place<'_>, heading: Angle) -> Checked {
    within(&place.at(gate::AT_HEADING), heading.to_deg(), DEGREES, -3600.0, 3600.0)
}

/// Points of which each lies within reach; the message counts them from 1.
fn points(place: &Place<'_>, what: Saying<1>, points: &[Point]) -> Checked {
    let reach = -REACH_MM..=REACH_MM;
    match points.iter().position(|p| !reach.contains(&p.x) || !reach.contains(&p.y)) {
        Some(i) => point(&place.nth(what, i), points[i]),
        None => Ok(()),
    }
}

/// An outline of three corners or more.
fn outline(place: &Place<'_>, corners: &[Point]) -> Checked {
    if corners.len() < 3 || corners.len() > MAX_CORNERS {
        return Err(Refusal::new(
            place,
            say!(gate::N_CORNERS, n = corners.len()),
            say!(gate::NO_AREA),
            say!(gate::NO_AREA_NEXT, most = MAX_CORNERS),
        ));
    }
    points(place, gate::AT_CORNER, corners)
}

/// A list that must not grow without end.
fn at_most(place: &Place<'_>, what: Saying<1>, count: usize, most: usize) -> Checked {
    if count <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        what.with([("n", count.into())]),
        say!(gate::TOO_MANY, most = most),
        say!(gate::TOO_MANY_NEXT, most = what.with([("n", most.into())])),
    ))
}

/// An id of 0, which stands for something else.
fn no_id(place: &Place<'_>, problem: Said) -> Refusal {
    Refusal::new(place, say!(gate::ID, id = "0"), problem, say!(gate::ID_NEXT))
}

pub(super) fn unknown(place: &Place<'_>, what: Thing, id: u32) -> Refusal {
    Refusal::new(place, what.of(id), say!(gate::UNKNOWN), say!(gate::UNKNOWN_NEXT, what = what.word.with([])))
}
