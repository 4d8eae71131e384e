//! Moving and turning several items as one: a section that stands elsewhere than it was drawn.

use geometry::{Frame, Point};
use sayings::{gate, say};
use units::{Angle, Length};

use super::{Done, REACH_MM, check, no_item};
use crate::command::{Command, Touched, Which};
use crate::document::Plan;
use crate::ids::ItemId;
use crate::place::Place;
use crate::refusal::Refusal;

/// A turn about a point of the floor plan, to the left, and then a move.
pub(super) struct Motion {
    pub(super) east: Length,
    pub(super) north: Length,
    pub(super) turn: Angle,
    pub(super) about: Point,
}

impl Motion {
    /// Where a point comes to lie. Without a turn nothing is rounded but the sum.
    fn moved(&self, p: Point) -> Point {
        let (east, north) = (self.east.to_mm(), self.north.to_mm());
        if self.turn == Angle::ZERO {
            return Point::new(p.x + east, p.y + north);
        }
        let from = p.minus(self.about);
        let turned = Frame::new(self.about, self.turn).at(from.x, from.y);
        Point::new(turned.x + east, turned.y + north)
    }

    fn checked(&self) -> Result<(), Refusal> {
        check::length(&Place::of(gate::AT_SHIFT).at(gate::AT_TO_EAST), self.east, -REACH_MM, REACH_MM)?;
        check::length(&Place::of(gate::AT_SHIFT).at(gate::AT_TO_NORTH), self.north, -REACH_MM, REACH_MM)?;
        check::within(
            &Place::of(gate::AT_SHIFT).at(gate::AT_TURN),
            self.turn.to_deg(),
            check::DEGREES,
            -360.0,
            360.0,
        )?;
        check::point(&Place::of(gate::AT_SHIFT).at(gate::AT_ABOUT), self.about)
    }
}

/// Shifts all or none. Turning back would not give the same bits, so the inverse puts each item where it was.
pub(super) fn shift(plan: &mut Plan, which: &Which, motion: &Motion) -> Done {
    motion.checked()?;
    let places = places(plan, which)?;
    for &i in &places {
        let item = &plan.items[i];
        if item.locked {
            return Err(check::locked(item));
        }
        let place = Place::item(item);
        check::point(&place, motion.moved(item.at))?;
        check::heading(&place, item.heading + motion.turn)?;
    }
    let (mut steps, mut items) = (Vec::with_capacity(places.len()), Vec::with_capacity(places.len()));
    for i in places {
        let item = &mut plan.items[i];
        steps.push(Command::MoveItem { id: item.id, at: item.at, heading: item.heading });
        items.push(item.id);
        item.at = motion.moved(item.at);
        item.heading += motion.turn;
    }
    Ok((Command::Together { steps }, Touched { items, ..Touched::default() }))
}

/// Where in the list the items stand, rising, none twice.
fn places(plan: &Plan, which: &Which) -> Result<Vec<usize>, Refusal> {
    let places: Vec<usize> = match which {
        Which::Section(id) => {
            if !plan.sections.iter().any(|s| s.id == *id) {
                return Err(check::unknown(&Place::of(gate::AT_SHIFT), check::SECTION, id.0));
            }
            (0..plan.items.len()).filter(|&i| plan.items[i].section == Some(*id)).collect()
        }
        Which::Items(ids) => {
            let place = |id: &ItemId| plan.items.binary_search_by_key(id, |i| i.id).map_err(|_| no_item(*id));
            let mut places = ids.iter().map(place).collect::<Result<Vec<_>, _>>()?;
            places.sort_unstable();
            places.dedup();
            places
        }
    };
    if places.is_empty() {
        let (problem, next) = match which {
            Which::Section(_) => (say!(gate::SHIFT_SECTION), say!(gate::SHIFT_SECTION_NEXT)),
            Which::Items(_) => (say!(gate::SHIFT_ITEMS), say!(gate::SHIFT_ITEMS_NEXT)),
        };
        return Err(Refusal::new(Place::of(gate::AT_SHIFT), say!(gate::SHIFT_NONE), problem, next));
    }
    Ok(places)
}
