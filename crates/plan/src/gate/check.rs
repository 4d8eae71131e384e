//! What the gate asks of each value. Every refusal names the place, the value and the next step.

use geometry::Point;
use units::{Angle, Length};

use super::{MAX_CORNERS, MAX_NAME, REACH_MM};
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
pub(super) use item::{item, item_name, locked};
pub(super) use links::{still_led_to, user_of_item};
pub(super) use scene::{picture, section_name, surface};
pub use stock::look_alike;
pub(super) use stock::{
    colour, colour_count, fits_kind, gear, kind, lot, stock, stock_still_serves, used_by,
};

type Checked = Result<(), Refusal>;

/// A name as it is quoted in a message: at most 60 signs of it.
fn short(name: &str) -> String {
    let mut signs = name.chars();
    let head: String = signs.by_ref().take(60).collect();
    if signs.next().is_some() { format!("{head}…") } else { head }
}

pub(super) fn name(place: &str, name: &str) -> Checked {
    let signs = name.chars().count();
    if signs > MAX_NAME {
        return Err(Refusal::new(
            place,
            format!("\"{}\"", short(name)),
            format!("has {signs} signs"),
            format!("Use at most {MAX_NAME}."),
        ));
    }
    if let Some(c) = name.chars().find(|c| c.is_control()) {
        return Err(Refusal::new(
            place,
            format!("the sign U+{:04X}", c as u32),
            "cannot be printed",
            "Leave it out of the name.",
        ));
    }
    Ok(())
}

fn named(place: &str, text: &str) -> Checked {
    if text.trim().is_empty() {
        return Err(Refusal::new(place, "\"\"", "is empty", "Give it a name."));
    }
    name(place, text)
}

pub(super) fn within(place: &str, value: f64, unit: &str, least: f64, most: f64) -> Checked {
    if value >= least && value <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{value}{unit}"),
        format!("is not from {least} to {most}{unit}"),
        "Give a value in that range.",
    ))
}

pub(super) fn length(place: &str, value: Length, least: f64, most: f64) -> Checked {
    within(place, value.to_mm(), " mm", least, most)
}

pub(super) fn point(place: &str, at: Point) -> Checked {
    length(&format!("{place}, east"), Length::mm(at.x), -REACH_MM, REACH_MM)?;
    length(&format!("{place}, north"), Length::mm(at.y), -REACH_MM, REACH_MM)
}

pub(super) fn heading(place: &str, heading: Angle) -> Checked {
    within(&format!("{place}, heading"), heading.to_deg(), "°", -3600.0, 3600.0)
}

/// Points of which each lies within reach; the message counts them from 1.
fn points(place: &str, what: &str, points: &[Point]) -> Checked {
    let reach = -REACH_MM..=REACH_MM;
    match points.iter().position(|p| !reach.contains(&p.x) || !reach.contains(&p.y)) {
        Some(i) => point(&format!("{place}, {what} {}", i + 1), points[i]),
        None => Ok(()),
    }
}

/// An outline of three corners or more.
fn outline(place: &str, corners: &[Point]) -> Checked {
    if corners.len() < 3 || corners.len() > MAX_CORNERS {
        return Err(Refusal::new(
            place,
            format!("an outline of {} corners", corners.len()),
            "encloses no area that can be worked with",
            format!("Give three corners or more, at most {MAX_CORNERS}."),
        ));
    }
    points(place, "corner", corners)
}

/// A list that must not grow without end.
fn at_most(place: &str, what: &str, count: usize, most: usize) -> Checked {
    if count <= most {
        return Ok(());
    }
    Err(Refusal::new(
        place,
        format!("{count} {what}"),
        format!("are more than the {most} that are taken"),
        format!("Leave out what is not needed, or split it; at most {most} {what} go here."),
    ))
}

pub(super) fn unknown(place: &str, what: &str, id: u32) -> Refusal {
    Refusal::new(
        place,
        format!("{what} {id}"),
        "is not in this plan",
        format!("Add the {what} first, or name one of the plan."),
    )
}
